package safety_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/safety"
	"servewright/testdata/reference"
)

// TestAnnexII: the allergens are those of Annex II of Regulation (EU) No
// 1169/2011, in its order, by a word of its own (reference/allergens.csv).
func TestAnnexII(t *testing.T) {
	rows := reference.Rows(t, "allergens.csv")
	if len(rows) != int(safety.Allergens) {
		t.Fatalf("the Annex lists %d, the program %d", len(rows), safety.Allergens)
	}
	for i, row := range rows {
		a := safety.Allergen(i)
		if row["no"] != strconv.Itoa(i+1) || !strings.Contains(row["eu_name"], a.String()) {
			t.Errorf("allergen %d is %q, the Annex has %s %q", i+1, a, row["no"], row["eu_name"])
		}
	}
}

// TestNamesRoundTrip: every word reads back as its allergen, and no other word
// reads as any.
func TestNamesRoundTrip(t *testing.T) {
	seen := map[string]bool{}
	for a := range safety.Allergens {
		got, ok := safety.ParseAllergen(a.String())
		if !ok || got != a || seen[a.String()] {
			t.Errorf("ParseAllergen(%q) = %v, %t", a, got, ok)
		}
		seen[a.String()] = true
	}
	for _, s := range []string{"", "Milk", " milk", "milk ", "lactose", "none", "milk,eggs", "\x00", strings.Repeat("milk", 1000)} {
		if got, ok := safety.ParseAllergen(s); ok {
			t.Errorf("ParseAllergen(%.20q) = %v, want none", s, got)
		}
	}
}

// FuzzParseAllergen: what is read is one of the words, letter by letter.
func FuzzParseAllergen(f *testing.F) {
	for a := range safety.Allergens {
		f.Add(a.String())
	}
	f.Add("MILK")
	f.Add("")
	f.Fuzz(func(t *testing.T, s string) {
		if a, ok := safety.ParseAllergen(s); ok && (a >= safety.Allergens || a.String() != s) {
			t.Errorf("ParseAllergen(%q) = %d", s, a)
		}
	})
}

func allergens() *rapid.Generator[[]safety.Allergen] {
	return rapid.SliceOf(rapid.Map(rapid.IntRange(0, int(safety.Allergens)-1), func(n int) safety.Allergen { return safety.Allergen(n) }))
}

// TestSetLaws: a set holds what was put into it and nothing else, whatever the
// order and however often; sets join, meet and differ as sets do.
func TestSetLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		as, bs := allergens().Draw(t, "a"), allergens().Draw(t, "b")
		a, b := safety.Of(as...), safety.Of(bs...)
		for x := range safety.Allergens {
			inA, inB := slices.Contains(as, x), slices.Contains(bs, x)
			if a.Has(x) != inA || (a|b).Has(x) != (inA || inB) || (a&b).Has(x) != (inA && inB) || (a&^b).Has(x) != (inA && !inB) {
				t.Fatalf("%s in %v and %v: %t, union %t, both %t, only the first %t", x, as, bs, a.Has(x), (a | b).Has(x), (a & b).Has(x), (a &^ b).Has(x))
			}
		}
		slices.Reverse(as)
		again := safety.Of(as...)
		if again != a || safety.Of(append(as, as...)...) != a || a|again != a || a&^again != 0 {
			t.Fatalf("%v: the set depends on order or repeats", as)
		}
		if (a|b).Len()+(a&b).Len() != a.Len()+b.Len() {
			t.Fatalf("%v and %v: %d + %d ≠ %d + %d", as, bs, (a | b).Len(), (a & b).Len(), a.Len(), b.Len())
		}
	})
}

// TestSetNames: the words of a set read back as the set, in the order of the
// Annex, each once; an empty set has an empty list, which is not nil, so that a
// document shows [] and not null.
func TestSetNames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := safety.Of(allergens().Draw(t, "s")...)
		var back safety.Set
		last := -1
		for _, n := range s.Names() {
			a, ok := safety.ParseAllergen(n)
			if !ok || int(a) <= last {
				t.Fatalf("%q in %v is unknown, twice there or out of order", n, s.Names())
			}
			last = int(a)
			back |= safety.Of(a)
		}
		if back != s || len(s.Names()) != s.Len() || s.Names() == nil {
			t.Fatalf("names %v are another set", s.Names())
		}
	})
	if got := safety.Set(0).Names(); got == nil || len(got) != 0 {
		t.Errorf("names of the empty set = %#v, want an empty list", got)
	}
}

// TestNothingDeclaredIsNotNone: the zero declaration knows nothing.
func TestNothingDeclaredIsNotNone(t *testing.T) {
	var d safety.Declaration
	if d.Declared || d.Contains != 0 || d.MayContain != 0 {
		t.Errorf("the zero declaration states %+v", d)
	}
}
