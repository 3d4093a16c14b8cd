package openapi_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"servewright/api"
	"servewright/api/page"
	"servewright/domain/recipe"
	"servewright/openapi"
	"servewright/repo/repotest"
)

// document reads the committed document.
func document(t *testing.T) *openapi3.T {
	t.Helper()
	doc, err := openapi3.NewLoader().LoadFromData(openapi.Document)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// server is the API as the program serves it.
func server(store api.Store) http.Handler {
	now := func() time.Time { return time.Date(2026, 4, 2, 12, 0, 0, 0, time.UTC) }
	newID := func() recipe.ID { return recipe.ID(uuid.Must(uuid.NewV7()).String()) }
	return api.New(store, slog.New(slog.DiscardHandler), now, newID,
		api.WithDocument(openapi.Handler()), api.WithDocs(page.Docs(http.NotFoundHandler())))
}

// pages are the addresses that show the document; it does not describe itself.
var pages = []string{"/openapi.json", "/docs", "/docs/*"}

var pathParameter = regexp.MustCompile(`:(\w+)`)

// TestDocumentNamesEveryRoute holds the routes against the document, both ways.
func TestDocumentNamesEveryRoute(t *testing.T) {
	served := map[string]bool{}
	for _, r := range server(repotest.Memory(t)).(*echo.Echo).Routes() {
		if slices.Contains(pages, r.Path) || r.Method == http.MethodHead || r.Method == echo.RouteNotFound {
			continue
		}
		served[r.Method+" "+pathParameter.ReplaceAllString(r.Path, "{$1}")] = true
	}
	for path, item := range document(t).Paths.Map() {
		for method := range item.Operations() {
			if !served[method+" "+path] {
				t.Errorf("the document has %s %s, which nothing serves", method, path)
			}
			delete(served, method+" "+path)
		}
	}
	for route := range served {
		t.Errorf("%s is served and not in the document", route)
	}
}

// TestDocumentIsServed wants the committed bytes, and 304 for who has them.
func TestDocumentIsServed(t *testing.T) {
	first, again := httptest.NewRecorder(), httptest.NewRecorder()
	r := httptest.NewRequest(http.MethodGet, "/openapi.json", nil)
	openapi.Handler().ServeHTTP(first, r)
	if first.Code != http.StatusOK || !bytes.Equal(first.Body.Bytes(), openapi.Document) {
		t.Errorf("GET /openapi.json = %d with %d bytes, want 200 and the document's %d", first.Code, first.Body.Len(), len(openapi.Document))
	}
	r.Header.Set("If-None-Match", first.Header().Get("ETag"))
	openapi.Handler().ServeHTTP(again, r)
	if again.Code != http.StatusNotModified {
		t.Errorf("GET /openapi.json with its ETag = %d, want 304", again.Code)
	}
}

// operations calls check with every operation of the document.
func operations(t *testing.T, check func(where string, op *openapi3.Operation)) {
	t.Helper()
	for path, item := range document(t).Paths.Map() {
		for method, op := range item.Operations() {
			check(method+" "+path, op)
		}
	}
}

func TestOperationsAreExplained(t *testing.T) {
	seen := map[string]string{}
	operations(t, func(where string, op *openapi3.Operation) {
		if op.Summary == "" || op.Description == "" || op.OperationID == "" || len(op.Tags) != 1 {
			t.Errorf("%s: summary %q, description %q, id %q, tags %q: each is wanted, and one tag", where, op.Summary, op.Description, op.OperationID, op.Tags)
		}
		if before := seen[op.OperationID]; before != "" {
			t.Errorf("%s and %s are both called %s", where, before, op.OperationID)
		}
		seen[op.OperationID] = where
		for _, p := range op.Parameters {
			if v := p.Value; v.Description == "" || v.Example == nil && len(v.Schema.Value.Examples) == 0 {
				t.Errorf("%s: parameter %s has description %q and example %v, want both", where, v.Name, v.Description, v.Example)
			}
		}
		checkBodyExample(t, where, op)
		checkAnswers(t, where, op)
	})
}

func checkBodyExample(t *testing.T, where string, op *openapi3.Operation) {
	t.Helper()
	if op.RequestBody == nil {
		return
	}
	for media, m := range op.RequestBody.Value.Content {
		if m.Example == nil && len(m.Examples) == 0 {
			t.Errorf("%s: its body as %s has no example", where, media)
		}
	}
}

// checkAnswers wants one success with a body, and problems as problem documents.
func checkAnswers(t *testing.T, where string, op *openapi3.Operation) {
	t.Helper()
	successes, problems := 0, 0
	for status, r := range op.Responses.Map() {
		switch {
		case status == "304":
		case status[0] == '2':
			successes++
			if status != "204" && (len(r.Value.Content) != 1 || r.Value.Content[jsonType] == nil) {
				t.Errorf("%s: %s is answered as %v, want %s alone", where, status, mediaOf(r), jsonType)
			}
		default:
			problems++
			if len(r.Value.Content) != 1 || r.Value.Content[problemType] == nil {
				t.Errorf("%s: %s is answered as %v, want %s alone", where, status, mediaOf(r), problemType)
			}
		}
	}
	if successes != 1 || problems == 0 && op.OperationID != "livez" {
		t.Errorf("%s: %d successes and %d problems, want one and some", where, successes, problems)
	}
}

func mediaOf(r *openapi3.ResponseRef) []string {
	var names []string
	for name := range r.Value.Content {
		names = append(names, name)
	}
	return names
}

// TestNamesAreOneStyle: members and parameters are snake_case, paths kebab-case.
func TestNamesAreOneStyle(t *testing.T) {
	snake, kebab := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`), regexp.MustCompile(`^(/([a-z0-9-]+|\{[a-z_]+\}))+$`)
	doc := document(t)
	for name, ref := range doc.Components.Schemas {
		for member := range ref.Value.Properties {
			if !snake.MatchString(member) {
				t.Errorf("%s has the member %q, want snake_case", name, member)
			}
		}
	}
	for path := range doc.Paths.Map() {
		if !kebab.MatchString(path) {
			t.Errorf("the path %s is not kebab-case", path)
		}
	}
	operations(t, func(where string, op *openapi3.Operation) {
		for _, p := range op.Parameters {
			if p.Value.In != "header" && !snake.MatchString(p.Value.Name) {
				t.Errorf("%s has the parameter %q, want snake_case", where, p.Value.Name)
			}
		}
	})
}

// TestNoGoNames: what clients read does not speak of Go's types.
func TestNoGoNames(t *testing.T) {
	for _, word := range []string{"wire.", "problem.Document", "recipe.Kept", "money.Amount", "github.com", "x-originalParamName"} {
		if strings.Contains(string(openapi.Document), word) {
			t.Errorf("the document contains %q", word)
		}
	}
}
