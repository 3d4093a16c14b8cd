package cost

import (
	"fmt"
	"slices"

	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// ledger holds what one unit of every component costs: goods alone, or the
// whole with labour, energy and packaging.
type ledger struct {
	sheet  *Sheet
	whole  bool
	prices []*price // by recipe.Ref; nil until asked for
}

// price is what one mL, g or piece of a component costs.
type price struct {
	state state
	per   [measure.OfPieces + 1]unitPrice
	dash  money.Ratio // mL of the component's own dash, 0 = the house's
	// missing says why nothing is known of the price at all.
	missing []Missing
}

// unitPrice is a price in one dimension.
type unitPrice struct {
	ratio money.Ratio
	from  *route // how it follows from another dimension; nil when it is direct
	state state
}

type state uint8

const (
	fresh   state = iota // not asked for yet
	working              // being worked out further up the call stack
	known
	unknown
)

// Missing is something nobody has priced.
type Missing struct {
	Path      []string  // names, from the line's component down to the unpriced one
	Component recipe.ID // the unpriced one
	Reason    string    // what is missing, and the way out
}

// of returns the price of component r, worked out if it has not been.
func (l *ledger) of(r recipe.Ref) *price {
	if l.prices == nil {
		l.prices = make([]*price, len(l.sheet.book.Components()))
	}
	if p := l.prices[r]; p != nil {
		return p
	}
	p := new(price)
	l.prices[r] = p
	l.work(r, p)
	return p
}

func (l *ledger) work(r recipe.Ref, p *price) {
	p.state = working
	c := l.sheet.book.Component(r)
	p.dash = money.RatioOf(float64(c.Dash))
	if c.Kind == recipe.HouseMade {
		p.missing = l.workMade(r, c, p)
	} else {
		p.missing = l.workBought(c, p)
	}
	p.state = known
	if len(p.missing) > 0 {
		p.state = unknown
	}
}

// set records the price of a unit of one dimension and reports whether there
// is one.
func (p *price) set(dim measure.Dimension, r money.Ratio) bool {
	if !printable(r, dim) {
		return false
	}
	p.per[dim] = unitPrice{ratio: r, state: known}
	return true
}

// printable reports whether r can be the price of a mL, g or piece: defined,
// not negative, and of a size that money has when it is shown per litre.
func printable(r money.Ratio, dim measure.Dimension) bool {
	_, err := r.Times(per[dim].many).Rounded(6)
	return err == nil && r.Sign() >= 0
}

// workBought prices a component by its pack in force:
//
//	price ÷ tax factor ÷ (count × size) ÷ (1 − waste)
//
// A deposit comes back and is no cost.
func (l *ledger) workBought(c *recipe.Component, p *price) []Missing {
	s := l.sheet
	pack := InForce(c.Packs, s.date)
	switch {
	case pack == nil:
		return lack(c, "%s", s.noPack(c))
	case pack.Price.Currency != s.currency:
		return lack(c, "its price of %s is in another currency than the house's %s; give it in %s", pack.Price.Text(), s.currency, s.currency)
	}
	z := s.size(pack.Size.Unit, p)
	bought := money.RatioOf(pack.Size.Amount).Times(z.of).Times(money.NewRatio(int64(pack.Count), 1))
	before := pack.Price.Ratio().Over(s.taxFactor(pack.Tax, pack.TaxPct))
	if z.dim == 0 || !p.set(z.dim, before.Over(bought).Over(usable(c))) {
		return lack(c, "its pack of %d × %s has no usable size; correct the pack", pack.Count, quantity(pack.Size))
	}
	return nil
}

// noPack says what is to be done about a component without a price.
func (s *Sheet) noPack(c *recipe.Component) string {
	if from, ok := next(c.Packs, s.date); ok {
		return fmt.Sprintf("no pack is in force on %s; the next one is from %s: add a pack valid from %s or before", s.date, from, s.date)
	}
	return "it has no pack with a price; add one"
}

// lack says that c itself is what has no price.
func lack(c *recipe.Component, format string, args ...any) []Missing {
	return []Missing{{Path: []string{c.Name}, Component: c.ID, Reason: fmt.Sprintf(format, args...)}}
}

// below puts name in front of every path in found.
func below(name string, found []Missing) []Missing {
	out := slices.Clone(found)
	for i := range out {
		out[i].Path = append([]string{name}, out[i].Path...)
	}
	return out
}

// unique adds to list what it has not yet. Each unpriced thing is named once
// per reason, by the first way down to it, for the ways may be many more than
// the things.
func unique(list, more []Missing) []Missing {
	for _, m := range more {
		if !m.in(list) {
			list = append(slices.Clip(list), m)
		}
	}
	return list
}

// in reports whether list names m already.
func (m Missing) in(list []Missing) bool {
	return slices.ContainsFunc(list, func(have Missing) bool { return have.Component == m.Component && have.Reason == m.Reason })
}

// perUnit returns what one mL, g or piece of r costs. It is not ok when that is
// unknown; [ledger.why] then says why.
func (l *ledger) perUnit(r recipe.Ref, dim measure.Dimension) (*unitPrice, bool) {
	p := l.of(r)
	if p.state != known || dim == 0 {
		return nil, false
	}
	u := &p.per[dim]
	if u.state == fresh {
		l.convert(r, p, dim)
	}
	return u, u.state == known
}

// why says why an amount counted in dim has no price.
func (l *ledger) why(r recipe.Ref, dim measure.Dimension) []Missing {
	c, p := l.sheet.book.Component(r), l.of(r)
	switch {
	case p.state == working: // only packaging can go round in a circle
		return lack(c, "it is packed in itself; take it out of its own packaging")
	case p.state == unknown:
		return p.missing
	case dim == 0:
		return lack(c, "the unit of the line is unknown; write it in one the house uses, such as mL")
	}
	return lack(c, "%s", noRoute(p, dim))
}

// micros is the fast way to what a line costs, in millionths: no heap
// allocation once r is worked out. It is not ok when the price is unknown or
// too long for the fast way.
func (l *ledger) micros(q measure.Quantity, r recipe.Ref) (int64, bool) {
	z := l.sheet.size(q.Unit, l.of(r))
	u, ok := l.perUnit(r, z.dim)
	if !ok {
		return 0, false
	}
	return u.ratio.Charge(money.RatioOf(q.Amount), z.of)
}

// cost returns what an amount of r costs:
//
//	amount × size of its unit × unit price
//
// exact, then quantised once to a millionth, half to even. It is not ok when
// that is unknown.
func (l *ledger) cost(q measure.Quantity, r recipe.Ref) (money.Amount, []Missing) {
	if n, ok := l.micros(q, r); ok {
		return money.Micros(n, l.sheet.currency), nil
	}
	z := l.sheet.size(q.Unit, l.of(r))
	u, ok := l.perUnit(r, z.dim)
	if !ok {
		return money.Amount{}, l.why(r, z.dim)
	}
	a, err := money.RatioOf(q.Amount).Times(z.of).Times(u.ratio).Amount(l.sheet.currency)
	if err != nil {
		return money.Amount{}, lack(l.sheet.book.Component(r), "%v", err)
	}
	return a, nil
}
