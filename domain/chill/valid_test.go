package chill

import (
	"errors"
	"math"
	"slices"
	"testing"

	"servewright/domain"
	"servewright/domain/measure"
	"servewright/testdata/reference"
)

func pointers(err error) []string {
	var e *domain.Error
	if !errors.As(err, &e) {
		return nil
	}
	var at []string
	for _, f := range e.Faults {
		at = append(at, f.Pointer)
	}
	return at
}

// TestConditionsValid refuses each figure out of its range, NaN and infinity
// among them, all in one answer.
func TestConditionsValid(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct {
		name string
		c    Conditions
		want []string
	}{
		{"nothing said", Conditions{}, nil},
		{"usual", Conditions{IngredientC: celsius(4), IceC: celsius(-12), IceWetPct: number(3), IceG: number(180), VesselC: celsius(-5), VesselJPerK: number(130), TargetC: celsius(-4), Seconds: number(12)}, nil},
		{"warm ice", Conditions{IceC: celsius(0.1)}, []string{"/conditions/ice_c"}},
		{"dripping", Conditions{IceWetPct: number(50.1)}, []string{"/conditions/ice_wet_pct"}},
		{"negative", Conditions{IceG: number(-1), Seconds: number(-1), VesselJPerK: number(-1)}, []string{"/conditions/ice_g", "/conditions/vessel_j_per_k", "/seconds"}},
		{"not numbers", Conditions{IngredientC: celsius(nan), VesselC: celsius(inf), TargetC: celsius(-inf), Seconds: &nan},
			[]string{"/conditions/ingredient_c", "/conditions/vessel_c", "/conditions/target_c", "/seconds"}},
	} {
		if got := pointers(tt.c.Valid()); !slices.Equal(got, tt.want) {
			t.Errorf("%s: faults at %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestHouseValid(t *testing.T) {
	good := House{RoomC: celsius(24), IngredientC: celsius(20), IceC: celsius(-6), IceWetPct: number(2)}
	if err := good.Valid(); err != nil {
		t.Errorf("Valid() = %v, want nil", err)
	}
	bad := House{RoomC: celsius(math.NaN()), IngredientC: celsius(200), IceC: celsius(1), IceWetPct: number(-1)}
	want := []string{"/room_c", "/ingredient_c", "/ice_c", "/ice_wet_pct"}
	if got := pointers(bad.Valid()); !slices.Equal(got, want) {
		t.Errorf("faults at %v, want %v", got, want)
	}
}

func TestOverrideValid(t *testing.T) {
	for _, tt := range []struct {
		o    Override
		want []string
	}{
		{Override{PctOfStart, 52}, nil}, {Override{ServedVolume, 160}, nil}, {Override{ServedMass, 165}, nil},
		{Override{PctOfStart, -1}, []string{"/dilution/measured_pct_of_start"}},
		{Override{PctOfStart, math.NaN()}, []string{"/dilution/measured_pct_of_start"}},
		{Override{ServedVolume, math.Inf(1)}, []string{"/dilution/served_volume_ml"}},
		{Override{ServedMass, 1e7}, []string{"/dilution/served_mass_g"}},
		{Override{"guess", 1}, []string{"/dilution"}},
	} {
		if got := pointers(tt.o.Valid()); !slices.Equal(got, tt.want) {
			t.Errorf("%+v: faults at %v, want %v", tt.o, got, tt.want)
		}
	}
}

func FuzzParseMethod(f *testing.F) {
	for _, s := range []string{"shake", "Shake", "", "none", "\xff", "shake\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParseMethod(s)
		if known := slices.Contains(Methods, Method(s)); known != (err == nil) || known && string(m) != s {
			t.Errorf("ParseMethod(%q) = %q, %v", s, m, err)
		}
		if err != nil && !errors.Is(err, domain.Invalid) {
			t.Errorf("ParseMethod(%q): %v is not invalid", s, err)
		}
	})
}

func FuzzParseIce(f *testing.F) {
	for _, s := range []string{"cubes", "CUBES", "", "none", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		i, err := ParseIce(s)
		if known := slices.Contains(Ices, Ice(s)); known != (err == nil) || known && string(i) != s {
			t.Errorf("ParseIce(%q) = %q, %v", s, i, err)
		}
	})
}

// TestGlasses compares every glass with glassware_measures.csv.
func TestGlasses(t *testing.T) {
	found := 0
	for _, r := range reference.Rows(t, "glassware_measures.csv") {
		if r["kind"] != "glass" {
			continue
		}
		found++
		g, ok := GlassOf(r["item"])
		if !ok {
			t.Errorf("no glass %q", r["item"])
			continue
		}
		near(t, g.Name+" low", float64(g.Low), r.Num(t, "mL_low"), 0, r["source"])
		near(t, g.Name+" typical", float64(g.Typical), r.Num(t, "mL_typical"), 0, r["source"])
		near(t, g.Name+" high", float64(g.High), r.Num(t, "mL_high"), 0, r["source"])
	}
	if found != len(Glasses) {
		t.Errorf("%d glasses in the table, %d in the code", found, len(Glasses))
	}
}

func TestGlassNames(t *testing.T) {
	for name, want := range map[string]string{
		"Coupe": "coupe", "nick & nora": "nick and nora", "NICK_AND_NORA": "nick and nora", "martini glass": "martini", "cocktail": "martini",
		"double-old-fashioned": "double old fashioned", "rocks  glass": "rocks", "julep cup": "julep",
	} {
		if g, ok := GlassOf(name); !ok || g.Name != want {
			t.Errorf("GlassOf(%q) = %q, %v, want %q", name, g.Name, ok, want)
		}
	}
	for _, name := range []string{"", "glass", "bathtub"} {
		if g, ok := GlassOf(name); ok || g.Typical != 0 {
			t.Errorf("GlassOf(%q) = %v, want none", name, g)
		}
	}
	if g, ok := GlassOf("flute"); !ok || g.Typical != measure.Volume(200) {
		t.Errorf("GlassOf(flute) = %v, %v, want 200 mL", g, ok)
	}
}
