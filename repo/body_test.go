package repo

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
)

// TestStoredBodiesStay: what was once stored is read and written again byte for
// byte. The files are what the first release stores and never change; what a
// later one adds gets files of its own.
func TestStoredBodiesStay(t *testing.T) {
	again := map[string]func(body string) (any, error){
		"component_bought.json": componentAgain,
		"component_made.json":   componentAgain,
		"spec.json": func(body string) (any, error) {
			s, err := readSpec("", body)
			return bodyOfSpec(&s), err
		},
		"house.json": func(body string) (any, error) {
			h, err := readHouse(body)
			return bodyOfHouse(&h), err
		},
	}
	for name, fn := range again {
		file, err := os.ReadFile(filepath.Join("testdata", "body", name))
		if err != nil {
			t.Fatal(err)
		}
		var want bytes.Buffer
		if err := json.Compact(&want, file); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		body, err := fn(want.String())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got, err := encode(body); err != nil || got != want.String() {
			t.Errorf("%s: %v\nwritten again %s\n       stored %s", name, err, got, want.String())
		}
	}
}

func componentAgain(body string) (any, error) {
	c, err := readComponent("", body)
	return bodyOfComponent(&c), err
}

// TestNothingIsLost: every field of every type comes back, whatever it holds. A
// field that somebody adds to the domain and forgets here fails this test.
func TestNothingIsLost(t *testing.T) {
	t.Run("component", rapid.MakeCheck(func(t *rapid.T) { holdRoundTrip(t, components) }))
	t.Run("spec", rapid.MakeCheck(func(t *rapid.T) { holdRoundTrip(t, specs) }))
	t.Run("house", rapid.MakeCheck(func(t *rapid.T) { holdRoundTrip(t, houses) }))
}

func holdRoundTrip[T any](t *rapid.T, k *kind[T]) {
	v := rapid.MakeCustom[T](filling).Draw(t, "v")
	tidy(reflect.ValueOf(&v).Elem())
	body, err := encode(k.body(&v))
	if err != nil {
		t.Fatal(err)
	}
	var id recipe.ID
	if f := reflect.ValueOf(v).FieldByName("ID"); f.IsValid() {
		id = f.Interface().(recipe.ID) // kept in a column
	}
	got, err := k.value(id, body)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, v) {
		t.Fatalf("%s\n came back as %+v\n     written %+v", body, got, v)
	}
	if again, err := encode(k.body(&got)); err != nil || again != body {
		t.Fatalf("%v: written again %s, first %s", err, again, body)
	}
}

// filling says how fields are filled that cannot hold just anything.
var filling = rapid.MakeConfig{Types: map[reflect.Type]*rapid.Generator[any]{
	reflect.TypeFor[money.Decimal](): rapid.Custom(func(t *rapid.T) money.Decimal {
		d, err := money.ParseDecimal(rapid.StringMatching(`-?[1-9][0-9]{0,14}(\.[0-9]{0,18}[1-9])?`).Draw(t, "decimal"))
		if err != nil {
			t.Fatal(err)
		}
		return d
	}).AsAny(),
	reflect.TypeFor[safety.Declaration](): rapid.Custom(func(t *rapid.T) safety.Declaration {
		if !rapid.Bool().Draw(t, "declared") {
			return safety.Declaration{}
		}
		sets := rapid.Uint16Range(0, 1<<safety.Allergens-1)
		return safety.Declaration{Declared: true, Contains: safety.Set(sets.Draw(t, "contains")), MayContain: safety.Set(sets.Draw(t, "may"))}
	}).AsAny(),
	reflect.TypeFor[liquid.Substance](): rapid.SampledFrom(countedByKind()).AsAny(),
}}

func countedByKind() (all []liquid.Substance) {
	for s := range substances {
		all = append(all, liquid.Substance(s))
	}
	slices.Sort(all)
	return all
}

// tidy makes empty lists and maps nil, which mean the same.
func tidy(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			tidy(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				tidy(v.Field(i))
			}
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.SetZero()
		}
		for i := range v.Len() {
			tidy(v.Index(i))
		}
	}
}

func TestWhatCannotBeKept(t *testing.T) {
	tests := []struct {
		why string
		c   recipe.Component
	}{
		{"broken UTF-8", recipe.Component{Name: "a\xFF"}},
		{"not a number", recipe.Component{WastePct: math.NaN()}},
		{"infinite", recipe.Component{WastePct: math.Inf(1)}},
		{"a substance no label counts", recipe.Component{Label: liquid.Label{Acids: map[liquid.Substance]float64{liquid.Ethanol: 1}}}},
	}
	for _, tt := range tests {
		body, err := encode(bodyOfComponent(&tt.c))
		if err == nil || body != "" || !isInvalid(err) {
			t.Errorf("%s: encoded as %q, %v; want an Invalid error", tt.why, body, err)
		}
	}
}

func isInvalid(err error) bool {
	e, ok := err.(*domain.Error)
	return ok && e.Kind == domain.Invalid
}

// TestForeignBodies: a body that this program cannot have written is an error,
// never half a thing.
func TestForeignBodies(t *testing.T) {
	for _, body := range []string{
		"", "null,", "[]", `{"name":1}`, `{"allergens":{"contains":["moon dust"]}}`, `{"label":{"acids_g_per_l":{"moon":1}}}`,
		`{"packs":[{"price":{"amount":"1e5","currency":"EUR"}}]}`, `{"packs":[{"price":{"amount":"1"},"tax_pct":"many"}]}`,
	} {
		if c, err := readComponent("", body); err == nil {
			t.Errorf("readComponent(%s) = %+v, want an error", body, c)
		}
	}
	if _, err := readHouse(`{"tax_pct":""}`); err == nil {
		t.Error("a house without a tax rate was read")
	}
	if _, err := readSpec("", `{"price":{"price":{"amount":"x"}}}`); err == nil {
		t.Error("a spec with a price that is no number was read")
	}
}

// FuzzReadComponent: whatever stands in a body, reading it answers, and what is
// read is written and read again the same.
func FuzzReadComponent(f *testing.F) {
	for _, name := range []string{"component_bought.json", "component_made.json", "spec.json", "house.json"} {
		text, err := os.ReadFile(filepath.Join("testdata", "body", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := readComponent("x", text)
		if err != nil {
			return
		}
		body, err := encode(bodyOfComponent(&c))
		if err != nil {
			t.Fatalf("what was read from %q cannot be written: %v", text, err)
		}
		again, err := readComponent("x", body)
		if err != nil {
			t.Fatalf("what was written cannot be read: %v: %s", err, body)
		}
		if body2, err := encode(bodyOfComponent(&again)); err != nil || body2 != body {
			t.Fatalf("%s\nwritten again %s (%v)", body, body2, err)
		}
		if strings.ContainsRune(body, '\n') {
			t.Fatal("a body is one line")
		}
	})
}
