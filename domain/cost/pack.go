package cost

import (
	"strings"

	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// InForce returns the pack that counts on a date: of the packs whose valid-from
// date has come, the preferred one, else any; of several, the one that came
// into force last. Where two came into force on one day, the one with the
// greater id counts: ids are UUIDv7 and sort by when they were made, so what
// was written down last stands. It is nil when none is in force.
func InForce(packs []recipe.Pack, date measure.Date) *recipe.Pack {
	var best *recipe.Pack
	for i := range packs {
		p := &packs[i]
		if p.ValidFrom <= date && (best == nil || counts(p, best)) {
			best = p
		}
	}
	return best
}

// counts reports whether p comes before q, both in force.
func counts(p, q *recipe.Pack) bool {
	if p.Preferred != q.Preferred {
		return p.Preferred
	}
	if p.ValidFrom != q.ValidFrom {
		return p.ValidFrom > q.ValidFrom
	}
	return strings.Compare(string(p.ID), string(q.ID)) > 0
}

// next returns the date on which the first pack after date comes into force.
func next(packs []recipe.Pack, date measure.Date) (measure.Date, bool) {
	var first measure.Date
	for i := range packs {
		if from := packs[i].ValidFrom; from > date && (first == "" || from < first) {
			first = from
		}
	}
	return first, first != ""
}

// taxFactor is what a price of the given basis is divided by to be before tax:
//
//	1 + rate ÷ 100 for a tax-included price, 1 for the other
//
// The rate is the price's own, or the house's.
func (s *Sheet) taxFactor(basis recipe.TaxBasis, pct *money.Decimal) money.Ratio {
	if basis != recipe.TaxIncluded {
		return one
	}
	if pct == nil {
		pct = &s.book.House().TaxPct
	}
	return withTax(*pct)
}

// withTax returns 1 + pct ÷ 100.
func withTax(pct money.Decimal) money.Ratio { return one.Plus(percent(pct)) }

// percent returns pct ÷ 100.
func percent(pct money.Decimal) money.Ratio { return pct.Ratio().Over(money.NewRatio(100, 1)) }

// usable is the share of what is bought or made that can be poured:
//
//	1 − waste ÷ 100
//
// A unit that is poured costs a unit that is bought, divided by it (yield % of
// the costing textbooks: usable unit cost = bought unit cost ÷ yield fraction).
func usable(c *recipe.Component) money.Ratio {
	return one.Minus(money.RatioOf(c.WastePct).Over(money.NewRatio(100, 1)))
}
