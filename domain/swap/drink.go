package swap

import (
	"math"

	"servewright/domain/cost"
	"servewright/domain/recipe"
	"servewright/domain/safety"
	"servewright/domain/serve"
)

// Drink is what the swap does to one spec.
type Drink struct {
	Spec   *recipe.Spec
	Before Made  // zero unless Stands
	After  Made  // zero when Unmade is set
	Stands bool  // the spec can be made as it stands, before the swap
	Unmade error // why the spec cannot be made with the substitute, or at all
	Change [serve.NumFigures]Change
	Gained safety.Set
	Lost   safety.Set
	Lines  []Line
}

// Made is a spec worked out and costed.
type Made struct {
	Result serve.Result
	Cost   cost.Total
	Margin *cost.Margin // nil without a price or without a total
}

// Line is a line of the spec that the swap touches.
type Line struct {
	Index   int        // into the spec's lines
	Was, Is recipe.Ref // the same when the component is remade with the substitute
}

// Drink works out the i-th spec on both sides.
func (c *Comparison) Drink(i int) (Drink, error) {
	d := Drink{Spec: c.Specs[i]}
	d.Lines = c.lines(d.Spec)
	if d.Before, d.Unmade = c.Before.make(d.Spec); d.Unmade != nil {
		d.Before = Made{}
		return d, nil
	}
	d.Stands = true
	if d.After, d.Unmade = c.After.make(d.Spec); d.Unmade != nil {
		d.After = Made{}
		return d, nil
	}
	d.Gained = d.After.Result.Contains &^ d.Before.Result.Contains
	d.Lost = d.Before.Result.Contains &^ d.After.Result.Contains
	band := d.Before.Result.BandOfChange(&d.After.Result)
	for f := range d.Change {
		d.Change[f] = change(serve.Figure(f), &d.Before.Result, &d.After.Result, band[f])
	}
	return d, nil
}

// make works out and costs sp on one side.
func (s *Side) make(sp *recipe.Spec) (Made, error) {
	r, err := serve.Make(s.Book, sp)
	if err != nil {
		return Made{}, err
	}
	m := Made{Result: r, Cost: s.Sheet.Spec(sp)}
	if sp.Price != nil && m.Cost.Total != nil {
		margin, err := s.Sheet.Margin(sp.Price, *m.Cost.Total)
		if err != nil {
			return Made{}, err
		}
		m.Margin = &margin
	}
	return m, nil
}

// lines finds what the swap touches in sp.
func (c *Comparison) lines(sp *recipe.Spec) []Line {
	var out []Line
	for i := range sp.Lines {
		was, _ := c.Before.Book.Of(&sp.Lines[i])
		is, _ := c.After.Book.Of(&sp.Lines[i])
		if was != is || c.After.Book.IsRemade(is) {
			out = append(out, Line{Index: i, Was: was, Is: is})
		}
	}
	return out
}

// Change is what happens to one figure.
type Change struct {
	By         float64
	Band       float64 // ± one standard uncertainty of By
	BeyondBand bool    // larger than its measurement could explain
	Noticed    Notice
	Threshold  *Threshold // what Noticed was judged by; nil when no threshold applies
}

// coverage is the factor between one standard uncertainty and the band that a
// difference has to leave: 95 % two-sided for a normal error (JCGM 100:2008,
// annex G).
const coverage = 1.96

// least is the smallest change, relative to the figure, that is called a
// change at all: below it the two sides differ only by the rounding of floating
// point arithmetic.
const least = 1e-9

func change(f serve.Figure, before, after *serve.Result, band float64) Change {
	was, is := before.Figures[f], after.Figures[f]
	c := Change{By: is - was, Band: band}
	if math.Abs(c.By) <= least*math.Max(math.Abs(was), math.Abs(is)) {
		c.By = 0
	}
	c.BeyondBand = math.Abs(c.By) > coverage*band && c.By != 0
	c.Noticed, c.Threshold = notice(f, was, is, band, before)
	return c
}
