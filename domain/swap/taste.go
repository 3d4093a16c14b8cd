package swap

import (
	"math"

	"servewright/domain/serve"
)

// Notice says whether a guest would notice a change side by side.
type Notice uint8

// The verdicts.
const (
	CannotSay   Notice = iota // no threshold, or the change straddles it
	Unlikely                  // below the lowest threshold, band included
	Likely                    // above the highest threshold, band included
	NotMeasured               // the change is within its band: nothing is said about taste
)

// Threshold is how large a change has to be for a guest to notice it side by
// side.
type Threshold struct {
	Low, High float64 // smallest and largest published or assumed
	Ratio     bool    // of the ratio of the two values less 1; else a difference in the figure's unit
	Source    string
}

// thresholds by figure. All are engineering defaults drawn from published
// difference thresholds for simpler drinks, chosen by this project, and two are
// guesses; the sources say which.
var thresholds = map[serve.Figure]Threshold{
	serve.SugarPerL:    {0.08, 0.20, true, "chosen default, from published sucrose difference thresholds (8–20 %)"},
	serve.AcidPerL:     {0.12, 0.30, true, "chosen default, from published citric acid difference thresholds (12–30 %)"},
	serve.ServedABV:    {0.08, 0.25, true, "chosen default, from published ethanol difference thresholds (8–25 %)"},
	serve.TemperatureC: {2, 5, false, "guess: no published threshold for a drink's temperature was found"},
	serve.ServedVolume: {0.05, 0.15, true, "guess: no published threshold for a drink's volume was found"},
}

// Above these the sweetness threshold widens to 30 %: acid and alcohol mask it
// (chosen default; published evidence gives the direction only).
const (
	maskingAcid    = 5.0  // g/L as citric
	maskingABV     = 0.25 // fraction
	maskedSweetTop = 0.30
)

// notice judges a change: first whether it was measured at all, then against
// the thresholds, in log ratio so that a fall of f counts as a rise of
// f/(1 − f):
//
//	r = ln(is/was), u = band/|is|
//	unlikely when |r| + 1.645 u < ln(1 + low)
//	likely   when |r| − 1.645 u > ln(1 + high)
//
// 1.645 is the one-sided 95 % point of the normal distribution.
func notice(f serve.Figure, was, is, band float64, before *serve.Result) (Notice, *Threshold) {
	t, ok := thresholds[f]
	if !ok {
		return CannotSay, nil
	}
	if f == serve.SugarPerL && (before.Figures[serve.AcidPerL] > maskingAcid || before.Figures[serve.ServedABV] > maskingABV) {
		t.High = maskedSweetTop
	}
	size, u := math.Abs(is-was), band
	low, high := t.Low, t.High
	if t.Ratio {
		if !(was > 0 && is > 0) {
			return CannotSay, &t
		}
		size, u = math.Abs(math.Log(is/was)), band/is
		low, high = math.Log1p(low), math.Log1p(high)
	}
	return verdict(size, u, low, high), &t
}

func verdict(size, u, low, high float64) Notice {
	const oneSided = 1.645
	switch {
	case size < coverage*u:
		return NotMeasured
	case size+oneSided*u < low:
		return Unlikely
	case size-oneSided*u > high:
		return Likely
	}
	return CannotSay
}
