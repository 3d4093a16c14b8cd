package chill

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// row is one row of a reference table by its column names.
type row map[string]string

// reference reads a table of ../../testdata/reference; its # lines name the
// source.
func reference(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment, r.LazyQuotes, r.FieldsPerRecord = '#', true, -1
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(all), err)
	}
	var rows []row
	for _, rec := range all[1:] {
		m := row{}
		for i, v := range rec[:min(len(rec), len(all[0]))] {
			m[all[0][i]] = strings.TrimSpace(v)
		}
		rows = append(rows, m)
	}
	return rows
}

// num reads a number of the row.
func (r row) num(t *testing.T, col string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimPrefix(r[col], "+"), 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", col, r, err)
	}
	return x
}

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
