package liquid

import "strings"

var substanceNames = [Substances]string{
	Water: "water", Ethanol: "ethanol",
	Sucrose: "sucrose", Glucose: "glucose", Fructose: "fructose", Lactose: "lactose", Maltose: "maltose",
	Glycerol: "glycerol", SodiumChloride: "sodium_chloride",
	CitricAcid: "citric_acid", MalicAcid: "malic_acid", TartaricAcid: "tartaric_acid", LacticAcid: "lactic_acid",
	AceticAcid: "acetic_acid", PhosphoricAcid: "phosphoric_acid", AscorbicAcid: "ascorbic_acid",
	SuccinicAcid: "succinic_acid", CarbonicAcid: "carbonic_acid",
	Sodium: "sodium", Potassium: "potassium",
	Fat: "fat", Protein: "protein", Fibre: "fibre", OtherSolids: "other_solids",
}

// Name returns the word used for s in documents, "citric_acid" or "fibre"; ""
// when s is none of the substances.
func (s Substance) Name() string {
	if s >= Substances {
		return ""
	}
	return substanceNames[s]
}

// IsSugar reports whether s is one of the sugars; glycerol is not.
func (s Substance) IsSugar() bool { return s >= Sucrose && s <= Maltose }

// IsAcid reports whether s is one of the acids that count in titratable acidity;
// carbonic acid is not.
func (s Substance) IsAcid() bool { return s >= CitricAcid && s <= SuccinicAcid }

// acidSuffix ends the name of every acid but not its key in acids_g_per_l.
const acidSuffix = "_acid"

// AcidName returns the key of acid s in acids_g_per_l: "citric".
func (s Substance) AcidName() string { return strings.TrimSuffix(s.Name(), acidSuffix) }

// ParseAcid reads a key of acids_g_per_l: citric, malic, tartaric, lactic,
// acetic, phosphoric, ascorbic, succinic.
func ParseAcid(name string) (Substance, bool) {
	for a := CitricAcid; a <= SuccinicAcid; a++ {
		if a.AcidName() == name {
			return a, true
		}
	}
	return 0, false
}

// ParseSugar reads a key of sugars_g_per_l: sucrose, glucose, fructose, lactose,
// maltose.
func ParseSugar(name string) (Substance, bool) {
	for s := Sucrose; s <= Maltose; s++ {
		if s.Name() == name {
			return s, true
		}
	}
	return 0, false
}

// Molar masses in g/mol of what splits into parts (IUPAC atomic weights). Each
// salt's is the sum of its parts, with a metal's taken less the hydrogen it
// replaces.
const (
	citricMolar   = 192.123
	tartaricMolar = 150.086
	carbonicMolar = 62.024
)

// compound is an article that is weighed out as one thing and counted as
// several: moles of water, acid and metal per mole.
func compound(acid Substance, molar, water, sodium, potassium float64) Mix {
	m := Mix{Water: water * waterMolar, Sodium: sodium * sodiumForHydrogen, Potassium: potassium * potassiumForHydrogen}
	m[acid] = molar
	m.Scale(1 / float64(m.Mass()))
	return m
}

// fraction is one key of mass_fraction and what a gram of it is.
type fraction struct {
	name string
	perG Mix
}

func pure(s Substance) fraction {
	var m Mix
	m[s] = 1
	return fraction{s.Name(), m}
}

// fractions are in the order shown to people.
var fractions = func() []fraction {
	var list []fraction
	for s := Sucrose; s <= SuccinicAcid; s++ {
		list = append(list, pure(s))
	}
	list = append(list,
		fraction{"citric_acid_monohydrate", compound(CitricAcid, citricMolar, 1, 0, 0)},
		fraction{"trisodium_citrate", compound(CitricAcid, citricMolar, 0, 3, 0)},
		fraction{"trisodium_citrate_dihydrate", compound(CitricAcid, citricMolar, 2, 3, 0)},
		fraction{"sodium_bicarbonate", compound(CarbonicAcid, carbonicMolar, 0, 1, 0)},
		fraction{"potassium_bitartrate", compound(TartaricAcid, tartaricMolar, 0, 0, 1)},
	)
	for _, s := range []Substance{Fat, Protein, Fibre, OtherSolids, Water, Ethanol} {
		list = append(list, pure(s))
	}
	return list
}()

// FractionNames returns the keys of mass_fraction in the order shown to people.
func FractionNames() []string {
	names := make([]string, len(fractions))
	for i := range fractions {
		names[i] = fractions[i].name
	}
	return names
}

// Fraction returns what one gram of a key of mass_fraction is: trisodium citrate
// dihydrate, say, is citric acid, sodium and water.
func Fraction(name string) (perG Mix, ok bool) {
	for i := range fractions {
		if fractions[i].name == name {
			return fractions[i].perG, true
		}
	}
	return Mix{}, false
}
