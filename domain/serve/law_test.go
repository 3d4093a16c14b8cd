package serve

import (
	"math"
	"slices"
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

// TestScaling: k times every pour, the ice and the vessel give k times the
// drink, by every method; room heat and serving ice grow with the drink.
func TestScaling(t *testing.T) {
	b := book(t)
	rapid.Check(t, func(t *rapid.T) {
		small := anyDrink(t)
		if rapid.Bool().Draw(t, "own kit") {
			small.Conditions.IceG = num(rapid.Float64Range(100, 400).Draw(t, "ice g"))
			small.Conditions.VesselJPerK = num(rapid.Float64Range(0, 300).Draw(t, "vessel J/K"))
		}
		k := rapid.Float64Range(0.5, 5).Draw(t, "k")
		p, err := Plain(b, &small)
		if err != nil {
			t.Fatal(err)
		}
		big := scaled(small, k)
		q, err := Plain(b, &big)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []Figure{MixedVolume, ServedVolume, WaterVolume, AlcoholG, SugarG, EnergyKcal, MeltVolume} {
			if want := k * p.Figures[f]; math.Abs(q.Figures[f]-want) > 1e-6*(1+want) {
				t.Fatalf("%s on %s, figure %d: %v at %v times, want %v", small.Method, small.ServingIce, f, q.Figures[f], k, want)
			}
		}
		for _, f := range []Figure{MixedABV, ServedABV, DilutionOfStart, SugarPerL, AcidPerL, TemperatureC} {
			if math.Abs(q.Figures[f]-p.Figures[f]) > 1e-6*(1+math.Abs(p.Figures[f])) {
				t.Fatalf("%s on %s, figure %d changed from %v to %v on scaling", small.Method, small.ServingIce, f, p.Figures[f], q.Figures[f])
			}
		}
	})
}

// scaled returns sp with k times every pour, its ice and its vessel.
func scaled(sp recipe.Spec, k float64) recipe.Spec {
	sp.Lines = slices.Clone(sp.Lines)
	for i := range sp.Lines {
		sp.Lines[i].Amount.Amount *= k
	}
	for _, f := range []**float64{&sp.Conditions.IceG, &sp.Conditions.VesselJPerK} {
		if *f != nil {
			*f = num(k * **f)
		}
	}
	return sp
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
