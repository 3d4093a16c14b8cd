package money

import (
	"math/bits"
	"strings"

	"github.com/quagmt/udecimal"

	"servewright/domain"
)

// The largest decimal: no house counts in thousands of billions, and below it
// every decimal of 19 places fits 128 bits, so that none of them is heavy.
const (
	maxWhole  = 15 // digits before the point
	maxPlaces = 19 // digits after it
)

// Decimal is an exact decimal with at most 15 digits before the point and 19
// after it: a tax rate, a percentage, the number of an [Amount]. The zero
// Decimal is 0. Decimals are kept without trailing zeros, so equal ones are
// equal under ==.
type Decimal struct{ d udecimal.Decimal }

// ParseDecimal reads a plain decimal such as "12.50" or "-3": digits, at most
// one point with digits on both sides, no leading zeros, no plus, exponent,
// spaces or separators. The error's code is BAD_DECIMAL.
func ParseDecimal(s string) (Decimal, error) {
	if whole, places, ok := plain(s); !ok {
		return Decimal{}, badDecimal("%q is not a plain decimal such as \"12.50\"", clip(s))
	} else if whole > maxWhole || places > maxPlaces {
		return Decimal{}, badDecimal("%s is too long; write at most %d digits before the point and %d after it", clip(s), maxWhole, maxPlaces)
	}
	d, err := udecimal.Parse(s)
	if err != nil { // plain has let nothing through that it refuses
		return Decimal{}, badDecimal("%q is not a plain decimal such as \"12.50\"", clip(s))
	}
	return canonical(d), nil
}

func badDecimal(format string, args ...any) error {
	e := domain.Errorf(domain.Invalid, format, args...)
	e.Code = "BAD_DECIMAL"
	return e
}

// plain counts the digits of a plain decimal before and after its point.
func plain(s string) (whole, places int, ok bool) {
	w, p, pointed := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	if !digits(w) || pointed && !digits(p) || len(w) > 1 && w[0] == '0' {
		return 0, 0, false
	}
	return len(w), len(p), true
}

// digits reports whether s is one or more ASCII digits.
func digits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// canonical drops trailing zeros and the sign of zero. d is within the limits
// of a Decimal, so its coefficient fits 128 bits.
func canonical(d udecimal.Decimal) Decimal {
	neg, hi, lo, prec, _ := d.ToHiLo()
	return decimalOf(neg, hi, lo, prec)
}

// decimalOf makes ±(hi·2⁶⁴ + lo)·10^−prec, prec ≤ 19.
func decimalOf(neg bool, hi, lo uint64, prec uint8) Decimal {
	if hi|lo == 0 {
		return Decimal{}
	}
	for prec > 0 {
		qh, r := bits.Div64(0, hi, 10)
		ql, r := bits.Div64(r, lo, 10)
		if r != 0 {
			break
		}
		hi, lo, prec = qh, ql, prec-1
	}
	d, _ := udecimal.NewFromHiLo(neg, hi, lo, prec) // fails only above 19 places
	return Decimal{d}
}

// String returns the decimal as [ParseDecimal] reads it, without trailing
// zeros.
func (d Decimal) String() string { return d.d.String() }

// StringFixed returns d rounded half up to places digits after the point, and
// with exactly that many.
func (d Decimal) StringFixed(places int) string {
	return d.RoundedHalfUp(places).d.StringFixed(place(places))
}

// Sign returns −1, 0 or +1.
func (d Decimal) Sign() int { return d.d.Sign() }

// IsZero reports whether d is 0.
func (d Decimal) IsZero() bool { return d.d.IsZero() }

// Cmp returns −1, 0 or +1 as d is below, equal to or above e.
func (d Decimal) Cmp(e Decimal) int { return d.d.Cmp(e.d) }

// Neg returns −d.
func (d Decimal) Neg() Decimal {
	if d.IsZero() {
		return d
	}
	return Decimal{d.d.Neg()}
}

// Float returns the nearest float64.
func (d Decimal) Float() float64 { return d.Ratio().Float() }

// Rounded returns d rounded half to even (ISO 80000-1 Annex B, rule A; from
// memory) to places digits after the point, 0 to 19.
func (d Decimal) Rounded(places int) Decimal {
	return canonical(d.d.RoundBank(place(places)))
}

// RoundedHalfUp returns d rounded half away from zero, the commercial rule
// (less than half a penny down, half a penny or more up: HMRC internal manual
// VATREC12030), to places digits after the point, 0 to 19.
func (d Decimal) RoundedHalfUp(places int) Decimal {
	return canonical(d.d.RoundHAZ(place(places)))
}

// place brings a number of digits into [0, 19].
func place(n int) uint8 { return uint8(min(max(n, 0), maxPlaces)) }

// plus returns d + e and whether it is within the limits of a Decimal.
func (d Decimal) plus(e Decimal) (Decimal, bool) {
	sum := d.d.Add(e.d)
	if limit := udecimal.MustFromUint64(1e15, 0); sum.Abs().Cmp(limit) >= 0 {
		return Decimal{}, false
	}
	return canonical(sum), true
}
