package liquid_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// Usual values of the kinds these tests close. Invented, but for the shape.
var (
	plain   = liquid.Usual{ABVSpread: 0.002}
	spirits = liquid.Usual{ABV: &liquid.Range{Low: 0.37, Usual: 0.40, High: 0.50}, ABVSpread: 0.002}
	liqueur = liquid.Usual{
		ABV: &liquid.Range{Low: 0.15, Usual: 0.25, High: 0.40}, Sugar: &liquid.Range{Low: 100, Usual: 250, High: 400}, ABVSpread: 0.002,
	}
	juice = liquid.Usual{Sugar: &liquid.Range{Low: 15, Usual: 90, High: 170}, Acid: &liquid.Range{Low: 3, Usual: 10, High: 60}}
	solid = liquid.Usual{Solid: true}
)

func mustClose(t testing.TB, l liquid.Label, u liquid.Usual) liquid.Closed {
	t.Helper()
	c, err := liquid.Close(&l, u)
	if err != nil {
		t.Fatalf("Close(%+v): %v", l, err)
	}
	return c
}

// perL is the grams of something per litre of a closed label.
func perL(c liquid.Closed, g float64) float64 { return g * 1000 * float64(c.Density) }

func codes(list []domain.Caution) []string {
	out := make([]string, len(list))
	for i, c := range list {
		out[i] = c.Code
	}
	return out
}

func density(x float64) *measure.Density { d := measure.Density(x); return &d }

// TestClose closes every combination of figures and reads them back.
func TestClose(t *testing.T) {
	vodka := mustClose(t, liquid.Label{ABV: abvOf(0.4)}, spirits)
	sweet := mustClose(t, liquid.Label{ABV: abvOf(0.24), Sugar: ptr(300.0)}, liqueur)
	syrup50 := liquid.SucroseDensity(0.5, 20) / 1000
	tests := []struct {
		name  string
		label liquid.Label
		usual liquid.Usual

		abv, sugar, acid float64 // % vol, g/L, g/L
		density          float64 // g/mL, 0 = not checked
		tol              float64 // of the figures, relative
		estimated        []string
		cautions         []string
		spread           []string
	}{
		{
			name: "spirit by strength", label: liquid.Label{ABV: abvOf(0.4)}, usual: spirits,
			abv: 40, density: 0.94805, spread: []string{"abv"},
		},
		{name: "ethanol alone", label: liquid.Label{ABV: abvOf(1)}, usual: plain, abv: 100, density: 0.78924, spread: []string{"abv"}},
		{name: "water", usual: plain, density: 0.998201},
		{name: "no strength at all is not a figure", label: liquid.Label{ABV: abvOf(0)}, usual: liqueur, sugar: 250, estimated: []string{"sugar_g_per_l"}, cautions: []string{"FIGURE_ESTIMATED"}, spread: []string{"sugar"}},
		{
			name: "strength and sugar", label: liquid.Label{ABV: abvOf(0.24), Sugar: ptr(300.0)}, usual: liqueur,
			abv: 24, sugar: 300, spread: []string{"abv"},
		},
		{
			name: "sugars by kind", label: liquid.Label{ABV: abvOf(0.2), Sugars: map[liquid.Substance]float64{liquid.Glucose: 100, liquid.Fructose: 120}}, usual: liqueur,
			abv: 20, sugar: 220, spread: []string{"abv"},
		},
		{
			name: "sugars by kind and their sum", label: liquid.Label{Sugar: ptr(221.0), Sugars: map[liquid.Substance]float64{liquid.Glucose: 100, liquid.Fructose: 120}}, usual: plain,
			sugar: 220,
		},
		{
			name: "sugars by kind and another sum", label: liquid.Label{Sugar: ptr(300.0), Sugars: map[liquid.Substance]float64{liquid.Glucose: 100, liquid.Fructose: 120}}, usual: plain,
			sugar: 220, cautions: []string{"LABEL_CONTRADICTION"},
		},
		{
			name: "nobody said the sugar", label: liquid.Label{ABV: abvOf(0.3)}, usual: liqueur,
			abv: 30, sugar: 250, estimated: []string{"sugar_g_per_l"}, cautions: []string{"FIGURE_ESTIMATED"}, spread: []string{"abv", "sugar"},
		},
		{
			name: "nobody said anything", usual: liqueur,
			abv: 25, sugar: 250, estimated: []string{"abv_pct", "sugar_g_per_l"}, cautions: []string{"FIGURE_ESTIMATED", "FIGURE_ESTIMATED"}, spread: []string{"abv", "sugar"},
		},
		{
			name: "a juice nobody measured", usual: juice,
			sugar: 90, acid: 10, estimated: []string{"acids_g_per_l", "sugar_g_per_l"}, cautions: []string{"FIGURE_ESTIMATED", "FIGURE_ESTIMATED"}, spread: []string{"acid", "sugar"},
		},
		{name: "only pH", label: liquid.Label{PH: ptr(2.4), Sugar: ptr(20.0), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 48}}, usual: juice, sugar: 20, acid: 48},
		{
			name: "acids given as none", label: liquid.Label{Sugar: ptr(100.0), Acids: map[liquid.Substance]float64{}}, usual: juice,
			sugar: 100,
		},
		{
			name: "strength and density, no sugar", label: liquid.Label{ABV: abvOf(0.24), Density: &sweet.Density}, usual: liqueur,
			abv: 24, sugar: 300, density: float64(sweet.Density), cautions: []string{"SUGAR_FROM_DENSITY"}, spread: []string{"abv", "density"},
		},
		{
			name: "density and sugar, no strength", label: liquid.Label{Sugar: ptr(300.0), Density: &sweet.Density}, usual: liqueur,
			abv: 24, sugar: 300, density: float64(sweet.Density), cautions: []string{"STRENGTH_FROM_DENSITY"}, spread: []string{"density"},
		},
		{
			name: "a spirit by its density", label: liquid.Label{Density: &vodka.Density}, usual: spirits,
			abv: 40, density: 0.94805, cautions: []string{"STRENGTH_FROM_DENSITY"}, spread: []string{"density"},
		},
		{
			name: "a syrup by its density", label: liquid.Label{Density: density(syrup50)}, usual: plain,
			sugar: 500 * syrup50, density: syrup50, tol: 1e-5, cautions: []string{"SUGAR_FROM_DENSITY"}, spread: []string{"density"},
		},
		{
			name: "a liqueur by its density alone", label: liquid.Label{Density: density(1.05)}, usual: liqueur,
			abv: 25, sugar: -1, density: 1.05, estimated: []string{"abv_pct"}, cautions: []string{"FIGURE_ESTIMATED", "SUGAR_FROM_DENSITY"}, spread: []string{"abv", "density"},
		},
		{
			name: "lighter than its strength", label: liquid.Label{ABV: abvOf(0.4), Density: density(0.93)}, usual: spirits,
			abv: 40, density: 0.94805, cautions: []string{"LABEL_CONTRADICTION"}, spread: []string{"abv"},
		},
		{
			name: "a hair lighter than its strength", label: liquid.Label{ABV: abvOf(0.4), Density: density(0.9475)}, usual: spirits,
			abv: 40, density: 0.94805, cautions: []string{"SUGAR_FROM_DENSITY"}, spread: []string{"abv"},
		},
		{
			name: "over-determined and sound", label: liquid.Label{ABV: abvOf(0.24), Sugar: ptr(300.0), Density: density(1.084)}, usual: liqueur,
			abv: 24, sugar: 300, spread: []string{"abv"},
		},
		{
			name: "over-determined and unsound", label: liquid.Label{ABV: abvOf(0.24), Sugar: ptr(300.0), Density: density(1.12)}, usual: liqueur,
			abv: 24, sugar: 300, cautions: []string{"LABEL_CONTRADICTION"}, spread: []string{"abv"},
		},
		{name: "Brix", label: liquid.Label{Brix: ptr(20.0)}, usual: plain, sugar: 216.2, tol: 3e-4},
		{
			name: "Brix and acids", label: liquid.Label{Brix: ptr(10.0), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 20, liquid.MalicAcid: 5}}, usual: juice,
			sugar: -1, acid: 25,
		},
		{
			name: "Brix below its acids", label: liquid.Label{Brix: ptr(2.0), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 40}}, usual: juice,
			sugar: 0, acid: 40, cautions: []string{"LABEL_CONTRADICTION"},
		},
		{
			name: "Brix, sugar and acids of a juice", label: liquid.Label{Brix: ptr(8.5), Sugar: ptr(26.0), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 48}}, usual: juice,
			sugar: 26, acid: 48,
		},
		{
			name: "Brix and another sugar", label: liquid.Label{Brix: ptr(50.0), Sugar: ptr(500.0)}, usual: plain,
			sugar: 500, cautions: []string{"LABEL_CONTRADICTION"},
		},
		{
			name: "Brix and sugar of a juice, acids unknown", label: liquid.Label{Brix: ptr(8.5), Sugar: ptr(26.0)}, usual: juice,
			sugar: 26, acid: 10, estimated: []string{"acids_g_per_l"}, cautions: []string{"FIGURE_ESTIMATED"}, spread: []string{"acid"},
		},
		{
			name: "density and sugar of a juice, acids unknown", label: liquid.Label{Density: density(1.031), Sugar: ptr(26.0)}, usual: juice,
			sugar: 26, acid: 10, estimated: []string{"acids_g_per_l"}, cautions: []string{"FIGURE_ESTIMATED"}, spread: []string{"acid"},
		},
		{
			name: "density and sugar of no juice", label: liquid.Label{Density: density(1.06), Sugar: ptr(26.0)}, usual: juice,
			sugar: 26, acid: 10, estimated: []string{"acids_g_per_l"}, cautions: []string{"FIGURE_ESTIMATED", "LABEL_CONTRADICTION"}, spread: []string{"acid"},
		},
		{name: "Brix and density, sound", label: liquid.Label{Brix: ptr(50.0), Density: density(1.2295)}, usual: plain, sugar: 614.8, tol: 3e-4},
		{
			name: "Brix and density, unsound", label: liquid.Label{Brix: ptr(50.0), Density: density(1.33)}, usual: plain,
			sugar: 614.8, tol: 3e-4, cautions: []string{"LABEL_CONTRADICTION"},
		},
		{
			name: "more sugar than dissolves", label: liquid.Label{Sugar: ptr(1000.0)}, usual: plain,
			sugar: 1000, cautions: []string{"SUGAR_ABOVE_SOLUBILITY"},
		},
		{name: "cream by mass fraction", label: liquid.Label{MassFraction: map[string]float64{"fat": 0.36, "protein": 0.02, "lactose": 0.03}}, usual: plain, sugar: -1},
		{
			name: "cream liqueur: strength, sugar and fat", label: liquid.Label{ABV: abvOf(0.17), Sugar: ptr(200.0), MassFraction: map[string]float64{"fat": 0.15, "protein": 0.03}}, usual: liqueur,
			abv: 17, sugar: 200, spread: []string{"abv"},
		},
		{
			name: "the same figure twice", label: liquid.Label{ABV: abvOf(0.4), MassFraction: map[string]float64{"ethanol": 0.333}}, usual: spirits,
			abv: 40, spread: []string{"abv"},
		},
		{
			name: "the same figure twice, apart", label: liquid.Label{ABV: abvOf(0.4), MassFraction: map[string]float64{"ethanol": 0.25}}, usual: spirits,
			abv: 40, cautions: []string{"LABEL_CONTRADICTION"}, spread: []string{"abv"},
		},
		{
			name: "sugars by mass beside their sum", label: liquid.Label{Sugar: ptr(216.2), MassFraction: map[string]float64{"glucose": 0.1, "fructose": 0.1}}, usual: plain,
			sugar: 216.2,
		},
		{
			name: "sugars by mass beside another sum", label: liquid.Label{Sugar: ptr(216.2), MassFraction: map[string]float64{"glucose": 0.2, "fructose": 0.2}}, usual: plain,
			sugar: 216.2, cautions: []string{"LABEL_CONTRADICTION"},
		},
		{
			name: "an acid by mass beside the same per litre", usual: plain, acid: 48, cautions: []string{"LABEL_CONTRADICTION"},
			label: liquid.Label{Acids: map[liquid.Substance]float64{liquid.CitricAcid: 48}, MassFraction: map[string]float64{"citric_acid": 0.08, "fat": 0.01}},
		},
		{
			name: "sugars by kind, one of them also by mass", usual: plain, sugar: 100, cautions: []string{"LABEL_CONTRADICTION"},
			label: liquid.Label{Sugars: map[liquid.Substance]float64{liquid.Glucose: 100}, MassFraction: map[string]float64{"glucose": 0.2}},
		},
		{
			name: "a salt beside its acid", label: liquid.Label{Acids: map[liquid.Substance]float64{liquid.CitricAcid: 10}, MassFraction: map[string]float64{"trisodium_citrate": 0.01}}, usual: plain,
			acid: -1,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := mustClose(t, tt.label, tt.usual)
			tol := max(tt.tol, 1e-9)
			check := func(what string, got, want float64) {
				if want >= 0 {
					near(t, what, got, want, tol*max(1, want), tt.name)
				}
			}
			near(t, "mass of a gram", float64(c.PerG.Mass()), 1, 1e-12, "definition")
			check("strength", c.PerG.ABV().Pct(), tt.abv)
			check("sugar", perL(c, c.PerG.SugarG()), tt.sugar)
			check("acid", perL(c, c.PerG.AcidG()), tt.acid)
			if tt.density > 0 {
				near(t, "density", float64(c.Density), tt.density, 5e-6, tt.name)
			}
			for s, g := range c.PerG {
				if g < -1e-15 {
					t.Errorf("%g g of %s", g, liquid.Substance(s).Name())
				}
			}
			if !slices.Equal(c.Estimated, tt.estimated) {
				t.Errorf("estimated %v, want %v", c.Estimated, tt.estimated)
			}
			if got := codes(c.Cautions); !slices.Equal(got, append([]string{}, tt.cautions...)) {
				t.Errorf("cautions %v, want %v", c.Cautions, tt.cautions)
			}
			checkSpread(t, c, withSugar(tt.spread, &tt.label))
		})
	}
}

// checkSpread: every source is there, moves something and conserves the gram.
func checkSpread(t *testing.T, c liquid.Closed, want []string) {
	t.Helper()
	var got []string
	for _, s := range c.Spread {
		got = append(got, s.Source)
		size := 0.0
		for _, g := range s.Per {
			size += math.Abs(g)
		}
		if !(size > 1e-6 && size < 1) {
			t.Errorf("spread %s moves %g g in a gram", s.Source, size)
		}
		near(t, "spread "+s.Source+" together", float64(s.Per.Mass()), 0, 1e-12, "a gram stays a gram")
	}
	if !slices.Equal(got, want) {
		t.Errorf("spread by %v, want %v", got, want)
	}
}

// TestCloseRefuses: what cannot be is refused with its pointer and the way out.
func TestCloseRefuses(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name    string
		label   liquid.Label
		usual   liquid.Usual
		pointer string
		code    string
	}{
		{name: "strength above 1", label: liquid.Label{ABV: abvOf(1.001)}, pointer: "/label/abv_pct", code: "ABV_RANGE"},
		{name: "strength below 0", label: liquid.Label{ABV: abvOf(-0.001)}, pointer: "/label/abv_pct", code: "ABV_RANGE"},
		{name: "strength not a number", label: liquid.Label{ABV: abvOf(nan)}, pointer: "/label/abv_pct", code: "ABV_RANGE"},
		{name: "strength infinite", label: liquid.Label{ABV: abvOf(math.Inf(1))}, pointer: "/label/abv_pct", code: "ABV_RANGE"},
		{name: "sugar below 0", label: liquid.Label{Sugar: ptr(-1.0)}, pointer: "/label/sugar_g_per_l", code: "SUGAR_RANGE"},
		{name: "sugar not a number", label: liquid.Label{Sugar: &nan}, pointer: "/label/sugar_g_per_l", code: "SUGAR_RANGE"},
		{name: "sugar that does not fit", label: liquid.Label{ABV: abvOf(0.4), Sugar: ptr(1200.0)}, pointer: "/label/sugar_g_per_l", code: "SUGAR_DOES_NOT_FIT"},
		{name: "sugars that do not fit", label: liquid.Label{ABV: abvOf(0.4), Sugars: map[liquid.Substance]float64{liquid.Glucose: 600, liquid.Fructose: 600}}, pointer: "/label/sugars_g_per_l", code: "SUGAR_DOES_NOT_FIT"},
		{name: "usual sugar that does not fit", label: liquid.Label{ABV: abvOf(0.96)}, usual: liqueur, pointer: "/label/sugar_g_per_l", code: "SUGAR_DOES_NOT_FIT"},
		{name: "sugar beyond itself", label: liquid.Label{Sugar: ptr(1580.0)}, pointer: "/label/sugar_g_per_l", code: "SUGAR_DOES_NOT_FIT"},
		{name: "acid that does not fit", label: liquid.Label{ABV: abvOf(0.5), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 1000}}, pointer: "/label/acids_g_per_l", code: "ACID_DOES_NOT_FIT"},
		{name: "acid not a number", label: liquid.Label{Acids: map[liquid.Substance]float64{liquid.LacticAcid: nan}}, pointer: "/label/acids_g_per_l/lactic", code: "ACID_RANGE"},
		{name: "an acid that is a sugar", label: liquid.Label{Acids: map[liquid.Substance]float64{liquid.Sucrose: 1}}, pointer: "/label/acids_g_per_l/sucrose", code: "UNKNOWN_ACID"},
		{name: "a sugar that is an acid", label: liquid.Label{Sugars: map[liquid.Substance]float64{liquid.CitricAcid: 1}}, pointer: "/label/sugars_g_per_l/citric_acid", code: "UNKNOWN_SUGAR"},
		{name: "Brix above 100", label: liquid.Label{Brix: ptr(101.0)}, pointer: "/label/brix_pct", code: "BRIX_RANGE"},
		{name: "Brix with alcohol", label: liquid.Label{ABV: abvOf(0.2), Brix: ptr(30.0)}, pointer: "/label/brix_pct", code: "BRIX_WITH_ALCOHOL"},
		{name: "Brix of a liqueur", label: liquid.Label{Brix: ptr(30.0)}, usual: liqueur, pointer: "/label/brix_pct", code: "BRIX_WITH_ALCOHOL"},
		{name: "Brix with ethanol by mass", label: liquid.Label{Brix: ptr(30.0), MassFraction: map[string]float64{"ethanol": 0.1}}, pointer: "/label/brix_pct", code: "BRIX_WITH_ALCOHOL"},
		{name: "density of lead", label: liquid.Label{Density: density(11.3)}, pointer: "/label/density_kg_per_l", code: "DENSITY_RANGE"},
		{name: "density of no syrup", label: liquid.Label{Density: density(1.9)}, pointer: "/label/density_kg_per_l", code: "DENSITY_IMPOSSIBLE"},
		{name: "density of no spirit", label: liquid.Label{Density: density(0.75)}, usual: spirits, pointer: "/label/density_kg_per_l", code: "DENSITY_IMPOSSIBLE"},
		{name: "pH 15", label: liquid.Label{PH: ptr(15.0)}, pointer: "/label/ph", code: "PH_RANGE"},
		{name: "fraction above 1", label: liquid.Label{MassFraction: map[string]float64{"fat": 1.2}}, pointer: "/label/mass_fraction/fat", code: "FRACTION_RANGE"},
		{name: "fractions above 1", label: liquid.Label{MassFraction: map[string]float64{"fat": 0.6, "sucrose": 0.6}}, pointer: "/label/mass_fraction", code: "FRACTION_SUM"},
		{name: "fractions that leave no room", label: liquid.Label{ABV: abvOf(0.1), MassFraction: map[string]float64{"fat": 0.5, "water": 0.5}}, pointer: "/label/mass_fraction", code: "FRACTION_SUM"},
		{name: "nothing of that name", label: liquid.Label{MassFraction: map[string]float64{"gold": 0.1}}, pointer: "/label/mass_fraction/gold", code: "UNKNOWN_FRACTION"},
		{name: "bulk density of a liquid", label: liquid.Label{ABV: abvOf(0.4), BulkDensity: density(0.85)}, pointer: "/label/bulk_density_g_per_ml", code: "BULK_DENSITY_ON_LIQUID"},
		{name: "bulk density nothing", label: liquid.Label{BulkDensity: density(0)}, usual: solid, pointer: "/label/bulk_density_g_per_ml", code: "BULK_DENSITY_RANGE"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, err := liquid.Close(&tt.label, tt.usual)
			var e *domain.Error
			if !errors.As(err, &e) || !errors.Is(err, domain.Invalid) {
				t.Fatalf("closed to %+v, %v; want Invalid", c, err)
			}
			found := slices.ContainsFunc(e.Faults, func(f domain.Fault) bool {
				return f.Pointer == tt.pointer && f.Code == tt.code && f.Detail != ""
			})
			if !found {
				t.Errorf("faults %v, want %s at %s", e.Faults, tt.code, tt.pointer)
			}
		})
	}
}

// TestCloseNamesEveryFault: one answer for all of them.
func TestCloseNamesEveryFault(t *testing.T) {
	l := liquid.Label{ABV: abvOf(2), Sugar: ptr(-1.0), PH: ptr(-3.0)}
	_, err := liquid.Close(&l, plain)
	var e *domain.Error
	if !errors.As(err, &e) || len(e.Faults) != 3 {
		t.Errorf("%v, want three faults", err)
	}
}

// TestBrixSaysWhatWouldServe: the refusal names the measurement.
func TestBrixSaysWhatWouldServe(t *testing.T) {
	_, err := liquid.Close(&liquid.Label{Brix: ptr(30.0)}, liqueur)
	for _, want := range []string{"sugar_g_per_l", "density_kg_per_l", "abv_pct 0"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not name %s", err, want)
		}
	}
}

// TestBrixReadsBack: acids are in the Brix and what they leave is sugar.
func TestBrixReadsBack(t *testing.T) {
	for _, b := range []float64{0, 3, 11.5, 40, 67, 90, 100} {
		acids := map[liquid.Substance]float64{}
		if b > 0 {
			acids[liquid.CitricAcid], acids[liquid.MalicAcid] = 7, 2
		}
		c := mustClose(t, liquid.Label{Brix: &b, Acids: acids}, juice)
		got, ok := c.PerG.Brix()
		if !ok {
			t.Fatalf("%g °Brix has none", b)
		}
		near(t, fmt.Sprintf("%g °Brix", b), got, b, 1e-9*max(1, b), "read back")
	}
	c := mustClose(t, liquid.Label{Brix: ptr(8.5), Sugar: ptr(26.0), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 48}}, juice)
	got, _ := c.PerG.Brix()
	near(t, "Brix of a juice with its sugar given", got, 8.5, 1e-8, "the rest is other solids")
	if c.PerG[liquid.OtherSolids] <= 0 {
		t.Error("no other solids fill what sugar and acid leave of the Brix")
	}
}

func TestCloseSolid(t *testing.T) {
	salt := mustClose(t, liquid.Label{MassFraction: map[string]float64{"sodium_chloride": 0.97}}, solid)
	near(t, "salt", salt.PerG[liquid.SodiumChloride], 0.97, 1e-15, "label")
	near(t, "rest of it", salt.PerG[liquid.OtherSolids], 0.03, 1e-15, "the rest of a solid is other solids")
	if salt.Density != 0 || len(salt.Spread) != 0 {
		t.Errorf("a solid has density %v and spread %v, want neither", salt.Density, salt.Spread)
	}
	sugar := mustClose(t, liquid.Label{MassFraction: map[string]float64{"sucrose": 1}, BulkDensity: density(0.85)}, solid)
	if sugar.Density != 0.85 {
		t.Errorf("bulk density %v, want 0.85", sugar.Density)
	}
	unknown := mustClose(t, liquid.Label{}, solid)
	if unknown.PerG[liquid.OtherSolids] != 1 || !slices.Equal(codes(unknown.Cautions), []string{"COMPOSITION_UNKNOWN"}) {
		t.Errorf("an unlabelled solid is %v with %v", unknown.PerG, unknown.Cautions)
	}
	opaque := mustClose(t, liquid.Label{}, liquid.Usual{Opaque: true})
	if opaque.PerG != (liquid.Mix{}) || opaque.Density != 0 || !slices.Equal(codes(opaque.Cautions), []string{"COMPOSITION_UNKNOWN"}) {
		t.Errorf("an opaque component is %v with %v, want nothing and a caution", opaque.PerG, opaque.Cautions)
	}
}

// TestNamedWater: where a liquid's water is named, the rest is other solids.
func TestNamedWater(t *testing.T) {
	c := mustClose(t, liquid.Label{MassFraction: map[string]float64{"water": 0.8813, "fat": 0.0325, "protein": 0.0315, "lactose": 0.0505}}, plain)
	near(t, "water", c.PerG[liquid.Water], 0.8813, 1e-12, "label")
	near(t, "other solids", c.PerG[liquid.OtherSolids], 0.0042, 1e-12, "the rest")
	near(t, "density of milk", float64(c.Density), 244/236.588, 0.005, "USDA SR 28 01077: a cup weighs 244 g ± 0.5; volumes of protein and ash from memory")
}

// withSugar adds the spread that every label with sugar per litre has.
func withSugar(sources []string, l *liquid.Label) []string {
	given := l.Sugar != nil && *l.Sugar > 0
	for _, g := range l.Sugars {
		given = given || g > 0
	}
	if !given || slices.Contains(sources, "sugar") {
		return sources
	}
	return append(slices.Clone(sources), "sugar") // last in the alphabet
}

// TestLabelledSugarSpread: 300 g/L is good to 1 g/L and 2 %, 7 g/L together.
func TestLabelledSugarSpread(t *testing.T) {
	u := liquid.Usual{ABVSpread: 0.003}
	c, err := liquid.Close(&liquid.Label{ABV: abvOf(0.24), Sugar: ptr(300.0)}, u)
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(c.Spread, func(s liquid.Spread) bool { return s.Source == "sugar" })
	if at < 0 {
		t.Fatal("labelled sugar has no spread")
	}
	hi, err := liquid.Close(&liquid.Label{ABV: abvOf(0.24), Sugar: ptr(307.0)}, u)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sugar in a gram", c.PerG[liquid.Sucrose]+c.Spread[at].Per[liquid.Sucrose], hi.PerG[liquid.Sucrose], 1e-4, "closing at 307 g/L")
}

// TestUsualRange: the estimate's spread is the range as a rectangle.
func TestUsualRange(t *testing.T) {
	c := mustClose(t, liquid.Label{ABV: abvOf(0.25)}, liqueur)
	lo := mustClose(t, liquid.Label{ABV: abvOf(0.25), Sugar: ptr(250 - liqueur.Sugar.Std())}, liqueur)
	hi := mustClose(t, liquid.Label{ABV: abvOf(0.25), Sugar: ptr(250 + liqueur.Sugar.Std())}, liqueur)
	i := slices.IndexFunc(c.Spread, func(s liquid.Spread) bool { return s.Source == "sugar" })
	for s := range liquid.Substances {
		near(t, "spread of "+s.Name(), c.Spread[i].Per[s], (hi.PerG[s]-lo.PerG[s])/2, 1e-12, "closing again at ±1 u")
	}
	if !strings.Contains(c.Cautions[0].Detail, "100 to 400") {
		t.Errorf("%q does not name the range", c.Cautions[0].Detail)
	}
}

// TestSpiritInLiqueur: 1 L of a 24 % vol liqueur takes 600 mL of 40 % spirit
// whatever its sugar (common practice, no source).
func TestSpiritInLiqueur(t *testing.T) {
	base := spirit(t, 1, 0.4)
	for _, sugar := range []float64{0, 100, 250, 400, 500} {
		c := mustClose(t, liquid.Label{ABV: abvOf(0.24), Sugar: &sugar}, liqueur)
		near(t, fmt.Sprintf("mL of spirit at %g g/L", sugar), perL(c, c.PerG[liquid.Ethanol])/base[liquid.Ethanol], 600, 1e-6, "arithmetic of the trade")
	}
}

func TestNames(t *testing.T) {
	names := liquid.FractionNames()
	want := []string{
		"sucrose", "glucose", "fructose", "lactose", "maltose", "glycerol", "sodium_chloride",
		"citric_acid", "malic_acid", "tartaric_acid", "lactic_acid", "acetic_acid", "phosphoric_acid", "ascorbic_acid", "succinic_acid",
		"citric_acid_monohydrate", "trisodium_citrate", "trisodium_citrate_dihydrate", "sodium_bicarbonate", "potassium_bitartrate",
		"fat", "protein", "fibre", "other_solids", "water", "ethanol",
	}
	if !slices.Equal(names, want) {
		t.Errorf("FractionNames() = %v, want %v", names, want)
	}
	for s := range liquid.Substances {
		if s.Name() == "" {
			t.Errorf("substance %d has no name", s)
		}
		if a, ok := liquid.ParseAcid(s.AcidName()); ok != s.IsAcid() || ok && a != s {
			t.Errorf("ParseAcid(%q) = %v, %v", s.AcidName(), a, ok)
		}
		if a, ok := liquid.ParseSugar(s.Name()); ok != s.IsSugar() || ok && a != s {
			t.Errorf("ParseSugar(%q) = %v, %v", s.Name(), a, ok)
		}
	}
	if liquid.Substances.Name() != "" {
		t.Error("the count of substances has a name")
	}
	if _, ok := liquid.Fraction("gold"); ok {
		t.Error("gold is a fraction")
	}
}
