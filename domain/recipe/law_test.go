package recipe

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/liquid"
)

// anyBook draws a book of a few bottles and house-made components that may be
// made of anything before them.
func anyBook(t *rapid.T) *Book {
	var cs []Component
	for i := range rapid.IntRange(2, 5).Draw(t, "bottles") {
		l := liquid.Label{ABV: pct(rapid.Float64Range(0, 70).Draw(t, "abv")), Sugar: num(rapid.Float64Range(0, 400).Draw(t, "sugar"))}
		cs = append(cs, bought(fmt.Sprintf("b%d", i), fmt.Sprintf("Bottle %d", i), Liqueur, l))
	}
	for i := range rapid.IntRange(1, 6).Draw(t, "made") {
		var lines []Line
		for range rapid.IntRange(1, 4).Draw(t, "lines") {
			part := rapid.IntRange(0, len(cs)-1).Draw(t, "part")
			lines = append(lines, ml(string(cs[part].ID), rapid.Float64Range(1, 500).Draw(t, "ml")))
		}
		cs = append(cs, made(fmt.Sprintf("m%d", i), fmt.Sprintf("Made %d", i), lines...))
	}
	b, err := NewBook(DefaultHouse(), cs, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// leaves adds k grams of r, taken apart down to its bottles, to sum.
func leaves(b *Book, r Ref, k float64, sum *liquid.Mix) {
	c := b.Component(r)
	if c.Recipe == nil {
		sum.Add(&b.Contents(r).PerG, k)
		return
	}
	batch := float64(b.Contents(r).MadeG)
	for i, p := range b.Parts(r) {
		g, _ := b.Grams(c.Recipe.Lines[i].Amount, p)
		leaves(b, p, k*g/batch, sum)
	}
}

func TestMassIsConservedByNesting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBook(t)
		for r := range b.Components() {
			var apart liquid.Mix
			leaves(b, Ref(r), 1, &apart)
			for s, want := range apart {
				if got := b.Contents(Ref(r)).PerG[s]; math.Abs(got-want) > 1e-12 {
					t.Fatalf("%s: %v g of substance %d per g, taken apart %v", b.Component(Ref(r)).Name, got, s, want)
				}
			}
			if m := float64(apart.Mass()); math.Abs(m-1) > 1e-12 {
				t.Fatalf("a gram of %s weighs %v g in its leaves", b.Component(Ref(r)).Name, m)
			}
		}
	})
}

func TestBlendLiesBetweenItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBook(t)
		for r := range b.Components() {
			parts := b.Parts(Ref(r))
			if len(parts) == 0 {
				continue
			}
			low, high := math.Inf(1), math.Inf(-1)
			for _, p := range parts {
				w := b.Contents(p).PerG[liquid.Ethanol]
				low, high = math.Min(low, w), math.Max(high, w)
			}
			if w := b.Contents(Ref(r)).PerG[liquid.Ethanol]; w < low-1e-12 || w > high+1e-12 {
				t.Fatalf("%s holds %v g ethanol per g, outside its parts' %v … %v", b.Component(Ref(r)).Name, w, low, high)
			}
		}
	})
}

func TestSwapForItselfChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBook(t)
		r := Ref(rapid.IntRange(0, len(b.Components())-1).Draw(t, "swapped"))
		after := b.Swapped(r, r)
		for c := range b.Components() {
			if !slices.Equal(after.Contents(Ref(c)).PerG[:], b.Contents(Ref(c)).PerG[:]) {
				t.Fatalf("%s changed", b.Component(Ref(c)).Name)
			}
		}
		if len(after.Remade()) != 0 {
			t.Fatalf("remade %v", after.Remade())
		}
	})
}

// TestSwapEqualsRewriting: a swapped book resolves as the book with the other
// component written into every line outside the substitute.
func TestSwapEqualsRewriting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBook(t)
		from := Ref(rapid.IntRange(0, len(b.Components())-1).Draw(t, "from"))
		to := Ref(rapid.IntRange(0, len(b.Components())-1).Draw(t, "to"))
		inside := b.insideOf(to)
		cs := slices.Clone(b.Components())
		for r := range cs {
			if cs[r].Recipe == nil || inside[r] {
				continue
			}
			rec := *cs[r].Recipe
			rec.Lines = slices.Clone(rec.Lines)
			for i := range rec.Lines {
				if rec.Lines[i].Component == b.Component(from).ID {
					rec.Lines[i].Component = b.Component(to).ID
				}
			}
			cs[r].Recipe = &rec
		}
		want, err := NewBook(*b.House(), cs, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := b.Swapped(from, to)
		for r := range cs {
			if got.Contents(Ref(r)).PerG != want.Contents(Ref(r)).PerG {
				t.Fatalf("%s differs", cs[r].Name)
			}
		}
	})
}

func TestPartsComeBeforeWholes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBook(t)
		seen := map[Ref]bool{}
		for _, r := range b.Order() {
			for _, p := range b.Parts(r) {
				if !seen[p] {
					t.Fatalf("%s comes before its part %s", b.Component(r).Name, b.Component(p).Name)
				}
			}
			seen[r] = true
		}
		if len(seen) != len(b.Components()) {
			t.Fatalf("order holds %d of %d components", len(seen), len(b.Components()))
		}
	})
}
