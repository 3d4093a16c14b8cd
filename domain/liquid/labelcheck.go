package liquid

import (
	"math"
	"slices"

	"servewright/domain"
)

// Bounds on what a label may say. They are far outside what is sold.
const (
	maxGramsPerLitre = 1600 // just above sucrose that nothing dissolves, 1,552 g/L
	lightest         = 0.7  // g/mL, below ethanol
	heaviest         = 2.0  // g/mL, above any syrup or acid
	heaviestBulk     = 3.0  // g/mL, above table salt in one crystal
)

// Empty reports whether the label says nothing. Bulk density alone says nothing
// of what is inside.
func (l *Label) Empty() bool {
	return l.ABV == nil && l.Sugar == nil && len(l.Sugars) == 0 && l.Brix == nil && l.Density == nil &&
		len(l.Acids) == 0 && l.PH == nil && len(l.MassFraction) == 0
}

// Blank reports whether nothing stands on the label at all, not even that there
// are no acids: an empty list of them is a statement.
func (l *Label) Blank() bool {
	return l.Empty() && l.BulkDensity == nil && l.Sugars == nil && l.Acids == nil && l.MassFraction == nil
}

// perLitre reports whether the label has a figure that only a liquid has.
func (l *Label) perLitre() bool {
	return l.ABV != nil || l.Sugar != nil || len(l.Sugars) > 0 || l.Brix != nil || l.Density != nil || len(l.Acids) > 0
}

// check notes every figure outside its range.
func (l *Label) check(bad *domain.Faults) {
	if l.ABV != nil {
		within(bad, "/label/abv_pct", "ABV_RANGE", "strength in % vol", l.ABV.Pct(), 0, 100)
	}
	l.checkSugars(bad)
	if l.Brix != nil {
		within(bad, "/label/brix_pct", "BRIX_RANGE", "Brix in mass %", *l.Brix, 0, 100)
	}
	if l.Density != nil {
		within(bad, "/label/density_kg_per_l", "DENSITY_RANGE", "density in kg/L", float64(*l.Density), lightest, heaviest)
	}
	if l.PH != nil {
		within(bad, "/label/ph", "PH_RANGE", "pH", *l.PH, 0, 14)
	}
	if l.BulkDensity != nil {
		within(bad, "/label/bulk_density_g_per_ml", "BULK_DENSITY_RANGE", "bulk density in g/mL", float64(*l.BulkDensity), 0.01, heaviestBulk)
		if l.perLitre() {
			bad.Add("/label/bulk_density_g_per_ml", "BULK_DENSITY_ON_LIQUID", "bulk density is for poured solids; for a liquid give density_kg_per_l")
		}
	}
	l.checkFractions(bad)
}

func (l *Label) checkSugars(bad *domain.Faults) {
	if l.Sugar != nil {
		within(bad, "/label/sugar_g_per_l", "SUGAR_RANGE", "sugar in g/L", *l.Sugar, 0, maxGramsPerLitre)
	}
	for _, s := range ordered(l.Sugars) {
		at := "/label/sugars_g_per_l/" + s.Name()
		within(bad, at, "SUGAR_RANGE", "sugar in g/L", l.Sugars[s], 0, maxGramsPerLitre)
		if !s.IsSugar() {
			bad.Add(at, "UNKNOWN_SUGAR", "%s is not a sugar; use sucrose, glucose, fructose, lactose or maltose", s.Name())
		}
	}
	for _, a := range ordered(l.Acids) {
		at := "/label/acids_g_per_l/" + a.AcidName()
		within(bad, at, "ACID_RANGE", "acid in g/L", l.Acids[a], 0, maxGramsPerLitre)
		if !a.IsAcid() {
			bad.Add(at, "UNKNOWN_ACID", "%s is not one of the acids citric, malic, tartaric, lactic, acetic, phosphoric, ascorbic, succinic", a.Name())
		}
	}
}

func (l *Label) checkFractions(bad *domain.Faults) {
	names := make([]string, 0, len(l.MassFraction))
	for name := range l.MassFraction {
		names = append(names, name)
	}
	slices.Sort(names)
	sum := 0.0
	for _, name := range names {
		f, at := l.MassFraction[name], "/label/mass_fraction/"+name
		sum += f
		within(bad, at, "FRACTION_RANGE", "mass fraction", f, 0, 1)
		if _, ok := Fraction(name); !ok {
			bad.Add(at, "UNKNOWN_FRACTION", "nothing called %q is counted; use one of %v", name, FractionNames())
		}
	}
	if sum > 1+1e-9 {
		bad.Add("/label/mass_fraction", "FRACTION_SUM", "mass fractions add up to %.6g; they must not exceed 1", sum)
	}
}

// ordered returns the substances of a map in their own order, so that faults
// always read alike.
func ordered(m map[Substance]float64) []Substance {
	keys := make([]Substance, 0, len(m))
	for s := range m {
		keys = append(keys, s)
	}
	slices.Sort(keys)
	return keys
}

// within notes a fault unless x is a number from low to high.
func within(bad *domain.Faults, at, code, what string, x, low, high float64) {
	if !(x >= low && x <= high) || math.IsNaN(x) {
		bad.Add(at, code, "%s must be from %g to %g, not %g", what, low, high, x)
	}
}
