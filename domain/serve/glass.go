// Package serve works a spec out in the glass: what is mixed, what the ice
// adds, what is served.
//
// The mix stage meets the method's ice; rinse, top and float join afterwards;
// then the finished drink stands on its serving ice. Garnish never enters the
// liquid. Ice lines are not poured either: ice in the mix stage says how much
// ice the method has, except in a blended drink, which is its ice.
package serve

import (
	"strconv"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/recipe"
	"servewright/domain/safety"
)

// waterDensity is the density of water at 20 °C in g/mL (OIML R 22, A1).
const waterDensity = 0.99820123

// Glass is a spec made on paper: masses and numbers, no bands, no words.
type Glass struct {
	Start    liquid.Mix // the mix stage, before ice
	Drink    liquid.Mix // what is served
	Dilution chill.Result
	Melt     chill.Result // what the serving ice adds
	Figures  Figures

	Contains   safety.Set // garnish included
	MayContain safety.Set // less what it contains
}

// making is a spec on its way into the glass.
type making struct {
	in     chill.Input
	laterC measure.Temperature // heat-weighted
	us     bool                // energy by the factors of the United States

	contains, may safety.Set
}

// Plain makes a spec without bands, cautions or words. It fails when the spec
// points at nothing, pours nothing, or overrides its dilution impossibly.
func Plain(b *recipe.Book, sp *recipe.Spec) (Glass, error) {
	var m making
	if err := m.fill(b, sp); err != nil {
		return Glass{}, err
	}
	return m.finish()
}

// fill pours the lines of sp.
func (m *making) fill(b *recipe.Book, sp *recipe.Spec) error {
	h := b.House()
	m.in = chill.Input{Method: sp.Method, ServingIce: sp.ServingIce, Conditions: sp.Conditions, House: h.Chill, Override: sp.Dilution}
	m.us = h.Country == "US"
	var mixed, later warmth
	for i := range sp.Lines {
		l := &sp.Lines[i]
		r, ok := b.Of(l)
		if !ok {
			return lineError(i, "UNKNOWN_COMPONENT", "there is no component "+string(l.Component))
		}
		contents := b.Contents(r)
		m.contains |= contents.Contains
		m.may |= contents.MayContain
		if l.Stage == recipe.Garnish || contents.Opaque {
			continue
		}
		g, ok := b.Grams(l.Amount, r)
		if !ok {
			return lineError(i, "AMOUNT_NOT_CONVERTIBLE", "the amount cannot be turned into grams of "+strconv.Quote(b.Component(r).Name))
		}
		if b.Component(r).Category == recipe.IceCategory && sp.Method != chill.Blend {
			m.iceLine(l, g)
			continue
		}
		m.pour(l, b.Component(r), &contents.PerG, g, &mixed, &later)
	}
	m.in.PouredC = mixed.mean(ingredientC(&m.in))
	m.laterC = later.mean(ingredientC(&m.in))
	return nil
}

// pour adds one line to its stage.
func (m *making) pour(l *recipe.Line, c *recipe.Component, perG *liquid.Mix, g float64, mixed, later *warmth) {
	t := l.PouredC
	if t == nil {
		t = c.PouredC
	}
	if l.Stage == recipe.Mix {
		m.in.Mix.Add(perG, g)
		m.in.Set = m.in.Set || t != nil
		mixed.add(perG, g, t)
		return
	}
	m.in.Later.Add(perG, g)
	later.add(perG, g, t)
}

// iceLine takes the method's ice from an ice line of the mix stage.
func (m *making) iceLine(l *recipe.Line, g float64) {
	if l.Stage != recipe.Mix {
		return
	}
	all := new(float64)
	*all = g
	if have := m.in.Conditions.IceG; have != nil {
		*all += *have
	}
	m.in.Conditions.IceG = all
}

// ingredientC is what everything without a temperature of its own is poured at.
func ingredientC(in *chill.Input) measure.Temperature {
	if in.Conditions.IngredientC != nil {
		return *in.Conditions.IngredientC
	}
	if in.House.IngredientC != nil {
		return *in.House.IngredientC
	}
	return chill.ReferenceC
}

// warmth gathers what is poured into one stage, to find its temperature.
type warmth struct {
	heat, heatTimes float64 // lines with a temperature of their own: Σ J/K, Σ J/K × °C
	rest            float64 // lines without one: Σ J/K
}

// Specific heats used to weigh temperatures against each other, J/(g K): water
// and ethanol at 20 °C (CRC-type tables, from memory for ethanol), dissolved
// solids about 1.3 (sucrose, from memory). Only their proportions matter.
const (
	cpWater, cpEthanol, cpSolids = 4.18, 2.44, 1.3
)

func (w *warmth) add(perG *liquid.Mix, g float64, t *measure.Temperature) {
	water, ethanol := perG[liquid.Water], perG[liquid.Ethanol]
	heat := g * (cpWater*water + cpEthanol*ethanol + cpSolids*(1-water-ethanol))
	if t == nil {
		w.rest += heat
		return
	}
	w.heat += heat
	w.heatTimes += heat * float64(*t)
}

// mean returns the heat-weighted temperature, others being poured at usual.
func (w *warmth) mean(usual measure.Temperature) measure.Temperature {
	if w.heat == 0 {
		return usual
	}
	return measure.Temperature((w.heatTimes + w.rest*float64(usual)) / (w.heat + w.rest))
}

func lineError(i int, code, detail string) error {
	return &domain.Error{Kind: domain.Invalid, Code: code,
		Faults: []domain.Fault{{Pointer: "/lines/" + strconv.Itoa(i), Code: code, Detail: detail}}}
}
