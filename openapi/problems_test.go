package openapi_test

import (
	"strconv"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"servewright/api/problem"
)

// problemResponses are the refusals that operations share, one for each status,
// in the words of the problem types themselves.
func problemResponses(t *testing.T) openapi3.ResponseBodies {
	t.Helper()
	out := openapi3.ResponseBodies{"Problemdefault": problemResponse("Any other failure", nil)}
	for _, name := range []string{"malformed", "not-found", "conflict", "stale", "too-large", "unsupported", "invalid", "unconditional", "internal", "unavailable"} {
		m, ok := problem.Explain(name)
		if !ok {
			t.Fatalf("there is no problem type %s", name)
		}
		r := problemResponse(m.Title+". "+m.Meaning, map[string]any{"type": m.Type, "title": m.Title, "status": m.Status, "detail": details[name]})
		status := strconv.Itoa(m.Status)
		switch m.Status {
		case 412:
			r.Value.Headers = header("ETag", "the current ETag")
		case 503:
			r.Value.Headers = header("Retry-After", "seconds to wait before trying again")
		}
		out["Problem"+status] = r
	}
	return out
}

// details are what the example of each problem says.
var details = map[string]string{
	"malformed":     "byte 17: a comma or a closing brace is missing",
	"not-found":     "there is no component with the code RUM-DRAK",
	"conflict":      "the code RUM-DARK is taken",
	"stale":         "the component is at revision 4; read it again",
	"too-large":     "the body is larger than 1048576 bytes after decompression; send less at once",
	"unsupported":   `Content-Type "text/plain" is not taken here; send application/json in UTF-8`,
	"invalid":       "2 rules are broken; each stands in errors",
	"unconditional": "send If-Match with the ETag of what was read",
	"internal":      "",
	"unavailable":   "",
}

func problemResponse(description string, example map[string]any) *openapi3.ResponseRef {
	media := &openapi3.MediaType{Schema: openapi3.NewSchemaRef("#/components/schemas/Problem", nil)}
	if example != nil {
		if example["detail"] == "" {
			delete(example, "detail")
		}
		media.Example = example
	}
	return &openapi3.ResponseRef{Value: &openapi3.Response{Description: &description, Content: openapi3.Content{problemType: media}}}
}

func header(name, description string) openapi3.Headers {
	return openapi3.Headers{name: &openapi3.HeaderRef{Value: &openapi3.Header{Parameter: openapi3.Parameter{
		Description: description, Schema: openapi3.NewStringSchema().NewRef(),
	}}}}
}
