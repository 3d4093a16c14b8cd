package money

import (
	"github.com/quagmt/udecimal"

	"servewright/domain"
)

// Currency is an ISO 4217 alphabetic code.
type Currency string

// Decimal is an exact decimal with at most 19 digits after the point: a tax
// rate, a percentage, the number of an [Amount].
type Decimal struct{ d udecimal.Decimal }

// ParseDecimal reads a plain decimal such as "12.50"; no exponent, no spaces.
func ParseDecimal(s string) (Decimal, error) {
	d, err := udecimal.Parse(s)
	if err != nil {
		e := domain.Errorf(domain.Invalid, "%q is not a plain decimal such as \"12.50\"", s)
		e.Code = "BAD_DECIMAL"
		return Decimal{}, e
	}
	return Decimal{d}, nil
}

// String returns the decimal without trailing zeros.
func (d Decimal) String() string { return d.d.String() }

// Amount is an exact amount of money in one currency.
type Amount struct {
	Number   Decimal
	Currency Currency
}
