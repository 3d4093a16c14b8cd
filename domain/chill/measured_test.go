package chill

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/liquid"
)

// TestMeasured pours a drink, adds a known water and reads it back from what a
// bar can measure.
func TestMeasured(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Input{Method: rapid.SampledFrom(Methods).Draw(t, "method"), ServingIce: rapid.SampledFrom(Ices).Draw(t, "ice"), Mix: anyDrink(t), PouredC: ReferenceC}
		if rapid.Bool().Draw(t, "topped") {
			in.Later = anyDrink(t)
		}
		ml := float64(in.Mix.Volume())
		want := between(t, 0, 1.5, "dilution") * ml
		whole := in.Mix
		whole.Add(&in.Later, 1)
		whole[liquid.Water] += want
		for _, o := range []Override{
			{PctOfStart, 100 * want / waterDensity / ml}, {ServedVolume, float64(whole.Volume())}, {ServedMass, float64(whole.Mass())},
		} {
			in.Override = &o
			r, err := Dilute(&in)
			if err != nil {
				t.Fatalf("%s: %v", o.Kind, err)
			}
			if d := r.WaterG - want; d > 1e-6 || d < -1e-6 || r.Model != Measured {
				t.Fatalf("%s: %v g by %s, want %v g", o.Kind, r.WaterG, r.Model, want)
			}
			if melt := Stand(&in, &r, &whole, r.FinalC); o.Kind != PctOfStart && melt.WaterG != 0 {
				t.Fatalf("%s: %v g of melt beside a measured serve", o.Kind, melt.WaterG)
			}
		}
	})
}

// TestMeasuredWorked reads the handbook's daiquiri back from its 159.5 mL
// (from memory): 51.9 % of start.
func TestMeasuredWorked(t *testing.T) {
	in := Input{Method: Shake, Mix: drink(105, 22.9, 13.5, 1.29), PouredC: ReferenceC, Override: &Override{ServedVolume, 159.5}}
	got, r := diluted(t, &in)
	near(t, "dilution", got, 51.9, 0.5, "Liquid Intelligence, from memory; it adds volumes")
	near(t, "band, points", 100*r.BandWaterG/waterDensity/105, 3, 0.01, "dilution_by_technique.csv: a repeatable bar gets about 3 points")
	fitted, usual := diluted(t, &Input{Method: Shake, Mix: in.Mix, PouredC: ReferenceC})
	near(t, "final temperature", float64(r.FinalC-usual.FinalC), (fitted-got)/2.7, 0.1, "dilution_sensitivity.csv: 1 °C is 2.6 points")
}

// TestImpossibleMeasurements refuses what cannot be true, and says where.
func TestImpossibleMeasurements(t *testing.T) {
	for _, tt := range []struct {
		o             Override
		pointer, code string
	}{
		{Override{ServedVolume, 104}, "/dilution/served_volume_ml", "SERVED_LESS_THAN_POURED"},
		{Override{ServedMass, 100}, "/dilution/served_mass_g", "SERVED_LESS_THAN_POURED"},
		{Override{ServedVolume, 5000}, "/dilution/served_volume_ml", "SERVED_MORE_THAN_ICE_GIVES"},
		{Override{ServedMass, 5000}, "/dilution/served_mass_g", "SERVED_MORE_THAN_ICE_GIVES"},
	} {
		_, err := Dilute(&Input{Method: Shake, Mix: sour(), PouredC: ReferenceC, Override: &tt.o})
		var e *domain.Error
		if !errors.Is(err, domain.Invalid) || !errors.As(err, &e) || len(e.Faults) != 1 {
			t.Errorf("%+v: error = %v, want one fault", tt.o, err)
			continue
		}
		if f := e.Faults[0]; f.Pointer != tt.pointer || f.Code != tt.code {
			t.Errorf("%+v: fault = %+v, want %s at %s", tt.o, f, tt.code, tt.pointer)
		}
	}
	// just what was poured is no water, not an error
	in := Input{Method: Shake, Mix: sour(), Later: strong(), PouredC: ReferenceC}
	whole := in.Mix
	whole.Add(&in.Later, 1)
	in.Override = &Override{ServedVolume, float64(whole.Volume())}
	if got, _ := diluted(t, &in); got != 0 {
		t.Errorf("served what was poured: %v %% of water, want none", got)
	}
}
