// Package nutrition reads energy and units of alcohol off a liquid.
//
// Energy is grams times factors, by the rules of the European Union or of the
// United States. A unit or standard drink is so much ethanol, as each country
// defines it.
package nutrition

import "servewright/domain/liquid"

// Energy is an amount of energy on both scales. They are not multiples of each
// other where a law gives factors for each.
type Energy struct {
	Kcal, KJ float64
}

// factor is the energy of one gram.
type factor struct{ kcal, kj float64 }

// factors are the energy of one gram of each kind of nutrient. What has none
// (water, salts, phosphoric acid, other solids) counts 0.
type factors struct {
	alcohol, carbohydrate, polyol, acid, protein, fat, fibre factor
}

// eu is Regulation (EU) No 1169/2011 Annex XIV, kJ and kcal each from its own
// column (read in a secondary copy). Glycerol is a polyol.
var eu = factors{
	alcohol:      factor{7, 29},
	carbohydrate: factor{4, 17},
	polyol:       factor{2.4, 10},
	acid:         factor{3, 13},
	protein:      factor{4, 17},
	fat:          factor{9, 37},
	fibre:        factor{2, 8},
}

// kcalKJ is the thermochemical calorie, exact (USDA SR 28 documentation, p. 14).
const kcalKJ = 4.184

// us are the general factors 4, 4 and 9 of 21 CFR 101.9(c)(1)(i) and 6.93 for
// alcohol (USDA SR 28 documentation, p. 14, after Merrill and Watt 1973). From
// memory: glycerol 4.32 and soluble fibre 2 (21 CFR 101.9), organic acids 2.47
// (citric acid, Merrill and Watt).
var us = factors{
	alcohol:      american(6.93),
	carbohydrate: american(4),
	polyol:       american(4.32),
	acid:         american(2.47),
	protein:      american(4),
	fat:          american(9),
	fibre:        american(2),
}

func american(kcal float64) factor { return factor{kcal, kcal * kcalKJ} }

// EnergyEU returns the energy of m as a label in the European Union states it,
// unrounded. Other solids, whose nature is unknown, count 0.
func EnergyEU(m *liquid.Mix) Energy { return eu.energy(m) }

// EnergyUS returns the energy of m by the general factors of the United States,
// unrounded. Food-specific factors, which the USDA tables use, differ by a few
// per cent for fruit and milk. Other solids count 0.
func EnergyUS(m *liquid.Mix) Energy { return us.energy(m) }

func (f *factors) energy(m *liquid.Mix) Energy {
	var e Energy
	e.add(f.alcohol, m[liquid.Ethanol])
	e.add(f.carbohydrate, m.SugarG())
	e.add(f.polyol, m[liquid.Glycerol])
	e.add(f.acid, m.AcidG()-m[liquid.PhosphoricAcid])
	e.add(f.protein, m[liquid.Protein])
	e.add(f.fat, m[liquid.Fat])
	e.add(f.fibre, m[liquid.Fibre])
	return e
}

func (e *Energy) add(f factor, g float64) {
	e.Kcal += f.kcal * g
	e.KJ += f.kj * g
}
