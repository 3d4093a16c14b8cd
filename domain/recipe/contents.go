package recipe

import (
	"fmt"
	"slices"

	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/safety"
)

// Contents is what is in a component, per gram of it, resolved through any
// depth of nesting. It belongs to its [Book]; do not modify it.
type Contents struct {
	PerG    liquid.Mix
	Density measure.Density // g/mL at 20 °C; 0 = a solid without a volume, or nothing known
	Opaque  bool            // nothing is known of what it gives to a liquid: it adds nothing
	Spread  []liquid.Spread // per gram, one per independent source

	Contains    safety.Set
	MayContain  safety.Set
	Unconfirmed []ID // leaves whose allergens nobody has declared, ordered, no repeats

	Estimated []string // figures taken from the category's usual values
	Cautions  []domain.Caution

	// House-made only, for one batch.
	MadeG   measure.Mass   // what went in
	MadeML  measure.Volume // its volume, 0 for a solid
	YieldG  measure.Mass   // what is there to pour, after loss or as measured
	YieldML measure.Volume
	LossML  measure.Volume // MadeML − YieldML; below 0 when more was measured than went in
}

// Contents returns what is in component r. It is safe for concurrent use.
func (b *Book) Contents(r Ref) *Contents {
	if c := b.contents[r].Load(); c != nil {
		return c
	}
	c := b.resolve(r)
	b.contents[r].Store(c) // two at once compute the same value
	return c
}

func (b *Book) resolve(r Ref) *Contents {
	c := &b.comps[r]
	switch {
	case c.Kind == HouseMade && c.Recipe != nil:
		return b.resolveMade(r, c)
	case c.Category == IceCategory:
		return &Contents{PerG: liquid.Mix{liquid.Water: 1}, Density: iceDensity}
	}
	return resolveBought(c)
}

func resolveBought(c *Component) *Contents {
	out := &Contents{Contains: c.Allergens.Contains, MayContain: c.Allergens.MayContain}
	if !c.Allergens.Declared {
		out.Unconfirmed = []ID{c.ID}
	}
	label, assumed := labelled(c)
	out.Cautions = assumed
	u := c.Category.Usual(&label)
	if u.Opaque {
		out.Opaque = true
		return out
	}
	closed, err := liquid.Close(&label, u)
	if err != nil { // refused when it was written; a Book read from elsewhere still answers
		out.Opaque = true
		out.Cautions = append(out.Cautions, domain.Caution{Code: "LABEL_IMPOSSIBLE", Severity: domain.Warning,
			Detail: fmt.Sprintf("%s: %v; it is counted as adding nothing", c.Name, err), Source: "label closure"})
		return out
	}
	out.PerG, out.Density, out.Estimated = closed.PerG, closed.Density, closed.Estimated
	for _, s := range closed.Spread {
		s.Source = string(c.ID) + "/" + s.Source
		out.Spread = append(out.Spread, s)
	}
	for _, k := range closed.Cautions {
		k.Detail = c.Name + ": " + k.Detail
		out.Cautions = append(out.Cautions, k)
	}
	return out
}

// resolveMade adds up the lines of a house-made component. Loss and measured
// yield change how much there is, never what is in it.
func (b *Book) resolveMade(r Ref, c *Component) *Contents {
	out := &Contents{Contains: c.Allergens.Contains, MayContain: c.Allergens.MayContain}
	var sum liquid.Mix
	solid := true
	for i, part := range b.Parts(r) {
		pc := b.Contents(part)
		out.Contains |= pc.Contains
		out.MayContain |= pc.MayContain
		out.Unconfirmed = union(out.Unconfirmed, pc.Unconfirmed)
		for _, k := range pc.Cautions {
			out.Cautions = domain.AddCaution(out.Cautions, k)
		}
		out.Estimated = union(out.Estimated, pc.Estimated)
		if pc.Opaque {
			out.Cautions = domain.AddCaution(out.Cautions, Uncounted(b.comps[part].Name, "liquid"))
			continue
		}
		g, ok := b.Grams(c.Recipe.Lines[i].Amount, part)
		if !ok {
			out.Cautions = domain.AddCaution(out.Cautions, unmeasuredCaution(b.comps[part].Name, c.Recipe.Lines[i].Amount))
			continue
		}
		solid = solid && pc.Density == 0
		sum.Add(&pc.PerG, g)
		out.Spread = addSpread(out.Spread, pc.Spread, g)
	}
	out.MayContain &^= out.Contains
	out.finish(&sum, solid)
	out.yield(c)
	return out
}

// finish brings the summed batch to one gram.
func (out *Contents) finish(sum *liquid.Mix, solid bool) {
	out.MadeG = sum.Mass()
	if !(out.MadeG > 0) {
		out.Opaque = true
		return
	}
	per := 1 / float64(out.MadeG)
	out.PerG = *sum
	out.PerG.Scale(per)
	for i := range out.Spread {
		out.Spread[i].Per.Scale(per)
	}
	if !solid {
		out.MadeML = sum.Volume()
		out.Density = measure.Density(float64(out.MadeG) / float64(out.MadeML))
	}
}

// yield applies the recipe's loss or measured yield.
func (out *Contents) yield(c *Component) {
	out.YieldG, out.YieldML = out.MadeG, out.MadeML
	y := c.Recipe.Yield
	switch {
	case y.LossPct != nil:
		keep := 1 - *y.LossPct/100
		out.YieldG *= measure.Mass(keep)
		out.YieldML *= measure.Volume(keep)
	case y.Measured != nil && y.Measured.Unit.Dimension() == measure.OfMass:
		out.YieldG = measure.Mass(y.Measured.In(measure.BarUnits{}))
		if out.Density > 0 {
			out.YieldML = measure.Volume(float64(out.YieldG) / float64(out.Density))
		}
	case y.Measured != nil:
		out.YieldML = measure.Volume(y.Measured.In(measure.BarUnits{}))
		out.YieldG = measure.Mass(float64(out.YieldML) * float64(out.Density))
	}
	out.LossML = out.MadeML - out.YieldML
	if out.Density > 0 && float64(out.YieldML) > 1.02*float64(out.MadeML) {
		out.Cautions = domain.AddCaution(out.Cautions, domain.Caution{
			Code: "YIELD_ABOVE_INPUT", Severity: domain.Warning,
			Detail: fmt.Sprintf("%s: the measured yield of %.0f mL is more than the %.0f mL that its lines make; check the amounts", c.Name, out.YieldML, out.MadeML),
			Source: "conservation of mass",
		})
	}
}

// Uncounted is the caution for something without label figures that joins a
// liquid or a drink.
func Uncounted(name, into string) domain.Caution {
	return domain.Caution{Code: "COMPOSITION_UNKNOWN", Severity: domain.Note,
		Detail: fmt.Sprintf("%s has no label figures: what it gives up to the %s, and what it keeps, is not counted", name, into),
		Source: "common practice, no source"}
}

func unmeasuredCaution(name string, q measure.Quantity) domain.Caution {
	return domain.Caution{Code: "AMOUNT_NOT_CONVERTIBLE", Severity: domain.Warning,
		Detail: fmt.Sprintf("%s: %g %s cannot be turned into grams and is not counted; say what one piece holds, or give the amount in g or mL", name, q.Amount, q.Unit),
		Source: "the component's own figures"}
}

// addSpread adds k times more to have; equal sources move together.
func addSpread(have, more []liquid.Spread, k float64) []liquid.Spread {
	for i := range more {
		at := slices.IndexFunc(have, func(s liquid.Spread) bool { return s.Source == more[i].Source })
		if at < 0 {
			have = append(have, liquid.Spread{Source: more[i].Source})
			at = len(have) - 1
		}
		have[at].Per.Add(&more[i].Per, k)
	}
	return have
}

// union returns the ordered union of two ordered lists without repeats. It
// returns a itself when b adds nothing.
func union[T ~string](a, b []T) []T {
	for _, x := range b {
		if at, found := slices.BinarySearch(a, x); !found {
			a = slices.Insert(slices.Clip(a), at, x)
		}
	}
	return a
}
