package money_test

import (
	"math"
	"math/big"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/money"
)

// parts draws numerators and denominators of every size that could trip the
// 64-bit arithmetic.
func parts() *rapid.Generator[int64] {
	return rapid.OneOf(
		rapid.Int64Range(-1000, 1000),
		rapid.Int64(),
		rapid.SampledFrom([]int64{0, 1, -1, math.MaxInt64, math.MinInt64, math.MaxInt64 - 1, 1 << 32, 1<<32 + 1, 1e18, 473176473, 1e6, 16e6}),
	)
}

// ratios draws a Ratio and the same number as a big.Rat.
func ratios(t *rapid.T, name string) (money.Ratio, *big.Rat) {
	n, d := parts().Draw(t, name+" num"), parts().Draw(t, name+" den")
	if d == 0 {
		d = 1
	}
	return money.NewRatio(n, d), new(big.Rat).SetFrac(big.NewInt(n), big.NewInt(d))
}

// TestRatioIsBigRat: every operation gives the number that math/big gives,
// whichever path it took, three operations deep.
func TestRatioIsBigRat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, x := ratios(t, "r")
		for range 3 {
			s, y := ratios(t, "s")
			if r.Cmp(s) != x.Cmp(y) {
				t.Fatalf("Cmp(%s, %s) = %d, want %d", r, s, r.Cmp(s), x.Cmp(y))
			}
			was := r.String()
			switch op := rapid.IntRange(0, 3).Draw(t, "op"); {
			case op == 0:
				r, x = r.Plus(s), x.Add(x, y)
			case op == 1:
				r, x = r.Minus(s), x.Sub(x, y)
			case op == 2:
				r, x = r.Times(s), x.Mul(x, y)
			case y.Sign() == 0:
				if r.Over(s).Defined() {
					t.Fatalf("%s ÷ 0 is defined", r)
				}
				continue
			default:
				r, x = r.Over(s), x.Quo(x, y)
			}
			if r.Rat().Cmp(x) != 0 || r.String() != x.RatString() {
				t.Fatalf("%s and %s: got %s, want %s", was, s, r, x.RatString())
			}
			if r.Sign() != x.Sign() || r.IsZero() != (x.Sign() == 0) || r.Neg().Rat().Cmp(new(big.Rat).Neg(x)) != 0 {
				t.Fatalf("%s: Sign %d, IsZero %t, Neg %s", r, r.Sign(), r.IsZero(), r.Neg())
			}
			if f, _ := x.Float64(); r.Float() != f {
				t.Fatalf("%s as a float is %v, want %v", r, r.Float(), f)
			}
		}
	})
}

// TestRatioRounds: rounding and quantising are those of exact arithmetic.
func TestRatioRounds(t *testing.T) {
	limit := big.NewRat(1e15, 1)
	rapid.Check(t, func(t *rapid.T) {
		r, x := ratios(t, "r")
		if rapid.Bool().Draw(t, "deeper") {
			s, y := ratios(t, "s")
			r, x = r.Times(s), x.Mul(x, y)
		}
		places := rapid.IntRange(0, 19).Draw(t, "places")
		want := rounded(x, places, true)
		d, err := r.Rounded(places)
		if new(big.Rat).Abs(want).Cmp(limit) >= 0 {
			if code(err) != "MONEY_RANGE" {
				t.Fatalf("%s rounds to %s, %v; want MONEY_RANGE", r, d, err)
			}
			return
		}
		if err != nil || d.Ratio().Rat().Cmp(want) != 0 {
			t.Fatalf("%s.Rounded(%d) = %s, %v; want %s", r, places, d, err, want.RatString())
		}
		a, err := r.Amount("EUR")
		if err != nil || a.Ratio().Rat().Cmp(rounded(x, 6, true)) != 0 {
			t.Fatalf("%s.Amount = %s, %v", r, a, err)
		}
	})
}

// TestTies: quantising at the edge of a millionth, and one step on either side
// of it.
func TestTies(t *testing.T) {
	tests := []struct {
		num, den int64
		want     string
	}{
		{1, 2_000_000, "0.00"}, {3, 2_000_000, "0.000002"}, {5, 2_000_000, "0.000002"}, {-3, 2_000_000, "-0.000002"},
		{500_000_000_000_001, 1_000_000_000_000_000_000, "0.0005"}, {1_500_000_000_001, 1_000_000_000_000_000_000, "0.000002"},
		{1_499_999_999_999, 1_000_000_000_000_000_000, "0.000001"}, {23, 700, "0.032857"},
	}
	for _, tt := range tests {
		got, err := money.NewRatio(tt.num, tt.den).Amount("EUR")
		if err != nil || got.String() != tt.want {
			t.Errorf("%d/%d = %s, %v; want %s", tt.num, tt.den, got, err, tt.want)
		}
	}
}

// TestRatioOf: a float stands for its shortest decimal, as strconv prints it.
func TestRatioOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.OneOf(
			rapid.Float64(),
			rapid.Map(rapid.Int64Range(-1e15, 1e15), func(n int64) float64 { return float64(n) / 1e6 }),
			rapid.Map(rapid.Int64Range(0, 1e6), func(n int64) float64 { return float64(n) / 100 }),
			rapid.SampledFrom([]float64{0.1, 1.005, 29.5735295625, 28.4130625, 453.59237, 0.92, 1e9, 1e-7, math.MaxFloat64, math.SmallestNonzeroFloat64, 0, math.Copysign(0, -1)}),
		).Draw(t, "f")
		want, ok := new(big.Rat).SetString(strconv.FormatFloat(f, 'e', -1, 64))
		if !ok {
			t.Fatalf("no number: %v", f)
		}
		if got := money.RatioOf(f); got.Rat().Cmp(want) != 0 {
			t.Fatalf("RatioOf(%v) = %s, want %s", f, got, want.RatString())
		}
	})
}

// TestUndefined: what has no value stays without one and never becomes money.
func TestUndefined(t *testing.T) {
	one := money.NewRatio(1, 1)
	for name, r := range map[string]money.Ratio{
		"1/0": money.NewRatio(1, 0), "NaN": money.RatioOf(math.NaN()), "Inf": money.RatioOf(math.Inf(1)), "-Inf": money.RatioOf(math.Inf(-1)),
		"x/0": one.Over(money.Ratio{}), "plus": one.Plus(money.NewRatio(1, 0)), "times": money.NewRatio(1, 0).Times(one),
		"over": money.NewRatio(1, 0).Over(one), "into": one.Over(money.NewRatio(1, 0)), "minus": one.Minus(money.NewRatio(1, 0)), "neg": money.NewRatio(1, 0).Neg(),
	} {
		_, err := r.Amount("EUR")
		if r.Defined() || r.Sign() != 0 || r.IsZero() || !math.IsNaN(r.Float()) || code(err) != "MONEY_RANGE" || r.String() != "undefined" {
			t.Errorf("%s: defined %t, sign %d, float %v, amount error %v", name, r.Defined(), r.Sign(), r.Float(), err)
		}
		if _, ok := r.Charge(one, one); ok {
			t.Errorf("%s charges", name)
		}
	}
	var zero money.Ratio
	if !zero.Defined() || !zero.IsZero() || zero.String() != "0" || zero.Plus(one).Cmp(one) != 0 || !zero.Times(one).IsZero() {
		t.Errorf("the zero Ratio is %s", zero)
	}
}

// TestChargeIsAmount: the fast way gives what the exact way gives, and gives up
// rather than be wrong.
func TestChargeIsAmount(t *testing.T) {
	fast := 0
	rapid.Check(t, func(t *rapid.T) {
		price, p := ratios(t, "price")
		a, x := ratios(t, "amount")
		size, y := ratios(t, "size")
		micros, ok := price.Charge(a, size)
		if !ok {
			return
		}
		fast++
		want := rounded(p.Mul(p, x.Mul(x, y)), 6, true)
		if got := new(big.Rat).SetFrac64(micros, 1_000_000); got.Cmp(want) != 0 {
			t.Fatalf("%s × %s × %s = %d millionths, want %s", a, size, price, micros, want.RatString())
		}
	})
	if fast == 0 {
		t.Error("Charge never took the fast way")
	}
}

// TestFastPathsDoNotAllocate: what a menu of ten thousand specs does per line.
func TestFastPathsDoNotAllocate(t *testing.T) {
	price, oz := money.RatioOf(12.345678).Over(money.RatioOf(987.654321)), money.RatioOf(29.5735295625)
	sum := money.Amount{Currency: "EUR"}
	if n := testing.AllocsPerRun(100, func() {
		r := money.RatioOf(1.5)
		micros, ok := price.Charge(r, oz)
		if !ok {
			t.Fatal("an ounce of a house-made component does not fit the fast way")
		}
		sum, _ = sum.Plus(money.Micros(micros, "EUR"))
		_ = money.NewRatio(23, 700).Times(r).Plus(oz).Over(r)
	}); n != 0 {
		t.Errorf("%v heap allocations, want none", n)
	}
}

func BenchmarkRatio(b *testing.B) {
	r, s := money.NewRatio(12_345_678, 987_654_321), money.NewRatio(473_176_473, 16_000_000)
	one := money.RatioOf(1)
	b.Run("of a float", func(b *testing.B) {
		for b.Loop() {
			_ = money.RatioOf(22.5)
		}
	})
	b.Run("of a long float", func(b *testing.B) {
		for b.Loop() {
			_ = money.RatioOf(29.5735295625)
		}
	})
	b.Run("times", func(b *testing.B) {
		for b.Loop() {
			_ = r.Times(s)
		}
	})
	b.Run("plus", func(b *testing.B) {
		for b.Loop() {
			_ = r.Plus(s)
		}
	})
	b.Run("charge", func(b *testing.B) {
		for b.Loop() {
			_, _ = r.Charge(one, s)
		}
	})
	b.Run("amount", func(b *testing.B) {
		for b.Loop() {
			_, _ = r.Amount("EUR")
		}
	})
	b.Run("big.Rat times", func(b *testing.B) { // the yardstick
		x, y := r.Rat(), s.Rat()
		for b.Loop() {
			_ = new(big.Rat).Mul(x, y)
		}
	})
}

func BenchmarkPlus(b *testing.B) {
	x, y := money.Micros(1_478_571, "EUR"), money.Micros(655_646, "EUR")
	for b.Loop() {
		_, _ = x.Plus(y)
	}
}
