package money

import (
	"servewright/domain"
)

// Amount is an exact amount of money in one currency. The zero Amount is
// nothing in no currency. Amounts with equal fields are equal under ==.
type Amount struct {
	Number   Decimal
	Currency Currency
}

// maxAmountDigits keeps what a person writes below a million million: more
// than any invoice of a bar, in any currency.
const maxAmountDigits = 12

// NewAmount reads an amount that a person or a document wrote: a plain decimal
// below a million million with at most 12 digits after the point. Its faults
// stand at /amount and /currency.
func NewAmount(number string, c Currency) (Amount, error) {
	var bad domain.Faults
	d, err := ParseDecimal(number)
	bad.Check("/amount", err)
	if whole, places, _ := plain(number); err == nil && (whole > maxAmountDigits || places > maxAmountDigits) {
		bad.Add("/amount", "MONEY_RANGE", "%s is too long for an amount of money; write at most %d digits before the point and %d after it",
			clip(number), maxAmountDigits, maxAmountDigits)
	}
	_, err = ParseCurrency(string(c))
	bad.Check("/currency", err)
	if err := bad.Err(); err != nil {
		return Amount{}, err
	}
	return Amount{d, c}, nil
}

// Micros returns n millionths of c. |n| ≤ 9.2·10¹⁸, which is within the limits.
func Micros(n int64, c Currency) Amount {
	u := uint64(n)
	if n < 0 {
		u = -u
	}
	return Amount{decimalOf(n < 0, 0, u, 6), c}
}

// String returns the exact number with at least the currency's minor units:
// "13.00", "2.134217". [NewAmount] reads it back.
func (a Amount) String() string {
	if minor := a.Currency.MinorUnits(); a.Number.d.Prec() < minor {
		return a.Number.d.StringFixed(uint8(minor))
	}
	return a.Number.String()
}

// StringFixed returns the number as a till shows it: rounded half up to the
// currency's minor units.
func (a Amount) StringFixed() string { return a.Number.StringFixed(a.Currency.MinorUnits()) }

// Text returns the exact amount for a person: "2.134217 EUR".
func (a Amount) Text() string { return a.String() + " " + string(a.Currency) }

// Sign returns −1, 0 or +1.
func (a Amount) Sign() int { return a.Number.Sign() }

// IsZero reports whether a is nothing.
func (a Amount) IsZero() bool { return a.Number.IsZero() }

// Neg returns −a.
func (a Amount) Neg() Amount { return Amount{a.Number.Neg(), a.Currency} }

// Plus returns a + b. Amounts of two currencies have no sum: the error is
// Invalid with code CURRENCY_MIX.
func (a Amount) Plus(b Amount) (Amount, error) {
	if err := same(a, b); err != nil {
		return Amount{}, err
	}
	n, ok := a.Number.plus(b.Number)
	if !ok {
		return Amount{}, tooLarge("the sum")
	}
	return Amount{n, a.Currency}, nil
}

// Minus returns a − b, under the rules of [Amount.Plus].
func (a Amount) Minus(b Amount) (Amount, error) { return a.Plus(b.Neg()) }

// Cmp returns −1, 0 or +1 as a is below, equal to or above b, under the rules
// of [Amount.Plus].
func (a Amount) Cmp(b Amount) (int, error) { return a.Number.Cmp(b.Number), same(a, b) }

// Rounded returns a rounded half to even to places digits after the point.
func (a Amount) Rounded(places int) Amount { return Amount{a.Number.Rounded(places), a.Currency} }

// RoundedHalfUp returns a rounded half away from zero, the commercial rule.
func (a Amount) RoundedHalfUp(places int) Amount {
	return Amount{a.Number.RoundedHalfUp(places), a.Currency}
}

func same(a, b Amount) error {
	if a.Currency == b.Currency {
		return nil
	}
	e := domain.Errorf(domain.Invalid, "%s and %s do not add up; write both in one currency", a.Currency, b.Currency)
	e.Code = "CURRENCY_MIX"
	return e
}

func tooLarge(what string) error {
	e := domain.Errorf(domain.Invalid, "%s is a million billion or more; check the amounts and sizes that go into it", what)
	e.Code = "MONEY_RANGE"
	return e
}
