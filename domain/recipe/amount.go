package recipe

import (
	"servewright/domain/measure"
)

// What an amount of something that gives juice means: a volume of it is its
// juice, a mass is the mass of whole pieces as they are bought, and a piece
// gives its juice. Costing reads amounts the same way.

// Millilitres returns an amount of component r in mL at 20 °C. It is false when
// the component has no volume, or a piece of it no stated size.
func (b *Book) Millilitres(q measure.Quantity, r Ref) (float64, bool) {
	c := &b.comps[r]
	if pieces, ok := b.pieces(q, c); ok && c.Piece.Juice > 0 {
		return pieces * float64(c.Piece.Juice), true
	}
	switch q.Unit.Dimension() {
	case measure.OfVolume:
		return b.volume(q, c), true
	case measure.OfPieces:
		return b.massVolume(q.Amount*float64(c.Piece.Mass), r)
	}
	return b.massVolume(q.In(b.house.Units), r)
}

// pieces counts an amount in pieces; false for a volume, and for a mass of
// things whose piece has no stated mass.
func (b *Book) pieces(q measure.Quantity, c *Component) (float64, bool) {
	switch q.Unit.Dimension() {
	case measure.OfPieces:
		return q.Amount, true
	case measure.OfMass:
		return q.In(b.house.Units) / float64(c.Piece.Mass), c.Piece.Mass > 0
	}
	return 0, false
}

func (b *Book) massVolume(g float64, r Ref) (float64, bool) {
	d := float64(b.Contents(r).Density)
	if !(d > 0 && g > 0) {
		return 0, false
	}
	return g / d, true
}

// volume reads a volume, taking the component's own dash.
func (b *Book) volume(q measure.Quantity, c *Component) float64 {
	if q.Unit == measure.Dash && c.Dash > 0 {
		return q.Amount * float64(c.Dash)
	}
	return q.In(b.house.Units)
}

// Grams returns an amount of component r in g of what is poured. It is false
// when the component has no volume to be measured by, or a piece of it no
// stated size.
func (b *Book) Grams(q measure.Quantity, r Ref) (float64, bool) {
	c := &b.comps[r]
	if c.Piece.Juice > 0 {
		if pieces, ok := b.pieces(q, c); ok {
			return b.volumeMass(pieces*float64(c.Piece.Juice), r)
		}
	}
	switch q.Unit.Dimension() {
	case measure.OfMass:
		return q.In(b.house.Units), true
	case measure.OfPieces:
		return q.Amount * float64(c.Piece.Mass), c.Piece.Mass > 0
	}
	return b.volumeMass(b.volume(q, c), r)
}

func (b *Book) volumeMass(ml float64, r Ref) (float64, bool) {
	d := float64(b.Contents(r).Density)
	if !(d > 0 && ml > 0) {
		return 0, false
	}
	return ml * d, true
}
