// Package liquid knows what is in a liquid and what follows from it.
//
// A liquid is masses. A [Mix] holds grams of ethanol, water, each sugar, each
// acid and the rest; mixing adds masses and nothing else. Volume, density,
// strength, Brix, titratable acidity, freezing point and heat capacity are read
// off the masses. "Volumes add" is never used.
package liquid

import "servewright/domain/measure"

// Substance is one of the things a [Mix] counts.
type Substance uint8

// The substances. Acids are counted in their undissociated anhydrous form;
// Sodium and Potassium count the metal less the hydrogen it replaces, so that a
// salt's mass is the sum of its parts (trisodium citrate = CitricAcid +
// Sodium).
const (
	Water Substance = iota
	Ethanol
	Sucrose
	Glucose
	Fructose
	Lactose
	Maltose
	Glycerol
	SodiumChloride
	CitricAcid
	MalicAcid
	TartaricAcid
	LacticAcid
	AceticAcid
	PhosphoricAcid
	AscorbicAcid
	SuccinicAcid
	CarbonicAcid
	Sodium
	Potassium
	Fat
	Protein
	Fibre
	OtherSolids
	Substances // how many there are
)

// Mix is a liquid (or solid) as grams of each substance. The zero Mix is empty.
type Mix [Substances]float64

// Add adds k times n to m, in place.
func (m *Mix) Add(n *Mix, k float64) {
	for i := range m {
		m[i] += k * n[i]
	}
}

// Scale multiplies every mass by k, in place.
func (m *Mix) Scale(k float64) {
	for i := range m {
		m[i] *= k
	}
}

// Mass returns the whole mass in g.
func (m *Mix) Mass() measure.Mass {
	sum := 0.0
	for _, g := range m {
		sum += g
	}
	return measure.Mass(sum)
}

// SugarG returns the grams of all sugars (not glycerol).
func (m *Mix) SugarG() float64 {
	return m[Sucrose] + m[Glucose] + m[Fructose] + m[Lactose] + m[Maltose]
}
