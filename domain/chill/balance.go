package chill

import (
	"math"

	"servewright/domain/liquid"
)

// Constants of ice and water (water_ice_constants.csv).
const (
	// fusionHeat is the heat of fusion of ice at 0 °C in J/g: Mechanical
	// Engineers' Handbook vol. 4 Table 17 (333.5); two other sources read 333.4
	// to 333.7.
	fusionHeat = 333.5
	// waterHeat is the specific heat of water at 0 °C in J/(g K), same table. It
	// is also taken for the little that melt water is chilled below 0 °C.
	waterHeat = 4.217
	// The specific heat of ice in J/(g K) is iceHeat + iceHeatPerK·t, t in °C:
	// the line through 2.116 at 0 °C, 2.013 at 260 K and 1.936 at 250 K, same
	// table.
	iceHeat     = 2.116
	iceHeatPerK = 0.0078
)

// ledger is the heat of one meeting of a drink with ice. Every entry is linear
// in the temperature, so what is given is exactly what is taken. The heat
// capacity of the drink is taken once, half-way to 0 °C: that is within 1 % of
// following it degree by degree.
type ledger struct {
	drink   *liquid.Mix // before this ice
	drinkC  float64
	drinkJK float64 // J/K
	vesselC float64
	vessJK  float64 // J/K of the part that is chilled
	roomC   float64
	roomJK  float64 // heat let in per degree below the room, over the whole time, J/K
	iceG    float64 // solid
	iceC    float64 // ≤ 0
	iceJGK  float64 // J/(g K)
	share   float64 // of the remaining ice's heat that follows its surface
	clingG  float64 // water clinging to the ice; it is at 0 °C and joins the drink
	inert   bool    // leave the heat of dilution out, to see what it is worth
}

// water returns all water added once meltG of the ice has melted, g.
func (l *ledger) water(meltG float64) float64 { return l.clingG + meltG }

// dilutionHeat returns the heat released by mixing that water in, J.
func (l *ledger) dilutionHeat(meltG float64) float64 {
	if l.inert {
		return 0
	}
	return l.drink.HeatOfDilution(l.water(meltG))
}

// temperature returns the temperature at which heat given equals heat taken
// once meltG of the ice has melted:
//
//	given: drink, vessel, room down to t; heat of dilution
//	taken: ice up to 0 °C and melted; water from 0 °C to t; a share of the
//	       remaining ice up to min(t, 0)
func (l *ledger) temperature(meltG float64) float64 {
	return l.temperatureWith(meltG, l.dilutionHeat(meltG))
}

func (l *ledger) temperatureWith(meltG, dilution float64) float64 {
	left := l.share * (l.iceG - meltG) * l.iceJGK
	heat := l.drinkJK*l.drinkC + l.vessJK*l.vesselC + l.roomJK*l.roomC + dilution -
		meltG*(fusionHeat-l.iceJGK*l.iceC) + left*l.iceC
	capacity := l.drinkJK + l.vessJK + l.roomJK + waterHeat*l.water(meltG)
	if heat < 0 {
		capacity += left
	}
	if capacity <= 0 {
		return l.drinkC
	}
	return heat / capacity
}

// freezing returns the freezing point of the drink with that water in it.
func (l *ledger) freezing(meltG float64) float64 {
	m := *l.drink
	m[liquid.Water] += l.water(meltG)
	return float64(m.FreezingPoint())
}

// outcome is where a meeting with ice ends.
type outcome struct {
	meltG float64
	endC  float64
	why   reason
}

// reason says what ended the meeting, where that deserves a word.
type reason uint8

const (
	asMeant    reason = iota
	iceGone           // all the ice melted first
	atFreezing        // the drink reached its freezing point first
	tooCold           // the drink was too cold to melt any ice
)

// bare returns the temperature without the ice: drink, vessel, room and the
// clinging water alone.
func (l *ledger) bare() float64 {
	dry := *l
	dry.iceG = 0
	return dry.temperature(0)
}

// unasked drops the word that an end nobody asked for was not reached.
func (o outcome) unasked() outcome {
	if o.why == atFreezing {
		o.why = asMeant
	}
	return o
}

// toEquilibrium melts ice until the drink's freezing point meets its
// temperature.
func (l *ledger) toEquilibrium() outcome {
	gap := func(meltG float64) float64 { return l.temperature(meltG) - l.freezing(meltG) }
	if gap(0) <= 0 {
		return outcome{0, math.Min(l.bare(), l.freezing(0)), tooCold}
	}
	if gap(l.iceG) >= 0 {
		return outcome{l.iceG, l.temperature(l.iceG), iceGone}
	}
	melt := root(gap, 0, l.iceG)
	return outcome{melt, l.temperature(melt), asMeant}
}

// toTemperature melts ice until the drink is at endC. A drink that is colder
// already melts nothing.
func (l *ledger) toTemperature(endC float64) outcome {
	gap := func(meltG float64) float64 { return l.temperature(meltG) - endC }
	if gap(0) <= 0 {
		return l.unmelted(endC)
	}
	if gap(l.iceG) > 0 {
		return l.unlessFrozen(outcome{l.iceG, l.temperature(l.iceG), iceGone})
	}
	return l.unlessFrozen(outcome{root(gap, 0, l.iceG), endC, asMeant})
}

// unmelted is the end at endC of a drink that needs no melting to be there.
func (l *ledger) unmelted(endC float64) outcome {
	bare, freezing := l.bare(), l.freezing(0)
	switch {
	case bare < freezing:
		return outcome{0, bare, tooCold}
	case endC < freezing:
		return outcome{0, freezing, atFreezing}
	}
	return outcome{0, math.Min(bare, endC), asMeant}
}

// unlessFrozen returns out, or the equilibrium when that comes first.
func (l *ledger) unlessFrozen(out outcome) outcome {
	if l.freezing(out.meltG) <= out.endC {
		return out
	}
	out = l.toEquilibrium()
	if out.why == asMeant {
		out.why = atFreezing
	}
	return out
}

// root finds where f, falling from f(low) > 0 to f(high) ≤ 0, is zero: false
// position that halves the weight of an end kept twice (the Illinois rule). It
// never leaves its bracket and ends when its steps are round-off.
func root(f func(float64) float64, low, high float64) float64 {
	atLow, atHigh := f(low), f(high)
	tolerance := 4e-15 * (high - low)
	x, kept := high, 0
	for range 60 {
		last := x
		x = (low*atHigh - high*atLow) / (atHigh - atLow)
		y := f(x)
		if y == 0 || math.Abs(x-last) <= tolerance {
			return x
		}
		if y > 0 {
			low, atLow = x, y
			if kept == 1 {
				atHigh /= 2
			}
			kept = 1
		} else {
			high, atHigh = x, y
			if kept == -1 {
				atLow /= 2
			}
			kept = -1
		}
	}
	return x
}
