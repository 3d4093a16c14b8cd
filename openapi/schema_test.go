package openapi_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// decimal is a plain decimal as domain/money reads it.
const decimal = `^-?[0-9]+(\.[0-9]+)?$`

// fixSchema says of an object that it takes nothing it does not name, and puts
// the names that clients see in place of Go's.
func fixSchema(name string, s *openapi3.Schema, comment string) {
	if s.Description == "" {
		s.Description = comment
	}
	if len(s.Properties) > 0 {
		no := false
		s.AdditionalProperties = openapi3.BoolSchema{Has: &no}
	}
	for member, ref := range s.Properties {
		if ref.Value == nil || ref.Ref != "" {
			continue
		}
		p := ref.Value
		p.Description = plain(member, p.Description)
		if p.Format == "decimal" {
			p.Pattern = decimal
		}
	}
}

// plain starts a description with the member's own name where it starts with
// the Go field's: "AbvPct is …" of abv_pct.
func plain(member, text string) string {
	first, rest, _ := strings.Cut(text, " ")
	word := strings.TrimRight(first, ":,")
	if word != "" && strings.EqualFold(word, strings.ReplaceAll(member, "_", "")) {
		return member + first[len(word):] + " " + rest
	}
	return text
}

var nameTag = regexp.MustCompile(`@name (\S+)`)

// typeComments reads the comments of the types that bodies are made of, by the
// name each has in the document.
func typeComments(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir("../api", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, text, parser.ParseComments)
		if err != nil {
			return err
		}
		for _, decl := range file.Decls {
			if gen, ok := decl.(*ast.GenDecl); ok && gen.Tok == token.TYPE {
				noteTypes(out, gen)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func noteTypes(out map[string]string, gen *ast.GenDecl) {
	for _, spec := range gen.Specs {
		ts := spec.(*ast.TypeSpec)
		if m := nameTag.FindStringSubmatch(ts.Comment.Text()); m != nil && gen.Doc != nil {
			text := strings.Join(strings.Fields(gen.Doc.Text()), " ")
			out[m[1]] = strings.NewReplacer("[", "", "]", "").Replace(text)
		}
	}
}
