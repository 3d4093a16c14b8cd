package money_test

import (
	"errors"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/money"
)

// dec reads a decimal that the test itself wrote.
func dec(t testing.TB, s string) money.Decimal {
	t.Helper()
	d, err := money.ParseDecimal(s)
	if err != nil {
		t.Fatalf("ParseDecimal(%q): %v", s, err)
	}
	return d
}

// amount reads an amount that the test itself wrote.
func amount(t testing.TB, s string, c money.Currency) money.Amount {
	t.Helper()
	a, err := money.NewAmount(s, c)
	if err != nil {
		t.Fatalf("NewAmount(%q, %s): %v", s, c, err)
	}
	return a
}

// code returns the stable code of a domain error, or that of its first fault.
func code(err error) string {
	var e *domain.Error
	if !errors.As(err, &e) {
		return ""
	}
	if e.Code == "" && len(e.Faults) > 0 {
		return e.Faults[0].Code
	}
	return e.Code
}

// decimals draws plain decimals as people write them.
func decimals() *rapid.Generator[string] {
	return rapid.StringMatching(`-?(0|[1-9][0-9]{0,11})(\.[0-9]{1,12})?`)
}

// rounded is the oracle: x rounded to places digits, half to even or half away
// from zero, by the textbook in big integers.
func rounded(x *big.Rat, places int, even bool) *big.Rat {
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	y := new(big.Rat).Mul(new(big.Rat).Abs(x), new(big.Rat).SetInt(scale))
	q, r := new(big.Int).QuoRem(y.Num(), y.Denom(), new(big.Int))
	twice := new(big.Int).Lsh(r, 1)
	if c := twice.Cmp(y.Denom()); c > 0 || c == 0 && (!even || q.Bit(0) == 1) {
		q.Add(q, big.NewInt(1))
	}
	if x.Sign() < 0 {
		q.Neg(q)
	}
	return new(big.Rat).SetFrac(q, scale)
}
