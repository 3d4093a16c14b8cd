package liquid

// What a metal adds to a salt beyond the acid's hydrogen it replaces, g/mol
// (IUPAC atomic weights Na 22.98977, K 39.0983, H 1.008).
const (
	sodiumForHydrogen    = 22.98977 - 1.008
	potassiumForHydrogen = 39.0983 - 1.008
)

// equivalent is the mass in g of each acid that gives one mole of titratable
// hydrogen: molar mass over equivalents, from IUPAC atomic weights. Phosphoric
// acid counts two of its three (1.94 of them by pH 8.2, 1.5 by pH 7). Carbonic
// acid is left out, since samples are degassed (OIV-MA-AS313-01).
var equivalent = [Substances]float64{
	CitricAcid:     192.123 / 3,
	MalicAcid:      134.087 / 2,
	TartaricAcid:   150.086 / 2,
	LacticAcid:     90.078,
	AceticAcid:     60.052,
	PhosphoricAcid: 97.994 / 2,
	AscorbicAcid:   176.124,
	SuccinicAcid:   118.088 / 2,
}

// TitratableMeq returns the milliequivalents of titratable acid: those of the
// acids, less what sodium and potassium have taken already. It is below 0 where
// the mix holds more base than acid, as soda water does. The end point is that
// of full titration, about pH 8.2.
func (m *Mix) TitratableMeq() float64 {
	eq := -m[Sodium]/sodiumForHydrogen - m[Potassium]/potassiumForHydrogen
	for a := CitricAcid; a <= SuccinicAcid; a++ {
		eq += m[a] / equivalent[a]
	}
	return 1000 * eq
}

// AcidAs returns the grams of acid that hold meq milliequivalents: g citric, g
// tartaric and so on. It is 0 when acid is not one of the acids.
func AcidAs(meq float64, acid Substance) float64 { return meq * equivalent[acid] / 1000 }

// AcidG returns the grams of all acids, carbonic acid left out.
func (m *Mix) AcidG() float64 {
	sum := 0.0
	for a := CitricAcid; a <= SuccinicAcid; a++ {
		sum += m[a]
	}
	return sum
}
