package cost

import (
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// Batch is what a component costs: one batch of a house-made one, and the price
// of a litre, a kilogram and a piece of any. Prices are exact and nil when
// unknown.
type Batch struct {
	Component recipe.ID
	Name      string
	Pack      *recipe.Pack // bought: the pack that counts; nil when none is in force

	// Total is one batch of a house-made component; of a bought one it holds
	// only what is missing.
	Total Total

	PerL, PerKg, PerPiece             *money.Ratio // goods
	FullPerL, FullPerKg, FullPerPiece *money.Ratio // with labour, energy and packaging

	Labour, Energy         *money.Amount // of one batch; nil when the house has not said the rate
	LabourText, EnergyText string        // arithmetic; empty when none is used
	Packaging              []Line        // counted in full cost only
}

// Batch returns what component r costs, line by line.
func (s *Sheet) Batch(r recipe.Ref) *Batch {
	c := s.book.Component(r)
	b := &Batch{Component: c.ID, Name: c.Name}
	if c.Kind == recipe.HouseMade && c.Recipe != nil {
		s.fillMade(b, r, c)
	} else {
		b.Pack = InForce(c.Packs, s.date)
		b.Total = Total{Subtotal: s.nothing(), Missing: s.goods.of(r).missing}
	}
	b.PerL, b.FullPerL = s.goods.perMany(r, measure.OfVolume), s.full.perMany(r, measure.OfVolume)
	b.PerKg, b.FullPerKg = s.goods.perMany(r, measure.OfMass), s.full.perMany(r, measure.OfMass)
	b.PerPiece, b.FullPerPiece = s.goods.perMany(r, measure.OfPieces), s.full.perMany(r, measure.OfPieces)
	return b
}

func (s *Sheet) fillMade(b *Batch, r recipe.Ref, c *recipe.Component) {
	b.Total = s.goods.lines(c.Recipe.Lines, s.book.Parts(r))
	b.Total.Missing = below(c.Name, b.Total.Missing)
	sum, missing := s.full.batch(r, c)
	b.Total.setFull(sum, missing)
	refs := make([]recipe.Ref, len(c.Recipe.Packaging))
	for i := range c.Recipe.Packaging {
		refs[i] = none
		if part, ok := s.book.Find(c.Recipe.Packaging[i].Component); ok {
			refs[i] = part
		}
	}
	b.Packaging = s.full.lines(c.Recipe.Packaging, refs).Lines
	work := s.work(c)
	b.Labour, b.LabourText = work[0].cost, work[0].text
	b.Energy, b.EnergyText = work[1].cost, work[1].text
}

// perMany returns the price of a litre, a kilogram or a piece; nil when it is
// unknown.
func (l *ledger) perMany(r recipe.Ref, dim measure.Dimension) *money.Ratio {
	u, ok := l.perUnit(r, dim)
	if !ok {
		return nil
	}
	price := u.ratio.Times(per[dim].many)
	return &price
}
