package openapi_test

import (
	"errors"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"servewright/domain"
	"servewright/repo/repotest"
)

// things are what the path parameters of an operation name in the tests.
func (c *client) things(op operation) map[string]string {
	c.t.Helper()
	id := "code:GIN"
	switch {
	case strings.HasPrefix(op.path, "/v1/specs"):
		id = "code:C-104"
	case op.OperationID == "deleteComponent":
		id = "code:LEMON-TWIST" // in use until C-104 is deleted
	}
	out := map[string]string{"id": id, "number": "1", "name": "stale"}
	for list, reader := range map[string]string{"line": "getSpec", "pack": "getComponent"} {
		if name := list + "_id"; strings.Contains(op.path, "{"+name+"}") {
			out[name] = c.last(reader, id, list+"s")
		}
	}
	return out
}

// last returns the id of the last item of a list in what an operation reads.
func (c *client) last(reader, id, list string) string {
	c.t.Helper()
	items, _ := c.call(request{op: reader, params: map[string]string{"id": id}}).object(c.t)[list].([]any)
	if len(items) == 0 {
		c.t.Fatalf("%s has no %s", id, list)
	}
	item, _ := items[len(items)-1].(map[string]any)
	last, _ := item["id"].(string)
	return last
}

// order is a way through all operations in which each can succeed.
var order = []string{
	"livez", "readyz", "explainProblem",
	"getHouse", "putHouse", "patchHouse",
	"addComponent", "listComponents", "getComponent", "putComponent", "patchComponent",
	"addPack", "getPack", "putPack", "patchPack", "deletePack",
	"getProfile", "getUses", "listComponentRevisions", "getComponentRevision",
	"addSpec", "listSpecs", "getSpec", "putSpec", "patchSpec",
	"addLine", "getLine", "putLine", "patchLine", "deleteLine", "listSpecRevisions", "getSpecRevision",
	"getServe", "postServe", "postSwap",
	"deleteSpec", "deleteComponent",
}

// succeed calls an operation once with each of its example bodies.
func (c *client) succeed(id string) {
	c.t.Helper()
	op := c.found[id]
	list := bodies[id]
	if len(list) == 0 {
		list = []body{{}}
	}
	for _, b := range list {
		r := request{op: id, params: c.things(op), body: b.text, header: map[string]string{}}
		if op.wantsMatch() {
			r.header["If-Match"] = c.etag(r)
		}
		a := c.call(r)
		if a.status/100 != 2 {
			c.t.Errorf("%s with %q = %d %s", id, b.name, a.status, a.body)
		}
		if op.Parameters.GetByInAndName("query", "detail") != nil {
			short := r
			short.query = "detail=short&as_of=2026-03-15"
			c.call(short)
		}
		if tag := a.header.Get("ETag"); op.method == http.MethodGet && tag != "" {
			r.header["If-None-Match"] = tag
			if again := c.call(r); again.status != http.StatusNotModified || len(again.body) != 0 {
				c.t.Errorf("%s with its own ETag = %d with %d bytes, want 304 and none", id, again.status, len(again.body))
			}
		}
	}
}

// TestEveryOperationSucceeds calls every operation of the document with every
// example of its body and holds the answers against the document.
func TestEveryOperationSucceeds(t *testing.T) {
	c := newClient(t, repotest.Memory(t))
	for _, id := range order {
		c.succeed(id)
	}
	for id, op := range c.found {
		for status := range op.Responses.Map() {
			if status[0] == '2' && !c.seen[id+" "+status] {
				t.Errorf("%s was never seen to answer %s", id, status)
			}
		}
	}
}

// TestEveryProblemIsAnswered provokes, for every operation, every problem that
// the document says it can answer.
func TestEveryProblemIsAnswered(t *testing.T) {
	store := &trouble{Store: repotest.Memory(t)}
	c := newClient(t, store)
	for _, id := range []string{"addComponent", "addSpec"} {
		c.succeed(id)
	}
	for id, op := range c.found {
		for status := range op.Responses.Map() {
			if status[0] == '2' || status == "304" || status == "default" {
				continue
			}
			provoke := provocations[status]
			if provoke == nil {
				t.Fatalf("nothing in this test provokes %s", status)
			}
			r := c.good(id)
			r.wrong = true
			provoke(&r, store)
			a := c.call(r)
			store.err = nil
			if got := strconv.Itoa(a.status); got != status {
				t.Errorf("%s, meant to fail with %s, answers %s %s", id, status, got, a.body)
				continue
			}
			checkProblem(t, id, a)
		}
	}
}

// good returns a request that would succeed.
func (c *client) good(id string) request {
	c.t.Helper()
	op := c.found[id]
	r := request{op: id, params: c.things(op), header: map[string]string{}}
	if len(bodies[id]) > 0 {
		r.body = bodies[id][0].text
	}
	if op.wantsMatch() {
		r.header["If-Match"] = c.etag(r)
	}
	return r
}

const (
	missingID = "0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b21"
	secret    = "the password is hunter2"
)

// provocations turn a good request into one that is answered with a status.
var provocations = map[string]func(*request, *trouble){
	"400": func(r *request, _ *trouble) { r.query = "nope=1" },
	"404": func(r *request, _ *trouble) {
		r.params = map[string]string{"id": missingID, "number": "1", "name": "nope", "line_id": missingID, "pack_id": missingID}
	},
	"409": provokeConflict,
	"412": func(r *request, _ *trouble) { r.header["If-Match"] = `"0-0000000000000000"` },
	"413": func(r *request, _ *trouble) { r.body = `{"notes": "` + strings.Repeat("x", 2<<20) + `"}` },
	"415": func(r *request, _ *trouble) { r.header["Content-Type"] = "text/plain" },
	"422": func(r *request, _ *trouble) { r.body = `{"nope": 1, "Name": 2}` },
	"428": func(r *request, _ *trouble) { delete(r.header, "If-Match") },
	"500": func(_ *request, store *trouble) { store.err = errors.New(secret) },
	"503": func(_ *request, store *trouble) { store.err = domain.Errorf(domain.Unavailable, secret) },
}

// provokeConflict takes a code that is taken. What is to be deleted is in use as
// it is.
func provokeConflict(r *request, _ *trouble) {
	taken := "SUGAR"
	if strings.HasSuffix(r.op, "Spec") {
		taken = "C-105"
	}
	switch {
	case strings.HasPrefix(r.op, "patch"):
		r.body = `{"code": "` + taken + `"}`
	case strings.HasPrefix(r.op, "put"):
		r.body = regexp.MustCompile(`"code": "[^"]+"`).ReplaceAllString(r.body, `"code": "`+taken+`"`)
	}
}

// checkProblem wants a problem document that names its type, says its status
// and something, and gives nothing of the server away.
func checkProblem(t *testing.T, id string, a answer) {
	t.Helper()
	doc := a.object(t)
	name, _ := doc["type"].(string)
	if !strings.HasPrefix(name, "/problems/") || doc["status"] != float64(a.status) || doc["title"] == "" || doc["request_id"] == nil {
		t.Errorf("%s answers the problem %s, want type, title, status and request_id", id, a.body)
	}
	if a.status/100 == 4 && doc["detail"] == nil {
		t.Errorf("%s answers %d without a detail: %s", id, a.status, a.body)
	}
	if strings.Contains(string(a.body), secret) {
		t.Errorf("%s gives away what the database said: %s", id, a.body)
	}
	if a.status == http.StatusServiceUnavailable && a.header.Get("Retry-After") == "" {
		t.Errorf("%s answers 503 without Retry-After", id)
	}
}

// TestPlantedFaultsAreSeen spoils a good answer in one place at a time and
// expects the document to refuse it.
func TestPlantedFaultsAreSeen(t *testing.T) {
	c := newClient(t, repotest.Memory(t))
	for _, id := range []string{"addComponent", "addSpec"} {
		c.succeed(id)
	}
	req, err := http.NewRequest(http.MethodGet, c.base+"/v1/specs/code:C-104/serve", nil)
	if err != nil {
		t.Fatal(err)
	}
	input := c.checkRequest(req, request{op: "getServe"})
	good := c.call(request{op: "getServe", params: map[string]string{"id": "code:C-104"}})
	tests := []struct{ name, from, to string }{
		{"nothing", "", ""},
		{"a member is missing", `"mixed":`, `"mixt":`},
		{"text is a number", `"acid_as":"citric"`, `"acid_as":7`},
		{"an unknown member", `"served":{`, `"served":{"extra":1,`},
		{"null where there is a value", `"acid_as":"citric"`, `"acid_as":null`},
		{"an amount with an exponent", `"amount":"0.`, `"amount":"1e0.`},
		{"an id that is none", `"component_id":"`, `"component_id":"x`},
	}
	for _, tt := range tests {
		body := strings.Replace(string(good.body), tt.from, tt.to, 1)
		err := c.against(input, http.StatusOK, good.header, []byte(body))
		if planted := body != string(good.body); planted != (err != nil) || planted != (tt.from != "") {
			t.Errorf("%s: planted %v, refused %v (%v)\n%.600s", tt.name, planted, err != nil, err, body)
		}
	}
}
