package liquid

import (
	"fmt"

	"servewright/domain"
	"servewright/domain/measure"
)

// Closed is a label worked out.
type Closed struct {
	PerG    Mix             // grams of each substance in one gram
	Density measure.Density // g/mL at 20 °C; 0 for a solid without bulk density
	// Spread has one entry per uncertain figure, Source its name: "abv",
	// "acid", "density" or "sugar". Its masses add up to 0.
	Spread []Spread
	// Estimated names the figures nobody gave, in order of the alphabet:
	// "abv_pct", "acids_g_per_l", "sugar_g_per_l".
	Estimated []string
	Cautions  []domain.Caution
}

// Close turns a label into what is in one gram.
//
// A liquid's figures per litre, its shares of the whole and its Brix leave one
// unknown, the water that fills the litre; it is found to about 1e−12. A density
// given beside the strength finds the sugar, beside the sugar it finds the
// strength, beside both it is a check. Figures that contradict each other are
// answered with a caution; figures that cannot be, such as sugar that does not
// fit, are domain.Invalid with a pointer into "/label".
//
// A solid has no figures per litre; what its mass fractions leave is other
// solids. pH is not used here.
func Close(l *Label, u Usual) (Closed, error) {
	var bad domain.Faults
	l.check(&bad)
	if err := bad.Err(); err != nil {
		return Closed{}, err
	}
	if u.Opaque && l.Empty() {
		return Closed{Cautions: []domain.Caution{unknownComposition("adds nothing to a drink")}}, nil
	}
	if (u.Solid || l.BulkDensity != nil) && !l.perLitre() {
		return closeSolid(l), nil
	}
	r := read(l, &u)
	if r.refuseBrix(l, &bad); len(bad) > 0 {
		return Closed{}, bad.Err()
	}
	return r.close(l, &u)
}

// closeSolid takes the mass fractions as they are.
func closeSolid(l *Label) Closed {
	var c Closed
	for i := range fractions {
		c.PerG.Add(&fractions[i].perG, l.MassFraction[fractions[i].name])
	}
	c.PerG[OtherSolids] += max(0, 1-float64(c.PerG.Mass()))
	if l.BulkDensity != nil {
		c.Density = *l.BulkDensity
	}
	if len(l.MassFraction) == 0 {
		c.Cautions = []domain.Caution{unknownComposition("counts as solids without sugar, acid or alcohol")}
	}
	return c
}

func unknownComposition(so string) domain.Caution {
	return domain.Caution{
		Code: "COMPOSITION_UNKNOWN", Severity: domain.Note,
		Detail: "nobody has said what is in it, so it " + so + "; give mass_fraction to change that",
		Source: "the label is empty",
	}
}

// close solves the reading and gathers what rides along with it.
func (r *reading) close(l *Label, u *Usual) (Closed, error) {
	m, err := r.solve()
	if err != nil {
		return Closed{}, err
	}
	c := Closed{PerG: perGram(m)}
	if l.Brix != nil && !r.hasBrix {
		if c.checkBrix(r, l, u) {
			r.hasBrix, r.fill = true, OtherSolids
			if m, err = r.solve(); err != nil {
				return Closed{}, err
			}
			c.PerG = perGram(m)
		}
	}
	c.Density = c.PerG.Density()
	c.estimate(r, u)
	c.checkAgainst(r, l, u)
	c.spread(r, u)
	return c, nil
}

func perGram(m Mix) Mix {
	m.Scale(1 / float64(m.Mass()))
	return m
}

// estimate names the figures taken from what is usual, each with its range.
func (c *Closed) estimate(r *reading, u *Usual) {
	note := func(name, what, unit string, x Range, k float64) {
		c.Estimated = append(c.Estimated, name)
		c.Cautions = append(c.Cautions, domain.Caution{
			Code: "FIGURE_ESTIMATED", Severity: domain.Warning,
			Detail: fmt.Sprintf("%s is not given and is taken as %.4g %s, which is usual for its kind (%.4g to %.4g); give %s",
				what, k*x.Usual, unit, k*x.Low, k*x.High, name),
			Source: "range of the category; every value in it taken as equally likely (JCGM 100:2008, 4.3.7)",
		})
	}
	if r.abvFrom == estimated {
		note("abv_pct", "strength", "% vol", *u.ABV, 100)
	}
	if r.acidFrom == estimated {
		note("acids_g_per_l", "acid", "g/L as citric", *u.Acid, 1)
	}
	if r.sugarFrom == estimated {
		note("sugar_g_per_l", "sugar", "g/L", *u.Sugar, 1)
	}
}
