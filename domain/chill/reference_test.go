package chill

import (
	"math"
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// near fails unless got is within tol of want.
func near(t *testing.T, what string, got, want, tol float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.4f, want %v ± %v (%s)", what, got, want, tol, source)
	}
}

// drink is ml of a drink of that strength (% vol), with sugar (as sucrose) and
// acid (as citric) in g per 100 mL.
func drink(ml, abvPct, sugar, acid float64) liquid.Mix {
	var m liquid.Mix
	m[liquid.Ethanol] = ml * abvPct / 100 * ethanolDensity
	m[liquid.Sucrose] = ml * sugar / 100
	m[liquid.CitricAcid] = ml * acid / 100
	m[liquid.Water] = waterTo(&m, float64(m.Volume()), ml)
	return m
}

// The two drinks that dilution_sensitivity.csv and chill_curves.csv speak of.
func sour() liquid.Mix   { return drink(105, 22.86, 13.5, 1.29) }
func strong() liquid.Mix { return drink(90, 40, 5, 0) }

func celsius(t float64) *measure.Temperature { c := measure.Temperature(t); return &c }

func number(x float64) *float64 { return &x }

// diluted makes a drink and returns the water as % of the volume before ice.
func diluted(t *testing.T, in *Input) (float64, Result) {
	t.Helper()
	r, err := Dilute(in)
	if err != nil {
		t.Fatalf("%s: %v", in.Method, err)
	}
	return 100 * r.WaterG / waterDensity / float64(in.Mix.Volume()), r
}
