package chill

import (
	"math"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// waterDensity is the density of water at 20 °C in g/mL (OIML R 22, A₁). It
// turns grams of ice water into the millilitres that dilutions are counted in.
const waterDensity = 0.99820123

// making is a drink about to meet the method's ice, with everything resolved.
type making struct {
	p  *Practice
	in *Input
	ml float64 // of the mix stage at 20 °C
}

// kitML is the volume that ice and glass are made for: with the top, when it
// joins in the same glass. Counted by mass, which is near enough for that.
func (m *making) kitML() float64 {
	if !m.in.Method.inGlass() {
		return m.ml
	}
	mix := float64(m.in.Mix.Mass())
	return m.ml * (mix + float64(m.in.Later.Mass())) / mix
}

// actual is the ledger of the drink as it is made.
func (m *making) actual() ledger {
	c, h := &m.in.Conditions, &m.in.House
	return m.ledger(c, h, float64(m.in.PouredC))
}

// reference is the ledger of the same drink under the reference conditions.
func (m *making) reference() ledger {
	return m.ledger(&Conditions{}, &House{}, float64(ReferenceC))
}

func (m *making) ledger(c *Conditions, h *House, pouredC float64) ledger {
	kit, roomC := m.kitML(), or(h.RoomC, float64(ReferenceC))
	iceC := or(c.IceC, or(h.IceC, 0))
	iceG := or(c.IceG, m.p.IceGML*kit)
	return ledger{
		drink: &m.in.Mix, drinkC: pouredC, drinkJK: heatCapacity(&m.in.Mix, pouredC),
		vesselC: or(c.VesselC, roomC), vessJK: or(c.VesselJPerK, m.p.VesselML*kit),
		roomC: roomC, roomJK: m.p.RoomML * kit * or(c.Seconds, m.p.Seconds),
		iceG: iceG, iceC: iceC, iceJGK: iceSpecific(iceC), share: m.p.Share,
		clingG: iceG * wetness(c.IceWetPct, h.IceWetPct, m.p.Wet, iceC),
	}
}

// heatCapacity is the drink's in J/K, half-way from t to 0 °C.
func heatCapacity(m *liquid.Mix, t float64) float64 {
	return m.HeatCapacity(measure.Temperature(t / 2))
}

// iceSpecific is the mean specific heat of ice from t to 0 °C, J/(g K).
func iceSpecific(t float64) float64 { return iceHeat + iceHeatPerK*t/2 }

// wetness is the share of its mass that clings to the ice as water: as said for
// this making, else for the house, else what drained ice carries, less what ice
// below 0 °C freezes on to itself.
func wetness(said, house *float64, drained, iceC float64) float64 {
	switch {
	case said != nil:
		return *said / 100
	case house != nil:
		return *house / 100
	}
	return math.Max(0, drained+iceC*iceSpecific(iceC)/fusionHeat)
}

// known says whether anything about the making is known that moves it away from
// the fits: a temperature of ingredients, ice or vessel, the wetness or amount of
// the ice, or the vessel itself. The house's figures count where they differ from
// the reference.
func (in *Input) known() bool {
	c, h := &in.Conditions, &in.House
	if in.Set || in.PouredC != ReferenceC || c.IngredientC != nil || c.IceC != nil || c.IceWetPct != nil ||
		c.IceG != nil || c.VesselC != nil || c.VesselJPerK != nil || h.IceWetPct != nil {
		return true
	}
	return differs(h.RoomC, ReferenceC) || differs(h.IngredientC, ReferenceC) || differs(h.IceC, 0)
}

func differs(t *measure.Temperature, reference measure.Temperature) bool {
	return t != nil && *t != reference
}

// ended says whether the making stops at a temperature or a time of its own.
func (c *Conditions) ended() bool { return c.TargetC != nil || c.Seconds != nil }

// balance runs the ledger to where this making stops: at the temperature asked
// for, else after the seconds asked for, else as the method usually does.
func (m *making) balance(l *ledger, c *Conditions) outcome {
	switch {
	case c.TargetC != nil:
		return l.toTemperature(float64(*c.TargetC))
	case c.Seconds != nil:
		return l.afterSeconds(*c.Seconds, m.p.film)
	case m.p.End == AfterSeconds:
		return l.afterSeconds(m.p.Seconds, m.p.film)
	case m.p.End == ToTemperature:
		return l.toTemperature(float64(m.p.EndC)).unasked()
	}
	return l.toEquilibrium()
}
