package money

import (
	"bytes"
	"math"
	"math/big"
	"math/bits"
	"strconv"
)

// Ratio is an exact rational number: a price per millilitre, a yield, a share.
// The zero Ratio is 0. Ratios whose reduced parts fit 64 bits cost no heap
// allocation; beyond that the arithmetic goes on in [big.Rat] and gives the
// same answers. What has no value (x ÷ 0, the ratio of NaN) is undefined, and
// so is all that is computed from it.
type Ratio struct {
	num, den int64    // reduced, den > 0; den 0 means the zero Ratio
	big      *big.Rat // set only when the reduced parts do not fit
}

const noValue = -1 // den of the undefined Ratio

var undefined = Ratio{den: noValue}

// NewRatio returns num ÷ den, undefined when den is 0.
func NewRatio(num, den int64) Ratio {
	if den == 0 {
		return undefined
	}
	return quotient((num < 0) != (den < 0), magnitude(num), magnitude(den))
}

// RatioOf returns the number that f's shortest decimal spells: 0.1 is one
// tenth. It is undefined for NaN and the infinities.
func RatioOf(f float64) Ratio {
	// A whole number of millionths with at most 15 digits is the shortest
	// decimal of the float64 next to it: a float64 keeps every decimal of 15
	// digits apart (IEEE 754, DBL_DIG = 15).
	if m := math.Round(f * 1e6); math.Abs(m) <= 1e15 && m/1e6 == f {
		return tenths(int64(m), 6)
	}
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return undefined
	}
	return shortest(f)
}

// tenths returns n·10^−k for k ≤ 18, reduced by twos and fives alone.
func tenths(n int64, k int) Ratio {
	if n == 0 {
		return Ratio{den: 1}
	}
	fives, twos := k, k
	for ; fives > 0 && n%5 == 0; fives-- {
		n /= 5
	}
	cut := min(twos, bits.TrailingZeros64(uint64(n)))
	return Ratio{num: n >> cut, den: pow5[fives] << (twos - cut)}
}

var pow5 = func() (p [19]int64) {
	p[0] = 1
	for i := 1; i < len(p); i++ {
		p[i] = 5 * p[i-1]
	}
	return p
}()

// shortest reads the shortest decimal of a finite f from its text, which has at
// most 17 digits: d.ddde±xx.
func shortest(f float64) Ratio {
	var buf [32]byte
	text := strconv.AppendFloat(buf[:0], f, 'e', -1, 64)
	n, places := int64(0), 0
	mantissa, exponent, _ := bytes.Cut(text, []byte("e"))
	for i, c := range mantissa {
		switch {
		case c >= '0' && c <= '9':
			n = 10*n + int64(c-'0')
		case c == '.':
			places = len(mantissa) - 1 - i
		}
	}
	if exp, err := strconv.Atoi(string(exponent)); err == nil && places-exp >= 0 && places-exp < len(pow5) {
		return tenths(signed(f < 0, uint64(n)), places-exp)
	}
	r, _ := new(big.Rat).SetString(string(text)) // a finite float's text is always a number
	return shrunk(r)
}

// Ratio returns d as a rational.
func (d Decimal) Ratio() Ratio {
	neg, hi, lo, prec, ok := d.d.ToHiLo()
	if ok && hi == 0 && lo <= math.MaxInt64 && prec < uint8(len(pow5)) {
		n := int64(lo)
		if neg {
			n = -n
		}
		return tenths(n, int(prec))
	}
	r, _ := new(big.Rat).SetString(d.String())
	return shrunk(r)
}

// Ratio returns the number of a as a rational.
func (a Amount) Ratio() Ratio { return a.Number.Ratio() }

// shrunk returns r in 64 bits where it fits, so that a number has one form.
func shrunk(r *big.Rat) Ratio {
	if n, d := r.Num(), r.Denom(); n.IsInt64() && d.IsInt64() && n.Int64() != math.MinInt64 {
		return Ratio{num: n.Int64(), den: d.Int64()}
	}
	return Ratio{big: r}
}

// quotient returns ±n/d, d > 0, reduced.
func quotient(neg bool, n, d uint64) Ratio {
	g := gcd(n, d)
	return whole(neg, n/g, d/g)
}

// whole returns ±n/d of reduced parts.
func whole(neg bool, n, d uint64) Ratio {
	if n > math.MaxInt64 || d > math.MaxInt64 {
		r := new(big.Rat).SetFrac(new(big.Int).SetUint64(n), new(big.Int).SetUint64(d))
		if neg {
			r.Neg(r)
		}
		return Ratio{big: r}
	}
	if neg {
		return Ratio{num: -int64(n), den: int64(d)}
	}
	return Ratio{num: int64(n), den: int64(d)}
}

// small returns the parts when they fit 64 bits.
func (r Ratio) small() (num, den int64, ok bool) {
	if r.den == 0 {
		return 0, 1, r.big == nil
	}
	return r.num, r.den, r.den > 0
}

// Defined reports whether r has a value.
func (r Ratio) Defined() bool { return r.den != noValue }

// Rat returns r as a [big.Rat] of its own; 0 when undefined.
func (r Ratio) Rat() *big.Rat {
	if r.big != nil {
		return new(big.Rat).Set(r.big)
	}
	if n, d, ok := r.small(); ok {
		return big.NewRat(n, d)
	}
	return new(big.Rat)
}

// Sign returns −1, 0 or +1; 0 when undefined.
func (r Ratio) Sign() int {
	if r.big != nil {
		return r.big.Sign()
	}
	switch n, _, _ := r.small(); {
	case n < 0:
		return -1
	case n > 0 && r.Defined():
		return 1
	}
	return 0
}

// IsZero reports whether r is 0.
func (r Ratio) IsZero() bool { return r.Defined() && r.Sign() == 0 }

// Neg returns −r.
func (r Ratio) Neg() Ratio {
	if r.big != nil {
		return Ratio{big: new(big.Rat).Neg(r.big)}
	}
	return Ratio{num: -r.num, den: r.den}
}

// Times returns r · s.
func (r Ratio) Times(s Ratio) Ratio {
	a, b, ok1 := r.small()
	c, d, ok2 := s.small()
	if ok1 && ok2 {
		g, h := gcd(magnitude(a), uint64(d)), gcd(magnitude(c), uint64(b))
		hi, n := bits.Mul64(magnitude(a)/g, magnitude(c)/h)
		hj, m := bits.Mul64(uint64(b)/h, uint64(d)/g)
		if hi|hj == 0 {
			return whole((a < 0) != (c < 0), n, m)
		}
	}
	return inBig(r, s, (*big.Rat).Mul)
}

// Over returns r ÷ s, undefined when s is 0.
func (r Ratio) Over(s Ratio) Ratio {
	if s.Sign() == 0 {
		return undefined
	}
	return r.Times(s.inverse())
}

// inverse returns 1 ÷ r for r ≠ 0.
func (r Ratio) inverse() Ratio {
	if r.big != nil {
		return shrunk(new(big.Rat).Inv(r.big))
	}
	if r.num < 0 {
		return Ratio{num: -r.den, den: -r.num}
	}
	return Ratio{num: r.den, den: r.num}
}

// Plus returns r + s.
func (r Ratio) Plus(s Ratio) Ratio {
	a, b, ok1 := r.small()
	c, d, ok2 := s.small()
	if !ok1 || !ok2 {
		return inBig(r, s, (*big.Rat).Add)
	}
	g := gcd(uint64(b), uint64(d))
	h1, left := bits.Mul64(magnitude(a), uint64(d)/g)
	h2, right := bits.Mul64(magnitude(c), uint64(b)/g)
	h3, den := bits.Mul64(uint64(b), uint64(d)/g)
	if h1|h2|h3 != 0 || left > math.MaxInt64 || right > math.MaxInt64 {
		return inBig(r, s, (*big.Rat).Add)
	}
	n := signed(a < 0, left) + signed(c < 0, right) // may leave int64: caught below
	if a < 0 == (c < 0) && left+right > math.MaxInt64 {
		return inBig(r, s, (*big.Rat).Add)
	}
	return quotient(n < 0, magnitude(n), den)
}

// Minus returns r − s.
func (r Ratio) Minus(s Ratio) Ratio { return r.Plus(s.Neg()) }

// Cmp returns −1, 0 or +1 as r is below, equal to or above s. Both must be
// defined.
func (r Ratio) Cmp(s Ratio) int { return r.Minus(s).Sign() }

// Float returns the nearest float64, NaN when undefined.
func (r Ratio) Float() float64 {
	if !r.Defined() {
		return math.NaN()
	}
	if n, d, ok := r.small(); ok && magnitude(n) <= 1<<53 && d <= 1<<53 {
		return float64(n) / float64(d) // both exact, so rounded once
	}
	f, _ := r.Rat().Float64()
	return f
}

// String returns the exact number, such as "23/700".
func (r Ratio) String() string {
	if !r.Defined() {
		return "undefined"
	}
	return r.Rat().RatString()
}

// inBig does what 64 bits could not.
func inBig(r, s Ratio, op func(z, x, y *big.Rat) *big.Rat) Ratio {
	if !r.Defined() || !s.Defined() {
		return undefined
	}
	return shrunk(op(new(big.Rat), r.Rat(), s.Rat()))
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

func signed(neg bool, u uint64) int64 {
	if neg {
		return -int64(u)
	}
	return int64(u)
}

// gcd returns the greatest common divisor of a and b > 0 by Stein's binary
// algorithm (J. Stein, 1967): shifts and subtractions, no division.
func gcd(a, b uint64) uint64 {
	if a == 0 {
		return b
	}
	shift := bits.TrailingZeros64(a | b)
	a >>= bits.TrailingZeros64(a)
	for b != 0 {
		b >>= bits.TrailingZeros64(b)
		if a > b {
			a, b = b, a
		}
		b -= a
	}
	return a << shift
}
