// Package safety holds the facts about a drink that can hurt someone. It takes
// plain facts, never recipes.
package safety

import "math/bits"

// Allergen is one of the 14 substances or products of Annex II of Regulation
// (EU) No 1169/2011 (list read in several language copies). The nine major
// allergens of US law are among them.
type Allergen uint8

// The allergens, in the order of the Annex.
const (
	Gluten Allergen = iota
	Crustaceans
	Eggs
	Fish
	Peanuts
	Soybeans
	Milk
	Nuts
	Celery
	Mustard
	Sesame
	Sulphites
	Lupin
	Molluscs
	Allergens // how many there are
)

var names = [Allergens]string{
	"gluten", "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk",
	"nuts", "celery", "mustard", "sesame", "sulphites", "lupin", "molluscs",
}

// String returns the word used in documents.
func (a Allergen) String() string { return names[a] }

// ParseAllergen reads the word used in documents.
func ParseAllergen(s string) (Allergen, bool) {
	for i, n := range names {
		if n == s {
			return Allergen(i), true
		}
	}
	return 0, false
}

// Set is a set of allergens. The zero Set is empty.
type Set uint16

// Of returns the set of the given allergens.
func Of(as ...Allergen) Set {
	var s Set
	for _, a := range as {
		s |= 1 << a
	}
	return s
}

// Has reports whether a is in s.
func (s Set) Has(a Allergen) bool { return s&(1<<a) != 0 }

// Len returns how many allergens are in s.
func (s Set) Len() int { return bits.OnesCount16(uint16(s)) }

// Names returns the words of s in the order of the Annex; never nil.
func (s Set) Names() []string {
	out := make([]string, 0, s.Len())
	for a := range Allergens {
		if s.Has(a) {
			out = append(out, a.String())
		}
	}
	return out
}

// Declaration is what somebody has stated about a component. Without a
// declaration nothing is known: that is neither "none" nor "contains".
type Declaration struct {
	Declared   bool
	Contains   Set
	MayContain Set
}
