package money_test

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/money"
)

func TestNewAmountNamesEveryFault(t *testing.T) {
	tests := []struct {
		number   string
		currency money.Currency
		want     []domain.Fault // pointer and code
	}{
		{"1e3", "EUR", []domain.Fault{{Pointer: "/amount", Code: "BAD_DECIMAL"}}},
		{"1", "eur", []domain.Fault{{Pointer: "/currency", Code: "BAD_CURRENCY"}}},
		{"NaN", "XAU", []domain.Fault{{Pointer: "/amount", Code: "BAD_DECIMAL"}, {Pointer: "/currency", Code: "BAD_CURRENCY"}}},
		{"1000000000000", "EUR", []domain.Fault{{Pointer: "/amount", Code: "MONEY_RANGE"}}},
		{"0.0000000000001", "EUR", []domain.Fault{{Pointer: "/amount", Code: "MONEY_RANGE"}}},
	}
	for _, tt := range tests {
		a, err := money.NewAmount(tt.number, tt.currency)
		var e *domain.Error
		if !errors.As(err, &e) || !errors.Is(err, domain.Invalid) || len(e.Faults) != len(tt.want) || a != (money.Amount{}) {
			t.Errorf("NewAmount(%q, %q) = %v, %v", tt.number, tt.currency, a, err)
			continue
		}
		for i, f := range e.Faults {
			if f.Pointer != tt.want[i].Pointer || f.Code != tt.want[i].Code || f.Detail == "" {
				t.Errorf("NewAmount(%q, %q) fault %d = %+v, want %+v", tt.number, tt.currency, i, f, tt.want[i])
			}
		}
	}
}

func TestAmountPrints(t *testing.T) {
	tests := []struct {
		number             string
		currency           money.Currency
		exact, fixed, text string
	}{
		{"13", "EUR", "13.00", "13.00", "13.00 EUR"},
		{"2.134217", "EUR", "2.134217", "2.13", "2.134217 EUR"},
		{"2.1", "EUR", "2.10", "2.10", "2.10 EUR"},
		{"0.005", "GBP", "0.005", "0.01", "0.005 GBP"},
		{"1350", "JPY", "1350", "1350", "1350 JPY"},
		{"0.5", "JPY", "0.5", "1", "0.5 JPY"},
		{"1.2", "KWD", "1.200", "1.200", "1.200 KWD"},
		{"-4.5", "USD", "-4.50", "-4.50", "-4.50 USD"},
		{"0", "CLF", "0.0000", "0.0000", "0.0000 CLF"},
	}
	for _, tt := range tests {
		a := amount(t, tt.number, tt.currency)
		if a.String() != tt.exact || a.StringFixed() != tt.fixed || a.Text() != tt.text {
			t.Errorf("%s %s prints %q, %q, %q; want %q, %q, %q", tt.number, tt.currency, a, a.StringFixed(), a.Text(), tt.exact, tt.fixed, tt.text)
		}
	}
}

// TestAmountLaws: sums are exact, take back what they add, read back what they
// print, and never mix currencies.
func TestAmountLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]money.Currency{"EUR", "JPY", "KWD"}).Draw(t, "currency")
		s, u := decimals().Draw(t, "s"), decimals().Draw(t, "u")
		a, err1 := money.NewAmount(s, c)
		b, err2 := money.NewAmount(u, c)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		sum, err := a.Plus(b)
		x, y := a.Ratio().Rat(), b.Ratio().Rat()
		if err != nil || sum.Ratio().Rat().Cmp(x.Add(x, y)) != 0 {
			t.Fatalf("%s + %s = %s, %v", s, u, sum, err)
		}
		if back, err := sum.Minus(b); err != nil || back != a {
			t.Fatalf("%s + %s − %s = %s, %v", s, u, u, back, err)
		}
		if other, _ := b.Plus(a); other != sum {
			t.Fatalf("%s + %s depends on the order", s, u)
		}
		if read, err := money.NewAmount(a.String(), c); err != nil || read != a {
			t.Fatalf("%s prints %q and reads back %s, %v", s, a, read, err)
		}
		if cmp, err := a.Cmp(b); err != nil || cmp != a.Number.Cmp(b.Number) {
			t.Fatalf("%s against %s: %d, %v", s, u, cmp, err)
		}
	})
}

func TestCurrenciesDoNotMix(t *testing.T) {
	a, b := amount(t, "1", "EUR"), amount(t, "1", "USD")
	_, plus := a.Plus(b)
	_, minus := a.Minus(b)
	_, cmp := a.Cmp(b)
	for _, err := range []error{plus, minus, cmp} {
		if !errors.Is(err, domain.Invalid) || code(err) != "CURRENCY_MIX" {
			t.Errorf("EUR with USD: %v, want Invalid CURRENCY_MIX", err)
		}
	}
}

func TestSumsHaveALimit(t *testing.T) {
	a := money.Micros(math.MaxInt64, "EUR") // 9.2 million million
	sum, err := a, error(nil)
	steps := 0
	for ; err == nil && steps < 1000; steps++ {
		sum, err = sum.Plus(a)
	}
	if code(err) != "MONEY_RANGE" || steps < 100 {
		t.Errorf("after %d sums: %v, want MONEY_RANGE below a million billion", steps, err)
	}
}

func TestMicros(t *testing.T) {
	for _, n := range []int64{0, 1, -1, 1_478_571, 10_000_000, -2_500_000, math.MaxInt64, math.MinInt64} {
		a := money.Micros(n, "EUR")
		want := new(big.Rat).SetFrac64(n, 1_000_000)
		if a.Ratio().Rat().Cmp(want) != 0 || a.Sign() != want.Sign() {
			t.Errorf("Micros(%d) = %s", n, a)
		}
	}
}

// TestCashCanada: worked example G23 (Canada Budget 2012, rounding page).
func TestCashCanada(t *testing.T) {
	sum, err := amount(t, "1.83", "CAD").Plus(amount(t, "2.86", "CAD"))
	if err != nil {
		t.Fatal(err)
	}
	withTax, err := sum.Ratio().Times(dec(t, "1.05").Ratio()).Amount("CAD")
	if err != nil || withTax.StringFixed() != "4.92" {
		t.Errorf("(1.83 + 2.86) × 1.05 = %s, %v; published 4.92", withTax.StringFixed(), err)
	}
	cash, err := withTax.RoundedHalfUp(2).InSteps(dec(t, "0.05"))
	if err != nil || cash.StringFixed() != "4.90" {
		t.Errorf("in cash %s, %v; published 4.90", cash.StringFixed(), err)
	}
}

// TestInStepsCanada: "1, 2 down; 3, 4 up to 5; 6, 7 down to 5; 8, 9 up" (Canada
// Budget 2012, cash rounding).
func TestInStepsCanada(t *testing.T) {
	for in, want := range map[string]string{
		"1.00": "1.00", "1.01": "1.00", "1.02": "1.00", "1.03": "1.05", "1.04": "1.05", "1.05": "1.05",
		"1.06": "1.05", "1.07": "1.05", "1.08": "1.10", "1.09": "1.10", "-1.03": "-1.05", "1.025": "1.05",
	} {
		got, err := amount(t, in, "CAD").InSteps(dec(t, "0.05"))
		if err != nil || got.StringFixed() != want {
			t.Errorf("%s in steps of 0.05 = %s, %v; want %s", in, got.StringFixed(), err, want)
		}
	}
	if _, err := amount(t, "1", "CAD").InSteps(dec(t, "0")); !errors.Is(err, domain.Invalid) {
		t.Errorf("steps of 0: %v, want Invalid", err)
	}
}

// TestSharedFowler: worked example G24 (M. Fowler, Patterns of Enterprise
// Application Architecture, "Money": 5 cents by 70:30).
func TestSharedFowler(t *testing.T) {
	shares, err := amount(t, "0.05", "USD").Shared(70, 30)
	if err != nil || len(shares) != 2 || shares[0].StringFixed() != "0.04" || shares[1].StringFixed() != "0.01" {
		t.Errorf("0.05 by 70:30 = %v, %v; published 0.04 and 0.01", shares, err)
	}
}

// TestSharedLosesNothing: shares always sum to the whole. Rounding down takes
// less than a coin and the remainder gives back at most one, so no share is off
// by more than a coin.
func TestSharedLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]money.Currency{"EUR", "JPY", "KWD"}).Draw(t, "currency")
		a, err := money.NewAmount(decimals().Draw(t, "a"), c)
		weights := rapid.SliceOfN(rapid.Int64Range(0, 1000), 1, 8).Draw(t, "weights")
		weights[0]++ // at least one above 0
		shares, err2 := a.Shared(weights...)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		sum, total := money.Amount{Currency: c}, int64(0)
		for i, s := range shares {
			total += weights[i]
			if sum, err = sum.Plus(s); err != nil {
				t.Fatal(err)
			}
		}
		whole := a.RoundedHalfUp(c.MinorUnits())
		if sum != whole {
			t.Fatalf("%s by %v = %v, which sums to %s", whole, weights, shares, sum)
		}
		coin := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(c.MinorUnits())), nil))
		for i, s := range shares {
			fair := new(big.Rat).Mul(whole.Ratio().Rat(), big.NewRat(weights[i], total))
			if off := fair.Sub(fair, s.Ratio().Rat()); off.Abs(off).Cmp(coin) > 0 {
				t.Fatalf("share %d of %s by %v is %s, off by more than a coin", i, whole, weights, s)
			}
		}
	})
}

func TestSharedRefuses(t *testing.T) {
	for _, weights := range [][]int64{{}, {0, 0}, {1, -1}, {math.MaxInt64, math.MaxInt64}} {
		if got, err := amount(t, "1", "EUR").Shared(weights...); !errors.Is(err, domain.Invalid) {
			t.Errorf("Shared(%v) = %v, %v; want Invalid", weights, got, err)
		}
	}
}
