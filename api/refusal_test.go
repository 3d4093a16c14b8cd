package api_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"testing"
	"time"

	"servewright/api"
	"servewright/api/problem"
	"servewright/domain"
	"servewright/domain/recipe"
)

// chain is a house-made component that is made of the one before it.
func chain(i int) string {
	below := "code:RUM-DARK"
	if i > 1 {
		below = fmt.Sprintf("code:CHAIN-%d", i-1)
	}
	return fmt.Sprintf(`{"kind": "house_made", "code": "CHAIN-%d", "name": "Chain %d", "category": "liqueur", "recipe": {"lines": [{"component_id": %q, "amount": 100, "unit": "mL"}]}}`, i, i, below)
}

// with returns body with one part replaced.
func with(body, old, new string) string {
	if !strings.Contains(body, old) {
		panic("a test replaces what is not there: " + old)
	}
	return strings.Replace(body, old, new, 1)
}

// TestBadInput sends every kind of bad input that a body can hold: each is
// answered with a problem that names its place, and nothing changes.
func TestBadInput(t *testing.T) {
	c := stocked(t)
	tests := []struct {
		name   string
		method string
		path   string
		body   string
		status int
		faults string // every pointer and code, or the part of them that matters
	}{
		{"a line that points at nothing", "POST", "/v1/specs", with(lamp, "code:LIME", "code:LEMON"), 422, "[/lines/2/component_id UNKNOWN_COMPONENT]"},
		{"a line that points at an id of nothing", "POST", "/v1/specs", with(lamp, "code:LIME", string(newID())), 422, "[/lines/2/component_id UNKNOWN_COMPONENT]"},
		{"a line that points at no id", "POST", "/v1/specs", with(lamp, "code:LIME", "LIME"), 422, "[/lines/2/component_id UNKNOWN_COMPONENT]"},
		{"a negative amount", "POST", "/v1/specs", with(lamp, "22.5", "-22.5"), 422, "[/lines/2/amount AMOUNT_RANGE]"},
		{"an amount of zero", "POST", "/v1/specs", with(lamp, "22.5", "0"), 422, "[/lines/2/amount AMOUNT_RANGE]"},
		{"an amount that is NaN", "POST", "/v1/specs", with(lamp, "22.5", "NaN"), 400, "[/lines/2/amount SYNTAX]"},
		{"an amount that is a NaN text", "POST", "/v1/specs", with(lamp, "22.5", `"NaN"`), 422, "[/lines/2/amount WRONG_TYPE]"},
		{"an amount that is infinite", "POST", "/v1/specs", with(lamp, "22.5", "1e999"), 422, "[/lines/2/amount NUMBER_RANGE]"},
		{"an absurd amount", "POST", "/v1/specs", with(lamp, "22.5", "1e300"), 422, "[/lines/2/amount AMOUNT_RANGE]"},
		{"an unknown unit", "POST", "/v1/specs", with(lamp, `22.5, "unit": "mL"`, `22.5, "unit": "cup"`), 422, "[/lines/2/unit UNKNOWN_UNIT]"},
		{"a unit in the wrong case", "POST", "/v1/specs", with(lamp, `22.5, "unit": "mL"`, `22.5, "unit": "ML"`), 422, "[/lines/2/unit UNKNOWN_UNIT]"},
		{"no unit", "POST", "/v1/specs", with(lamp, `22.5, "unit": "mL"`, `22.5`), 422, "[/lines/2/unit REQUIRED]"},
		{"strength above 100", "POST", "/v1/components", with(rum, `"abv_pct": 42`, `"abv_pct": 100.1`), 422, "[/label/abv_pct ABV_RANGE]"},
		{"strength below 0", "POST", "/v1/components", with(rum, `"abv_pct": 42`, `"abv_pct": -0.1`), 422, "[/label/abv_pct ABV_RANGE]"},
		{"sugar that cannot fit the litre", "POST", "/v1/components", with(rum, `"sugar_g_per_l": 4`, `"sugar_g_per_l": 1590`), 422, "[/label"},
		{"mixed currencies", "POST", "/v1/components", with(rum, `"currency": "EUR"`, `"currency": "USD"`), 422, "[/packs/0/price/currency CURRENCY_MIX]"},
		{"a currency that is none", "POST", "/v1/components", with(rum, `"currency": "EUR"`, `"currency": "EURO"`), 422, "[/packs/0/price/currency BAD_CURRENCY]"},
		{"money as a number", "POST", "/v1/components", with(rum, `"138.00"`, `138.00`), 422, "[/packs/0/price/amount WRONG_TYPE]"},
		{"money with an exponent", "POST", "/v1/components", with(rum, `"138.00"`, `"1e5"`), 422, "[/packs/0/price/amount BAD_DECIMAL]"},
		{"money below zero", "POST", "/v1/components", with(rum, `"138.00"`, `"-138.00"`), 422, "[/packs/0/price/amount OUT_OF_RANGE]"},
		{"a price with no date", "POST", "/v1/components", with(rum, `"valid_from": "2026-03-01",`, ``), 422, "[/packs/0/valid_from REQUIRED]"},
		{"a price on a day that is none", "POST", "/v1/components", with(rum, `2026-03-01`, `2026-02-30`), 422, "[/packs/0/valid_from BAD_DATE]"},
		{"a GTIN with a wrong check digit", "POST", "/v1/components", with(rum, `5012345678900`, `5012345678901`), 422, "[/packs/0/gtin BAD_GTIN]"},
		{"a GTIN that is too short", "POST", "/v1/components", with(rum, `5012345678900`, `501234567`), 422, "[/packs/0/gtin BAD_GTIN]"},
		{"a label that names no acid", "POST", "/v1/components", with(rum, `"sugar_g_per_l": 4`, `"acids_g_per_l": {"Citric": 4}`), 422, "[/label/acids_g_per_l/Citric UNKNOWN_MEMBER]"},
		{"a category that is none", "POST", "/v1/components", with(rum, `"spirit"`, `"booze"`), 422, "[/category UNKNOWN_VALUE]"},
		{"an allergen that is none", "POST", "/v1/components", with(rum, `"declared": []`, `"declared": ["cat hair", "nuts"]`), 422, "[/allergens/declared/0 UNKNOWN_VALUE]"},
		{"a recipe on what is bought", "POST", "/v1/components", with(rum, `"label"`, `"recipe": {"lines": []}, "label"`), 422, "[/recipe RECIPE_ON_BOUGHT]"},
		{"a house-made thing without a recipe", "POST", "/v1/components", `{"kind": "house_made", "name": "x", "category": "syrup"}`, 422, "[/recipe/lines REQUIRED]"},
		{"a chain of 33", "POST", "/v1/components", chain(33), 422, "[/recipe/lines NESTING_TOO_DEEP]"},
		{"two overrides of the dilution", "POST", "/v1/specs", with(lamp, `"glass"`, `"dilution": {"served_volume_ml": 1, "served_mass_g": 1}, "glass"`), 422, "[/dilution ONE_OF]"},
		{"ice above freezing", "POST", "/v1/specs", with(lamp, `"glass"`, `"conditions": {"ice_c": 1}, "glass"`), 422, "[/conditions/ice_c"},
		{"an id that the server gives", "POST", "/v1/specs", with(lamp, `"glass"`, `"id": "01a21232-e356-7f0c-89fa-6e1b89a13cc0", "glass"`), 422, "[/id READ_ONLY]"},
		{"a name that is quoted wrongly", "POST", "/v1/specs", with(lamp, `"amount": 45`, `"component_name": "Gin", "amount": 45`), 422, "[/lines/0/component_name READ_ONLY]"},
		{"everything at once", "POST", "/v1/specs", `{"Name": "x", "method": "boil", "serving_ice": 1, "lines": [{"component_id": "code:NO", "amount": "x", "unit": "cup", "stage": "late"}], "price": {"amount": "1,5", "currency": "EUR", "tax": "included"}}`, 422,
			"[/Name UNKNOWN_MEMBER /method UNKNOWN_VALUE /serving_ice WRONG_TYPE /lines/0/amount WRONG_TYPE /lines/0/stage UNKNOWN_VALUE /name REQUIRED /price/amount BAD_DECIMAL /lines/0/component_id UNKNOWN_COMPONENT /lines/0/unit UNKNOWN_UNIT]"},
		{"duplicate names", "POST", "/v1/specs", with(lamp, `"glass"`, `"name": "again", "glass"`), 400, "[/name DUPLICATE_NAME]"},
		{"bad UTF-8", "POST", "/v1/specs", with(lamp, "Pier Lamp", "Pier \xff"), 400, "[/name BAD_UTF8]"},
		{"trailing data", "POST", "/v1/specs", lamp + "[]", 400, "[ TRAILING_DATA]"},
		{"nested too deep", "POST", "/v1/specs", with(lamp, `"coupe"`, strings.Repeat("[", 40)+strings.Repeat("]", 40)), 400, "TOO_DEEP]"},
		{"a body that is not JSON", "POST", "/v1/specs", "code=C-104", 400, "[ SYNTAX]"},
		{"a body of 10 MB", "POST", "/v1/specs", `{"name": "` + strings.Repeat("x", 10<<20) + `"}`, 413, "[]"},
		{"a code with a slash", "POST", "/v1/specs", with(lamp, `"C-104"`, `"C/104"`), 422, "[/code BAD_CODE]"},
		{"a unit that a solid has no size for", "POST", "/v1/specs", with(with(lamp, `"C-104"`, `"C-9"`), `"code:LIME", "amount": 22.5, "unit": "mL"`, `"code:SUGAR", "amount": 1, "unit": "piece"`), 422, "[/lines/2"},
	}
	c.must(201, "POST", "/v1/components", chain(1))
	for i := 2; i <= 32; i++ {
		c.must(201, "POST", "/v1/components", chain(i))
	}
	before := c.everything()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := &client{t, c.h}
			r := c.must(tt.status, tt.method, tt.path, tt.body)
			if got := fmt.Sprint(r.faults()); !strings.Contains(got, tt.faults) {
				t.Errorf("faults are\n%s, want\n%s", got, tt.faults)
			}
			checkProblem(t, r)
			if tt.status == 400 && r.at("offset") == nil {
				t.Errorf("an unreadable body is answered without an offset: %s", r.text)
			}
		})
	}
	if c.everything() != before {
		t.Error("bad input changed something")
	}
}

// TestCycles closes a loop at depth 1, 3 and 32.
func TestCycles(t *testing.T) {
	c := stocked(t)
	for i := 1; i <= 32; i++ {
		c.must(201, "POST", "/v1/components", chain(i))
	}
	before := c.everything()
	for _, depth := range []int{1, 3, 32} {
		read := c.must(200, "GET", "/v1/components/code:CHAIN-1", "")
		body := fmt.Sprintf(`{"recipe": {"lines": [{"component_id": "code:CHAIN-%d", "amount": 1, "unit": "mL"}]}}`, depth)
		r := c.must(422, "PATCH", "/v1/components/code:CHAIN-1", body, "If-Match: "+read.etag())
		if got := fmt.Sprint(r.faults()); got != "[/recipe/lines COMPONENT_CYCLE]" {
			t.Errorf("a loop of %d is answered with %s", depth, got)
		}
		if detail := r.at("detail").(string); strings.Count(detail, "→") != depth || !strings.Contains(detail, "Chain 1") {
			t.Errorf("a loop of %d names the path %q", depth, detail)
		}
	}
	if c.everything() != before {
		t.Error("a refused loop changed something")
	}
}

// checkProblem holds what every problem document must be.
func checkProblem(t *testing.T, r *reply) {
	t.Helper()
	if got := r.header.Get("Content-Type"); got != problem.MediaType {
		t.Errorf("Content-Type is %q, want %q", got, problem.MediaType)
	}
	kind, _ := r.at("type").(string)
	if _, ok := problem.Explain(strings.TrimPrefix(kind, "/problems/")); !ok || r.at("title") == "" || r.at("status") != float64(r.status) || r.at("request_id") == nil {
		t.Errorf("%d carries no whole problem: %s", r.status, r.text)
	}
	for _, word := range []string{"goroutine", ".go:", "SELECT", "sqlite", "pq:", "panic"} {
		if strings.Contains(r.text, word) {
			t.Errorf("a problem says %q: %s", word, r.text)
		}
	}
}

func TestRequestsThatReachNoHandler(t *testing.T) {
	c := stocked(t)
	tests := []struct {
		method, path, body string
		headers            []string
		status             int
	}{
		{"GET", "/", "", nil, 404},
		{"GET", "/v1/nothing", "", nil, 404},
		{"GET", "/v1/components/none", "", nil, 404},
		{"GET", "/v1/components/code:NONE", "", nil, 404},
		{"GET", "/v1/components/" + string(newID()), "", nil, 404},
		{"GET", "/v1/components/code:NONE/profile", "", nil, 404},
		{"GET", "/v1/components/code:NONE/uses", "", nil, 404},
		{"GET", "/v1/specs/code:NONE/serve", "", nil, 404},
		{"GET", "/v1/specs/code:NONE/revisions", "", nil, 404},
		{"GET", "/problems/none", "", nil, 404},
		{"DELETE", "/v1/components", "", nil, 405},
		{"POST", "/v1/house", "{}", nil, 405},
		{"PUT", "/v1/swaps", "{}", nil, 405},
		{"POST", "/v1/specs", lamp, []string{"Content-Type: text/plain"}, 415},
		{"POST", "/v1/specs", lamp, []string{"Content-Type: application/json; charset=latin1"}, 415},
		{"POST", "/v1/specs", lamp, []string{"Content-Encoding: br"}, 415},
		{"POST", "/v1/specs", lamp, []string{"Content-Encoding: gzip"}, 400},
		{"GET", "/v1/specs?colour=red", "", nil, 400},
		{"GET", "/v1/specs?limit=-1", "", nil, 400},
		{"GET", "/v1/specs?limit=x", "", nil, 400},
		{"GET", "/v1/specs?limit=1&limit=2", "", nil, 400},
		{"GET", "/v1/specs?method=boil", "", nil, 400},
		{"GET", "/v1/specs?cursor=", "", nil, 400},
		{"GET", "/v1/specs?name=%zz", "", nil, 400},
		{"GET", "/v1/specs?name=%ff", "", nil, 400},
		{"GET", "/v1/specs?name=a%00b", "", nil, 400},
		{"GET", "/v1/specs?name=" + strings.Repeat("x", 201), "", nil, 400},
		{"GET", "/v1/components?category=booze&kind=stolen&status=gone", "", nil, 400},
		{"GET", "/v1/specs/code:C-104/serve?as_of=yesterday", "", nil, 400},
		{"GET", "/v1/specs/code:C-104/serve?detail=long", "", nil, 400},
		{"GET", "/v1/specs/code:C-104?as_of=2026-03-01", "", nil, 400},
		{"GET", "/v1/specs/code:C-104", "", []string{"If-None-Match: x"}, 400},
	}
	for _, tt := range tests {
		r := c.must(tt.status, tt.method, tt.path, tt.body, tt.headers...)
		checkProblem(t, r)
		if tt.status == 405 && r.header.Get("Allow") == "" {
			t.Errorf("405 of %s %s names no Allow", tt.method, tt.path)
		}
		if tt.status == 400 && tt.method == "GET" && len(r.faults()) == 0 {
			t.Errorf("400 of %s names no parameter: %s", tt.path, r.text)
		}
	}
	three := c.must(400, "GET", "/v1/components?category=booze&kind=stolen&status=gone", "")
	if got := fmt.Sprint(three.faults()); got != "[parameter category UNKNOWN_VALUE parameter kind UNKNOWN_VALUE parameter status UNKNOWN_VALUE]" {
		t.Errorf("faults are %s", got)
	}
}

// failing is a store that fails every call with err, or sleeps until the
// deadline.
type failing struct {
	api.Store
	err   error
	panic any
	sleep bool
}

func (f failing) fail(ctx context.Context) error {
	if f.panic != nil {
		panic(f.panic)
	}
	if f.sleep {
		<-ctx.Done()
		return ctx.Err()
	}
	return f.err
}

func (f failing) Book(ctx context.Context) (*recipe.Book, int64, error) { return nil, 0, f.fail(ctx) }
func (f failing) Ready(ctx context.Context) error                       { return f.fail(ctx) }
func (f failing) House(ctx context.Context) (recipe.Kept[recipe.House], error) {
	return recipe.Kept[recipe.House]{}, f.fail(ctx)
}
func (f failing) HouseBefore(ctx context.Context, _ time.Time) (recipe.Kept[recipe.House], error) {
	return recipe.Kept[recipe.House]{}, f.fail(ctx)
}
func (f failing) Component(ctx context.Context, _ recipe.ID) (recipe.Kept[recipe.Component], error) {
	return recipe.Kept[recipe.Component]{}, f.fail(ctx)
}
func (f failing) ComponentID(ctx context.Context, _ string) (recipe.ID, error) {
	return "", f.fail(ctx)
}
func (f failing) Components(ctx context.Context, _ recipe.Filter) ([]recipe.Kept[recipe.Component], *recipe.Position, error) {
	return nil, nil, f.fail(ctx)
}
func (f failing) ComponentRevision(ctx context.Context, _ recipe.ID, _ int) (recipe.Kept[recipe.Component], error) {
	return recipe.Kept[recipe.Component]{}, f.fail(ctx)
}
func (f failing) ComponentRevisions(ctx context.Context, _ recipe.ID, _, _ int) ([]recipe.Kept[recipe.Component], error) {
	return nil, f.fail(ctx)
}
func (f failing) Spec(ctx context.Context, _ recipe.ID) (recipe.Kept[recipe.Spec], error) {
	return recipe.Kept[recipe.Spec]{}, f.fail(ctx)
}
func (f failing) SpecID(ctx context.Context, _ string) (recipe.ID, error) { return "", f.fail(ctx) }
func (f failing) Specs(ctx context.Context, _ recipe.Filter) ([]recipe.Kept[recipe.Spec], *recipe.Position, error) {
	return nil, nil, f.fail(ctx)
}
func (f failing) SpecRevision(ctx context.Context, _ recipe.ID, _ int) (recipe.Kept[recipe.Spec], error) {
	return recipe.Kept[recipe.Spec]{}, f.fail(ctx)
}
func (f failing) SpecRevisions(ctx context.Context, _ recipe.ID, _, _ int) ([]recipe.Kept[recipe.Spec], error) {
	return nil, f.fail(ctx)
}

// routes are all addresses that need the store.
var routes = []struct{ method, path, body string }{
	{"GET", "/readyz", ""},
	{"GET", "/v1/house", ""}, {"PUT", "/v1/house", "{}"}, {"PATCH", "/v1/house", "{}"},
	{"GET", "/v1/components", ""}, {"POST", "/v1/components", rum},
	{"GET", "/v1/components/code:A", ""}, {"PUT", "/v1/components/code:A", rum}, {"PATCH", "/v1/components/code:A", "{}"}, {"DELETE", "/v1/components/code:A", ""},
	{"GET", "/v1/components/code:A/profile", ""}, {"GET", "/v1/components/code:A/uses", ""},
	{"GET", "/v1/components/code:A/revisions", ""}, {"GET", "/v1/components/code:A/revisions/1", ""},
	{"POST", "/v1/components/code:A/packs", "{}"}, {"GET", "/v1/components/code:A/packs/x", ""}, {"PUT", "/v1/components/code:A/packs/x", "{}"},
	{"PATCH", "/v1/components/code:A/packs/x", "{}"}, {"DELETE", "/v1/components/code:A/packs/x", ""},
	{"GET", "/v1/specs", ""}, {"POST", "/v1/specs", lamp},
	{"POST", "/v1/specs/code:A/lines", "{}"}, {"GET", "/v1/specs/code:A/lines/x", ""}, {"PUT", "/v1/specs/code:A/lines/x", "{}"},
	{"PATCH", "/v1/specs/code:A/lines/x", "{}"}, {"DELETE", "/v1/specs/code:A/lines/x", ""},
	{"GET", "/v1/specs/code:A", ""}, {"PUT", "/v1/specs/code:A", lamp}, {"PATCH", "/v1/specs/code:A", "{}"}, {"DELETE", "/v1/specs/code:A", ""},
	{"GET", "/v1/specs/code:A/serve", ""}, {"GET", "/v1/specs/code:A/revisions", ""}, {"GET", "/v1/specs/code:A/revisions/1", ""},
	{"POST", "/v1/serves", lamp}, {"POST", "/v1/swaps", `{"from": "code:A", "to": "code:B"}`},
}

// TestStoreTrouble lets the store fail in every way under every address.
func TestStoreTrouble(t *testing.T) {
	tests := []struct {
		name   string
		store  failing
		status int
		kind   string
		retry  bool
		logged bool
	}{
		{"busy", failing{err: domain.Errorf(domain.Busy, "the database is locked")}, 503, "busy", true, false},
		{"busy with a cause", failing{err: &domain.Error{Kind: domain.Busy, Text: "SELECT failed", Cause: errors.New("sqlite: locked")}}, 503, "busy", true, true},
		{"unavailable", failing{err: &domain.Error{Kind: domain.Unavailable, Text: "pq: no answer", Cause: io.EOF}}, 503, "unavailable", true, true},
		{"full", failing{err: &domain.Error{Kind: domain.Full, Text: "sqlite full", Cause: io.EOF}}, 503, "full", true, true},
		{"late", failing{sleep: true}, 503, "timeout", true, false},
		{"unknown", failing{err: errors.New("SELECT secret FROM sqlite in repo.go:7")}, 500, "internal", false, true},
		{"panic", failing{panic: "SELECT secret"}, 500, "internal", false, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var log bytes.Buffer
			h := api.New(tt.store, slog.New(slog.NewTextHandler(&log, nil)), clock, newID, api.WithTimeout(5*time.Millisecond))
			c := &client{t, h}
			for _, rt := range routes {
				log.Reset()
				r := c.must(tt.status, rt.method, rt.path, rt.body, "If-Match: *")
				checkProblem(t, r)
				if r.at("type") != "/problems/"+tt.kind || (r.header.Get("Retry-After") != "") != tt.retry {
					t.Errorf("%s %s answers %v with Retry-After %q", rt.method, rt.path, r.at("type"), r.header.Get("Retry-After"))
				}
				if tt.status == 500 && (r.at("detail") != nil || r.at("errors") != nil) {
					t.Errorf("a mistake of the server says more than its title: %s", r.text)
				}
				if got := strings.Count(log.String(), "level=ERROR"); got != map[bool]int{true: 1, false: 0}[tt.logged] {
					t.Errorf("%s %s is logged as an error %d times:\n%s", rt.method, rt.path, got, log.String())
				}
			}
		})
	}
	c := &client{t, api.New(failing{err: domain.Unavailable}, quiet, clock, newID)}
	c.must(200, "GET", "/livez", "")
}

func TestClientThatHungUpIsNoError(t *testing.T) {
	var log bytes.Buffer
	h := api.New(failing{sleep: true}, slog.New(slog.NewTextHandler(&log, nil)), clock, newID)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	h.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", "/v1/house", nil).WithContext(ctx))
	if text := log.String(); strings.Contains(text, "ERROR") || !strings.Contains(text, "status=499") {
		t.Errorf("a client that hung up is logged as %s", text)
	}
}

// TestGzip takes a compressed body, refuses a bomb, and keeps little of it in
// memory.
func TestGzip(t *testing.T) {
	c := open(t)
	c.must(201, "POST", "/v1/components", string(zip([]byte(rum))), "Content-Encoding: gzip")
	bomb := zip(make([]byte, 200<<20))
	before := c.everything()
	var start, end runtime.MemStats
	runtime.ReadMemStats(&start)
	for range 20 {
		checkProblem(t, c.must(413, "POST", "/v1/components", string(bomb), "Content-Encoding: gzip"))
	}
	runtime.ReadMemStats(&end)
	// A body doubles its buffer up to 1 MiB: about 4 MiB in all are allocated per bomb, never 200.
	if each := (end.TotalAlloc - start.TotalAlloc) / 20; each > 8<<20 {
		t.Errorf("a bomb of 200 MiB allocates %d bytes, want at most 8 MiB", each)
	}
	cut := zip([]byte(rum))
	checkProblem(t, c.must(400, "POST", "/v1/components", string(cut[:len(cut)/2]), "Content-Encoding: gzip"))
	limit := `{"notes": "` + strings.Repeat("x", 1<<20-13) + `"}`
	c.must(422, "POST", "/v1/components", limit)
	c.must(413, "POST", "/v1/components", limit+" ")
	c.must(422, "POST", "/v1/components", string(zip([]byte(limit))), "Content-Encoding: gzip")
	c.must(413, "POST", "/v1/components", string(zip([]byte(limit+" "))), "Content-Encoding: gzip")
	if c.everything() != before {
		t.Error("a refused body changed something")
	}
}

func zip(data []byte) []byte {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, _ = w.Write(data) // a buffer takes everything
	_ = w.Close()
	return out.Bytes()
}

// TestSlowBody lets a body trickle in over a real connection: the server ends
// it.
func TestSlowBody(t *testing.T) {
	live := httptest.NewServer(api.New(openStore(t), quiet, clock, newID, api.WithTimeout(200*time.Millisecond)))
	defer live.Close()
	conn, err := net.Dial("tcp", live.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprintf(conn, "POST /v1/components HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{")
	if err := conn.SetReadDeadline(time.Now().Add(5 * time.Second)); err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	answer, _ := io.ReadAll(conn)
	if took := time.Since(start); took > 3*time.Second || !bytes.Contains(answer, []byte(" 503 ")) && !bytes.Contains(answer, []byte(" 408 ")) {
		t.Errorf("a body that trickles in is answered after %v with %.200s", took, answer)
	}
}

func TestEveryAnswerCarriesSecurityHeaders(t *testing.T) {
	c := stocked(t)
	for _, path := range []string{"/livez", "/v1/specs", "/v1/specs/code:C-104/serve", "/v1/nothing", "/v1/specs?limit=0"} {
		r := c.do("GET", path, "")
		for name, want := range map[string]string{
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY",
			"Content-Security-Policy": "default-src 'none'",
		} {
			if !strings.HasPrefix(r.header.Get(name), want) {
				t.Errorf("%s answers %s: %q, want %q", path, name, r.header.Get(name), want)
			}
		}
		if r.header.Get("X-Request-Id") == "" || !strings.Contains(r.header.Get("Cache-Control"), "no-") {
			t.Errorf("%s answers request id %q and Cache-Control %q", path, r.header.Get("X-Request-Id"), r.header.Get("Cache-Control"))
		}
	}
	if r := c.do("GET", "/livez", "", "X-Request-Id: till-7"); r.header.Get("X-Request-Id") != "till-7" {
		t.Errorf("a client's request id comes back as %q", r.header.Get("X-Request-Id"))
	}
	if r := c.do("GET", "/livez", "", "X-Request-Id: a\tb"); r.header.Get("X-Request-Id") == "a\tb" {
		t.Error("a request id that could not stand in a log came back")
	}
}

func TestHeadAndExplanations(t *testing.T) {
	c := stocked(t)
	live := httptest.NewServer(c.h)
	defer live.Close()
	res, err := http.Head(live.URL + "/v1/specs/code:C-104")
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	if res.StatusCode != 200 || res.Header.Get("ETag") == "" {
		t.Errorf("HEAD answers %d with ETag %q", res.StatusCode, res.Header.Get("ETag"))
	}
	for _, kind := range problem.Types() {
		r := c.must(200, "GET", kind, "")
		if r.at("type") != kind || r.at("meaning") == "" || r.at("title") == "" {
			t.Errorf("%s explains itself as %s", kind, r.text)
		}
	}
}

// TestProblemsOfEveryKind holds the map from kinds to statuses.
func TestProblemsOfEveryKind(t *testing.T) {
	want := map[domain.Kind]int{
		domain.Invalid: 422, domain.Malformed: 400, domain.NotFound: 404, domain.Conflict: 409, domain.Stale: 412, domain.Unconditional: 428,
		domain.TooLarge: 413, domain.Unsupported: 415, domain.Busy: 503, domain.Unavailable: 503, domain.Full: 503,
	}
	for kind, status := range want {
		for _, err := range []error{kind, domain.Errorf(kind, "x"), fmt.Errorf("wrapped: %w", domain.Errorf(kind, "x"))} {
			doc, known := problem.Of(err)
			if doc.Status != status || !known {
				t.Errorf("Of(%v) is %d, known %v; want %d", err, doc.Status, known, status)
			}
		}
	}
	if doc, known := problem.Of(errors.New("secret")); doc.Status != 500 || known || doc.Detail != "" {
		text, _ := json.Marshal(doc)
		t.Errorf("an unknown failure is answered with %s", text)
	}
}
