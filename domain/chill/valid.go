package chill

import (
	"slices"
	"strings"

	"servewright/domain"
)

// ParseMethod reads a method. The error names the methods taken.
func ParseMethod(s string) (Method, error) {
	if slices.Contains(Methods, Method(s)) {
		return Method(s), nil
	}
	return "", unknown("UNKNOWN_METHOD", "method", s, Methods)
}

// ParseIce reads a serving ice. The error names the ices taken.
func ParseIce(s string) (Ice, error) {
	if slices.Contains(Ices, Ice(s)) {
		return Ice(s), nil
	}
	return "", unknown("UNKNOWN_ICE", "serving ice", s, Ices)
}

// unknown refuses word and lists what is taken instead.
func unknown[T ~string](code, what, word string, taken []T) error {
	names := make([]string, len(taken))
	for i, t := range taken {
		names[i] = string(t)
	}
	word = strings.ToValidUTF8(word, "�")
	if r := []rune(word); len(r) > 40 {
		word = string(r[:40]) + "…"
	}
	e := domain.Errorf(domain.Invalid, "unknown %s %q; use one of %s", what, word, strings.Join(names, ", "))
	e.Code = code
	return e
}

// The limits of what is taken. They are far wider than any bar: a domestic
// freezer is at −18 °C, an ultra-cold one at −80 °C, coffee is poured at 95 °C.
const (
	lowC, highC    = -80, 100
	highWetPct     = 50
	highG          = 1e6
	highJPerK      = 1e6
	lowTargetC     = -40
	highTargetC    = 40
	highSeconds    = 3600
	highPctOfStart = 1000
	highServed     = 1e6
)

// Valid returns every fault of the conditions, with pointers into a spec's
// document.
func (c *Conditions) Valid() error {
	var bad domain.Faults
	within(&bad, "/conditions/ingredient_c", c.IngredientC, lowC, highC)
	within(&bad, "/conditions/ice_c", c.IceC, lowC, 0)
	within(&bad, "/conditions/ice_wet_pct", c.IceWetPct, 0, highWetPct)
	within(&bad, "/conditions/ice_g", c.IceG, 0, highG)
	within(&bad, "/conditions/vessel_c", c.VesselC, lowC, highC)
	within(&bad, "/conditions/vessel_j_per_k", c.VesselJPerK, 0, highJPerK)
	within(&bad, "/conditions/target_c", c.TargetC, lowTargetC, highTargetC)
	within(&bad, "/seconds", c.Seconds, 0, highSeconds)
	return bad.Err()
}

// Valid returns every fault of the house's conditions, with pointers into the
// house's document.
func (h *House) Valid() error {
	var bad domain.Faults
	within(&bad, "/room_c", h.RoomC, -20, 60)
	within(&bad, "/ingredient_c", h.IngredientC, lowC, highC)
	within(&bad, "/ice_c", h.IceC, lowC, 0)
	within(&bad, "/ice_wet_pct", h.IceWetPct, 0, highWetPct)
	return bad.Err()
}

// Valid returns the fault of the override, with a pointer into a spec's
// document. Whether a served volume can be reached is known only with the
// drink: see [Dilute].
func (o *Override) Valid() error {
	var bad domain.Faults
	high := map[OverrideKind]float64{PctOfStart: highPctOfStart, ServedVolume: highServed, ServedMass: highServed}[o.Kind]
	if high == 0 {
		bad.Add("/dilution", "UNKNOWN_DILUTION", "dilution must be one of %s, %s, %s", PctOfStart, ServedVolume, ServedMass)
		return bad.Err()
	}
	within(&bad, "/dilution/"+string(o.Kind), &o.Value, 0, high)
	return bad.Err()
}

// within accepts a figure that is not given, or is a number from low to high:
// by what it must be, so that NaN is refused.
func within[T ~float64](bad *domain.Faults, pointer string, v *T, low, high float64) {
	if v == nil || float64(*v) >= low && float64(*v) <= high {
		return
	}
	bad.Add(pointer, "OUT_OF_RANGE", "must be at least %g and at most %g, not %g", low, high, float64(*v))
}

// or returns *v, or usual when v is nil.
func or[T ~float64](v *T, usual float64) float64 {
	if v == nil {
		return usual
	}
	return float64(*v)
}
