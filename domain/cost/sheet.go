// Package cost works out what things cost on a date: a batch of a house-made
// component, a spec, and what a price leaves over.
//
// A [Sheet] prices one [recipe.Book] on one day. A bought component costs what
// its pack in force pays for, before tax, with its waste added; a house-made
// one costs the sum of its lines over what it yields. Prices per millilitre,
// gram and piece are exact rationals; each line is amount × price, quantised
// once to a millionth, half to even; totals are sums of quantised lines, to the
// last digit. Goods are ingredients alone; full cost adds labour, energy and
// packaging, through any depth of nesting.
//
// What nobody has priced is unknown, never zero: a total with an unknown line
// is nil, the way down to the unpriced thing is named, and the priced subtotal
// still stands. A price of 0 is a price.
package cost

import (
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// Sheet prices a Book on a date. It works out each component once, when it is
// first asked for. It is not safe for concurrent use.
type Sheet struct {
	book     *recipe.Book
	date     measure.Date
	currency money.Currency
	sizes    map[measure.Unit]size
	goods    ledger
	full     ledger
}

// size is what one of a unit holds, exactly, in mL, g or pieces.
type size struct {
	dim measure.Dimension
	of  money.Ratio
}

// On returns the sheet of b on a date of the house's calendar.
func On(b *recipe.Book, date measure.Date) *Sheet {
	s := &Sheet{book: b, date: date, currency: b.House().Currency, sizes: map[measure.Unit]size{}}
	s.goods = ledger{sheet: s}
	s.full = ledger{sheet: s, whole: true}
	return s
}

// Date returns the date the sheet prices on.
func (s *Sheet) Date() measure.Date { return s.date }

var one = money.NewRatio(1, 1)

// size returns what one u of the component priced by p holds; a component may
// have a dash of its own.
func (s *Sheet) size(u measure.Unit, p *price) size {
	switch u { // before the map: most amounts are in these
	case measure.ML:
		return size{measure.OfVolume, one}
	case measure.G:
		return size{measure.OfMass, one}
	case measure.Piece:
		return size{measure.OfPieces, one}
	case measure.Dash:
		if p.dash.Sign() > 0 {
			return size{measure.OfVolume, p.dash}
		}
	}
	z, ok := s.sizes[u]
	if !ok {
		z = size{u.Dimension(), money.RatioOf(u.Size(s.book.House().Units))}
		s.sizes[u] = z
	}
	return z
}

// nothing is no money yet.
func (s *Sheet) nothing() money.Amount { return money.Amount{Currency: s.currency} }
