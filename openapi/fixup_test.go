package openapi_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

const (
	jsonType    = "application/json"
	problemType = "application/problem+json"
)

// fixUp adds what the comments cannot say, the same to every operation.
func fixUp(t *testing.T, doc *openapi3.T, examples parameterExamples) {
	t.Helper()
	introduce(doc)
	types := typeComments(t)
	for name, ref := range doc.Components.Schemas {
		fixSchema(name, ref.Value, types[name])
	}
	doc.Components.Responses = problemResponses(t)
	for path, item := range doc.Paths.Map() {
		for method, op := range item.Operations() {
			delete(op.Extensions, "x-originalParamName")
			addParameterExamples(op, examples[op.OperationID])
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
		{Name: "specs", Description: "Drinks' recipes, and the drinks worked out"},
		{Name: "swaps", Description: "One component in another's place, across a menu"},
		{Name: "house", Description: "The house's defaults: arguments of every computation"},
		{Name: "problems", Description: "What the types of problem documents mean"},
		{Name: "health", Description: "For whoever watches the server"},
	}
}

// addParameterExamples carries over what the conversion drops.
func addParameterExamples(op *openapi3.Operation, examples map[string]any) {
	for _, p := range op.Parameters {
		p.Value.Example = examples[p.Value.Name]
		if p.Value.Name == "If-Match" {
			p.Value.Example = `"3-9f86d081884c7d65"`
		}
		if s := p.Value.Schema.Value; p.Value.Example == nil && len(s.Enum) > 0 {
			p.Value.Example = s.Enum[0]
		} else if p.Value.Example == nil && s.Default != nil {
			p.Value.Example = s.Default
		}
	}
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
		Schema: openapi3.NewStringSchema().NewRef(), Example: `"3-9f86d081884c7d65"`,
	}})
	op.Responses.Set("304", &openapi3.ResponseRef{Value: openapi3.NewResponse().WithDescription("What you have still stands")})
}

// addProblems adds the problems that an operation of its shape can answer.
func addProblems(path string, op *openapi3.Operation) {
	if op.Tags[0] == "health" {
		if op.OperationID == "readyz" {
			setProblems(op, "503")
		}
		return
	}
	statuses := []string{"400", "500", "503", "default"}
	stores := op.Responses.Value("201") != nil
	if strings.Contains(path, "{") {
		statuses = append(statuses, "404")
	}
	if slices.ContainsFunc(op.Parameters, func(p *openapi3.ParameterRef) bool { return p.Value.Name == "If-Match" }) {
		statuses = append(statuses, "412", "428")
		stores = true
	}
	if op.RequestBody != nil {
		statuses = append(statuses, "413", "415", "422")
	}
	if stores {
		statuses = append(statuses, "409")
	}
	setProblems(op, statuses...)
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
