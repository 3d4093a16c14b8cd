package openapi_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// typeInfo is what the source says of the type behind a schema.
type typeInfo struct {
	comment string
	fields  []field
}

type field struct {
	goName, member string
	optional       bool // left out of JSON when empty
}

// always lists the members that every answer has.
func (i typeInfo) always(properties openapi3.Schemas) []string {
	var out []string
	for _, f := range i.fields {
		if properties[f.member] != nil && !f.optional {
			out = append(out, f.member)
		}
	}
	slices.Sort(out)
	return out
}

// plain puts the names of members in place of those of Go's fields: "AbvPct is
// …" and "… ± one standard uncertainty of By".
func (i typeInfo) plain(member, text string) string {
	words := strings.Split(text, " ")
	for at, word := range words {
		name := strings.TrimRight(word, ":,;.")
		for _, f := range i.fields {
			starts := at == 0 || strings.HasSuffix(words[at-1], ".")
			if name == f.goName && (!starts || f.member == member) {
				words[at] = f.member + word[len(name):]
			}
		}
	}
	return strings.Join(words, " ")
}

// readTypes reads the types that bodies are made of, by the name each has in
// the document.
func readTypes(t *testing.T) map[string]typeInfo {
	t.Helper()
	out := map[string]typeInfo{}
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

var nameTag = regexp.MustCompile(`@name (\S+)`)

func noteTypes(out map[string]typeInfo, gen *ast.GenDecl) {
	for _, spec := range gen.Specs {
		ts := spec.(*ast.TypeSpec)
		name := nameTag.FindStringSubmatch(ts.Comment.Text())
		fields, isStruct := ts.Type.(*ast.StructType)
		if name == nil || !isStruct {
			continue
		}
		text := strings.Join(strings.Fields(gen.Doc.Text()), " ")
		info := typeInfo{comment: strings.NewReplacer("[", "", "]", "").Replace(text)}
		for _, f := range fields.Fields.List {
			info.add(f)
		}
		out[name[1]] = info
	}
}

// add notes a field; one that is embedded has no name of its own.
func (i *typeInfo) add(f *ast.Field) {
	if len(f.Names) != 1 || f.Tag == nil {
		return
	}
	tag, err := strconv.Unquote(f.Tag.Value)
	if err != nil {
		return
	}
	member, rest, _ := strings.Cut(reflect.StructTag(tag).Get("json"), ",")
	i.fields = append(i.fields, field{f.Names[0].Name, member, strings.Contains(rest, "omit")})
}
