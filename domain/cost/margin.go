package cost

import (
	"servewright/domain"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// Margin is what a price leaves over the goods. Everything is before tax.
// Percentages are the float64 nearest to the exact quotient of the two amounts
// shown, so that a person can check them against each other.
type Margin struct {
	BeforeTax   money.Amount // quantised to a millionth
	GrossProfit money.Amount // BeforeTax − goods, to the last digit
	// Pct reports whether there are percentages: a drink that is given away has
	// none.
	Pct            bool
	PourCostPct    float64 // goods ÷ BeforeTax × 100
	GrossProfitPct float64 // GrossProfit ÷ BeforeTax × 100
}

// TaxPct returns the tax rate of a guest's price in %: its own, or the house's;
// p may be nil.
func (s *Sheet) TaxPct(p *recipe.Price) money.Decimal {
	if p != nil && p.TaxPct != nil {
		return *p.TaxPct
	}
	return s.book.House().TaxPct
}

// BeforeTax returns a guest's price without tax, quantised to a millionth. The
// rate of a tax-included price is its own, or the house's.
func (s *Sheet) BeforeTax(p *recipe.Price) (money.Amount, error) {
	return p.Amount.Ratio().Over(s.taxFactor(p.Tax, p.TaxPct)).Amount(p.Amount.Currency)
}

// Margin returns what price p leaves over goods. It is Invalid, with code
// CURRENCY_MIX, when the two are in different currencies.
func (s *Sheet) Margin(p *recipe.Price, goods money.Amount) (Margin, error) {
	before, err := s.BeforeTax(p)
	if err != nil {
		return Margin{}, err
	}
	profit, err := before.Minus(goods)
	if err != nil {
		return Margin{}, err
	}
	m := Margin{BeforeTax: before, GrossProfit: profit}
	if before.Sign() > 0 {
		m.Pct = true
		m.PourCostPct = share(goods, before)
		m.GrossProfitPct = share(profit, before)
	}
	return m, nil
}

// share returns a ÷ b in percent.
func share(a, b money.Amount) float64 {
	return a.Ratio().Over(b.Ratio()).Times(money.NewRatio(100, 1)).Float()
}

// Target is the price at which the goods are a wanted share of it.
type Target struct {
	BeforeTax money.Amount // goods ÷ (target ÷ 100), quantised to a millionth
	WithTax   money.Amount // the same with tax added, quantised once
}

// PriceForTarget returns the price at which goods are targetPct % of the price
// before tax, and that price with taxPct % added:
//
//	before = goods ÷ (target ÷ 100); with = before × (1 + tax ÷ 100)
//
// The target must be above 0 and at most 100 %, the tax 0 or more.
func PriceForTarget(goods money.Amount, targetPct, taxPct money.Decimal) (Target, error) {
	var bad domain.Faults
	share := percent(targetPct)
	if share.Sign() <= 0 || share.Cmp(one) > 0 {
		bad.Add("/target_pour_cost_pct", "OUT_OF_RANGE", "a wanted pour cost must be above 0 and at most 100 %%, not %s", targetPct)
	}
	if taxPct.Sign() < 0 {
		bad.Add("/tax_pct", "OUT_OF_RANGE", "tax must be 0 %% or more, not %s", taxPct)
	}
	if err := bad.Err(); err != nil {
		return Target{}, err
	}
	exact := goods.Ratio().Over(share)
	before, err := exact.Amount(goods.Currency)
	if err != nil {
		return Target{}, err
	}
	with, err := exact.Times(withTax(taxPct)).Amount(goods.Currency)
	return Target{BeforeTax: before, WithTax: with}, err
}
