package serve

import (
	"errors"
	"math"
	"slices"
	"testing"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/recipe"
	"servewright/domain/safety"
)

// The bar of these tests is invented.

func abv(pct float64) *measure.ABV { a := measure.ABV(pct / 100); return &a }

func num(v float64) *float64 { return &v }

func celsius(v float64) *measure.Temperature { t := measure.Temperature(v); return &t }

func shelf() []recipe.Component {
	bottle := func(id string, cat recipe.Category, l liquid.Label) recipe.Component {
		return recipe.Component{ID: recipe.ID(id), Kind: recipe.Bought, Name: id, Category: cat, Status: recipe.Active, Label: l,
			Allergens: safety.Declaration{Declared: true}}
	}
	cs := []recipe.Component{
		bottle("rum", recipe.Spirit, liquid.Label{ABV: abv(40)}),
		bottle("rye", recipe.Spirit, liquid.Label{ABV: abv(50)}),
		bottle("lime", recipe.Juice, liquid.Label{Sugar: num(16), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 60}}),
		bottle("syrup", recipe.Syrup, liquid.Label{Brix: num(50)}),
		bottle("soda", recipe.WaterCategory, liquid.Label{}),
		bottle("liqueur", recipe.Liqueur, liquid.Label{ABV: abv(24)}),
		bottle("ice", recipe.IceCategory, liquid.Label{}),
		bottle("mint", recipe.GarnishItem, liquid.Label{}),
		bottle("egg", recipe.Egg, liquid.Label{}),
	}
	cs[8].Allergens.Contains = safety.Of(safety.Eggs)
	cs[7].Allergens.Declared = false
	return cs
}

func line(id string, amount float64, unit measure.Unit, stage recipe.Stage) recipe.Line {
	return recipe.Line{Component: recipe.ID(id), Amount: measure.Quantity{Amount: amount, Unit: unit}, Stage: stage}
}

func mixed(id string, ml float64) recipe.Line { return line(id, ml, measure.ML, recipe.Mix) }

func drink(method chill.Method, ice chill.Ice, lines ...recipe.Line) recipe.Spec {
	return recipe.Spec{ID: "s", Name: "Test drink", Method: method, ServingIce: ice, Lines: lines}
}

func book(t testing.TB) *recipe.Book {
	t.Helper()
	h := recipe.DefaultHouse()
	h.Country = "GB"
	b, err := recipe.NewBook(h, shelf(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func sour() recipe.Spec {
	return drink(chill.Shake, chill.NoIce, mixed("rum", 60), mixed("lime", 22.5), mixed("syrup", 22.5))
}

// TestWorkedSour makes the handbook's shaken example: 60 mL of 40 % rum, 22.5 mL
// lime, 22.5 mL syrup; 105 mL at 22.9 %, 13.5 g sugar and 1.29 g acid per 100 mL
// become 159.5 mL at 15.0 %, 8.9 and 0.85 with 51.9 % of water (D. Arnold,
// Liquid Intelligence, 2014, pp. 125–126, numbers from memory). The handbook
// adds volumes; the tolerances leave room for the contraction it leaves out
// (0.3 mL) and half of its last digit.
func TestWorkedSour(t *testing.T) {
	b, sp := book(t), sour()
	r, err := Make(b, &sp)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name            string
		f               Figure
		unit, want, tol float64
	}{
		{"mixed volume, mL", MixedVolume, 1, 105, 0.4},
		{"mixed strength, % vol", MixedABV, 100, 22.9, 0.1},
		{"mixed sugar, g/100 mL", MixedSugarPerL, 0.1, 13.5, 0.1},
		{"mixed acid, g/100 mL", MixedAcidPerL, 0.1, 1.29, 0.01},
		{"dilution, % of start", DilutionOfStart, 100, 51.9, 0.1},
		{"served volume, mL", ServedVolume, 1, 159.5, 0.4},
		{"served strength, % vol", ServedABV, 100, 15.0, 0.1},
		{"served sugar, g/100 mL", SugarPerL, 0.1, 8.9, 0.06},
		{"served acid, g/100 mL", AcidPerL, 0.1, 0.85, 0.006},
	}
	for _, tt := range tests {
		if got := r.Figures[tt.f] * tt.unit; math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%s: %.4f, want %v ± %v", tt.name, got, tt.want, tt.tol)
		}
	}
	if r.Dilution.Model != chill.PublishedFit {
		t.Errorf("model %s, want the published fit", r.Dilution.Model)
	}
	if want := 24.0 / 10; math.Abs(r.Units-want) > 0.001 { // 60 mL × 40 % = 24 mL of ethanol; 10 mL are a unit (NHS)
		t.Errorf("%.4f UK units, want %.1f", r.Units, want)
	}
	if !(r.Band[ServedABV] > 0.002 && r.Band[ServedABV] < 0.01) {
		t.Errorf("band of the strength %.4f, want between 0.2 and 1 %% vol: a 5-point dilution band alone gives 0.5", r.Band[ServedABV])
	}
}

func TestStages(t *testing.T) {
	b := book(t)
	plain := drink(chill.Shake, chill.NoIce, mixed("rum", 50), mixed("lime", 25))
	topped := drink(chill.Shake, chill.NoIce, mixed("rum", 50), mixed("lime", 25), line("soda", 60, measure.ML, recipe.Top), line("mint", 1, measure.Piece, recipe.Garnish))
	p, err := Plain(b, &plain)
	if err != nil {
		t.Fatal(err)
	}
	g, err := Plain(b, &topped)
	if err != nil {
		t.Fatal(err)
	}
	if p.Figures[WaterVolume] != g.Figures[WaterVolume] || p.Figures[MixedVolume] != g.Figures[MixedVolume] {
		t.Error("a top or a garnish changed what the method's ice met")
	}
	if got := float64(g.Drink.Mass() - p.Drink.Mass()); math.Abs(got-60*waterDensity) > 0.001 {
		t.Errorf("the top adds %.4f g, want that of 60 mL of water", got)
	}
	if !(g.Figures[TemperatureC] > p.Figures[TemperatureC]) {
		t.Errorf("a warm top leaves the drink at %.2f °C, colder than %.2f without it", g.Figures[TemperatureC], p.Figures[TemperatureC])
	}
}

func TestIceLines(t *testing.T) {
	b := book(t)
	bare, iced := sour(), sour()
	iced.Lines = append(iced.Lines, line("ice", 100, measure.G, recipe.Mix))
	p, _ := Plain(b, &bare)
	g, err := Plain(b, &iced)
	if err != nil {
		t.Fatal(err)
	}
	if p.Start != g.Start {
		t.Error("shaking ice entered the mix")
	}
	blended := drink(chill.Blend, chill.NoIce, mixed("rum", 60), line("ice", 100, measure.G, recipe.Mix))
	g, err = Plain(b, &blended)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := float64(g.Drink.Mass()), 60*0.94805+100; math.Abs(got-want) > 0.01 { // OIML R 22 table IVa, 40 % vol
		t.Errorf("a blended drink weighs %.3f g, want %.3f: its ice is drunk", got, want)
	}
}

func TestMeasuredOverrides(t *testing.T) {
	b := book(t)
	tests := []struct {
		over chill.Override
		of   func(*Glass) float64
	}{
		{chill.Override{Kind: chill.PctOfStart, Value: 40}, func(g *Glass) float64 { return g.Figures[DilutionOfStart] * 100 }},
		{chill.Override{Kind: chill.ServedVolume, Value: 200}, func(g *Glass) float64 { return g.Figures[ServedVolume] }},
		{chill.Override{Kind: chill.ServedMass, Value: 210}, func(g *Glass) float64 { return float64(g.Drink.Mass()) }},
	}
	for _, tt := range tests {
		sp := sour()
		sp.Lines = append(sp.Lines, line("soda", 20, measure.ML, recipe.Top))
		sp.Dilution = &tt.over
		g, err := Plain(b, &sp)
		if err != nil {
			t.Fatal(err)
		}
		if got := tt.of(&g); math.Abs(got-tt.over.Value) > 1e-6*tt.over.Value {
			t.Errorf("%s %v came out as %v", tt.over.Kind, tt.over.Value, got)
		}
		if g.Dilution.Model != chill.Measured {
			t.Errorf("%s: model %s, want measured", tt.over.Kind, g.Dilution.Model)
		}
	}
}

func TestFactsAndCautions(t *testing.T) {
	b := book(t)
	sp := drink(chill.DryShake, chill.NoIce, mixed("rum", 50), mixed("liqueur", 20), line("egg", 30, measure.G, recipe.Mix),
		line("mint", 2, measure.Piece, recipe.Garnish))
	sp.Glass, sp.GlassVolume = "thimble", 60
	r, err := Make(b, &sp)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Contains.Has(safety.Eggs) {
		t.Error("the egg's allergen was lost")
	}
	if want := []recipe.ID{"mint"}; !slices.Equal(r.Unconfirmed, want) {
		t.Errorf("unconfirmed %v, want %v: a garnish carries allergens", r.Unconfirmed, want)
	}
	if !slices.Contains(r.Estimated, "sugar_g_per_l") {
		t.Errorf("estimated %v: a liqueur without sugar on its label has the category's", r.Estimated)
	}
	for _, code := range []string{"GLASS_TOO_SMALL", "COMPOSITION_ASSUMED"} {
		if !slices.ContainsFunc(r.Cautions, func(c domain.Caution) bool { return c.Code == code }) {
			t.Errorf("no caution %s in %+v", code, r.Cautions)
		}
	}
	known := drink(chill.DryShake, chill.NoIce, mixed("rum", 50), mixed("lime", 20), line("egg", 30, measure.G, recipe.Mix))
	k, err := Make(b, &known)
	if err != nil {
		t.Fatal(err)
	}
	if !(r.Band[SugarPerL] > 5*k.Band[SugarPerL]) {
		t.Errorf("band of unknown sugar %.2f g/L, of known sugar %.2f: want it wide", r.Band[SugarPerL], k.Band[SugarPerL])
	}
}

func TestImpossibleServes(t *testing.T) {
	b := book(t)
	short := sour()
	short.Dilution = &chill.Override{Kind: chill.ServedVolume, Value: 50}
	tests := []struct {
		name string
		spec recipe.Spec
	}{
		{"missing component", drink(chill.Stir, chill.NoIce, mixed("nothing", 10))},
		{"only a garnish", drink(chill.Stir, chill.NoIce, line("mint", 1, measure.Piece, recipe.Garnish))},
		{"served less than was poured", short},
		{"a piece of rum", drink(chill.Stir, chill.NoIce, line("rum", 1, measure.Piece, recipe.Mix))},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Make(b, &tt.spec); !errors.Is(err, domain.Invalid) {
				t.Errorf("Make: %v, want Invalid", err)
			}
		})
	}
}

// TestEveryMethodAndIce makes one drink in every way there is.
func TestEveryMethodAndIce(t *testing.T) {
	b := book(t)
	for _, m := range chill.Methods {
		for _, ice := range chill.Ices {
			sp := drink(m, ice, mixed("rum", 45), mixed("lime", 15), mixed("syrup", 15), line("soda", 60, measure.ML, recipe.Top))
			r, err := Make(b, &sp)
			if err != nil {
				t.Errorf("%s on %s: %v", m, ice, err)
				continue
			}
			for f, v := range r.Figures {
				if math.IsNaN(v) || math.IsInf(v, 0) || math.IsNaN(r.Band[f]) {
					t.Errorf("%s on %s: figure %d is %v ± %v", m, ice, f, v, r.Band[f])
				}
			}
			if r.Figures[ServedABV] > r.Figures[MixedABV] {
				t.Errorf("%s on %s: served stronger (%.3f) than mixed (%.3f)", m, ice, r.Figures[ServedABV], r.Figures[MixedABV])
			}
		}
	}
}
