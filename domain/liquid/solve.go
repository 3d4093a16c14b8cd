package liquid

import (
	"math"

	"servewright/domain"
)

// litre is what is closed: the volume in mL that the figures per litre fill.
const litre = 1000.0

// mix builds what the litre holds when its whole mass is `mass` g, with sugar
// and ethanol in g. The rest, water as a rule, may come out below 0: then it
// does not fit.
func (r *reading) mix(mass, sugar, ethanol float64) Mix {
	m := r.acid
	m.Add(&r.share, mass)
	m[Ethanol] += ethanol
	m.Add(&r.kinds, sugar)
	if r.hasBrix {
		m[r.fill] += math.Max(0, r.brix*mass-m.solubleG())
	}
	m[r.rest] += mass - float64(m.Mass())
	return m
}

func (r *reading) ethanol() float64 { return r.abv * ethanol20 / 1000 * litre }

// solve finds the mix, in g per litre or, where the label has nothing per litre,
// per gram.
func (r *reading) solve() (Mix, error) {
	switch {
	case r.sugarFrom == solved:
		return r.solveSugar()
	case r.abvFrom == solved:
		return r.solveStrength()
	}
	return r.fillUp()
}

// fillUp adds water until the litre is full.
func (r *reading) fillUp() (Mix, error) {
	ethanol := r.ethanol()
	fixed := ethanol + r.sugar + float64(r.acid.Mass())
	if fixed == 0 {
		return r.mix(1, 0, 0), nil
	}
	room := 1 - float64(r.share.Mass())
	if room <= 0 {
		return Mix{}, impossible("/label/mass_fraction", "FRACTION_SUM",
			"mass fractions add up to 1 and leave no room for the figures per litre; leave one of the two out")
	}
	over := func(mass float64) float64 {
		m := r.mix(mass, r.sugar, ethanol)
		return float64(m.Volume()) - litre
	}
	least := fixed / room
	if excess := over(least); excess > litre*1e-9 {
		return Mix{}, r.doesNotFit()
	} else if excess > -litre*1e-12 {
		return r.mix(least, r.sugar, ethanol), nil
	}
	most := least + litre
	for over(most) < 0 {
		most += litre
	}
	return r.mix(root(over, least, most), r.sugar, ethanol), nil
}

// doesNotFit names the figure that leaves no room in the litre.
func (r *reading) doesNotFit() error {
	grams := float64(r.acid.Mass())
	if r.sugar >= grams {
		way := "check both figures"
		if r.sugarFrom == estimated {
			way = "that is only what is usual for its kind; give sugar_g_per_l"
		}
		return impossible(r.sugarAt, "SUGAR_DOES_NOT_FIT",
			"%g g/L of sugar does not fit into a litre at %.4g %% vol; %s", r.sugar, 100*r.abv, way)
	}
	return impossible("/label/acids_g_per_l", "ACID_DOES_NOT_FIT",
		"%g g/L of acids does not fit into a litre at %.4g %% vol; check both figures", grams, 100*r.abv)
}

// solveSugar finds the sugar that makes the litre weigh what the density says:
// the idea of 27 CFR 30.32, where dissolved solids obscure the proof that a
// hydrometer reads. A liquid lighter than its strength allows has no sugar.
func (r *reading) solveSugar() (Mix, error) {
	mass, ethanol := r.density*litre, r.ethanol()
	over := func(sugar float64) float64 {
		m := r.mix(mass, sugar, ethanol)
		return float64(m.Volume()) - litre
	}
	empty := r.mix(mass, 0, ethanol)
	most := empty[r.rest]
	if most < 0 || over(0) <= 0 {
		return r.without(func(c *reading) { c.sugar, c.sugarFrom = 0, none })
	}
	if over(most) > 0 {
		return Mix{}, impossible("/label/density_kg_per_l", "DENSITY_IMPOSSIBLE",
			"nothing of %.4g %% vol weighs %g kg/L, whatever its sugar; check both figures", 100*r.abv, r.density)
	}
	return r.mix(mass, root(over, 0, most), ethanol), nil
}

// solveStrength finds the alcohol that makes the litre weigh what the density
// says, its sugar known.
func (r *reading) solveStrength() (Mix, error) {
	mass := r.density * litre
	over := func(ethanol float64) float64 {
		m := r.mix(mass, r.sugar, ethanol)
		return float64(m.Volume()) - litre
	}
	dry := r.mix(mass, r.sugar, 0)
	most := dry[r.rest]
	if most < 0 || over(most) < 0 {
		return Mix{}, impossible("/label/density_kg_per_l", "DENSITY_IMPOSSIBLE",
			"nothing with %g g/L of sugar weighs %g kg/L, whatever its strength; check both figures", r.sugar, r.density)
	}
	if over(0) >= 0 {
		return r.without(func(c *reading) { c.abv, c.abvFrom = 0, none })
	}
	return r.mix(mass, r.sugar, root(over, 0, most)), nil
}

// without fills up again after a figure that the density cannot bear has been
// taken out; the density then stands as a check.
func (r *reading) without(take func(*reading)) (Mix, error) {
	c := *r
	take(&c)
	return c.fillUp()
}

func impossible(at, code, format string, args ...any) error {
	var bad domain.Faults
	bad.Add(at, code, format, args...)
	return bad.Err()
}

// root finds where f, monotone and of either direction, passes 0 between a and
// b: secant steps kept inside the bracket, halving where they stall. It ends at
// a volume within 1e−13 of the litre or when the bracket has closed.
func root(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	for i := 0; i < 200; i++ {
		if fa == fb {
			return a
		}
		x := b - fb*(b-a)/(fb-fa)
		if i%4 == 3 || !(x > math.Min(a, b) && x < math.Max(a, b)) {
			x = a + (b-a)/2
		}
		fx := f(x)
		if math.Abs(fx) <= litre*1e-13 || math.Abs(b-a) <= 1e-13*math.Abs(b) {
			return x
		}
		if (fx > 0) == (fb > 0) {
			b, fb = x, fx
			fa /= 2 // Illinois: keeps the far end from staying
		} else {
			a, fa = b, fb
			b, fb = x, fx
		}
	}
	return b
}
