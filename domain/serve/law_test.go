package serve

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

var bottles = []string{"rum", "rye", "lime", "syrup", "soda", "liqueur"}

// anyDrink draws a spec over the shelf of the tests.
func anyDrink(t *rapid.T) recipe.Spec {
	sp := drink(rapid.SampledFrom(chill.Methods).Draw(t, "method"), rapid.SampledFrom(chill.Ices).Draw(t, "ice"))
	for i := range rapid.IntRange(1, 6).Draw(t, "lines") {
		stage := recipe.Mix
		if i > 0 {
			stage = rapid.SampledFrom([]recipe.Stage{recipe.Mix, recipe.Mix, recipe.Top, recipe.Float, recipe.Rinse}).Draw(t, "stage")
		}
		sp.Lines = append(sp.Lines, line(rapid.SampledFrom(bottles).Draw(t, "bottle"), rapid.Float64Range(5, 90).Draw(t, "ml"), measure.ML, stage))
	}
	return sp
}

// TestMassIsConserved: what is served is what was poured and what melted, and
// ice brings nothing but water.
func TestMassIsConserved(t *testing.T) {
	b := book(t)
	rapid.Check(t, func(t *rapid.T) {
		sp := anyDrink(t)
		g, err := Plain(b, &sp)
		if err != nil {
			t.Fatal(err)
		}
		var poured liquid.Mix
		for i := range sp.Lines {
			r, _ := b.Of(&sp.Lines[i])
			grams, _ := b.Grams(sp.Lines[i].Amount, r)
			poured.Add(&b.Contents(r).PerG, grams)
		}
		poured[liquid.Water] += g.Dilution.WaterG + g.Melt.WaterG
		for s := range poured {
			if math.Abs(poured[s]-g.Drink[s]) > 1e-9*(1+poured[s]) {
				t.Fatalf("substance %d: %v g poured and melted, %v g served", s, poured[s], g.Drink[s])
			}
		}
	})
}

// TestScaling: k times every pour, ice and vessel give k times the drink. The
// fit needs nothing scaled; it speaks of shares.
func TestScaling(t *testing.T) {
	b := book(t)
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.5, 20).Draw(t, "k")
		small := sour()
		big := sour()
		for i := range big.Lines {
			big.Lines[i].Amount.Amount *= k
		}
		p, err := Plain(b, &small)
		if err != nil {
			t.Fatal(err)
		}
		q, err := Plain(b, &big)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []Figure{MixedVolume, ServedVolume, WaterVolume, AlcoholG, SugarG, EnergyKcal} {
			if want := k * p.Figures[f]; math.Abs(q.Figures[f]-want) > 1e-9*want {
				t.Fatalf("figure %d: %v at %v times, want %v", f, q.Figures[f], k, want)
			}
		}
		for _, f := range []Figure{MixedABV, ServedABV, DilutionOfStart, SugarPerL, AcidPerL} {
			if math.Abs(q.Figures[f]-p.Figures[f]) > 1e-9 {
				t.Fatalf("figure %d changed from %v to %v on scaling", f, p.Figures[f], q.Figures[f])
			}
		}
	})
}

func TestColderIceNeverDilutesMore(t *testing.T) {
	b := book(t)
	rapid.Check(t, func(t *rapid.T) {
		sp := anyDrink(t)
		warm := rapid.Float64Range(-20, 0).Draw(t, "warm ice")
		cold := rapid.Float64Range(-25, warm).Draw(t, "cold ice")
		sp.Conditions.IceC = celsius(warm)
		p, err := Plain(b, &sp)
		if err != nil {
			t.Fatal(err)
		}
		sp.Conditions.IceC = celsius(cold)
		q, err := Plain(b, &sp)
		if err != nil {
			t.Fatal(err)
		}
		if before, after := p.Dilution.WaterG+p.Melt.WaterG, q.Dilution.WaterG+q.Melt.WaterG; after > before+1e-6 {
			t.Fatalf("%s on %s: ice at %.2f °C gives %.6f g of water, at %.2f °C %.6f g", sp.Method, sp.ServingIce, warm, before, cold, after)
		}
	})
}
