package openapi_test

import (
	"maps"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// decimal is a plain decimal as domain/money reads it.
const decimal = `^-?[0-9]+(\.[0-9]+)?$`

// fixSchema says of an object that it takes nothing it does not name, which
// members may be null, and puts the names that clients see in place of Go's. Of
// an object that is only answered it says which members are always there.
func fixSchema(name string, s *openapi3.Schema, said comments, sent bool) {
	info := said.types[name]
	if s.Description == "" {
		s.Description = info.comment
	}
	if len(s.Properties) == 0 {
		return
	}
	no := false
	s.AdditionalProperties = openapi3.BoolSchema{Has: &no}
	for member, ref := range s.Properties {
		if said.nullable[name+"."+member] {
			s.Properties[member] = orNull(ref)
		}
		if p := s.Properties[member]; p.Ref == "" {
			p.Value.Description = info.plain(member, p.Value.Description)
			fixFormat(p.Value)
		}
	}
	if !sent {
		s.Required = info.always(s.Properties)
	}
}

func fixFormat(s *openapi3.Schema) {
	if s.Format == "decimal" {
		s.Pattern = decimal
	}
}

// orNull lets null stand in the place of an object. Plain types have it already.
func orNull(ref *openapi3.SchemaRef) *openapi3.SchemaRef {
	object, description := ref, ""
	if ref.Ref == "" {
		if len(ref.Value.AllOf) != 1 {
			return ref
		}
		object, description = ref.Value.AllOf[0], ref.Value.Description
	}
	null := openapi3.NewSchemaRef("", &openapi3.Schema{Type: &openapi3.Types{"null"}})
	return openapi3.NewSchemaRef("", &openapi3.Schema{Description: description, AnyOf: openapi3.SchemaRefs{object, null}})
}

// sentSchemas are the schemas that clients send, as a whole or as a part.
func sentSchemas(doc *openapi3.T) map[string]bool {
	sent := map[string]bool{}
	for _, item := range doc.Paths.Map() {
		for _, op := range item.Operations() {
			if op.RequestBody == nil {
				continue
			}
			for _, media := range op.RequestBody.Value.Content {
				follow(media.Schema, sent)
			}
		}
	}
	return sent
}

func follow(ref *openapi3.SchemaRef, seen map[string]bool) {
	if ref == nil || ref.Value == nil {
		return
	}
	if name := strings.TrimPrefix(ref.Ref, "#/components/schemas/"); ref.Ref != "" {
		if seen[name] {
			return
		}
		seen[name] = true
	}
	s := ref.Value
	follow(s.Items, seen)
	follow(s.AdditionalProperties.Schema, seen)
	for _, list := range []openapi3.SchemaRefs{s.AllOf, s.AnyOf, slices.Collect(maps.Values(s.Properties))} {
		for _, part := range list {
			follow(part, seen)
		}
	}
}
