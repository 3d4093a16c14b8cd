package main

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"servewright/api/wire"
	"servewright/domain/recipe"
	"servewright/domain/swap"
)

// bookOf reads a small house from JSON.
func bookOf(t *testing.T, text string) *recipe.Book {
	t.Helper()
	empty, err := recipe.NewBook(recipe.DefaultHouse(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	in, err := wire.Load([]byte(text), empty, recipe.DefaultHouse(), newID)
	if err != nil {
		t.Fatal(err)
	}
	b, err := recipe.NewBook(recipe.DefaultHouse(), in.Components, in.Specs)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// swapped prints the swap of two components of a house.
func swapped(t *testing.T, b *recipe.Book, from, to string) string {
	t.Helper()
	out, err := component(b, from)
	if err != nil {
		t.Fatal(err)
	}
	in, err := component(b, to)
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := printSwap(&text, swap.Across(b, "2026-05-01", out, in, nil), "2026-05-01"); err != nil {
		t.Fatal(err)
	}
	return text.String()
}

const smallHouse = `{
  "components": [
    {"kind": "bought", "code": "SPIRIT", "name": "Plain spirit 40", "category": "spirit", "label": {"abv_pct": 40}, "allergens": {"declared": []},
     "packs": [{"size": {"amount": 1, "unit": "L"}, "price": {"amount": "10.00", "currency": "EUR"}, "valid_from": "2026-01-01"}]},
    {"kind": "bought", "code": "DEAR", "name": "Dear syrup", "category": "syrup", "label": {"sugar_g_per_l": 620}, "allergens": {"declared": []},
     "packs": [{"size": {"amount": 1, "unit": "L"}, "price": {"amount": "10.00", "currency": "EUR"}, "valid_from": "2026-01-01"},
               {"size": {"amount": 1, "unit": "L"}, "price": {"amount": "20.00", "currency": "EUR"}, "valid_from": "2026-04-01"}]},
    {"kind": "bought", "code": "CHEAP", "name": "Cheap syrup", "category": "syrup", "label": {"sugar_g_per_l": 620}, "allergens": {"declared": []},
     "packs": [{"size": {"amount": 1, "unit": "L"}, "price": {"amount": "2.00", "currency": "EUR"}, "valid_from": "2026-01-01"}]},
    {"kind": "bought", "code": "GIFT", "name": "Syrup from a friend", "category": "syrup", "label": {"sugar_g_per_l": 620}, "allergens": {"declared": []}},
    {"kind": "bought", "code": "SUGAR", "name": "Dry sugar", "category": "sugar", "label": {"mass_fraction": {"sucrose": 1}}, "allergens": {"declared": []},
     "packs": [{"size": {"amount": 1, "unit": "kg"}, "price": {"amount": "1.00", "currency": "EUR"}, "valid_from": "2026-01-01"}]}
  ],
  "specs": [
    {"code": "A", "name": "Poured", "method": "none",
     "lines": [{"component_id": "code:SPIRIT", "amount": 50, "unit": "mL"}, {"component_id": "code:DEAR", "amount": 10, "unit": "mL"}],
     "price": {"amount": "5.00", "currency": "EUR", "tax": "excluded"}},
    {"code": "B", "name": "Weighed, and no price", "method": "none",
     "lines": [{"component_id": "code:SPIRIT", "amount": 50, "unit": "mL"}, {"component_id": "code:DEAR", "amount": 10, "unit": "g"}]}
  ]
}`

// TestReportWords checks what the report says of cases that the demonstration
// does not have.
func TestReportWords(t *testing.T) {
	b := bookOf(t, smallHouse)
	tests := []struct {
		name, from, to string
		want           []string // parts of the report
		not            []string
	}{
		{"cheaper", "DEAR", "CHEAP", []string{
			"0.70 → 0.52", "86.0 → 89.6", "? → ?", // 10 mL at 20.00, at 2.00; a drink without a price has no margin
			"saves 0.32 EUR", // 1.36 less 1.04, as printed
			"At the prices of 2026-03-31 it would have been 0.14 EUR.", "Weighed, and no pri…",
			"nobody is likely to notice", "gained: none; lost: none",
		}, []string{"Not made", "Unknown"}},
		{"dearer", "DEAR", "GIFT", []string{
			"unknown", "0.70 → ?",
			"Unknown    the cost of Poured, because Syrup from a friend has no price; the rest of it comes to 0.50 EUR.",
		}, []string{"saves", "costs"}},
		{"a solid in a liquid's place", "DEAR", "SUGAR", []string{
			"Not made   Poured: ", "one of each, 1",
		}, nil},
		{"the same in the same's place", "DEAR", "DEAR", []string{"saves 0.00 EUR"}, []string{"*  "}},
	}
	for _, tt := range tests {
		got := swapped(t, b, tt.from, tt.to)
		flat := strings.Join(strings.Fields(got), " ")
		for _, w := range tt.want {
			if !strings.Contains(flat, strings.Join(strings.Fields(w), " ")) {
				t.Errorf("%s: the report lacks %q:\n%s", tt.name, w, got)
			}
		}
		for _, n := range tt.not {
			if strings.Contains(got, n) {
				t.Errorf("%s: the report has %q:\n%s", tt.name, n, got)
			}
		}
	}
}

// TestItemWraps: wrapping loses no word, adds none, and keeps to the width
// unless one word alone is wider.
func TestItemWraps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zäö→%]{1,30}`)).Draw(t, "words")
		var out bytes.Buffer
		(&report{w: &out}).item("Label", strings.Join(words, " "))
		if got := strings.Fields(out.String()); strings.Join(got[1:], " ") != strings.Join(words, " ") {
			t.Fatalf("item(%q) printed %q", words, got)
		}
		for line := range strings.Lines(out.String()) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > tableWidth {
				t.Fatalf("item(%q) printed a line of %d columns", words, n)
			}
		}
	})
}
