package liquid_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"servewright/domain/liquid"
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
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var rows []row
	for _, rec := range all[1:] {
		m := row{}
		last := len(all[0]) - 1
		for i, v := range rec[:last] {
			m[all[0][i]] = strings.TrimSpace(v)
		}
		m[all[0][last]] = strings.Join(rec[last:], ",") // sources hold commas
		rows = append(rows, m)
	}
	if len(rows) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return rows
}

// num reads a number of the row.
func (r row) num(t *testing.T, col string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[col], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", col, r, err)
	}
	return x
}

// near fails unless got is within tol of want.
func near(t *testing.T, what string, got, want, tol float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.8g, want %.8g ± %.2g (%s)", what, got, want, tol, source)
	}
}

// half is half the last of so many printed digits, and a hair for the binary
// fraction.
func half(digits int) float64 { return 0.5*math.Pow10(-digits) + 1e-9 }

// ptr returns a pointer to a label's figure.
func ptr[T any](x T) *T { return &x }

// spirit is so many mL of ethanol and water at a strength.
func spirit(t testing.TB, ml, abv float64) liquid.Mix {
	t.Helper()
	c, err := liquid.Close(&liquid.Label{ABV: abvOf(abv)}, liquid.Usual{})
	if err != nil {
		t.Fatal(err)
	}
	m := c.PerG
	m.Scale(ml * float64(c.Density))
	return m
}
