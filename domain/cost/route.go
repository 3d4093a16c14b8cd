package cost

import (
	"strconv"

	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// fact is a figure of a component that turns one dimension into another.
type fact uint8

const (
	density fact = iota // g/mL
	juice               // mL from one piece
	mass                // g of one piece
	facts
)

var factUnits = [facts]string{"g/mL", "mL/piece", "g/piece"}

// route turns a price in one dimension into a price in another:
//
//	price × Π times ÷ Π over
type route struct {
	from, to    measure.Dimension
	times, over []fact
}

// routes are all ways between the dimensions; the first whose facts are known
// is taken. A volume of a thing that gives juice is its juice; a mass is the
// mass of whole pieces as they are bought. So fruit bought by the kilogram and
// poured as juice goes by pieces, not by density.
var routes = []route{
	{from: measure.OfPieces, to: measure.OfVolume, over: []fact{juice}},
	{from: measure.OfMass, to: measure.OfVolume, times: []fact{mass}, over: []fact{juice}},
	{from: measure.OfMass, to: measure.OfVolume, times: []fact{density}},
	{from: measure.OfPieces, to: measure.OfVolume, times: []fact{density}, over: []fact{mass}},

	{from: measure.OfPieces, to: measure.OfMass, over: []fact{mass}},
	{from: measure.OfVolume, to: measure.OfMass, over: []fact{density}},
	{from: measure.OfPieces, to: measure.OfMass, over: []fact{juice, density}},

	{from: measure.OfMass, to: measure.OfPieces, times: []fact{mass}},
	{from: measure.OfVolume, to: measure.OfPieces, times: []fact{juice}},
	{from: measure.OfVolume, to: measure.OfPieces, times: []fact{mass}, over: []fact{density}},
	{from: measure.OfMass, to: measure.OfPieces, times: []fact{juice, density}},
}

// convert finds the price of r per unit of dim from the dimensions it is priced
// in.
func (l *ledger) convert(r recipe.Ref, p *price, dim measure.Dimension) {
	u := &p.per[dim]
	u.state = unknown
	for i := range routes {
		rt := &routes[i]
		from := &p.per[rt.from]
		if rt.to != dim || from.state != known || from.from != nil {
			continue
		}
		if ratio := rt.apply(from.ratio, l.sheet.book, r); printable(ratio, dim) {
			*u = unitPrice{ratio: ratio, from: rt, state: known}
			return
		}
	}
}

// apply is undefined when a fact of the route is not known.
func (rt *route) apply(price money.Ratio, b *recipe.Book, r recipe.Ref) money.Ratio {
	for _, f := range rt.times {
		price = price.Times(f.of(b, r))
	}
	for _, f := range rt.over {
		price = price.Over(f.of(b, r))
	}
	return price
}

// of returns the fact of component r, exactly; undefined when it is not known.
// A density is computed, not written, so it is rounded to nine significant
// digits before it enters money: far finer than any label, and the same on
// every machine.
func (f fact) of(b *recipe.Book, r recipe.Ref) money.Ratio {
	v := 0.0
	switch c := b.Component(r); f {
	case density:
		v, _ = strconv.ParseFloat(strconv.FormatFloat(float64(b.Contents(r).Density), 'e', 8, 64), 64)
	case juice:
		v = float64(c.Piece.Juice)
	case mass:
		v = float64(c.Piece.Mass)
	}
	if !(v > 0) {
		return money.NewRatio(1, 0)
	}
	return money.RatioOf(v)
}

// Words for the dimensions: how a thing is counted, and what a price is per.
var (
	counted = [...]string{measure.OfVolume: "by volume", measure.OfMass: "by mass", measure.OfPieces: "by the piece"}
	per     = [...]struct {
		name string
		base string
		many money.Ratio
	}{
		measure.OfVolume: {"L", "mL", money.NewRatio(1000, 1)},
		measure.OfMass:   {"kg", "g", money.NewRatio(1000, 1)},
		measure.OfPieces: {"piece", "piece", one},
	}
)

// noRoute says which fact would turn the price that there is into the one that
// is needed.
func noRoute(p *price, dim measure.Dimension) string {
	from := measure.OfVolume
	for d := measure.OfPieces; d >= measure.OfVolume; d-- {
		if u := &p.per[d]; u.state == known && u.from == nil {
			from = d
		}
	}
	way := "give its density, or its bulk_density_g_per_ml if it is a solid, or count the line " + counted[from]
	switch {
	case from == measure.OfPieces && dim == measure.OfVolume, from == measure.OfVolume && dim == measure.OfPieces:
		way = "say how much one piece gives (piece.juice_ml)"
	case from == measure.OfPieces, dim == measure.OfPieces:
		way = "say what one piece weighs (piece.mass_g)"
	}
	return "it is priced " + counted[from] + " and used " + counted[dim] + "; " + way
}
