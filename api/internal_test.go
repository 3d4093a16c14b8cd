package api

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// maxHandler is how many lines a handler may have: it loads, calls, answers.
const maxHandler = 30

// TestHandlersAreShort holds every function of this package to the length of a
// handler.
func TestHandlersAreShort(t *testing.T) {
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, file := range files {
		if !strings.HasSuffix(file.Name(), ".go") || strings.HasSuffix(file.Name(), "_test.go") {
			continue
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, file.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, decl := range tree.Decls {
			fn, ok := decl.(*ast.FuncDecl)
			if !ok || fn.Name.Name == "route" { // a table
				continue
			}
			checked++
			if lines := set.Position(fn.End()).Line - set.Position(fn.Pos()).Line + 1; lines > maxHandler {
				t.Errorf("%s: %s has %d lines, want at most %d", file.Name(), fn.Name.Name, lines, maxHandler)
			}
		}
	}
	if checked < 60 {
		t.Errorf("only %d functions were looked at", checked)
	}
}

func TestTags(t *testing.T) {
	tests := []struct {
		header         string
		ok             bool
		strong, weakly bool // whether "x" is named
	}{
		{`"x"`, true, true, true},
		{`W/"x"`, true, false, true},
		{`"a", "x"`, true, true, true},
		{`"a" , , W/"x"`, true, false, true},
		{`*`, true, true, true},
		{`"a"`, true, false, false},
		{`""`, true, false, false},
		{`"a,x"`, true, false, false},
		{``, false, false, false},
		{`,`, false, false, false},
		{`x`, false, false, false},
		{`"x`, false, false, false},
		{`w/"x"`, false, false, false},
		{`"a" "x"`, false, false, false},
		{`*, "x"`, false, false, false},
	}
	for _, tt := range tests {
		list, ok := parseTags(tt.header)
		if ok != tt.ok || ok && (list.strongly(`"x"`) != tt.strong || list.weakly(`"x"`) != tt.weakly) {
			t.Errorf("parseTags(%s) = %+v, %v; names \"x\" strongly %v, weakly %v; want %v, %v, %v", tt.header, list, ok, list.strongly(`"x"`), list.weakly(`"x"`), tt.ok, tt.strong, tt.weakly)
		}
	}
}

func FuzzTags(f *testing.F) {
	for _, seed := range []string{`"x"`, `W/"a", *`, `""`, `,,"`, "W/"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, header string) {
		list, ok := parseTags(header)
		if ok && !list.any && len(list.tags) == 0 {
			t.Errorf("parseTags(%q) took a list of nothing", header)
		}
	})
}

func FuzzCursor(f *testing.F) {
	f.Add(cursor{List: "a", Key: "é", ID: "b"}.String())
	f.Add(cursor{List: "a", Below: 3}.String())
	f.Add("eyJsIjoiIn0")
	f.Fuzz(func(t *testing.T, s string) {
		if cur, ok := parseCursor(s); ok && cur.String() != s {
			t.Errorf("parseCursor(%q) took what %q means", s, cur)
		}
	})
}
