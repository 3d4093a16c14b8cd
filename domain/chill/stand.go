package chill

import (
	"math"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// Stand returns what the serving ice adds to the finished drink: in and made are
// what went into [Dilute] and what came out, mix is everything in the glass (mix
// stage, the method's water, rinse, top, float) and c its temperature.
//
// A drink built in the glass stands on what is left of the method's ice, whose
// clinging water it has already; a strained one on fresh ice. Either way the
// energy balance of drink and ice runs to where such a drink is handed over: 1 °C
// on cubes, 6 °C on a large cube, the drink's freezing point on crushed ice, or
// where this making was stopped. A drink that is colder melts nothing. What
// melts while it is drunk is not counted, nor the warmth of the glass a strained
// drink is poured into; the band makes room for a glass at room temperature.
//
// A measured serve has its melt in it already.
func Stand(in *Input, made *Result, mix *liquid.Mix, c measure.Temperature) Result {
	ice := in.Standing()
	b := bedOf(ice)
	ml := float64(mix.Volume())
	if b == nil || in.servedMeasured() || !(ml > 0) {
		return Result{Model: Fixed, FinalC: c}
	}
	l, end, endC := in.underIce(b, made, ml), b.end, b.endC
	if in.sharesIce() && made.Model == EnergyBalance && in.Conditions.ended() {
		end, endC = ToTemperature, made.FinalC
	}
	l.drink, l.drinkC, l.drinkJK = mix, float64(c), heatCapacity(mix, float64(c))
	out := l.standing(end, float64(endC))
	if out.meltG < trifleG { // the drink was at its end already
		out.meltG = 0
	}
	return Result{
		Model: EnergyBalance, WaterG: l.water(out.meltG), FinalC: measure.Temperature(out.endC),
		BandWaterG: in.standBand(&l, out.meltG, ml), IceUsedG: out.meltG, IceLeftG: l.iceG - out.meltG,
		Cautions: out.cautions(),
	}
}

// trifleG is a melt that is only the rounding of the search for it, g.
const trifleG = 1e-9

func (l *ledger) standing(end End, endC float64) outcome {
	var out outcome
	if end == ToEquilibrium {
		out = l.toEquilibrium()
	} else {
		out = l.toTemperature(endC)
	}
	if out.why == tooCold || out.why == atFreezing { // a cold drink on ice is as it should be
		out.why = asMeant
	}
	return out
}

// sharesIce says whether the drink stands on the ice it was made on.
func (in *Input) sharesIce() bool { return in.Method.inGlass() && in.Mix.Mass() > 0 }

// servedMeasured says whether all that is in the glass was measured.
func (in *Input) servedMeasured() bool {
	return in.Override != nil && in.Override.Kind != PctOfStart
}

// underIce is the ice under a finished drink of so many mL.
func (in *Input) underIce(b *bed, made *Result, ml float64) ledger {
	if in.sharesIce() {
		iceC := math.Min(0, float64(made.FinalC))
		return ledger{iceG: made.IceLeftG, iceC: iceC, iceJGK: iceSpecific(iceC), share: b.share}
	}
	h := &in.House
	iceG, iceC := b.under*ml, or(in.Conditions.IceC, or(h.IceC, 0))
	return ledger{
		iceG: iceG, iceC: iceC, iceJGK: iceSpecific(iceC), share: b.share,
		clingG: iceG * wetness(in.Conditions.IceWetPct, h.IceWetPct, b.wet, iceC),
	}
}

// standBand is one standard uncertainty of the serving melt, own estimates: half
// of what melts, all of what clings, and on fresh ice a glass anywhere between
// chilled and room temperature (0.9 J/K per mL of drink, uniform: ÷ √12).
func (in *Input) standBand(l *ledger, meltG, ml float64) float64 {
	band := math.Hypot(meltG/2, l.clingG)
	if !in.sharesIce() {
		band = math.Hypot(band, built.VesselML*ml*float64(ReferenceC)/fusionHeat/math.Sqrt(12))
	}
	return band
}
