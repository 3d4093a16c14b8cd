package money

import (
	"math/big"

	"servewright/domain"
)

// Shared splits a, rounded half up to its currency's minor units, by weights
// without losing a coin: each share is rounded down, and what is left is handed
// out one smallest unit at a time from the first share on (M. Fowler, Patterns
// of Enterprise Application Architecture, "Money"). Weights must be ≥ 0 with a
// sum above 0.
func (a Amount) Shared(weights ...int64) ([]Amount, error) {
	var sum int64
	for _, w := range weights {
		if sum += w; w < 0 || sum < 0 {
			return nil, domain.Errorf(domain.Invalid, "shares must be by weights of 0 or more, not %d", w)
		}
	}
	if sum == 0 {
		return nil, domain.Errorf(domain.Invalid, "shares need at least one weight above 0")
	}
	minor := a.Currency.MinorUnits()
	unit := NewRatio(1, 1).Over(tenths(1, minor)) // smallest units in one
	coins := a.RoundedHalfUp(minor).Ratio().Times(unit).Rat().Num()
	return shares(coins, weights, sum, unit, a.Currency)
}

// shares hands out coins, sign and all.
func shares(coins *big.Int, weights []int64, sum int64, unit Ratio, c Currency) ([]Amount, error) {
	out := make([]Amount, len(weights))
	parts := make([]*big.Int, len(weights))
	left := new(big.Int).Set(coins)
	for i, w := range weights {
		parts[i] = new(big.Int).Mul(coins, big.NewInt(w))
		parts[i].Quo(parts[i], big.NewInt(sum))
		left.Sub(left, parts[i])
	}
	one := big.NewInt(int64(left.Sign()))
	for i := range parts {
		if left.Sign() != 0 && weights[i] > 0 {
			parts[i].Add(parts[i], one)
			left.Sub(left, one)
		}
		share, err := shrunk(new(big.Rat).SetInt(parts[i])).Over(unit).Amount(c)
		if err != nil {
			return nil, err
		}
		out[i] = share
	}
	return out, nil
}

// InSteps returns a rounded half up to the nearest multiple of step, as cash
// is where the smallest coins are gone (Canada 0.05). step must be above 0.
func (a Amount) InSteps(step Decimal) (Amount, error) {
	if step.Sign() <= 0 {
		return Amount{}, domain.Errorf(domain.Invalid, "cash goes in steps above 0, such as 0.05, not %s", step)
	}
	x := a.Ratio().Over(step.Ratio()).Rat()
	n := new(big.Int).Abs(x.Num())
	n.Add(n.Lsh(n, 1), x.Denom()) // ⌊|x| + ½⌋
	n.Quo(n, new(big.Int).Lsh(x.Denom(), 1))
	if a.Sign() < 0 {
		n.Neg(n)
	}
	return shrunk(new(big.Rat).SetInt(n)).Times(step.Ratio()).Amount(a.Currency)
}
