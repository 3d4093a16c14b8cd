package chill

import (
	"math"

	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// repeatBand is one standard uncertainty of a dilution that was measured once
// and is made again: about 3 points of start for a repeatable bar with known kit
// (dilution_by_technique.csv, own estimate).
const repeatBand = 0.03

// measured takes the water from what somebody measured.
func (m *making) measured() (Result, error) {
	water, err := m.measuredG()
	if err != nil {
		return Result{}, err
	}
	r := Result{Model: Measured, WaterG: water, BandWaterG: repeatBand * m.ml * waterDensity, FinalC: m.unicedC()}
	if m.p.End == NoWater || !(m.ml > 0) {
		return r, nil
	}
	l := m.actual()
	r.IceUsedG = math.Min(math.Max(0, water-l.clingG), l.iceG)
	r.IceLeftG = m.left(l.iceG - r.IceUsedG)
	t := l.temperature(r.IceUsedG)
	r.FinalC = measure.Temperature(math.Max(t, math.Min(l.freezing(r.IceUsedG), l.drinkC)))
	return r, nil
}

// measuredG returns the grams of water that the measurement speaks of.
func (m *making) measuredG() (float64, error) {
	o := m.in.Override
	if o.Kind == PctOfStart {
		return o.Value / 100 * m.ml * waterDensity, nil
	}
	whole := m.in.Mix
	whole.Add(&m.in.Later, 1)
	have, unit := float64(whole.Volume()), "mL"
	if o.Kind == ServedMass {
		have, unit = float64(whole.Mass()), "g"
	}
	switch slack := 1e-9 * have; {
	case !(o.Value >= have-slack):
		return 0, impossible(o, "SERVED_LESS_THAN_POURED", "what is poured is %.1f %s already, so %.1f cannot be served: measure again, or correct the lines", have, unit, o.Value)
	case o.Value > (1+highPctOfStart/100)*have:
		return 0, impossible(o, "SERVED_MORE_THAN_ICE_GIVES", "%.1f %s would be more than %d times the %.1f poured: measure again, or correct the lines", o.Value, unit, 1+highPctOfStart/100, have)
	case o.Kind == ServedMass:
		return math.Max(0, o.Value-have), nil
	}
	return waterTo(&whole, have, o.Value), nil
}

func impossible(o *Override, code, format string, args ...any) error {
	var bad domain.Faults
	bad.Add("/dilution/"+string(o.Kind), code, format, args...)
	return bad.Err()
}

// waterTo returns the grams of water that bring mix, of volume have, to the
// volume want, mL at 20 °C. A gram of water adds between 0.8 and 1.1 mL to any
// drink, so the answer lies within the bracket.
func waterTo(mix *liquid.Mix, have, want float64) float64 {
	if want <= have {
		return 0
	}
	return root(func(g float64) float64 {
		m := *mix
		m[liquid.Water] += g
		return want - float64(m.Volume())
	}, 0, 2*(want-have))
}
