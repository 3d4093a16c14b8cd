package liquid_test

import (
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

var sink float64

// sour is 50 mL of spirit, 25 mL of lime and 25 mL of syrup as a mix.
func sour(b testing.TB) liquid.Mix {
	m := spirit(b, 50, 0.4)
	m.Add(&liquid.Mix{
		liquid.Water: 36, liquid.Sucrose: 15.4, liquid.Glucose: .15, liquid.Fructose: .15, liquid.CitricAcid: 1.2, liquid.MalicAcid: .05,
	}, 1)
	return m
}

func BenchmarkEthanolWaterDensity(b *testing.B) {
	for _, t := range []measure.Temperature{20, 15} {
		b.Run(map[measure.Temperature]string{20: "20C", 15: "any"}[t], func(b *testing.B) {
			b.ReportAllocs()
			p := 0.1
			for range b.N {
				sink += liquid.EthanolWaterDensity(p, t)
			}
		})
	}
}

func BenchmarkVolume(b *testing.B) {
	for name, m := range map[string]liquid.Mix{"spirit": spirit(b, 50, 0.4), "sour": sour(b)} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				sink += float64(m.Volume())
			}
		})
	}
}

// BenchmarkBare is the bare loop to compare with: one division for each mass.
func BenchmarkBare(b *testing.B) {
	m := sour(b)
	b.ReportAllocs()
	for range b.N {
		v := 0.0
		for i, g := range m {
			v += g / float64(i+1)
		}
		sink += v
	}
}

func BenchmarkFreezingPoint(b *testing.B) {
	m := sour(b)
	b.ReportAllocs()
	for range b.N {
		sink += float64(m.FreezingPoint())
	}
}

func BenchmarkHeatCapacity(b *testing.B) {
	m := sour(b)
	b.ReportAllocs()
	for range b.N {
		sink += m.HeatCapacity(5)
	}
}

func BenchmarkHeatOfDilution(b *testing.B) {
	m := sour(b)
	b.ReportAllocs()
	for range b.N {
		sink += m.HeatOfDilution(50)
	}
}

func BenchmarkClose(b *testing.B) {
	lime := liquid.Label{Brix: ptr(8.5), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 46, liquid.MalicAcid: 2}}
	for name, tt := range map[string]struct {
		l liquid.Label
		u liquid.Usual
	}{
		"spirit":   {liquid.Label{ABV: abvOf(0.4)}, spirits},
		"liqueur":  {liquid.Label{ABV: abvOf(0.24), Sugar: ptr(300.0)}, liqueur},
		"juice":    {lime, juice},
		"density":  {liquid.Label{ABV: abvOf(0.24), Density: density(1.0835)}, liqueur},
		"unknown":  {liquid.Label{}, liqueur},
		"fraction": {liquid.Label{MassFraction: map[string]float64{"fat": 0.36, "protein": 0.02, "lactose": 0.03}}, plain},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				c, err := liquid.Close(&tt.l, tt.u)
				if err != nil {
					b.Fatal(err)
				}
				sink += float64(c.Density)
			}
		})
	}
}

// TestNoAllocations: what every drink goes through allocates nothing.
func TestNoAllocations(t *testing.T) {
	m := sour(t)
	n := testing.AllocsPerRun(100, func() {
		brix, _ := m.Brix()
		sink += float64(m.Volume()) + float64(m.ABV()) + float64(m.FreezingPoint()) + m.HeatCapacity(5) + m.HeatOfDilution(50) +
			m.TitratableMeq() + brix + liquid.EthanolWaterDensity(0.3, 15) + liquid.SucroseDensity(0.3, 25)
	})
	if n != 0 {
		t.Errorf("%v allocations, want none", n)
	}
}
