package chill

import (
	"math"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// ethanolDensity is that of ethanol at 20 °C in g/mL (OIML R 22).
const ethanolDensity = 0.78924

// Dilute returns the water that the method adds to the mix stage, and how cold
// the drink gets.
//
//   - A measurement, when there is one, stands.
//   - Shaken and stirred drinks within the strengths of their published fit follow
//     it; when something is known about the making ([Input] Set, Conditions, a
//     house unlike the reference), times the energy balance of the making over
//     that of the reference.
//   - On one large cube it is a fixed share, adjusted in the same way.
//   - Everything else on ice is the energy balance, and so is a making that stops
//     at a temperature or a time of its own.
//   - Without ice there is no water.
//
// It fails only when a measurement cannot be true of this drink. An empty mix
// takes no water. The conditions must be valid.
func Dilute(in *Input) (Result, error) {
	m := making{p: in.Method.practice(in.Standing()), in: in, ml: float64(in.Mix.Volume())}
	if in.Override != nil {
		return m.measured()
	}
	switch {
	case m.p.End == NoWater || !(m.ml > 0):
		return Result{Model: m.p.Model, FinalC: m.unicedC()}, nil
	case m.p.Model == EnergyBalance || in.Conditions.ended():
		return m.balanced(), nil
	case m.p.Model == Fixed && in.known():
		return m.adjusted(m.p.fixed), nil
	case m.p.Model == Fixed:
		return m.share(Fixed, m.p.fixed), nil
	}
	abv := in.Mix[liquid.Ethanol] / ethanolDensity / m.ml
	if abv < float64(m.p.From) || abv > float64(m.p.To) {
		r := m.balanced()
		r.Cautions = append(r.Cautions, outsideFit(m.p, abv))
		return r, nil
	}
	if in.known() {
		return m.adjusted(m.p.fit.at(abv)), nil
	}
	return m.share(PublishedFit, m.p.fit.at(abv)), nil
}

// unicedC is the temperature of a drink without ice. A blended drink, whose ice
// is a line of its recipe, is slush: at the freezing point of the whole.
func (m *making) unicedC() measure.Temperature {
	if m.in.Method != Blend || !(m.ml > 0) {
		return m.in.PouredC
	}
	return min(m.in.PouredC, m.in.Mix.FreezingPoint())
}

// share adds a share of the volume before ice, melted and clinging together.
func (m *making) share(model Model, share float64) Result {
	water := share * m.ml * waterDensity
	l := m.actual()
	melt := math.Max(0, water-l.clingG)
	return Result{
		Model: model, WaterG: water, BandWaterG: m.p.Band * m.ml * waterDensity,
		FinalC: measure.Temperature(l.temperature(melt)), IceUsedG: melt, IceLeftG: m.left(l.iceG - melt),
	}
}

// left is what stays in the drink of g grams of ice.
func (m *making) left(g float64) float64 {
	if !m.in.Method.inGlass() {
		return 0
	}
	return math.Max(0, g)
}

// balanced is the energy balance.
func (m *making) balanced() Result {
	l := m.actual()
	out := m.balance(&l, &m.in.Conditions)
	cautions := out.cautions()
	if m.in.Method.inGlass() && m.in.ServingIce != m.in.Standing() {
		cautions = append(cautions, iceAssumed(m.in))
	}
	return Result{
		Model: EnergyBalance, WaterG: l.water(out.meltG), BandWaterG: m.balancedBand() * waterDensity,
		FinalC: measure.Temperature(out.endC), IceUsedG: out.meltG, IceLeftG: m.left(l.iceG - out.meltG),
		Cautions: cautions,
	}
}

// balancedBand is the band of the energy balance in mL: the method's, of all the
// liquid where the top shares the ice, and how far the balance lies from the fit
// where there is one.
func (m *making) balancedBand() float64 {
	return math.Hypot(m.p.Band, m.p.Excess) * m.kitML()
}

// trust is one standard uncertainty of the energy balance's ratio, as a share of
// what it moves: a stirred drink moved by 9 points has a band of 8 instead of 7
// (dilution_by_technique.csv, heavy glass at room temperature).
const trust = 0.4

// adjusted is the published figure times the energy balance of this making over
// that of the reference.
func (m *making) adjusted(fit float64) Result {
	ref, l := m.reference(), m.actual()
	usual := m.balance(&ref, &Conditions{})
	out := m.balance(&l, &Conditions{})
	share := fit * l.water(out.meltG) / ref.water(usual.meltG)
	r := m.share(AdjustedFit, share)
	r.BandWaterG = math.Hypot(m.p.Band, trust*(share-fit)) * m.ml * waterDensity
	r.FinalC = max(r.FinalC, measure.Temperature(math.Min(l.freezing(r.IceUsedG), float64(m.in.PouredC))))
	r.Cautions = out.cautions()
	return r
}
