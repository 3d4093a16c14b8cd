package swap

import (
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/recipe"
)

var bottles = []string{"gin", "lemon", "liqueur", "syrup", "house", "batch"}

func anyMenu(t *rapid.T) []recipe.Spec {
	var specs []recipe.Spec
	for i := range rapid.IntRange(1, 4).Draw(t, "specs") {
		var lines []recipe.Line
		for range rapid.IntRange(1, 5).Draw(t, "lines") {
			lines = append(lines, part(rapid.SampledFrom(bottles).Draw(t, "bottle"), rapid.Float64Range(5, 60).Draw(t, "ml")))
		}
		specs = append(specs, drink("spec-"+string(rune('a'+i)), lines...))
	}
	return specs
}

// TestSwapForItselfChangesNothing: no figure, no cost, no allergen, no line.
func TestSwapForItselfChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, err := recipe.NewBook(recipe.DefaultHouse(), shelf(), anyMenu(t))
		if err != nil {
			t.Fatal(err)
		}
		r := recipe.Ref(rapid.IntRange(0, len(b.Components())-1).Draw(t, "component"))
		c := Across(b, today, r, r, nil)
		for i := range c.Specs {
			d, err := c.Drink(i)
			if err != nil {
				t.Fatal(err)
			}
			for f, ch := range d.Change {
				if ch.By != 0 || ch.BeyondBand {
					t.Fatalf("figure %d changed by %v", f, ch.By)
				}
			}
			if d.Gained|d.Lost != 0 || len(d.Lines) != 0 {
				t.Fatalf("gained %v, lost %v, lines %v", d.Gained.Names(), d.Lost.Names(), d.Lines)
			}
			if d.Before.Cost.Subtotal != d.After.Cost.Subtotal {
				t.Fatalf("cost %s before, %s after", d.Before.Cost.Subtotal, d.After.Cost.Subtotal)
			}
		}
	})
}

// TestThereAndBack: a menu rewritten with the substitute and swapped back costs
// and pours what it did.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		specs := anyMenu(t)
		rewritten := make([]recipe.Spec, len(specs))
		for i, s := range specs {
			s.Lines = append([]recipe.Line(nil), s.Lines...)
			for l := range s.Lines {
				if s.Lines[l].Component == "gin" {
					s.Lines[l].Component = "lemon"
				}
			}
			rewritten[i] = s
		}
		b, err := recipe.NewBook(recipe.DefaultHouse(), shelf(), specs)
		if err != nil {
			t.Fatal(err)
		}
		w, err := recipe.NewBook(recipe.DefaultHouse(), shelf(), rewritten)
		if err != nil {
			t.Fatal(err)
		}
		gin, _ := b.Find("gin")
		lemon, _ := b.Find("lemon")
		c := Across(b, today, gin, lemon, nil)
		for i, sp := range c.Specs {
			d, err := c.Drink(i)
			if err != nil {
				t.Fatal(err)
			}
			again, _ := w.Spec(sp.ID)
			side := Side{Book: c.After.Book, Sheet: c.After.Sheet}
			want, err := side.make(again)
			if err != nil {
				t.Fatal(err)
			}
			if d.After.Result.Figures != want.Result.Figures || d.After.Cost.Subtotal != want.Cost.Subtotal {
				t.Fatalf("%s swapped differs from %s rewritten", sp.Name, again.Name)
			}
		}
	})
}
