package chill

import (
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// stood makes the drink, tops it and stands it on its ice.
func stood(t *testing.T, in Input, topC float64) (Result, Result) {
	t.Helper()
	_, made := diluted(t, &in)
	mix := in.Mix
	mix[liquid.Water] += made.WaterG
	c := made.FinalC
	if in.Later.Mass() > 0 {
		mix, c = topped(&in, &made, topC)
	}
	return made, Stand(&in, &made, &mix, c)
}

// TestStandColdDrink: a shaken drink is colder than it would be handed over on
// cubes or a rock, so nothing melts; what clings to fresh ice still joins it.
func TestStandColdDrink(t *testing.T) {
	for _, ice := range []Ice{Cubes, LargeCube} {
		made, on := stood(t, Input{Method: Shake, Mix: sour(), PouredC: ReferenceC, ServingIce: ice}, 0)
		near(t, "melt on "+string(ice), on.IceUsedG, 0, 0, "already colder")
		near(t, "clinging water on "+string(ice), on.WaterG, 1.4, 0.1, "1 % of 0.9 g of ice per mL of 159.6 mL")
		near(t, "temperature on "+string(ice), float64(on.FinalC), float64(made.FinalC), 0.1, "unchanged but for what clings")
		if len(on.Cautions) != 0 {
			t.Errorf("cautions %+v, want none: this is how it should be", on.Cautions)
		}
	}
	if _, on := stood(t, Input{Method: Shake, Mix: sour(), PouredC: ReferenceC, ServingIce: NoIce}, 0); on.WaterG != 0 || on.BandWaterG != 0 {
		t.Errorf("without ice: %+v, want no water", on)
	}
}

// TestStandTop: a top at room temperature melts cubes until all is at 1 °C. By
// hand: 100 mL at 21 °C to 1 °C give 8.4 kJ, the cold drink takes some of it.
func TestStandTop(t *testing.T) {
	in := Input{Method: Shake, Mix: sour(), Later: drink(100, 0, 0, 0), PouredC: ReferenceC, ServingIce: Cubes}
	made, on := stood(t, in, 21)
	takes := (float64(made.FinalC) - 1) * -(428 + 54*4.2) // sour and its water, J/K
	near(t, "melt", on.IceUsedG, (8370-takes)/(fusionHeat+waterHeat), 1.5, "heat balance by hand, without the heat of dilution")
	near(t, "final temperature", float64(on.FinalC), 1, 1e-9, "dilution_by_technique.csv: served at 1 °C")
}

// TestStandSharesIce: built in the glass, the ice and its clinging water count
// once, and nothing melts twice.
func TestStandSharesIce(t *testing.T) {
	for _, in := range []Input{
		{Method: Build, ServingIce: Cubes}, {Method: Highball, ServingIce: Cubes}, {Method: Highball, ServingIce: NoIce},
		{Method: Highball, ServingIce: LargeCube}, {Method: Swizzle, ServingIce: Crushed}, {Method: Swizzle, ServingIce: NoIce},
		{Method: Build, ServingIce: Crushed}, {Method: Build, ServingIce: Cubes, Conditions: Conditions{TargetC: celsius(-2)}},
		{Method: Build, ServingIce: Cubes, Conditions: Conditions{Seconds: number(15)}},
	} {
		in.Mix, in.PouredC = strong(), ReferenceC
		made, on := stood(t, in, 0)
		near(t, string(in.Method)+" on "+string(in.ServingIce)+": melt without a top", on.WaterG, 0, 0.01, "it is where it stops already")
		near(t, "ice left", on.IceLeftG, made.IceLeftG-on.IceUsedG, 1e-9, "the same ice")
	}
	_, on := stood(t, Input{Method: None, Mix: strong(), PouredC: ReferenceC, ServingIce: Cubes}, 0)
	near(t, "poured on fresh ice", on.WaterG/waterDensity/90*100, 27.5, 1, "built on cubes (33.2) less its glass, 0.9 J/K per mL × 20 K ÷ 337 J/g = 5.3 points, and the room")
}

// TestStandStopped: a drink stopped at its own temperature goes on standing
// there once topped.
func TestStandStopped(t *testing.T) {
	in := Input{Method: Highball, Mix: drink(50, 40, 0, 0), Later: drink(150, 0, 0, 0), PouredC: ReferenceC, ServingIce: Cubes, Conditions: Conditions{TargetC: celsius(4)}}
	_, on := stood(t, in, 10)
	near(t, "final temperature", float64(on.FinalC), 4, 1e-9, "conditions.target_c")
}

// TestStandCrushed: on crushed ice a drink ends at its freezing point.
func TestStandCrushed(t *testing.T) {
	in := Input{Method: Shake, Mix: sour(), PouredC: ReferenceC, ServingIce: Crushed}
	_, made := diluted(t, &in)
	mix := in.Mix
	mix[liquid.Water] += made.WaterG
	on := Stand(&in, &made, &mix, made.FinalC)
	mix[liquid.Water] += on.WaterG
	near(t, "final temperature", float64(on.FinalC), float64(mix.FreezingPoint()), 1e-9, "equilibrium")
	if on.WaterG < 5 || on.WaterG > 30 {
		t.Errorf("%.1f g melt, want the 2 %% that cling to 240 g and what cools it", on.WaterG)
	}
}

// TestStandAllTop: a highball with nothing in its mix stage still meets ice.
func TestStandAllTop(t *testing.T) {
	in := Input{Method: Highball, Later: drink(200, 5, 5, 0), PouredC: ReferenceC, ServingIce: Cubes}
	_, made := diluted(t, &in)
	on := Stand(&in, &made, &in.Later, 21)
	near(t, "melt", on.WaterG, 50, 3, "200 g × 4.2 × 20 K ÷ 333.5 J/g")
}

// TestStanding says which ice a drink stands on.
func TestStanding(t *testing.T) {
	for _, m := range Methods {
		for _, ice := range append([]Ice{""}, Ices...) {
			want := ice
			if ice == NoIce || ice == "" {
				want = map[Method]Ice{Highball: Cubes, Swizzle: Crushed}[m]
			}
			if want == "" {
				want = NoIce
			}
			if got := (&Input{Method: m, ServingIce: ice}).Standing(); got != want {
				t.Errorf("%s on %q stands on %s, want %s", m, ice, got, want)
			}
		}
	}
	_, r := diluted(t, &Input{Method: Highball, Mix: strong(), PouredC: ReferenceC, ServingIce: NoIce})
	if len(r.Cautions) != 1 || r.Cautions[0].Code != "SERVING_ICE_ASSUMED" {
		t.Errorf("cautions %+v, want SERVING_ICE_ASSUMED", r.Cautions)
	}
}

// TestPractices holds the table of methods together.
func TestPractices(t *testing.T) {
	for _, m := range Methods {
		for _, ice := range Ices {
			p := m.Practice(ice)
			if p.Source == "" {
				t.Errorf("%s on %s has no source", m, ice)
			}
			if fit := p.Model == PublishedFit; fit != (p.To > p.From) || fit != (p.fit != curve{}) {
				t.Errorf("%s: model %s with a fit for %v to %v", m, p.Model, p.From, p.To)
			}
			if iced := p.End != NoWater; iced != (p.IceGML > 0) || iced != (p.Band > 0) || iced && (p.film == 0 || p.Share <= 0 || p.VesselML <= 0) {
				t.Errorf("%s on %s: %+v is half a practice", m, ice, p)
			}
			if p.End == ToTemperature && measure.Temperature(-5) > p.EndC {
				t.Errorf("%s ends at %v °C", m, p.EndC)
			}
		}
	}
}
