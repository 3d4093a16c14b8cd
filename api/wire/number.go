package wire

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"servewright/domain/measure"
)

// Number is a computed figure. It is written with 6 significant digits, rounded
// half to even.
type Number float64

// MarshalJSON writes the rounded figure. A figure that is no number is a fault
// of the computation and is refused, so that no wrong answer leaves.
func (n Number) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, fmt.Errorf("wire: a computed figure is %v", x)
	}
	return json.Marshal(significant(x, 6))
}

// significant rounds x to digits significant digits, half to even.
func significant(x float64, digits int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	if err != nil {
		return x
	}
	if y == 0 {
		return 0 // never −0
	}
	return y
}

// written undoes the trace that a change of unit leaves in the last bits: 57 %
// is kept as 0.57 and 0.57 · 100 is 56.99999999999999. Fifteen digits are what a
// float64 keeps of any decimal.
func written(x float64) float64 { return significant(x, 15) }

// percent writes a fraction that a person gave in percent.
func percent(a *measure.ABV) *float64 {
	if a == nil {
		return nil
	}
	pct := written(a.Pct())
	return &pct
}

// fraction reads a percentage.
func fraction(pct *float64) *measure.ABV {
	if pct == nil {
		return nil
	}
	a := measure.ABV(*pct / 100)
	return &a
}

// typed gives a figure that was read its quantity; nil stays nil.
func typed[T ~float64](x *float64) *T {
	if x == nil {
		return nil
	}
	t := T(*x)
	return &t
}

// plain takes the quantity off again.
func plain[T ~float64](t *T) *float64 {
	if t == nil {
		return nil
	}
	x := float64(*t)
	return &x
}

// unlessZero writes a figure that zero leaves unsaid.
func unlessZero[T ~float64](t T) *float64 {
	if t == 0 {
		return nil
	}
	x := float64(t)
	return &x
}

// orZero reads a figure that may be left out.
func orZero[T ~float64](x *float64) T {
	if x == nil {
		return 0
	}
	return T(*x)
}
