package liquid_test

import (
	"fmt"
	"testing"

	"servewright/domain/liquid"
	"servewright/testdata/reference"
)

// TestEthanolFreezing: Melinder and CRC are two evaluations of freezing points
// that go apart by 1–2 %; tol is 0.05 K and 2 %.
func TestEthanolFreezing(t *testing.T) {
	for _, r := range reference.Rows(t, "ethanol_crc_selected.csv") {
		p := r.Num(t, "mass_pct")
		want := r.Num(t, "freezing_depression_C")
		m := liquid.Mix{liquid.Ethanol: p, liquid.Water: 100 - p}
		near(t, fmt.Sprintf("freezing point of %g %% ethanol", p), float64(m.FreezingPoint()), -want, 0.05+0.02*want, "CRC Handbook 102nd ed.")
	}
	pure := liquid.Mix{liquid.Water: 1}
	near(t, "freezing point of water", float64(pure.FreezingPoint()), 0, 1e-12, "definition")
	weak := liquid.Mix{liquid.Ethanol: 1, liquid.Water: 99}
	near(t, "freezing point of 1 % ethanol", float64(weak.FreezingPoint()), -1.86*1000/99/46.069, 0.02, "cryoscopic constant 1.86 K kg/mol, ideal")
}

// TestMelinderFreezing: the polynomial is met from the end of the correction at
// 2 % to 60 %.
func TestMelinderFreezing(t *testing.T) {
	rows := reference.Rows(t, "ethanol_melinder_coefficients.csv")
	for _, x := range []float64{2, 5, 12, 29.2361, 40, 60} {
		want := 0.0
		for _, r := range rows {
			if r["j"] == "0" {
				want += r.Num(t, "freezing_point") * pow(x-29.2361, r.Num(t, "i"))
			}
		}
		m := liquid.Mix{liquid.Ethanol: x, liquid.Water: 100 - x}
		near(t, fmt.Sprintf("freezing point of %g %% ethanol", x), float64(m.FreezingPoint()), want, 1e-6, "Melinder 2010")
	}
}

// TestSoluteFreezing: one quadratic or cubic per solute against the CRC column,
// printed to 0.01 K. tol is half of that, the rounding of the solute's mass %
// and what the fit leaves: 1 mK for sugars; 0.01 K for citric acid, whose
// dissociation the quadratic only imitates; 0.02 K for lactic acid and 0.05 K
// for glycerol at 40 %.
func TestSoluteFreezing(t *testing.T) {
	tol := map[string]float64{
		"sucrose": 0.008, "D-glucose": 0.008, "D-fructose": 0.008, "sodium chloride": 0.01,
		"citric acid": 0.012, "glycerol": 0.05, "D-lactic acid": 0.025,
	}
	n := 0
	for _, file := range []string{"sucrose_crc_selected.csv", "other_solutes_crc_selected.csv"} {
		for _, r := range reference.Rows(t, file) {
			if r["freezing_depression_C"] == "" {
				continue
			}
			n++
			m := binary(t, r["solute"], r.Num(t, "mass_pct")/100)
			near(t, fmt.Sprintf("freezing point of %s %% %s", r["mass_pct"], r["solute"]), float64(m.FreezingPoint()),
				-r.Num(t, "freezing_depression_C"), tol[r["solute"]], "CRC Handbook 102nd ed.")
		}
	}
	if n < 20 {
		t.Errorf("%d rows with a freezing point, want at least 20", n)
	}
}

// TestSucroseEutectic: sucrose and ice meet at 62.4 % and −14 °C.
func TestSucroseEutectic(t *testing.T) {
	m := liquid.Mix{liquid.Sucrose: 62.4, liquid.Water: 37.6}
	near(t, "eutectic of sucrose", float64(m.FreezingPoint()), -14, 0.2, "handbook value, from memory")
}

// TestFreezingMonotone: over the bar's range more alcohol or more sugar in the
// litre never freezes earlier, wherever the sugar fits.
func TestFreezingMonotone(t *testing.T) {
	at := func(abv, sugar float64) (float64, bool) {
		c, err := liquid.Close(&liquid.Label{ABV: abvOf(abv), Sugar: &sugar}, liquid.Usual{})
		if err != nil {
			return 0, false
		}
		return float64(c.PerG.FreezingPoint()), true
	}
	for a := 0.0; a <= 0.601; a += 0.005 {
		last := 1.0
		for s := 0.0; s <= 600; s += 10 {
			f, ok := at(a, s)
			if !ok {
				break
			}
			more, fits := at(a+0.005, s)
			if f > last || fits && more > f {
				t.Fatalf("%.1f %% vol and %g g/L freeze at %.3f °C, with 10 g/L less at %.3f, with 0.5 %% vol more at %.3f", 100*a, s, f, last, more)
			}
			if f == last && f > -120 {
				t.Fatalf("%.1f %% vol: %g g/L freezes no lower than 10 g/L less", 100*a, s)
			}
			last = f
		}
	}
}
