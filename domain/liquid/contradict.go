package liquid

import (
	"fmt"
	"math"

	"servewright/domain"
)

// How far an over-determined label may disagree with itself.
const (
	// labelABVStd is the least standard uncertainty taken for a printed
	// strength: ±0.3 % vol (Regulation (EU) 1169/2011 Annex XII) as a
	// rectangle.
	labelABVStd = 0.003 / 1.7320508075688772
	// A printed sugar is good to about 1 g/L and 2 % (chosen here: the last
	// digit, and the spread of one bottling against the next).
	labelSugarStd, labelSugarShare = 1.0, 0.02
	// densityPerABV and densityPerSugar are what a fraction of strength and a
	// gram of sugar per litre change of a density, g/mL: the steepest of R 22
	// between 0 and 60 % vol, and 1 − 0.62.
	densityPerABV, densityPerSugar = 0.2, 0.00038
	// fractionShare is how far a mass fraction may be from the same figure
	// given per litre.
	fractionStd, fractionShare = 0.005, 0.03
	// Brix read beside sugar and acids: half a degree, and with fruit acids
	// also the 2.5 % of other solids (pectin, minerals, amino acids) that juice
	// holds (orange juice, USDA SR 28: 10.4 of carbohydrate, 8.4 of sugars).
	brixOff, brixFruit = 0.5, 2.5
	// soluble is sucrose in its saturated solution at 20 °C as a mass fraction
	// (66.7–67.1 % in published tables), with a little room.
	soluble = 0.68
)

func (c *Closed) contradiction(format string, args ...any) {
	c.Cautions = append(c.Cautions, domain.Caution{
		Code: "LABEL_CONTRADICTION", Severity: domain.Warning,
		Detail: fmt.Sprintf(format, args...),
		Source: "closure of the label's own figures",
	})
}

// checkBrix compares a Brix with the sugar and acids given beside it, which
// count. It reports whether what the Brix has more is to be taken as other
// solids.
func (c *Closed) checkBrix(r *reading, l *Label, u *Usual) bool {
	have, _ := c.PerG.Brix()
	less, more := brixOff, brixOff
	if c.PerG.AcidG() > 0 {
		more = brixFruit
	}
	if r.acidFrom == estimated {
		open := u.Acid.reach() * 100 / (litre * float64(c.PerG.Density()))
		less, more = less+open, more+open
	}
	if off := *l.Brix - have; off < -less || off > more {
		c.contradiction("brix_pct %.4g does not go with the sugar and acids given, which make %.4g %%; these are used, check the figures", *l.Brix, have)
		return false
	}
	return *l.Brix > have
}

// checkAgainst compares what the label says twice.
func (c *Closed) checkAgainst(r *reading, l *Label, u *Usual) {
	c.checkDensity(r, u)
	perL := litre * float64(c.Density)
	if l.Sugar != nil && len(l.Sugars) > 0 && math.Abs(*l.Sugar-r.sugar) > 2*sugarStd(r.sugar) {
		c.contradiction("sugar_g_per_l %.4g is not the sum of sugars_g_per_l, %.4g; the sum is used", *l.Sugar, r.sugar)
	}
	c.checkShares(l)
	if r.hasBrix && r.fill == Sucrose {
		if have, _ := c.PerG.Brix(); have > *l.Brix+brixOff {
			c.contradiction("the acids and other soluble solids alone make %.4g %%, more than brix_pct %.4g; check the figures", have, *l.Brix)
		}
	}
	if s := c.PerG[Sucrose]; s > soluble*(s+c.PerG[Water]) {
		c.Cautions = append(c.Cautions, domain.Caution{
			Code: "SUGAR_ABOVE_SOLUBILITY", Severity: domain.Note,
			Detail: fmt.Sprintf("%.4g g/L of sucrose is more than its water dissolves at 20 °C; if part of it is glucose or fructose, give sugars_g_per_l", s*perL),
			Source: "sucrose solubility 66.7–67.1 mass % at 20 °C in published tables",
		})
	}
}

func sugarStd(g float64) float64 { return labelSugarStd + labelSugarShare*g }

// reach is how far the ends of a range are from its usual value.
func (r Range) reach() float64 { return max(r.High-r.Usual, r.Usual-r.Low) }

// densityTolerance is twice the standard uncertainty that a density computed from
// strength, sugar and acid has, that of a measured one included. A figure that
// nobody gave may be anywhere in its range.
func (c *Closed) densityTolerance(r *reading, u *Usual) float64 {
	std := math.Hypot(densityStd, densityPerSugar*sugarStd(litre*float64(c.Density)*c.PerG.SugarG()))
	add := func(part float64) { std = math.Hypot(std, part) }
	switch {
	case r.abvFrom == estimated:
		add(densityPerABV * u.ABV.reach() / 2)
	case c.PerG[Ethanol] > 0:
		add(densityPerABV * max(u.ABVSpread, labelABVStd))
	}
	if r.acidFrom == estimated {
		add(densityPerSugar * u.Acid.reach() / 2)
	}
	return 2 * std
}

// checkDensity compares a density that nothing had to be worked out from, or
// that could not be met.
func (c *Closed) checkDensity(r *reading, u *Usual) {
	if r.density == 0 {
		return
	}
	have, tol := float64(c.Density), c.densityTolerance(r, u)
	if math.Abs(have-r.density) > tol {
		c.contradiction("density_kg_per_l %.5g does not go with the other figures, which make %.5g ± %.2g; they are used, check the label", r.density, have, tol)
		return
	}
	c.noteSolved(r)
}

// noteSolved says which figure was worked out from the density.
func (c *Closed) noteSolved(r *reading) {
	note := func(code, format string, x float64) {
		c.Cautions = append(c.Cautions, domain.Caution{
			Code: code, Severity: domain.Note, Detail: fmt.Sprintf(format, x),
			Source: "closure at the given density, ±0.0005 kg/L taken for it",
		})
	}
	if r.sugarFrom == solved {
		note("SUGAR_FROM_DENSITY", "dissolved solids of %.4g g/L are worked out from the density and counted as sugar", litre*float64(c.Density)*c.PerG.SugarG())
	}
	if r.abvFrom == solved {
		note("STRENGTH_FROM_DENSITY", "a strength of %.4g %% vol is worked out from the density", 100*float64(c.PerG.ABV()))
	}
}

// checkShares compares mass fractions with the same figures given per litre. A
// total of sugar says nothing of its kinds and is compared with their sum.
func (c *Closed) checkShares(l *Label) {
	total := l.Sugar != nil && len(l.Sugars) == 0
	if sum := l.sugarFraction(); total && sum > 0 {
		c.checkShare("of all sugars", sum, c.PerG.SugarG())
	}
	for s := range Substances {
		f, ok := l.MassFraction[s.Name()]
		if ok && l.outranks(s.Name()) && !(total && s.IsSugar()) {
			c.checkShare(s.Name(), f, c.PerG[s])
		}
	}
}

func (c *Closed) checkShare(name string, f, have float64) {
	if math.Abs(have-f) > fractionStd+fractionShare*f {
		c.contradiction("mass_fraction %s %.4g is not what the figures per litre make, %.4g; these are used", name, f, have)
	}
}

// sugarFraction is the sum of the sugars among the mass fractions.
func (l *Label) sugarFraction() float64 {
	sum := 0.0
	for s := Sucrose; s <= Maltose; s++ {
		sum += l.MassFraction[s.Name()]
	}
	return sum
}
