package liquid

import "servewright/domain/measure"

// Label is what is printed on a bottle or measured in it. A nil figure was not
// given. Ranges: strength 0–1 (fraction), sugar and acids 0–1,600 g/L, Brix
// 0–100 (mass %), density 0.7–2.0 g/mL, pH 0–14, mass fractions 0–1.
type Label struct {
	ABV     *measure.ABV
	Sugar   *float64              // g/L, counted as sucrose unless Sugars says otherwise
	Sugars  map[Substance]float64 // g/L by kind
	Brix    *float64              // mass % of soluble solids, acids included; alcohol-free liquids only
	Density *measure.Density
	Acids   map[Substance]float64 // g/L
	PH      *float64
	// MassFraction is by the names of [FractionNames]; the rest is water on
	// liquids and other solids on solids.
	MassFraction map[string]float64
	BulkDensity  *measure.Density // of a poured solid, g/mL; gives it a volume
}

// Range is a figure that nobody gave: its usual value and the lowest and
// highest that its kind of component has.
type Range struct {
	Low, Usual, High float64
}

// Std returns one standard uncertainty of a figure known only by its range,
// taking every value in it as equally likely:
//
//	u = (high − low) / √12
//
// (JCGM 100:2008 "GUM", 4.3.7).
func (r Range) Std() float64 { return (r.High - r.Low) / 3.4641016151377544 }

// Usual is what a component of some kind normally has, used for the figures a
// label leaves out. A nil range means the figure is zero when not given.
type Usual struct {
	ABV   *Range // fraction
	Sugar *Range // g/L
	Acid  *Range // g/L as citric
	Solid bool   // no volume of its own: salt, sugar, powdered acid
	// ABVSpread is one standard uncertainty of a strength that is given
	// (fraction), from the label tolerance of the kind.
	ABVSpread float64
	// Opaque says that without a label nothing is known of what it gives to a
	// drink (a botanical, a garnish): it adds nothing and a caution says so.
	Opaque bool
}

// Spread is one independent source of uncertainty in a liquid: what one
// standard uncertainty of it adds to the masses.
type Spread struct {
	Source string // who and which figure, such as "<component id>/sugar"; equal sources move together
	Per    Mix    // change of the masses for +1 standard uncertainty, on the basis of the Mix it belongs to
}
