package liquid_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// genMix draws a drink: 100 g to 1 kg of water, up to half of that of ethanol and
// of each sugar, little of the rest, and metals only with the acid they are bound
// to.
func genMix(t *rapid.T, name string) liquid.Mix {
	var m liquid.Mix
	m[liquid.Water] = rapid.Float64Range(100, 1000).Draw(t, name+" water")
	for s := liquid.Ethanol; s <= liquid.Maltose; s++ {
		if rapid.Bool().Draw(t, name+" has "+s.Name()) {
			m[s] = rapid.Float64Range(0, 500).Draw(t, name+" "+s.Name())
		}
	}
	for s := liquid.Glycerol; s < liquid.Substances; s++ {
		if s != liquid.Sodium && s != liquid.Potassium && rapid.IntRange(0, 3).Draw(t, name+" has "+s.Name()) == 0 {
			m[s] = rapid.Float64Range(0, 50).Draw(t, name+" "+s.Name())
		}
	}
	m[liquid.Sodium] = rapid.Float64Range(0, 0.3).Draw(t, name+" sodium") * m[liquid.CitricAcid]
	return m
}

func sum(a, b *liquid.Mix) liquid.Mix {
	m := *a
	m.Add(b, 1)
	return m
}

// between reports whether x lies between a and b, but for rounding.
func between(x, a, b float64) bool {
	lo, hi := math.Min(a, b), math.Max(a, b)
	return x >= lo-1e-12*math.Abs(lo)-1e-15 && x <= hi+1e-12*math.Abs(hi)+1e-15
}

// TestMixingLaws: masses add, a mix is the same at any size, and a blend lies
// between its parts.
func TestMixingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genMix(t, "a"), genMix(t, "b")
		blend := sum(&a, &b)
		if got, want := float64(blend.Mass()), float64(a.Mass()+b.Mass()); math.Abs(got-want) > 1e-12*want {
			t.Fatalf("mass %g of a blend, %g of its parts", got, want)
		}
		for s := range liquid.Substances {
			share := func(m *liquid.Mix) float64 { return m[s] / float64(m.Mass()) }
			if !between(share(&blend), share(&a), share(&b)) {
				t.Fatalf("%s: %g of the blend, %g and %g of its parts", s.Name(), share(&blend), share(&a), share(&b))
			}
		}
		// Strength lies between the parts' once the contraction is counted.
		parts := float64(a.Volume() + b.Volume())
		got := float64(blend.ABV()) * float64(blend.Volume()) / parts
		if !between(got, float64(a.ABV()), float64(b.ABV())) {
			t.Fatalf("strength %g of a blend of %g and %g", got, a.ABV(), b.ABV())
		}
	})
}

// TestBlendOfSpirits: with ethanol and water alone the strength of a blend lies
// between its parts' without more ado.
func TestBlendOfSpirits(t *testing.T) {
	draw := func(t *rapid.T, name string) liquid.Mix {
		p := rapid.Float64Range(0, 1).Draw(t, name+" p")
		m := liquid.Mix{liquid.Ethanol: p, liquid.Water: 1 - p}
		m.Scale(rapid.Float64Range(0.01, 1000).Draw(t, name+" g"))
		return m
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := draw(t, "a"), draw(t, "b")
		blend := sum(&a, &b)
		if !between(float64(blend.ABV()), float64(a.ABV()), float64(b.ABV())) {
			t.Fatalf("%v of a blend of %v and %v", blend.ABV(), a.ABV(), b.ABV())
		}
	})
}

// TestSplitting: half of a mix has half of every amount and the same figures.
func TestSplitting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genMix(t, "m")
		k := rapid.Float64Range(1e-3, 1e3).Draw(t, "k")
		part := m
		part.Scale(k)
		same := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
				t.Fatalf("%s of %g times a mix: %g, want %g", what, k, got, want)
			}
		}
		same("mass", float64(part.Mass()), k*float64(m.Mass()))
		same("volume", float64(part.Volume()), k*float64(m.Volume()))
		same("strength", float64(part.ABV()), float64(m.ABV()))
		same("freezing point", float64(part.FreezingPoint()), float64(m.FreezingPoint()))
		same("heat capacity", part.HeatCapacity(5), k*m.HeatCapacity(5))
		same("acid", part.TitratableMeq(), k*m.TitratableMeq())
		same("heat of dilution", part.HeatOfDilution(k*10), k*m.HeatOfDilution(10))
	})
}

// TestSane: every figure of a drink is a number within reason.
func TestSane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genMix(t, "m")
		if v, d := float64(m.Volume()), float64(m.Density()); !(v > 0) || !(d > 0.7 && d < 2) {
			t.Fatalf("%g mL at %g g/mL", v, d)
		}
		if a := float64(m.ABV()); !(a >= 0 && a <= 1) {
			t.Fatalf("strength %g", a)
		}
		if f := float64(m.FreezingPoint()); !(f <= 0 && f >= -120) {
			t.Fatalf("freezes at %g °C", f)
		}
		c := m.HeatCapacity(measure.Temperature(rapid.Float64Range(-100, 100).Draw(t, "°C"))) / float64(m.Mass())
		if !(c > 0.5 && c < 5) {
			t.Fatalf("%g J/(g K)", c)
		}
		if b, ok := m.Brix(); ok != (m[liquid.Ethanol] == 0) || !(b >= 0 && b <= 100) {
			t.Fatalf("%g °Brix, %v", b, ok)
		}
	})
}

// TestFreezingLaw: more of anything dissolved, in the same water, never freezes
// earlier; more water never later.
func TestFreezingLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genMix(t, "m")
		before := m.FreezingPoint()
		s := liquid.Substance(rapid.IntRange(1, int(liquid.Substances)-1).Draw(t, "substance"))
		more := m
		more[s] += rapid.Float64Range(0, 200).Draw(t, "g")
		if f := more.FreezingPoint(); f > before {
			t.Fatalf("with more %s it freezes at %v °C, without at %v", s.Name(), f, before)
		}
		more = m
		more[liquid.Water] += rapid.Float64Range(0, 1000).Draw(t, "water")
		if f := more.FreezingPoint(); f < before {
			t.Fatalf("with more water it freezes at %v °C, without at %v", f, before)
		}
	})
}

// TestDilutionHeatLaw: dilution sets heat free, and in two steps as much as in
// one.
func TestDilutionHeatLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := genMix(t, "m")
		a := rapid.Float64Range(0, 500).Draw(t, "first")
		b := rapid.Float64Range(0, 500).Draw(t, "second")
		first := m.HeatOfDilution(a)
		all := m.HeatOfDilution(a + b)
		m[liquid.Water] += a
		second := m.HeatOfDilution(b)
		if first < 0 || second < 0 {
			t.Fatalf("dilution takes up heat: %g J, then %g J", first, second)
		}
		if math.Abs(first+second-all) > 1e-8*math.Max(1, all) {
			t.Fatalf("%g J and %g J in two steps, %g J in one", first, second, all)
		}
	})
}

// drawLabel draws a liqueur's label that fits its litre.
func drawLabel(t *rapid.T) liquid.Label {
	abv := rapid.Float64Range(0, 0.7).Draw(t, "abv")
	l := liquid.Label{ABV: abvOf(abv)}
	sugar := rapid.Float64Range(0, 500*(1-abv)).Draw(t, "sugar")
	if rapid.Bool().Draw(t, "by kind") {
		l.Sugars = map[liquid.Substance]float64{}
		for s := liquid.Sucrose; s <= liquid.Maltose; s++ {
			l.Sugars[s] = sugar / 5
		}
	} else {
		l.Sugar = &sugar
	}
	l.Acids = map[liquid.Substance]float64{}
	for a := liquid.CitricAcid; a <= liquid.SuccinicAcid; a++ {
		l.Acids[a] = rapid.Float64Range(0, 10).Draw(t, a.Name())
	}
	if rapid.Bool().Draw(t, "creamy") {
		l.MassFraction = map[string]float64{"fat": rapid.Float64Range(0, 0.1).Draw(t, "fat")}
	}
	return l
}

// TestCloseReadsBack: what a label says is read back from what it closes to.
func TestCloseReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLabel(t)
		c, err := liquid.Close(&l, liquid.Usual{})
		if err != nil {
			t.Fatalf("%+v: %v", l, err)
		}
		same := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9*math.Max(math.Abs(want), 1e-3) {
				t.Fatalf("%s of %+v reads back as %.12g, want %.12g", what, l, got, want)
			}
		}
		litre := 1000 / float64(c.PerG.Volume())
		same("strength", float64(c.PerG.ABV()), float64(*l.ABV))
		if l.Sugar != nil {
			same("sugar", c.PerG.SugarG()*litre, *l.Sugar)
		}
		for s, g := range l.Sugars {
			same(s.Name(), c.PerG[s]*litre, g)
		}
		for a, g := range l.Acids {
			same(a.Name(), c.PerG[a]*litre, g)
		}
		same("fat", c.PerG[liquid.Fat], l.MassFraction["fat"])
		same("a gram", float64(c.PerG.Mass()), 1)
	})
}

// TestCloseFromDensity: the density that a label closes to finds the figure that
// is left out.
func TestCloseFromDensity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLabel(t)
		c, err := liquid.Close(&l, liquid.Usual{})
		if err != nil {
			t.Fatal(err)
		}
		d := c.Density
		sugar := c.PerG.SugarG() / float64(c.PerG.Volume()) * 1000
		noSugar := liquid.Label{ABV: l.ABV, Acids: l.Acids, MassFraction: l.MassFraction, Density: &d}
		if l.Sugars == nil { // else the kinds are not known
			back, err := liquid.Close(&noSugar, liqueur)
			if err != nil {
				t.Fatal(err)
			}
			if got := back.PerG.SugarG() / float64(back.PerG.Volume()) * 1000; math.Abs(got-sugar) > 1e-7 {
				t.Fatalf("density %.9g gives %.9g g/L of sugar, want %.9g", d, got, sugar)
			}
		}
		noStrength := l
		noStrength.ABV, noStrength.Density = nil, &d
		back, err := liquid.Close(&noStrength, liqueur)
		if err != nil {
			t.Fatal(err)
		}
		if got := back.PerG.ABV(); math.Abs(float64(got-*l.ABV)) > 1e-9 {
			t.Fatalf("density %.9g gives %v, want %v", d, got, *l.ABV)
		}
	})
}

// FuzzClose: no numbers on a label, however odd, make a figure that is not a
// number.
func FuzzClose(f *testing.F) {
	f.Add(0.4, 0.0, 0.0, 0.0, 0.0, byte(1))
	f.Add(0.24, 300.0, 0.0, 1.08, 5.0, byte(0xff))
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, 1e300, byte(0x0f))
	f.Add(0.0, 0.0, 65.0, 1.3, 1600.0, byte(0x3e))
	f.Fuzz(func(t *testing.T, abv, sugar, brix, dens, acid float64, given byte) {
		var l liquid.Label
		if given&1 != 0 {
			l.ABV = abvOf(abv)
		}
		if given&2 != 0 {
			l.Sugar = &sugar
		}
		if given&4 != 0 {
			l.Brix = &brix
		}
		if given&8 != 0 {
			l.Density = density(dens)
		}
		if given&16 != 0 {
			l.Acids = map[liquid.Substance]float64{liquid.CitricAcid: acid}
		}
		if given&32 != 0 {
			l.MassFraction = map[string]float64{"fat": abv, "ethanol": brix / 100}
		}
		u := plain
		if given&64 != 0 {
			u = liqueur
		}
		if given&128 != 0 {
			u = juice
		}
		c, err := liquid.Close(&l, u)
		if err != nil {
			return
		}
		if m := float64(c.PerG.Mass()); math.Abs(m-1) > 1e-9 || math.IsNaN(m) {
			t.Fatalf("%+v: a gram of it weighs %g", l, m)
		}
		for s, g := range c.PerG {
			if g < -1e-9 {
				t.Fatalf("%+v: %g g of %s in a gram", l, g, liquid.Substance(s).Name())
			}
		}
		if d := float64(c.Density); !(d > 0.5 && d < 2.2) {
			t.Fatalf("%+v: density %g", l, d)
		}
		for _, s := range c.Spread {
			if m := float64(s.Per.Mass()); math.Abs(m) > 1e-9 || math.IsNaN(m) {
				t.Fatalf("%+v: spread %s adds %g g", l, s.Source, m)
			}
		}
	})
}

// FuzzNames: no key is taken that is not one of the names.
func FuzzNames(f *testing.F) {
	for _, n := range append(liquid.FractionNames(), "citric", "", "_acid", "sucrose ") {
		f.Add(n)
	}
	f.Fuzz(func(t *testing.T, name string) {
		if a, ok := liquid.ParseAcid(name); ok && a.AcidName() != name {
			t.Errorf("ParseAcid(%q) = %s", name, a.Name())
		}
		if s, ok := liquid.ParseSugar(name); ok && s.Name() != name {
			t.Errorf("ParseSugar(%q) = %s", name, s.Name())
		}
		if m, ok := liquid.Fraction(name); ok && math.Abs(float64(m.Mass())-1) > 1e-12 {
			t.Errorf("Fraction(%q) weighs %g", name, m.Mass())
		}
	})
}
