package serve

import (
	"fmt"
	"slices"
	"strconv"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/nutrition"
	"servewright/domain/recipe"
)

var nothingPoured = &domain.Error{Kind: domain.Invalid, Code: "NOTHING_POURED",
	Faults: []domain.Fault{{Pointer: "/lines", Code: "NOTHING_POURED", Detail: "none of the lines gives a liquid; add one that is poured, or label what is"}}}

// Result is a spec made on paper, with its bands and everything that should be
// said beside its numbers.
type Result struct {
	Glass
	Band        Figures // ± one standard uncertainty of each figure
	Units       float64 // alcohol units or standard drinks of the house's country, not rounded
	Standard    nutrition.Standard
	Unconfirmed []recipe.ID // components whose allergens nobody has declared
	Estimated   []string    // figures taken from what a category usually has
	Cautions    []domain.Caution

	effects []effect
}

// effect is what one standard uncertainty of one source does to every figure.
type effect struct {
	source string
	shared bool // the same in every making by this house: cancels between two specs
	by     Figures
}

// Make makes a spec with bands, allergens, units and cautions.
func Make(b *recipe.Book, sp *recipe.Spec) (Result, error) {
	var m making
	if err := m.fill(b, sp); err != nil {
		return Result{}, err
	}
	g, err := m.finish()
	if err != nil {
		return Result{}, err
	}
	r := Result{Glass: g}
	if r.effects, err = m.spread(b, sp, &g); err != nil {
		return Result{}, err
	}
	r.Band = rootSum(r.effects)
	if std, ok := nutrition.StandardFor(b.House().Country); ok {
		r.Standard, r.Units = std, std.Units(g.Drink[liquid.Ethanol])
	}
	r.facts(b, sp)
	r.fit(sp)
	return r, nil
}

// BandOfChange returns one standard uncertainty of each figure's change from r
// to after. What both share (the same bottles, the same bar's ice) cancels as
// far as it acts alike; the pours of the two drinks are independent.
func (r *Result) BandOfChange(after *Result) Figures {
	var diff []effect
	for _, e := range after.effects {
		if at := r.find(e); at >= 0 {
			for f := range e.by {
				e.by[f] -= r.effects[at].by[f]
			}
		}
		diff = append(diff, e)
	}
	for _, e := range r.effects {
		if after.find(e) < 0 {
			diff = append(diff, e)
		}
	}
	return rootSum(diff)
}

// find returns the place of a shared effect with e's source, or −1.
func (r *Result) find(e effect) int {
	return slices.IndexFunc(r.effects, func(x effect) bool { return e.shared && x.shared && x.source == e.source })
}

// facts gathers what the lines bring besides liquid.
func (r *Result) facts(b *recipe.Book, sp *recipe.Spec) {
	for i := range sp.Lines {
		ref, ok := b.Of(&sp.Lines[i])
		if !ok {
			continue
		}
		c := b.Contents(ref)
		r.Unconfirmed = merge(r.Unconfirmed, c.Unconfirmed)
		if sp.Lines[i].Stage == recipe.Garnish {
			continue
		}
		r.Estimated = merge(r.Estimated, c.Estimated)
		for _, k := range c.Cautions {
			r.Cautions = domain.AddCaution(r.Cautions, k)
		}
		if c.Opaque {
			r.Cautions = domain.AddCaution(r.Cautions, recipe.Uncounted(b.Component(ref).Name, "drink"))
		}
	}
	for _, k := range slices.Concat(r.Dilution.Cautions, r.Melt.Cautions) {
		r.Cautions = domain.AddCaution(r.Cautions, k)
	}
}

// fit cautions when the liquid alone would overfill its glass.
func (r *Result) fit(sp *recipe.Spec) {
	ml := r.Figures[ServedVolume]
	brim, source := float64(sp.GlassVolume), "the spec's glass_ml"
	if brim == 0 {
		glass, ok := chill.GlassOf(sp.Glass)
		if !ok {
			return
		}
		brim, source = float64(glass.High), glass.Source
	}
	if ml > brim {
		r.Cautions = domain.AddCaution(r.Cautions, domain.Caution{Code: "GLASS_TOO_SMALL", Severity: domain.Warning,
			Detail: fmt.Sprintf("the drink is %.0f mL without its ice and a %s holds at most %.0f mL to the brim", ml, glassName(sp), brim),
			Source: source})
	}
}

func glassName(sp *recipe.Spec) string {
	if sp.Glass == "" {
		return "glass"
	}
	return sp.Glass
}

func merge[T ~string](a, b []T) []T {
	for _, x := range b {
		if !slices.Contains(a, x) {
			a = append(a, x)
		}
	}
	return a
}

// One standard uncertainty of a pour. Jigger repeatability: no published sigma
// was found, 1 mL is assumed (common practice, no source); dashes, drops and
// barspoons vary by about a quarter (trade references differ by half); a bar
// scale reads to 0.1 g (common practice, no source).
const (
	pourML    = 1.0
	spoonPart = 0.25
	scaleG    = 0.1
)

// spread finds the effect of every source of uncertainty, one at a time.
func (m *making) spread(b *recipe.Book, sp *recipe.Spec, g *Glass) ([]effect, error) {
	p := probe{m: m, base: g.Figures}
	var sources sources
	for i := range sp.Lines {
		l := &sp.Lines[i]
		r, ok := b.Of(l)
		if !ok || l.Stage == recipe.Garnish {
			continue
		}
		c := b.Contents(r)
		grams, ok := b.Grams(l.Amount, r)
		if !ok || c.Opaque || b.Component(r).Category == recipe.IceCategory {
			continue
		}
		later := l.Stage != recipe.Mix
		var pour source
		pour.add(&c.PerG, pourG(l.Amount, grams, c.Density), later)
		pour.name = "pour/" + strconv.Itoa(i)
		if err := p.again(&pour, false); err != nil {
			return nil, err
		}
		for s := range c.Spread {
			sources.add(&c.Spread[s], grams, later)
		}
	}
	for i := range sources {
		if err := p.again(&sources[i], true); err != nil {
			return nil, err
		}
	}
	p.water("dilution", g, g.Dilution.BandWaterG, 0)
	p.water("melt", g, 0, g.Melt.BandWaterG)
	return p.effects, nil
}

// pourG is one standard uncertainty of a poured amount, in g.
func pourG(q measure.Quantity, grams float64, d measure.Density) float64 {
	switch {
	case q.Unit == measure.Dash || q.Unit == measure.Drop || q.Unit == measure.Barspoon:
		return spoonPart * grams
	case q.Unit.Dimension() == measure.OfVolume:
		return min(pourML*float64(d), spoonPart*grams)
	}
	return min(scaleG, spoonPart*grams)
}

// source is one source of uncertainty and what it does to both stages.
type source struct {
	name         string
	mixed, later liquid.Mix
}

func (s *source) add(per *liquid.Mix, grams float64, later bool) {
	if later {
		s.later.Add(per, grams)
	} else {
		s.mixed.Add(per, grams)
	}
}

type sources []source

func (ss *sources) add(s *liquid.Spread, grams float64, later bool) {
	at := slices.IndexFunc(*ss, func(x source) bool { return x.name == s.Source })
	if at < 0 {
		*ss = append(*ss, source{name: s.Source})
		at = len(*ss) - 1
	}
	(*ss)[at].add(&s.Per, grams, later)
}

// probe makes the drink again with one thing a little different.
type probe struct {
	m       *making
	base    Figures
	effects []effect
}

func (p *probe) again(s *source, shared bool) error {
	other := *p.m
	other.in.Mix.Add(&s.mixed, 1)
	other.in.Later.Add(&s.later, 1)
	g, err := other.finish()
	if err != nil {
		return err
	}
	p.note(s.name, shared, &g.Figures)
	return nil
}

func (p *probe) note(name string, shared bool, f *Figures) {
	e := effect{source: name, shared: shared}
	for i := range f {
		e.by[i] = f[i] - p.base[i]
	}
	p.effects = append(p.effects, e)
}

// water notes what one standard uncertainty of the ice's water does: method of
// the method's water, melt of the serving ice's.
func (p *probe) water(name string, g *Glass, method, melt float64) {
	if method+melt == 0 {
		return
	}
	more := *g
	more.Drink[liquid.Water] += method + melt
	more.Dilution.WaterG += method
	more.Melt.WaterG += melt
	f := p.m.figures(&more)
	p.note(name, true, &f)
}
