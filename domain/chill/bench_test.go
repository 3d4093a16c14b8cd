package chill

import (
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// BenchmarkDilute makes a drink by each model.
func BenchmarkDilute(b *testing.B) {
	for _, bb := range []struct {
		name string
		in   Input
	}{
		{"published_fit", Input{Method: Shake, Mix: sour(), PouredC: ReferenceC}},
		{"adjusted_fit", Input{Method: Shake, Mix: sour(), PouredC: 5, Set: true}},
		{"fixed", Input{Method: Build, Mix: sour(), PouredC: ReferenceC, ServingIce: LargeCube}},
		{"balance_to_temperature", Input{Method: Build, Mix: sour(), PouredC: ReferenceC, ServingIce: Cubes}},
		{"balance_to_equilibrium", Input{Method: Swizzle, Mix: sour(), PouredC: ReferenceC, ServingIce: Crushed}},
		{"balance_by_seconds", Input{Method: Shake, Mix: sour(), PouredC: ReferenceC, Conditions: Conditions{Seconds: number(12)}}},
		{"measured_volume", Input{Method: Shake, Mix: sour(), PouredC: ReferenceC, Override: &Override{ServedVolume, 160}}},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if r, err := Dilute(&bb.in); err != nil || !(r.WaterG > 0) {
					b.Fatal(r, err)
				}
			}
		})
	}
}

// BenchmarkStand stands a topped drink on cubes.
func BenchmarkStand(b *testing.B) {
	in := Input{Method: Highball, Mix: drink(50, 40, 0, 0), Later: drink(150, 0, 0, 0), PouredC: ReferenceC, ServingIce: Cubes}
	made, err := Dilute(&in)
	if err != nil {
		b.Fatal(err)
	}
	mix, c := topped(&in, &made, 5)
	b.ReportAllocs()
	for b.Loop() {
		if r := Stand(&in, &made, &mix, c); !(r.WaterG > 0) {
			b.Fatal(r)
		}
	}
}

// BenchmarkVolume is the yardstick: the volume of the same drink.
func BenchmarkVolume(b *testing.B) {
	m := sour()
	b.ReportAllocs()
	for b.Loop() {
		if v := m.Volume(); !(v > measure.Volume(m[liquid.Ethanol])) {
			b.Fatal(v)
		}
	}
}

// TestNoAllocations: nothing on the way to a dilution without cautions is put on
// the heap.
func TestNoAllocations(t *testing.T) {
	for _, in := range []Input{
		{Method: Shake, Mix: sour(), PouredC: ReferenceC}, {Method: Stir, Mix: strong(), PouredC: 5, Set: true},
		{Method: Highball, Mix: strong(), PouredC: ReferenceC, ServingIce: Cubes}, {Method: Swizzle, Mix: sour(), PouredC: ReferenceC, ServingIce: Crushed},
	} {
		made, err := Dilute(&in)
		if err != nil {
			t.Fatal(err)
		}
		if n := testing.AllocsPerRun(50, func() {
			if _, err := Dilute(&in); err != nil {
				t.Fatal(err)
			}
			Stand(&in, &made, &in.Mix, made.FinalC)
		}); n != 0 {
			t.Errorf("%s: %v allocations, want 0", in.Method, n)
		}
	}
}
