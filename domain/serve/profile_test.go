package serve

import (
	"math"
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

func TestProfileOf(t *testing.T) {
	h := recipe.DefaultHouse()
	mk := func(id string, cat recipe.Category, l liquid.Label) recipe.Component {
		return recipe.Component{ID: recipe.ID(id), Kind: recipe.Bought, Name: id, Category: cat, Status: recipe.Active, Label: l}
	}
	bulk := measure.Density(0.85)
	b, err := recipe.NewBook(h, []recipe.Component{
		mk("rum", recipe.Spirit, liquid.Label{ABV: abv(42), Sugar: num(4)}),
		mk("brix20", recipe.Syrup, liquid.Label{Brix: num(20)}),
		mk("sugar", recipe.Sugar, liquid.Label{MassFraction: map[string]float64{"sucrose": 1}}),
		mk("poured", recipe.Sugar, liquid.Label{MassFraction: map[string]float64{"sucrose": 1}, BulkDensity: &bulk}),
		mk("mint", recipe.GarnishItem, liquid.Label{}),
		mk("unlabelled", recipe.Liqueur, liquid.Label{ABV: abv(24)}),
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		id     string
		volume bool
		trait  Trait
		want   float64
		tol    float64
		source string
	}{
		{"rum", true, TraitABV, 0.42, 1e-9, "its label"},
		{"rum", true, TraitSugarPerL, 4, 1e-6, "its label"},
		{"brix20", true, TraitSugarPerL, 216.2, 0.05, "sugar of 20 °Brix in g/L, ICUMSA SPS-4 density 1.08109"},
		{"poured", true, TraitSugarPerL, 850, 1e-9, "its label: bulk density 0.85 g/mL of sucrose"},
		{"sugar", false, TraitSugarPerL, 0, 0, "a solid has no volume"},
		{"mint", false, TraitABV, 0, 0, "nothing is known of it"},
	}
	for _, tt := range tests {
		r, _ := b.Find(recipe.ID(tt.id))
		p := ProfileOf(b, r)
		if p.Volume != tt.volume || math.Abs(p.Traits[tt.trait]-tt.want) > tt.tol {
			t.Errorf("ProfileOf(%s): volume %v, trait %d = %v, want %v, %v ± %v (%s)", tt.id, p.Volume, tt.trait, p.Traits[tt.trait], tt.volume, tt.want, tt.tol, tt.source)
		}
	}
	mint, _ := b.Find("mint")
	if p := ProfileOf(b, mint); len(p.Cautions) == 0 {
		t.Error("nothing is said of a component of which nothing is known")
	}
	brix, _ := b.Find("brix20")
	if p := ProfileOf(b, brix); p.Brix == nil || math.Abs(*p.Brix-20) > 1e-6 {
		t.Errorf("a label of 20 °Brix reads %v", p.Brix)
	}
	// A figure that nobody gave has the band of its range: 300 g/L wide over √12,
	// which the change of water around it may move by a tenth.
	vague, _ := b.Find("unlabelled")
	if got, want := ProfileOf(b, vague).Band[TraitSugarPerL], 300/math.Sqrt(12); math.Abs(got/want-1) > 0.1 {
		t.Errorf("unknown sugar of a liqueur has a band of %v g/L, want about %v (JCGM 100:2008, 4.3.7)", got, want)
	}
	// The strength of the rum is known to its label tolerance, 0.3 % vol over √3.
	rum, _ := b.Find("rum")
	if got, want := ProfileOf(b, rum).Band[TraitABV], 0.003/math.Sqrt(3); math.Abs(got/want-1) > 0.02 {
		t.Errorf("strength of a labelled spirit has a band of %v, want %v (EU 1169/2011, Annex XII)", got, want)
	}
}

// TestProfileAgreesWithAGlass pours nothing but one component: the drink is the
// component.
func TestProfileAgreesWithAGlass(t *testing.T) {
	b := book(t)
	for _, id := range []string{"rum", "rye", "lime", "syrup", "liqueur"} {
		r, _ := b.Find(recipe.ID(id))
		p := ProfileOf(b, r)
		sp := drink("none", "none", mixed(id, 100))
		g, err := Plain(b, &sp)
		if err != nil {
			t.Fatal(err)
		}
		for trait, figure := range map[Trait]Figure{TraitABV: ServedABV, TraitSugarPerL: SugarPerL, TraitAcidPerL: AcidPerL, TraitKcalPer100ML: EnergyKcal, TraitKJPer100ML: EnergyKJ} {
			if got, want := p.Traits[trait], g.Figures[figure]; math.Abs(got-want) > 1e-6*math.Max(1, math.Abs(want)) {
				t.Errorf("%s: trait %d is %v, 100 mL of it serve %v", id, trait, got, want)
			}
		}
	}
}
