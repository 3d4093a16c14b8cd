package openapi_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"regexp"
	"testing"

	"github.com/getkin/kin-openapi/openapi2"
	"github.com/getkin/kin-openapi/openapi2conv"
	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3conv"
	"github.com/swaggo/swag"

	"servewright/openapi"
)

var update = flag.Bool("update", false, "write openapi.json anew")

// TestCurrent checks that the committed document is the one that the handlers'
// comments and the bodies' types make today.
func TestCurrent(t *testing.T) {
	want := generate(t)
	if *update {
		if err := os.WriteFile("openapi.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, openapi.Document) {
		t.Error("openapi.json is not what the handlers say; run go generate ./openapi and look at the change")
	}
}

// generate makes the document: swag reads the comments into Swagger 2, which
// becomes OpenAPI 3, is given what Swagger 2 cannot say, and becomes 3.1.
func generate(t *testing.T) []byte {
	t.Helper()
	two, said := readComments(t)
	doc, err := openapi2conv.ToV3(two)
	if err != nil {
		t.Fatal(err)
	}
	openapi3conv.Upgrade(doc)
	doc.OpenAPI = "3.1.1"
	fixUp(t, doc, said)
	doc = reread(t, doc)
	if err := doc.Validate(t.Context()); err != nil {
		t.Fatal(err)
	}
	text, err := json.MarshalIndent(doc, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(text, '\n')
}

// reread resolves the references of a document that was changed by hand.
func reread(t *testing.T, doc *openapi3.T) *openapi3.T {
	t.Helper()
	text, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	if doc, err = openapi3.NewLoader().LoadFromData(text); err != nil {
		t.Fatal(err)
	}
	return doc
}

// pageName is how swag names a page of things; the second part is the thing.
var pageName = regexp.MustCompile(`(#/definitions/|")(?:\w+\.)?Page-(?:\w+\.)?(\w+)`)

// comments are what the handlers and types say that the conversion drops.
type comments struct {
	examples map[string]map[string]any // by operation id and parameter name
	nullable map[string]bool           // "Schema.member"
	types    map[string]typeInfo       // by schema name
}

func readComments(t *testing.T) (*openapi2.T, comments) {
	t.Helper()
	p := swag.New(swag.SetDebugger(silent{}))
	if err := p.ParseAPI("../api", "../openapi/openapi.go", 1); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(p.GetSwagger())
	if err != nil {
		t.Fatal(err)
	}
	text = pageName.ReplaceAll(text, []byte("${1}${2}Page"))
	two := new(openapi2.T)
	if err := json.Unmarshal(text, two); err != nil {
		t.Fatal(err)
	}
	return two, dropped(t, text)
}

func dropped(t *testing.T, text []byte) comments {
	t.Helper()
	var two struct {
		Paths map[string]map[string]struct {
			ID         string `json:"operationId"`
			Parameters []struct {
				Name    string `json:"name"`
				Example any    `json:"example"`
			} `json:"parameters"`
		} `json:"paths"`
		Definitions map[string]struct {
			Properties map[string]struct {
				Nullable bool `json:"x-nullable"`
			} `json:"properties"`
		} `json:"definitions"`
	}
	if err := json.Unmarshal(text, &two); err != nil {
		t.Fatal(err)
	}
	out := comments{map[string]map[string]any{}, map[string]bool{}, readTypes(t)}
	for _, methods := range two.Paths {
		for _, op := range methods {
			out.examples[op.ID] = map[string]any{}
			for _, p := range op.Parameters {
				out.examples[op.ID][p.Name] = p.Example
			}
		}
	}
	for name, def := range two.Definitions {
		for member, p := range def.Properties {
			out.nullable[name+"."+member] = p.Nullable
		}
	}
	return out
}

// silent keeps swag from reporting what it reads.
type silent struct{}

func (silent) Printf(string, ...any) {}
