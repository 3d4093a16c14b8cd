package liquid_test

import (
	"fmt"
	"math"
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/testdata/reference"
)

func pow(x, n float64) float64 { return math.Pow(x, n) }

// TestHeatCapacityPerry: the table prints two or three digits of cal/(g K), so
// tol is 1 %. Above 60 % it is followed, below it Melinder is.
func TestHeatCapacityPerry(t *testing.T) {
	for _, r := range reference.Rows(t, "ethanol_specific_heat_perry.csv") {
		p, c := r.Num(t, "mass_pct"), r.Num(t, "t_C")
		m := liquid.Mix{liquid.Ethanol: p / 100, liquid.Water: 1 - p/100}
		want := r.Num(t, "cp_J_gK")
		near(t, fmt.Sprintf("cp(%g %%, %g °C)", p, c), m.HeatCapacity(measure.Temperature(c)), want, 0.01*want, "Perry table 2-205")
	}
}

func TestHeatCapacityMelinder(t *testing.T) {
	rows := reference.Rows(t, "ethanol_melinder_coefficients.csv")
	for _, x := range []float64{0, 8, 20, 33, 45, 60} {
		for _, c := range []float64{-20, -5, 0, 12, 25, 40} {
			want := 0.0
			for _, r := range rows {
				want += r.Num(t, "specific_heat") * pow(x-29.2361, r.Num(t, "i")) * pow(c-8.1578, r.Num(t, "j")) / 1000
			}
			m := liquid.Mix{liquid.Ethanol: x / 100, liquid.Water: 1 - x/100}
			near(t, fmt.Sprintf("cp(%g %%, %g °C)", x, c), m.HeatCapacity(measure.Temperature(c)), want, 1e-9, "Melinder 2010")
		}
	}
}

// TestHeatCapacityWater: the polynomial leaves pure water by 0.4 %.
func TestHeatCapacityWater(t *testing.T) {
	n := 0
	for _, r := range reference.Rows(t, "water_ice_constants.csv") {
		var c float64
		if _, err := fmt.Sscanf(r["quantity"], "cp water, %f C", &c); err != nil {
			continue
		}
		n++
		m := liquid.Mix{liquid.Water: 1}
		want := r.Num(t, "value")
		near(t, r["quantity"], m.HeatCapacity(measure.Temperature(c)), want, 0.004*want, r["source"])
	}
	if n != 3 {
		t.Errorf("%d rows, want 3", n)
	}
}

// TestHeatCapacitySugar: sugar solutions by 4.1868 − 0.0251 w% + 7.5e−5 w% t. The
// water of the mix leaves 4.1868 by up to 0.7 % (cold).
func TestHeatCapacitySugar(t *testing.T) {
	for _, w := range []float64{10, 30, 50, 65} {
		for _, c := range []float64{0, 10, 20} {
			m := liquid.Mix{liquid.Sucrose: w / 100, liquid.Water: 1 - w/100}
			want := 4.1868 - 0.0251*w + 7.5e-5*w*c
			near(t, fmt.Sprintf("cp(%g %% sucrose, %g °C)", w, c), m.HeatCapacity(measure.Temperature(c)), want, 0.008*want, "Bubník et al. 1995, from memory")
		}
	}
}

// TestHeatCapacitySane: over the whole plane the heat capacity is finite, above
// 0, below 5 J/(g K), without a jump where one source hands over to another.
func TestHeatCapacitySane(t *testing.T) {
	for c := -60.0; c <= 60; c += 5 {
		last := math.NaN()
		for p := 0.0; p <= 1; p += 0.002 {
			m := liquid.Mix{liquid.Ethanol: p, liquid.Water: 1 - p}
			got := m.HeatCapacity(measure.Temperature(c))
			if !(got > 1.5 && got < 5) || math.Abs(got-last) > 0.03 {
				t.Fatalf("cp(%g, %g °C) = %g after %g", p, c, got, last)
			}
			last = got
		}
	}
}

// mix100 is 100 mL of a strength.
func mix100(t *testing.T, abv float64) liquid.Mix { return spirit(t, 100, abv) }

// TestHeatOfDilution works the table of Larkin's excess enthalpies, which is
// good to ±8 % at its low end, where it was blended by hand to infinite dilution.
func TestHeatOfDilution(t *testing.T) {
	for _, r := range reference.Rows(t, "heat_of_dilution.csv") {
		abv, d := r.Num(t, "start_abv_pct"), r.Num(t, "dilution_pct")
		m := mix100(t, abv/100)
		water := d * 0.99820123
		what := fmt.Sprintf("%g %% vol diluted by %g mL", abv, d)
		heat := r.Num(t, "heat_J")
		near(t, what+" sets free", m.HeatOfDilution(water), heat, 0.08*heat, "Larkin 1975, table worked independently")
		before := float64(m.Volume()) + d
		m[liquid.Water] += water
		near(t, what+" ends at", m.ABV().Pct(), r.Num(t, "final_abv_pct"), half(1), "same")
		// The column's density is not named; against R 22 it is off by up to 0.03
		// mL, 2e-4 of the volume, with either sign.
		near(t, what+" contracts by", before-float64(m.Volume()), r.Num(t, "contraction_mL"), 0.03+half(2), "same")
	}
}

// TestExcessEnthalpy: the lowest value is about −780 J/mol near a sixth of
// ethanol (Boyne and Williamson 1967, Lama and Lu 1965, Larkin 1975, all from
// memory, ±5 %). It is read by mixing ethanol with much water in one step.
func TestExcessEnthalpy(t *testing.T) {
	lowest, where := 0.0, 0.0
	for x := 0.02; x < 0.99; x += 0.01 {
		m := liquid.Mix{liquid.Ethanol: x * 46.069}
		if h := -m.HeatOfDilution((1 - x) * 18.015); h < lowest {
			lowest, where = h, x
		}
	}
	near(t, "lowest excess enthalpy", lowest, -780, 0.05*780, "literature at 25 °C, from memory")
	near(t, "mole fraction there", where, 0.16, 0.02, "same")
}

func TestNoHeatWithoutAlcohol(t *testing.T) {
	m := liquid.Mix{liquid.Water: 50, liquid.Sucrose: 50}
	if q := m.HeatOfDilution(100); q != 0 {
		t.Errorf("diluting syrup sets free %g J, want 0: only ethanol is counted", q)
	}
	s := mix100(t, 0.4)
	for _, w := range []float64{0, -5, math.NaN()} {
		if q := s.HeatOfDilution(w); q != 0 {
			t.Errorf("adding %g g of water sets free %g J, want 0", w, q)
		}
	}
}
