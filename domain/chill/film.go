package chill

import "math"

// film is how fast ice gives its cold to the drink around it.
//
// Ice melts as fast as heat reaches its surface; the surface is as cold as the
// freezing point of the liquid right at it; and that liquid is thinner than the
// drink, because melt water has to mix away. With θ the concentration at the
// surface over that of the drink, and the freezing point in proportion to it,
//
//	m L = h (t − θ tf)              heat to the surface
//	m θ = (h / c Λ) (1 − θ)         what melt water carries off, mixing brings back
//
// so a warm drink sees ice at 0 °C and cools fast, and a drink below 0 °C waits
// for diffusion: a shake is nearly level after 12 s.
//
// How much ice there is hardly matters to the pace as long as the drink is full
// of it, so h is given per J/K of drink, as a rate constant in 1/s.
type film float64

// The films, and filmLag = L/(c Λ) in K, are fitted here to chill_curves.csv
// (shaking to 20 s, stirring throughout), which is itself computed, with rates
// fitted to published statements and not to point data: 12–15 s of shaking is
// nearly level, 40 s of stirring ends just under 0 °C, 2 min of stirring is 12 s
// of shaking.
const (
	shaken  film = 1.49
	brisk   film = 0.0913
	slow    film = 0.0391
	filmLag      = 2.32
)

// surface returns the temperature of the ice's surface in a drink at t that
// freezes at tf ≤ 0: θ tf, with θ the positive root of
//
//	−tf θ² + (t + lag) θ − lag = 0
func surface(t, tf float64) float64 {
	b := t + filmLag
	return tf * 2 * filmLag / (b + math.Sqrt(b*b-4*tf*filmLag))
}

// afterSeconds melts ice for s seconds.
//
// The melt x nears its end E as E(1 − e⁻ʸ); y grows almost evenly with time, so
// a Runge–Kutta step of any length is stable, and eight are within 0.15 g.
func (l *ledger) afterSeconds(s float64, f film) outcome {
	end := l.toEquilibrium()
	switch {
	case end.why == tooCold:
		return end
	case end.meltG == 0 || !(s > 0):
		return outcome{0, l.temperature(0), asMeant}
	}
	c := l.chase(f, end.meltG)
	const steps = 8
	y, dt := 0.0, s/steps
	for range steps {
		k1 := c.pace(y)
		k2 := c.pace(y + dt/2*k1)
		k3 := c.pace(y + dt/2*k2)
		k4 := c.pace(y + dt*k3)
		y += dt / 6 * (k1 + 2*k2 + 2*k3 + k4)
		if !(y < farEnough) {
			return end
		}
	}
	melt := -end.meltG * math.Expm1(-y)
	return outcome{melt, l.temperature(melt), asMeant}
}

// farEnough is a y at which e⁻ʸ is too little to matter.
const farEnough = 20

// chase is a drink on its way to its end. The heat of dilution and the freezing
// point are smooth in the melt; between four points each a cubic is within 1 %,
// and only the pace follows it: where the drink ends is worked out in full.
type chase struct {
	l              *ledger
	perK           float64 // g/s per K between drink and ice
	endG           float64
	heat, freezing cubic
}

func (l *ledger) chase(f film, endG float64) chase {
	return chase{
		l: l, perK: float64(f) * l.drinkJK / fusionHeat, endG: endG,
		heat: through(l.dilutionHeat, endG), freezing: through(l.freezing, endG),
	}
}

// pace is dy/dt in 1/s.
func (c *chase) pace(y float64) float64 {
	left := math.Exp(-math.Min(y, farEnough))
	melt := c.endG * (1 - left)
	t := c.l.temperatureWith(melt, c.heat.at(melt))
	return c.perK * math.Max(t-surface(t, c.freezing.at(melt)), 0) / (c.endG * left)
}

// cubic is a polynomial in Newton's form on points a third of its range apart.
type cubic struct {
	third float64
	c     [4]float64
}

// through returns the cubic that meets f at 0, ⅓, ⅔ and all of end.
func through(f func(float64) float64, end float64) cubic {
	h := end / 3
	f0, f1, f2, f3 := f(0), f(h), f(2*h), f(end)
	return cubic{h, [4]float64{f0, (f1 - f0) / h, (f2 - 2*f1 + f0) / (2 * h * h), (f3 - 3*f2 + 3*f1 - f0) / (6 * h * h * h)}}
}

func (p *cubic) at(x float64) float64 {
	return p.c[0] + x*(p.c[1]+(x-p.third)*(p.c[2]+(x-2*p.third)*p.c[3]))
}
