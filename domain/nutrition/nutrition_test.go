package nutrition

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/liquid"
	"servewright/testdata/reference"
)

func near(t *testing.T, what string, got, want, tol float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g ± %.2g (%s)", what, got, want, tol, source)
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// TestFactors: each factor stands in the table, kJ and kcal in their own columns.
func TestFactors(t *testing.T) {
	have := map[string]factor{
		"EU/carbohydrate (except polyols)": eu.carbohydrate, "EU/polyols": eu.polyol, "EU/protein": eu.protein, "EU/fat": eu.fat,
		"EU/alcohol (ethanol)": eu.alcohol, "EU/organic acid": eu.acid, "EU/fibre": eu.fibre,
		"US general/protein": us.protein, "US general/carbohydrate": us.carbohydrate, "US general/fat": us.fat, "US/alcohol": us.alcohol,
	}
	found := 0
	for _, r := range reference.Rows(t, "energy_factors.csv") {
		f, ok := have[r["system"]+"/"+r["component"]]
		if !ok {
			continue
		}
		found++
		what := r["system"] + " " + r["component"]
		near(t, what+" kcal", f.kcal, number(t, r["kcal_per_g"]), 0, r["source"])
		if r["kj_per_g"] != "" {
			near(t, what+" kJ", f.kj, number(t, r["kj_per_g"]), 0, r["source"])
		} else {
			near(t, what+" kJ", f.kj, 4.184*f.kcal, 1e-12, "1 kcal = 4.184 kJ, USDA SR 28")
		}
	}
	if found != len(have) {
		t.Errorf("%d of %d factors found in the table", found, len(have))
	}
}

// TestEnergyExamples are the worked examples G07 to G10 and lemon juice. Their
// figures are per 100 g, printed to 1 kcal.
func TestEnergyExamples(t *testing.T) {
	coffee := factors{alcohol: american(6.93), carbohydrate: american(3.90), protein: american(3.47), fat: american(8.37)}
	tests := []struct {
		name   string
		mix    liquid.Mix
		by     factors
		kcal   float64
		source string
	}{
		{
			name: "G07 80-proof spirit", mix: liquid.Mix{liquid.Ethanol: 33.4, liquid.Water: 66.6}, by: us, kcal: 231,
			source: "USDA SR 28, 14037",
		},
		{
			name: "G08 coffee liqueur, its own factors", by: coffee, kcal: 336, source: "USDA SR 28, 14414",
			mix: liquid.Mix{liquid.Ethanol: 21.7, liquid.Sucrose: 46.8, liquid.Protein: 0.1, liquid.Fat: 0.3, liquid.Water: 31},
		},
		{name: "G09 gin, EU", mix: liquid.Mix{liquid.Ethanol: 37.9, liquid.Water: 62.1}, by: eu, kcal: 265, source: "CIQUAL 2017, 1002"},
		{name: "G09 gin, US", mix: liquid.Mix{liquid.Ethanol: 37.9, liquid.Water: 62.1}, by: us, kcal: 263, source: "USDA SR 28, 14049"},
		{
			name: "G10 anise spirit, EU", mix: liquid.Mix{liquid.Ethanol: 37.5, liquid.Sucrose: 2.91, liquid.Water: 59.6}, by: eu, kcal: 274,
			source: "CIQUAL 2017, 1000",
		},
		{
			// Acids are the 6.9 of carbohydrate less sugars and fibre; 2 kcal for
			// what the specific factor 2.70 takes differently.
			name: "lemon juice, US", by: us, kcal: 22, source: "USDA SR 28, 09152",
			mix: liquid.Mix{liquid.Sucrose: 2.52, liquid.CitricAcid: 4.08, liquid.Fibre: 0.3, liquid.Protein: 0.35, liquid.Fat: 0.24, liquid.Water: 92.31},
		},
	}
	for _, tt := range tests {
		tol := 0.5
		if tt.name == "lemon juice, US" {
			tol = 2.5
		}
		near(t, tt.name, tt.by.energy(&tt.mix).Kcal, tt.kcal, tol, tt.source)
	}
}

// TestUSDASpirits: every row of a spirit, from its alcohol and carbohydrate. The
// table prints alcohol to 0.1 g, so 0.05 × 6.93 and the last kcal.
func TestUSDASpirits(t *testing.T) {
	n := 0
	for _, r := range reference.Rows(t, "usda_drinks.csv") {
		if r["group"] != "spirit" {
			continue
		}
		n++
		m := liquid.Mix{liquid.Ethanol: number(t, r["alcohol_g"]), liquid.Sucrose: number(t, r["carbohydrate_g"])}
		near(t, r["description"], EnergyUS(&m).Kcal, number(t, r["energy_kcal"]), 0.05*6.93+0.5, "USDA SR 28, "+r["ndb_no"])
	}
	if n < 9 {
		t.Errorf("%d spirits, want at least 9", n)
	}
}

// TestTwoColumns: kJ is not kcal times a constant under EU law.
func TestTwoColumns(t *testing.T) {
	m := liquid.Mix{liquid.Ethanol: 10}
	e := EnergyEU(&m)
	near(t, "kJ of 10 g of alcohol", e.KJ, 290, 1e-12, "Regulation (EU) 1169/2011 Annex XIV")
	near(t, "kcal of 10 g of alcohol", e.Kcal, 70, 1e-12, "same")
	near(t, "US kJ", EnergyUS(&m).KJ, 69.3*4.184, 1e-9, "USDA SR 28 documentation, p. 14")
}

// TestEveryNutrient: what counts, counts by its own factor; what has no energy
// does not.
func TestEveryNutrient(t *testing.T) {
	want := map[liquid.Substance]factor{
		liquid.Ethanol: eu.alcohol, liquid.Glycerol: eu.polyol, liquid.Protein: eu.protein, liquid.Fat: eu.fat, liquid.Fibre: eu.fibre,
	}
	for s := liquid.Sucrose; s <= liquid.Maltose; s++ {
		want[s] = eu.carbohydrate
	}
	for s := liquid.CitricAcid; s <= liquid.SuccinicAcid; s++ {
		want[s] = eu.acid
	}
	want[liquid.PhosphoricAcid] = factor{} // inorganic
	for s := range liquid.Substances {
		var m liquid.Mix
		m[s] = 1
		e := EnergyEU(&m)
		near(t, s.Name()+" kcal", e.Kcal, want[s].kcal, 1e-12, "Annex XIV")
		near(t, s.Name()+" kJ", e.KJ, want[s].kj, 1e-12, "Annex XIV")
	}
}

// TestEnergyLinear: the energy of a mixture is that of its parts.
func TestEnergyLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) liquid.Mix {
			var m liquid.Mix
			for s := range liquid.Substances {
				m[s] = rapid.Float64Range(0, 100).Draw(t, name+" "+s.Name())
			}
			return m
		}
		a, b := draw("a"), draw("b")
		k := rapid.Float64Range(0, 10).Draw(t, "k")
		blend := a
		blend.Add(&b, k)
		for _, f := range []func(*liquid.Mix) Energy{EnergyEU, EnergyUS} {
			got, ea, eb := f(&blend), f(&a), f(&b)
			if want := ea.Kcal + k*eb.Kcal; math.Abs(got.Kcal-want) > 1e-9*(1+want) {
				t.Fatalf("%g kcal of a blend, %g of its parts", got.Kcal, want)
			}
			if want := ea.KJ + k*eb.KJ; math.Abs(got.KJ-want) > 1e-9*(1+want) {
				t.Fatalf("%g kJ of a blend, %g of its parts", got.KJ, want)
			}
		}
	})
}

// grams is the ethanol in so many mL at a strength in % vol.
func grams(ml, pct float64) float64 { return ml * pct / 100 * float64(liquid.EthanolDensity) }

// TestUnitExamples are the worked examples G01 to G06, each to its printed digit.
func TestUnitExamples(t *testing.T) {
	tests := []struct {
		id, country string
		ml, pct     float64
		want, tol   float64
		source      string
	}{
		{id: "G01", country: "GB", ml: 25, pct: 40, want: 1, tol: 1e-9, source: "NHS, Alcohol units"},
		{id: "G02", country: "GB", ml: 175, pct: 13, want: 2.3, tol: 0.05, source: "Alcohol Change UK, units table"},
		{id: "G03", country: "GB", ml: 568, pct: 5.2, want: 2.95, tol: 0.005, source: "NHS, Alcohol units"},
		{id: "G04", country: "US", ml: 1.5 * usFlOz, pct: 40, want: 1, tol: 1e-9, source: "NIAAA, Rethinking Drinking"},
		{id: "G04", country: "US", ml: 5 * usFlOz, pct: 12, want: 1, tol: 1e-9, source: "NIAAA, Rethinking Drinking"},
		{id: "G04", country: "US", ml: 12 * usFlOz, pct: 5, want: 1, tol: 1e-9, source: "NIAAA, Rethinking Drinking"},
		{id: "G05", country: "AU", ml: 375, pct: 4.8, want: 1.4, tol: 0.05, source: "Australian standard drinks guide"},
		{id: "G06", country: "NZ", ml: 500, pct: 5, want: 1.97, tol: 0.005, source: "alcohol.org.nz"},
		{id: "CA", country: "CA", ml: 341, pct: 5, want: 1, tol: 0.005, source: "Health Canada via a secondary page"},
	}
	for _, tt := range tests {
		s, ok := StandardFor(tt.country)
		if !ok {
			t.Errorf("no standard for %s", tt.country)
			continue
		}
		near(t, fmt.Sprintf("%s: %g mL at %g %% in %s", tt.id, tt.ml, tt.pct, tt.country), s.Units(grams(tt.ml, tt.pct)), tt.want, tt.tol, tt.source)
	}
}

// TestStandards: every country of the table is here, defined by one quantity,
// which is in the table's cell, with its confidence.
func TestStandards(t *testing.T) {
	amount := regexp.MustCompile(`[0-9.]+`)
	n := 0
	for _, r := range reference.Rows(t, "alcohol_units.csv") {
		if len(r["country"]) != 2 {
			continue // a screening test, not a country
		}
		n++
		s, ok := StandardFor(r["country"])
		if !ok {
			t.Errorf("no standard for %s", r["country"])
			continue
		}
		if (s.EthanolG > 0) == (s.EthanolML > 0) {
			t.Errorf("%s is defined by %g g and %g mL, want one of them", s.Country, s.EthanolG, s.EthanolML)
		}
		cell, have := r["mass"], s.EthanolG
		if s.EthanolML > 0 {
			cell, have = r["volume"], s.EthanolML
		}
		found := false
		for _, x := range amount.FindAllString(cell, -1) {
			if v, err := strconv.ParseFloat(x, 64); err == nil && math.Abs(v-have) < 5e-4 {
				found = true
			}
		}
		if !found {
			t.Errorf("%s: %g is not in %q (%s)", s.Country, have, cell, r["source"])
		}
		if !strings.Contains(s.Source, r["confidence"]+" confidence") {
			t.Errorf("%s: source %q does not say %s confidence", s.Country, s.Source, r["confidence"])
		}
	}
	if n != len(Countries()) {
		t.Errorf("%d countries in the table, %d here", n, len(Countries()))
	}
}

func TestNoStandard(t *testing.T) {
	for _, c := range []string{"", "XX", "gb", "WHO"} {
		if s, ok := StandardFor(c); ok || s.Units(10) != 0 {
			t.Errorf("StandardFor(%q) = %v, %v; want none, and no units of it", c, s, ok)
		}
	}
}
