package liquid_test

import (
	"math"
	"testing"

	"servewright/domain/liquid"
)

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
