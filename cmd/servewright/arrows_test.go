package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// root is the top of the module as this package's tests see it.
const root = "../.."

const module = "servewright"

// floors is the tower of the domain: a package imports only from floors below
// its own.
var floors = map[string]int{
	"domain":           1,
	"domain/measure":   2,
	"domain/money":     2,
	"domain/liquid":    3,
	"domain/safety":    3,
	"domain/chill":     4,
	"domain/nutrition": 4,
	"domain/recipe":    5,
	"domain/serve":     6,
	"domain/cost":      6,
	"domain/swap":      8,
}

// arrows lists what each package outside the domain may import of this module.
// "domain/*" stands for every package of the tower, "*" for everything.
var arrows = map[string][]string{
	"cmd/servewright": {"*"},
	"api":             {"api/wire", "api/problem", "api/page", "openapi", "domain/*"},
	"api/wire":        {"api/problem", "domain/*"},
	"api/problem":     {"domain"},
	"api/page":        {"domain/*"},
	"openapi":         {},
	"repo": {"repo/migrations", "domain", "domain/measure", "domain/money", "domain/liquid", "domain/safety",
		"domain/chill", "domain/recipe"},
	"repo/migrations": {},
	"repo/repotest": {"repo", "domain", "domain/measure", "domain/money", "domain/liquid", "domain/safety",
		"domain/chill", "domain/recipe"},
	"testdata/demo":      {},
	"testdata/reference": {}, // read by tests
}

// pure is the part of the standard library that the domain may use: it
// calculates and formats, and reaches nothing outside the process.
var pure = []string{
	"bytes", "cmp", "encoding/csv", "errors", "fmt", "iter", "maps", "math", "math/big", "math/bits", "slices",
	"sort", "strconv", "strings", "sync", "sync/atomic", "time", "unicode", "unicode/utf8",
}

// impure are the functions of pure packages that read a clock, wait, or write
// to the terminal.
var impure = []string{
	"time.Now", "time.Since", "time.Until", "time.Sleep", "time.After", "time.AfterFunc", "time.Tick",
	"time.NewTimer", "time.NewTicker", "fmt.Print", "fmt.Printf", "fmt.Println",
}

type home struct {
	library string   // import path, and everything under it
	in      []string // packages of this module
}

// homes says which packages alone may import a library.
var homes = []home{
	{"github.com/labstack/echo", []string{"api"}},
	{"github.com/jmoiron/sqlx", []string{"repo", "repo/repotest"}},
	{"database/sql", []string{"repo", "repo/repotest"}},
	{"github.com/lib/pq", []string{"repo", "repo/repotest"}},
	{"modernc.org/sqlite", []string{"repo", "repo/repotest"}},
	{"github.com/pressly/goose", []string{"repo"}},
	{"github.com/quagmt/udecimal", []string{"domain/money"}},
}

// topLevel is everything that may lie at the top, dotfiles aside.
var topLevel = []string{
	"DEVELOPERS.md", "README.md", "api", "cmd", "docker-compose.yml", "domain", "go.mod", "go.sum", "openapi", "repo",
	"testdata",
}

func TestImportArrows(t *testing.T) {
	for _, fault := range misdirected(t, os.DirFS(root)) {
		t.Error(fault)
	}
}

func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") || litter(e.Name()) {
			continue
		}
		if !slices.Contains(topLevel, e.Name()) {
			t.Errorf("%s lies at the top level, which is exactly: %s", e.Name(), strings.Join(topLevel, " "))
		}
	}
	for _, want := range topLevel {
		if _, err := os.Stat(path.Join(root, want)); err != nil {
			t.Errorf("the top level lacks %s: %v", want, err)
		}
	}
}

// litter reports what running the program at the top leaves there, which git
// ignores.
func litter(name string) bool {
	return name == "servewright" || strings.Contains(name, ".db")
}

// TestImportArrowsSeePlantedFaults plants one fault at a time in a small tree
// and expects the check to name it.
func TestImportArrowsSeePlantedFaults(t *testing.T) {
	tests := []struct {
		name, file, source string
		want               string // part of the fault; empty = none
	}{
		{"a clean file", "domain/liquid/a.go", `package liquid; import ("math"; "servewright/domain/measure")`, ""},
		{"an arrow up", "domain/liquid/a.go", `package liquid; import "servewright/domain/recipe"`,
			"domain/liquid (floor 3) imports domain/recipe (floor 5)"},
		{"siblings of one floor", "domain/cost/a.go", `package cost; import "servewright/domain/serve"`,
			"domain/cost (floor 6) imports domain/serve (floor 6)"},
		{"the network in the domain", "domain/serve/a.go", `package serve; import "net/http"`,
			"domain/serve imports net/http"},
		{"randomness", "domain/chill/a.go", `package chill; import "math/rand/v2"`, "domain/chill imports math/rand/v2"},
		{"a library in the domain", "domain/recipe/a.go", `package recipe; import "github.com/google/uuid"`,
			"domain/recipe imports github.com/google/uuid"},
		{"decimals beside money", "domain/cost/a.go", `package cost; import "github.com/quagmt/udecimal"`,
			"domain/cost imports github.com/quagmt/udecimal"},
		{"decimals in money", "domain/money/a.go", `package money; import "github.com/quagmt/udecimal"`, ""},
		{"a clock", "domain/cost/a.go", `package cost; import "time"; var t = time.Now()`, "domain/cost calls time.Now"},
		{"a clock under another name", "domain/cost/a.go", `package cost; import clock "time"; var t = clock.Now()`,
			"domain/cost calls time.Now"},
		{"dates are values", "domain/cost/a.go", `package cost; import "time"; var t = time.UTC`, ""},
		{"echo in wire", "api/wire/a.go", `package wire; import "github.com/labstack/echo/v4"`,
			"api/wire imports github.com/labstack/echo/v4"},
		{"echo's middleware in api", "api/a.go", `package api; import "github.com/labstack/echo/v4/middleware"`, ""},
		{"storage computes", "repo/a.go", `package repo; import "servewright/domain/cost"`, "repo imports domain/cost"},
		{"api knows storage", "api/a.go", `package api; import "servewright/repo"`, "api imports repo"},
		{"api's tests may", "api/a_test.go", `package api; import "servewright/repo"`, ""},
		{"a driver in main", "cmd/servewright/a.go", `package main; import _ "github.com/lib/pq"`,
			"cmd/servewright imports github.com/lib/pq"},
		{"a package outside the layout", "helpers/a.go", `package helpers`, "helpers has no place in the layout"},
	}
	for _, tt := range tests {
		got := misdirected(t, fstest.MapFS{tt.file: {Data: []byte(tt.source)}})
		switch {
		case tt.want == "" && len(got) > 0:
			t.Errorf("%s: found %q, want nothing", tt.name, got)
		case tt.want != "" && (len(got) != 1 || !strings.Contains(got[0], tt.want)):
			t.Errorf("%s: found %q, want one fault with %q", tt.name, got, tt.want)
		}
	}
}

// misdirected returns one sentence per import or call that breaks the layout,
// tests aside.
func misdirected(t *testing.T, tree fs.FS) (faults []string) {
	t.Helper()
	err := fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && name != "." && strings.HasPrefix(d.Name(), "."):
			return fs.SkipDir
		case d.IsDir(), !strings.HasSuffix(name, ".go"), strings.HasSuffix(name, "_test.go"):
			return nil
		}
		src, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, src, 0)
		if err != nil {
			return err
		}
		faults = append(faults, faultsOf(path.Dir(name), file)...)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return faults
}

func faultsOf(pkg string, file *ast.File) (faults []string) {
	if _, ok := arrows[pkg]; !ok && floors[pkg] == 0 {
		return []string{pkg + " has no place in the layout"}
	}
	names := map[string]string{} // local name → import path
	for _, imp := range file.Imports {
		target, _ := strconv.Unquote(imp.Path.Value)
		names[localName(imp, target)] = target
		if fault := importFault(pkg, target); fault != "" {
			faults = append(faults, fault)
		}
	}
	if floors[pkg] > 0 {
		faults = append(faults, clockFaults(pkg, file, names)...)
	}
	return faults
}

func localName(imp *ast.ImportSpec, target string) string {
	if imp.Name != nil {
		return imp.Name.Name
	}
	return path.Base(target)
}

// importFault says what is wrong with pkg importing target, or nothing.
func importFault(pkg, target string) string {
	inner, own := strings.CutPrefix(target, module+"/")
	plain := fmt.Sprintf("%s imports %s", pkg, strings.TrimPrefix(target, module+"/"))
	switch {
	case own && floors[pkg] > 0:
		if floors[inner] == 0 || floors[inner] >= floors[pkg] {
			return fmt.Sprintf("%s (floor %d) imports %s (floor %d): arrows run down only", pkg, floors[pkg], inner, floors[inner])
		}
	case own:
		if !allows(arrows[pkg], inner) {
			return plain + ", which its arrows do not allow"
		}
	case !atHome(pkg, target):
		return plain + ", which has its home elsewhere"
	case floors[pkg] > 0 && !slices.Contains(pure, target) && !hasHome(target):
		return plain + ", but the domain calculates and nothing else"
	}
	return ""
}

func allows(list []string, inner string) bool {
	for _, a := range list {
		if a == "*" || a == inner || a == "domain/*" && floors[inner] > 0 {
			return true
		}
	}
	return false
}

// atHome reports whether pkg may import the library target; a library without
// a home may be imported anywhere outside the domain.
func atHome(pkg, target string) bool {
	for _, h := range homes {
		if within(target, h.library) {
			return slices.Contains(h.in, pkg)
		}
	}
	return true
}

func hasHome(target string) bool {
	return slices.ContainsFunc(homes, func(h home) bool { return within(target, h.library) })
}

func within(target, library string) bool {
	return target == library || strings.HasPrefix(target, library+"/")
}

// clockFaults finds uses of the impure functions, whatever the import is
// called locally.
func clockFaults(pkg string, file *ast.File, names map[string]string) (faults []string) {
	ast.Inspect(file, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		id, ok := sel.X.(*ast.Ident)
		if !ok {
			return true
		}
		if call := names[id.Name] + "." + sel.Sel.Name; slices.Contains(impure, call) {
			faults = append(faults, fmt.Sprintf("%s calls %s: it must come in as an argument or go out as a value", pkg, call))
		}
		return true
	})
	return faults
}
