package recipe

import (
	"slices"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/measure"
)

// validMaking checks how the drink is made.
func (s *Spec) validMaking(bad *domain.Faults) {
	_, err := chill.ParseMethod(string(s.Method))
	bad.Check("/method", err)
	_, err = chill.ParseIce(string(s.ServingIce))
	bad.Check("/serving_ice", err)
	bad.Check("", s.Conditions.Valid())
	for i := range s.Lines {
		switch s.Lines[i].Stage {
		case Mix, Top, Rinse, Float, Garnish:
		default:
			bad.Add(linePointer("/lines", i)+"/stage", "UNKNOWN_STAGE", "stage must be one of mix, top, rinse, float, garnish")
		}
	}
	if d := s.Dilution; d != nil {
		inRange(bad, "/dilution/"+string(d.Kind), d.Value, 0, 1e5)
	}
}

// packagingAt is where a recipe's packaging stands. Packaging is bought, so it
// stays outside the graph of what is made of what, and outside a swap.
const packagingAt = "/recipe/packaging"

// checkLines checks what lines point at: it must exist, must not be newly
// delisted, and must be measurable in the line's unit. before holds the lines
// that the new ones replace: what was poured then may go on being poured.
func (b *Book) checkLines(bad *domain.Faults, at string, lines, before []Line, measured bool) {
	for i := range lines {
		r, ok := b.byID[lines[i].Component]
		p := linePointer(at, i)
		if !ok {
			bad.Add(p+"/component_id", "UNKNOWN_COMPONENT", "there is no component %s; create it first, or point at another", lines[i].Component)
			continue
		}
		if at == packagingAt && b.comps[r].Recipe != nil {
			bad.Add(p+"/component_id", "PACKAGING_HOUSE_MADE", "%q is house-made; packaging is bought, so make it a line of the recipe instead", b.comps[r].Name)
		}
		had := slices.ContainsFunc(before, func(l Line) bool { return l.Component == lines[i].Component })
		if b.comps[r].Status == Delisted && !had {
			bad.Add(p+"/component_id", "DELISTED", "%q is delisted; make it active again, or point at another", b.comps[r].Name)
		}
		if measured && lines[i].Stage != Garnish {
			b.checkMeasure(bad, p, &lines[i], r)
		}
	}
}

// checkMeasure refuses an amount that cannot be turned into grams of a
// component whose contents count.
func (b *Book) checkMeasure(bad *domain.Faults, at string, l *Line, r Ref) {
	if l.Amount.Valid() != nil || b.Contents(r).Opaque {
		return
	}
	if _, ok := b.Grams(l.Amount, r); ok {
		return
	}
	name := b.comps[r].Name
	if l.Amount.Unit.Dimension() == measure.OfPieces {
		bad.Add(at+"/unit", "PIECE_SIZE_UNKNOWN", "nobody said what one piece of %q holds; set its piece.mass_g or piece.juice_ml, or give the amount in g", name)
		return
	}
	bad.Add(at+"/unit", "NO_VOLUME", "%q is a solid without a volume; give the amount in g, or set label.bulk_density_g_per_ml", name)
}

// checkAmounts checks the recipe lines of c once the Book is linked.
func (b *Book) checkAmounts(bad *domain.Faults, c Component) {
	if c.Recipe == nil {
		return
	}
	for i := range c.Recipe.Lines {
		b.checkMeasure(bad, linePointer("/recipe/lines", i), &c.Recipe.Lines[i], b.byID[c.Recipe.Lines[i].Component])
	}
}
