package money

import (
	"math"
	"math/big"
	"math/bits"
)

// Rounded returns r rounded half to even to places digits after the point, 0
// to 19. It fails with MONEY_RANGE when r is undefined or beyond the limits of
// a Decimal.
func (r Ratio) Rounded(places int) (Decimal, error) {
	k := place(places)
	if n, d, ok := r.small(); ok && k < uint8(len(pow5)) {
		hi, lo := bits.Mul64(magnitude(n), uint64(pow5[k])<<k)
		if q, ok := halfEven(hi, lo, uint64(d)); ok {
			return limited(decimalOf(n < 0, 0, q, k))
		}
	}
	if !r.Defined() {
		return Decimal{}, tooLarge("a ratio to nothing")
	}
	return r.roundedInBig(int(k))
}

// Amount returns r of c, quantised once to a millionth, half to even, under
// the rules of [Ratio.Rounded].
func (r Ratio) Amount(c Currency) (Amount, error) {
	d, err := r.Rounded(6)
	return Amount{d, c}, err
}

// Charge returns amount · size · r, r being a price, in millionths, quantised
// once, half to even, without a heap allocation: what [Ratio.Amount] makes of
// their product. It is not ok when that would need more than 128 bits or a part
// is undefined; the caller then goes the long way.
func (r Ratio) Charge(amount, size Ratio) (micros int64, ok bool) {
	pn, pd, ok1 := r.small()
	an, ad, ok2 := amount.small()
	sn, sd, ok3 := size.small()
	if !(ok1 && ok2 && ok3) {
		return 0, false
	}
	h1, den := bits.Mul64(uint64(ad), uint64(sd))
	h2, den := bits.Mul64(den, uint64(pd))
	h3, n := bits.Mul64(magnitude(an), magnitude(sn))
	h4, n := bits.Mul64(n, 1e6)
	hi, lo := bits.Mul64(n, magnitude(pn))
	if h1|h2|h3|h4 != 0 {
		return 0, false
	}
	q, ok := halfEven(hi, lo, den)
	return signed((an < 0) != (sn < 0) != (pn < 0), q), ok && q <= math.MaxInt64
}

// halfEven returns (hi·2⁶⁴ + lo) ÷ d rounded half to even, when it fits.
func halfEven(hi, lo, d uint64) (uint64, bool) {
	if hi >= d {
		return 0, false
	}
	q, r := bits.Div64(hi, lo, d)
	if half := d - r; r > half || r == half && q&1 == 1 {
		q++
		return q, q != 0
	}
	return q, true
}

// roundedInBig is Rounded for any size.
func (r Ratio) roundedInBig(places int) (Decimal, error) {
	x := r.Rat()
	n := new(big.Int).Mul(x.Num(), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil))
	q, rest := new(big.Int).QuoRem(n, x.Denom(), new(big.Int))
	twice := rest.Abs(rest).Lsh(rest, 1)
	if c := twice.Cmp(x.Denom()); c > 0 || c == 0 && q.Bit(0) == 1 {
		q.Add(q, big.NewInt(int64(x.Sign())))
	}
	if q.BitLen() > 128 {
		return Decimal{}, tooLarge("an amount")
	}
	var parts [16]byte
	q.FillBytes(parts[:])
	hi, lo := uint64(0), uint64(0)
	for i := range 8 {
		hi, lo = hi<<8|uint64(parts[i]), lo<<8|uint64(parts[8+i])
	}
	return limited(decimalOf(q.Sign() < 0, hi, lo, uint8(places)))
}

func limited(d Decimal) (Decimal, error) {
	if _, ok := d.plus(Decimal{}); !ok {
		return Decimal{}, tooLarge("an amount")
	}
	return d, nil
}
