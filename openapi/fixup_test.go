package openapi_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

const (
	exampleETag = `"3-9f86d081884c7d65"`
	jsonType    = "application/json"
	problemType = "application/problem+json"
)

// fixUp adds what the comments cannot say, the same to every operation.
func fixUp(t *testing.T, doc *openapi3.T, said comments) {
	t.Helper()
	introduce(doc)
	sent := sentSchemas(doc)
	for name, ref := range doc.Components.Schemas {
		fixSchema(name, ref.Value, said, sent[name])
	}
	doc.Components.Responses = problemResponses(t)
	for path, item := range doc.Paths.Map() {
		for method, op := range item.Operations() {
			addParameterExamples(op, said.examples[op.OperationID])
			fixBody(op)
			addConditional(method, op)
			addProblems(path, op)
			narrowMedia(op)
		}
	}
}

func introduce(doc *openapi3.T) {
	doc.Info = &openapi3.Info{
		Title:   "servewright",
		Version: "1",
		License: &openapi3.License{Name: "MIT License", Identifier: "MIT"},
		Description: "Holds a bar's components and specs and works out what is in the glass and what it costs.\n\n" +
			"Physical quantities are JSON numbers whose names carry their unit; volumes are at 20 °C. Money and tax rates are exact decimals in strings. " +
			"Wherever an id is asked for, `code:X` with the house's own code serves too. " +
			"Unknown members and parameters are refused: nothing is dropped silently. " +
			"Every failure is a problem document (RFC 9457) that lists all faults at once, each with a JSON Pointer into the body that was sent. " +
			"Figures are estimates: follow local food-safety and licensing law.",
	}
	doc.Servers = openapi3.Servers{{URL: "/", Description: "the server that answers this document"}}
	doc.Tags = openapi3.Tags{
		{Name: "components", Description: "Anything poured or laid on a drink, bought or house-made, and what it costs"},
		{Name: "specs", Description: "Drinks' recipes"},
		{Name: "serves", Description: "A spec worked out in the glass"},
		{Name: "swaps", Description: "One component in another's place, across a menu"},
		{Name: "house", Description: "The house's defaults: arguments of every computation"},
		{Name: "problems", Description: "What the types of problem documents mean"},
		{Name: "health", Description: "For whoever watches the server"},
	}
}

// addParameterExamples carries over what the conversion drops. A parameter that
// may be left out has its example in its schema: the docs page would fill it in.
func addParameterExamples(op *openapi3.Operation, examples map[string]any) {
	for _, p := range op.Parameters {
		example := parameterExample(p.Value, examples[p.Value.Name])
		if p.Value.Required {
			p.Value.Example = example
		} else if example != nil {
			p.Value.Schema.Value.Examples = []any{example}
		}
	}
}

func parameterExample(p *openapi3.Parameter, given any) any {
	s := p.Schema.Value
	switch {
	case given != nil:
		return given
	case p.Name == "If-Match":
		return exampleETag
	case p.Name == "cursor":
		return "eyJsIjoiOWY4NmQwODE4ODRjN2Q2NSJ9"
	case len(s.Enum) > 0:
		return s.Enum[0]
	case s.Default != nil:
		return s.Default
	case s.Min != nil:
		return *s.Min
	}
	return nil
}

// fixBody gives a body its examples.
func fixBody(op *openapi3.Operation) {
	if op.RequestBody == nil {
		return
	}
	delete(op.RequestBody.Extensions, "x-originalParamName")
	for _, media := range op.RequestBody.Value.Content {
		delete(op.RequestBody.Value.Extensions, "x-originalParamName")
		if list := bodies[op.OperationID]; len(list) == 1 {
			media.Example = list[0].value()
		} else if len(list) > 1 {
			media.Examples = openapi3.Examples{}
			for _, b := range list {
				media.Examples[b.name] = &openapi3.ExampleRef{Value: &openapi3.Example{Summary: b.name, Value: b.value()}}
			}
		}
	}
}

// addConditional lets a reader send the ETag it has.
func addConditional(method string, op *openapi3.Operation) {
	ok := op.Responses.Value("200")
	if method != http.MethodGet || ok == nil || ok.Value.Headers["ETag"] == nil {
		return
	}
	op.Parameters = append(op.Parameters, &openapi3.ParameterRef{Value: &openapi3.Parameter{
		Name: "If-None-Match", In: "header", Description: "ETag of what you have; 304 says that it still stands",
		Schema: openapi3.NewSchemaRef("", &openapi3.Schema{Type: &openapi3.Types{"string"}, Examples: []any{exampleETag}}),
	}})
	op.Responses.Set("304", &openapi3.ResponseRef{Value: openapi3.NewResponse().WithDescription("What you have still stands")})
}

// addProblems adds the problems that an operation of its shape can answer.
func addProblems(path string, op *openapi3.Operation) {
	switch op.OperationID {
	case "livez":
		return
	case "readyz":
		setProblems(op, "503")
		return
	case "explainProblem":
		setProblems(op, "404")
		return
	}
	setProblems(op, "400", "500", "503", "default")
	if strings.Contains(path, "{") {
		setProblems(op, "404")
	}
	edits := op.Parameters.GetByInAndName("header", "If-Match") != nil
	if edits {
		setProblems(op, "412", "428")
	}
	if op.RequestBody != nil {
		setProblems(op, "413", "415", "422")
	}
	// A code can be taken, and a component can be in use; a spec is used by
	// nothing, and the house, a line and a pack have no code.
	part := strings.Contains(path, "/lines") || strings.Contains(path, "/packs")
	if !part && (edits || op.Responses.Value("201") != nil) && op.Tags[0] != "house" && op.OperationID != "deleteSpec" {
		setProblems(op, "409")
	}
}

func setProblems(op *openapi3.Operation, statuses ...string) {
	for _, s := range statuses {
		op.Responses.Set(s, &openapi3.ResponseRef{Ref: "#/components/responses/Problem" + s})
	}
}

// narrowMedia keeps JSON on success: Swagger 2 gives an operation one list of
// media types for all of its answers.
func narrowMedia(op *openapi3.Operation) {
	for status, r := range op.Responses.Map() {
		if r.Value == nil || status[0] != '2' {
			continue
		}
		if media := r.Value.Content[jsonType]; media != nil {
			r.Value.Content = openapi3.Content{jsonType: media}
		}
	}
}
