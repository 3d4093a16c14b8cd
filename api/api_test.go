package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"servewright/api"
	"servewright/domain/recipe"
	"servewright/repo"
)

// today is the clock of every test: a fixed moment.
var today = time.Date(2026, 3, 1, 9, 30, 0, 123456000, time.UTC)

// client talks to a server under test.
type client struct {
	t testing.TB
	h http.Handler
}

// reply is an answer, its body read.
type reply struct {
	status int
	header http.Header
	text   string
	json   map[string]any // nil when the body is no JSON object
}

// openStore returns an empty SQLite store in a file that is thrown away.
func openStore(t testing.TB) *repo.Store {
	t.Helper()
	ctx := context.Background()
	db, err := repo.Open(ctx, filepath.Join(t.TempDir(), "test.db"), repo.Throwaway)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	if err := db.Migrate(ctx); err != nil {
		t.Fatal(err)
	}
	store, err := db.DefaultOrg(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return store
}

func newID() recipe.ID { return recipe.ID(uuid.Must(uuid.NewV7()).String()) }

func clock() time.Time { return today }

// quiet drops what is logged.
var quiet = slog.New(slog.NewTextHandler(io.Discard, nil))

// open returns a client of a server on an empty store.
func open(t testing.TB, opts ...api.Option) *client {
	return over(t, openStore(t), opts...)
}

// over returns a client of a server on the given store.
func over(t testing.TB, store api.Store, opts ...api.Option) *client {
	return &client{t, api.New(store, quiet, clock, newID, opts...)}
}

// do sends a request. Headers are "Name: value"; a body is sent as JSON unless a
// header says otherwise.
func (c *client) do(method, path, body string, headers ...string) *reply {
	c.t.Helper()
	req := httptest.NewRequest(method, path, strings.NewReader(body))
	if body != "" {
		req.Header.Set("Content-Type", "application/json")
	}
	if method == http.MethodPatch {
		req.Header.Set("Content-Type", "application/merge-patch+json")
	}
	for _, h := range headers {
		name, value, _ := strings.Cut(h, ": ")
		req.Header.Add(name, value)
		if strings.HasPrefix(name, "Content-Type") {
			req.Header.Set(name, value)
		}
	}
	return c.send(req)
}

func (c *client) send(req *http.Request) *reply {
	c.t.Helper()
	rec := httptest.NewRecorder()
	c.h.ServeHTTP(rec, req)
	r := &reply{status: rec.Code, header: rec.Header(), text: rec.Body.String()}
	if strings.Contains(r.header.Get("Content-Type"), "json") && r.text != "" {
		if err := json.Unmarshal([]byte(r.text), &r.json); err != nil {
			c.t.Fatalf("%s %s answered no JSON object: %v\n%s", req.Method, req.URL, err, r.text)
		}
	}
	return r
}

// must sends a request and fails the test unless the status is the wanted one.
func (c *client) must(status int, method, path, body string, headers ...string) *reply {
	c.t.Helper()
	r := c.do(method, path, body, headers...)
	if r.status != status {
		c.t.Fatalf("%s %s answered %d, want %d\nsent %.400s\ngot  %.1200s", method, path, r.status, status, body, r.text)
	}
	return r
}

// at walks into the JSON of a reply: "errors", 0, "pointer".
func (r *reply) at(path ...any) any {
	var v any = r.json
	for _, p := range path {
		switch p := p.(type) {
		case string:
			m, _ := v.(map[string]any)
			v = m[p]
		case int:
			list, _ := v.([]any)
			if p >= len(list) {
				return nil
			}
			v = list[p]
		}
	}
	return v
}

// faults lists pointer (or parameter, or header) and code of every fault.
func (r *reply) faults() []string {
	list, _ := r.at("errors").([]any)
	out := []string{}
	for _, f := range list {
		m := f.(map[string]any)
		place := m["pointer"]
		for _, other := range []string{"parameter", "header"} {
			if m[other] != nil {
				place = other + " " + fmt.Sprint(m[other])
			}
		}
		out = append(out, fmt.Sprintf("%v %v", place, m["code"]))
	}
	return out
}

func (r *reply) etag() string { return r.header.Get("ETag") }

// Bodies that most tests start from. Everything in them is invented.
const (
	rum = `{"kind": "bought", "code": "RUM-DARK", "name": "Dark cane rum 42", "category": "spirit",
		"label": {"abv_pct": 42, "sugar_g_per_l": 4},
		"packs": [{"size": {"amount": 700, "unit": "mL"}, "count": 6, "price": {"amount": "138.00", "currency": "EUR"},
			"valid_from": "2026-03-01", "supplier": "Quay Wholesale", "preferred": true, "gtin": "5012345678900"}],
		"allergens": {"declared": []}, "external_ids": [{"system": "stock", "id": "000417"}]}`
	liqueur = `{"kind": "bought", "code": "LIQ-7", "name": "Old quince liqueur", "category": "liqueur",
		"label": {"abv_pct": 24, "sugar_g_per_l": 250},
		"packs": [{"size": {"amount": 700, "unit": "mL"}, "price": {"amount": "21.00", "currency": "EUR"}, "valid_from": "2026-01-01"}]}`
	lime = `{"kind": "bought", "code": "LIME", "name": "Lime juice", "category": "juice",
		"label": {"sugar_g_per_l": 16, "acids_g_per_l": {"citric": 48, "malic": 2}, "abv_pct": 0},
		"packs": [{"size": {"amount": 1, "unit": "L"}, "price": {"amount": "6.00", "currency": "EUR"}, "valid_from": "2026-01-01"}],
		"allergens": {"declared": []}}`
	sugar = `{"kind": "bought", "code": "SUGAR", "name": "White sugar", "category": "sugar", "label": {"mass_fraction": {"sucrose": 1}},
		"packs": [{"size": {"amount": 1, "unit": "kg"}, "price": {"amount": "1.20", "currency": "EUR"}, "valid_from": "2026-01-01"}],
		"allergens": {"declared": []}}`
	water = `{"kind": "bought", "code": "WATER", "name": "Water", "category": "water",
		"packs": [{"size": {"amount": 1, "unit": "L"}, "price": {"amount": "0", "currency": "EUR"}, "valid_from": "2026-01-01"}],
		"allergens": {"declared": []}}`
	house = `{"kind": "house_made", "code": "H-QUINCE", "name": "House roast-quince liqueur", "category": "liqueur",
		"recipe": {"lines": [{"component_id": "code:RUM-DARK", "amount": 570, "unit": "mL"}, {"component_id": "code:SUGAR", "amount": 240, "unit": "g"},
			{"component_id": "code:WATER", "amount": 300, "unit": "mL"}], "yield": {"loss_pct": 4}, "labour_min": 25, "shelf_life_days": 60}}`
	lamp = `{"code": "C-104", "name": "Pier Lamp", "method": "shake", "glass": "coupe",
		"lines": [{"component_id": "code:RUM-DARK", "amount": 45, "unit": "mL"}, {"component_id": "code:LIQ-7", "amount": 20, "unit": "mL"},
			{"component_id": "code:LIME", "amount": 22.5, "unit": "mL"}],
		"price": {"amount": "13.00", "currency": "EUR", "tax": "included", "tax_pct": "20"}, "external_ids": [{"system": "pos", "id": "C-104"}]}`
)

// stocked returns a client of a server that has the components and the spec
// above.
func stocked(t testing.TB) *client {
	c := open(t)
	for _, body := range []string{rum, liqueur, lime, sugar, water, house} {
		c.must(201, "POST", "/v1/components", body)
	}
	c.must(201, "POST", "/v1/specs", lamp)
	return c
}

// everything is a whole picture of what is stored, to see that nothing changed.
func (c *client) everything() string {
	c.t.Helper()
	var out bytes.Buffer
	for _, path := range []string{"/v1/house", "/v1/components?limit=200", "/v1/specs?limit=200"} {
		out.WriteString(c.must(200, "GET", path, "").text)
	}
	return out.String()
}
