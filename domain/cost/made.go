package cost

import (
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// workMade prices a house-made component by its batch:
//
//	total ÷ yield ÷ (1 − waste)
//
// The total is the sum of quantised lines. The yield, measured or computed, is
// rounded to a millionth of a mL or g, and the quotient stays exact until the
// next line is quantised.
func (l *ledger) workMade(r recipe.Ref, c *recipe.Component, p *price) []Missing {
	total, missing := l.batch(r, c)
	if len(missing) > 0 {
		return missing
	}
	in := l.sheet.book.Contents(r)
	cost, keep := total.Ratio(), usable(c)
	byVolume := p.set(measure.OfVolume, cost.Over(yield(float64(in.YieldML))).Over(keep))
	byMass := p.set(measure.OfMass, cost.Over(yield(float64(in.YieldG))).Over(keep))
	switch {
	case byVolume || byMass:
		return nil
	case in.YieldML > 0 || in.YieldG > 0:
		return lack(c, "a batch costs %s, more than can be counted for what it yields; check its amounts and its yield", total.Text())
	}
	return lack(c, "what its batch yields is not known; measure the yield and write it down (recipe.yield.measured)")
}

// yield rounds a yield to a millionth; undefined when nothing is left.
func yield(v float64) money.Ratio {
	d, err := money.RatioOf(v).Rounded(6)
	if err != nil || d.Sign() <= 0 {
		return money.NewRatio(1, 0)
	}
	return d.Ratio()
}

// batch returns what one batch of c costs, or all that is missing.
func (l *ledger) batch(r recipe.Ref, c *recipe.Component) (money.Amount, []Missing) {
	var missing []Missing
	sum := l.sheet.nothing()
	add := func(a money.Amount, lacking []Missing) {
		next, err := sum.Plus(a)
		switch {
		case len(lacking) > 0:
			missing = unique(missing, below(c.Name, lacking))
		case err != nil:
			missing = unique(missing, lack(c, "%v", err))
		default:
			sum = next
		}
	}
	if c.Recipe == nil {
		return sum, lack(c, "it is house-made and has no recipe; write one")
	}
	parts := l.sheet.book.Parts(r)
	for i := range c.Recipe.Lines {
		add(l.cost(c.Recipe.Lines[i].Amount, parts[i]))
	}
	if !l.whole {
		return sum, missing
	}
	for i := range c.Recipe.Packaging {
		if part, ok := l.sheet.book.Find(c.Recipe.Packaging[i].Component); ok {
			add(l.cost(c.Recipe.Packaging[i].Amount, part))
		} else {
			add(l.sheet.nothing(), gone(&c.Recipe.Packaging[i]))
		}
	}
	for _, w := range l.sheet.work(c) {
		if w.cost != nil {
			add(*w.cost, nil)
		} else {
			missing = unique(missing, lack(c, "%s", w.reason))
		}
	}
	return sum, missing
}

// effort is labour or energy of one batch.
type effort struct {
	cost   *money.Amount // nil when the house has not said what it costs
	text   string
	reason string
}

// work returns the labour and the energy of one batch of c. What is not used
// costs nothing, whatever its rate.
func (s *Sheet) work(c *recipe.Component) [2]effort {
	h := s.book.House()
	minutes, kwh := c.Recipe.LabourMin, c.Recipe.EnergyKWh
	return [2]effort{
		s.effort(minutes, "min", money.NewRatio(60, 1), h.LabourPerHour, "h", "labour", "labour_per_hour"),
		s.effort(kwh, "kWh", one, h.EnergyPerKWh, "kWh", "energy", "energy_per_kwh"),
	}
}

// effort returns amount ÷ per × rate, quantised as a line.
func (s *Sheet) effort(amount float64, unit string, per money.Ratio, rate *money.Amount, perUnit, what, field string) effort {
	used := money.RatioOf(amount)
	switch {
	case used.IsZero():
		zero := s.nothing()
		return effort{cost: &zero}
	case rate == nil || rate.Currency != s.currency:
		return effort{reason: "it takes " + number(amount) + " " + unit + " of " + what +
			" and the house has not said what that costs; set the house's " + field + " in " + string(s.currency)}
	}
	cost, err := used.Over(per).Times(rate.Ratio()).Amount(s.currency)
	if err != nil {
		return effort{reason: "its " + what + " cannot be counted: " + err.Error()}
	}
	text := number(amount) + " " + unit + " × " + rate.Text() + "/" + perUnit + " = " + cost.Text()
	return effort{cost: &cost, text: text}
}
