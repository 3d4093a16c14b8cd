package liquid

// point is an apparent specific volume phi in mL/g at 20 °C at the mass
// fraction w in the substance + water.
type point struct{ w, phi float64 }

// measured are the apparent specific volumes of what has a table. They are
// derived from the densities of "Concentrative properties of aqueous solutions",
// CRC Handbook of Chemistry and Physics, 102nd ed. (2021) (secondary
// transcription), as φ = [1/ρ − (1 − w)/ρw]/w. Between the rows φ is taken as a
// straight line, which keeps each row's density within its printed rounding;
// outside it stays at the last row.
//
// The row of sodium chloride at 0 is its partial molar volume at infinite
// dilution, 16.6 cm³/mol (from memory). Lactic acid is the D acid.
var measured = [Substances][]point{
	Glucose: {
		{.05, .6218}, {.10, .6224}, {.15, .6231}, {.20, .6237}, {.26, .6253}, {.30, .6265}, {.40, .6297},
		{.48, .6322}, {.50, .6329}, {.60, .6349},
	},
	Fructose: {
		{.05, .6102}, {.10, .6131}, {.15, .6142}, {.20, .6156}, {.26, .6172}, {.30, .6186}, {.40, .6215}, {.48, .6242},
	},
	CitricAcid: {{.05, .5948}, {.10, .5973}, {.20, .5977}, {.26, .5991}, {.30, .6004}},
	Glycerol: {
		{.05, .7737}, {.10, .7733}, {.20, .7734}, {.40, .7733}, {.48, .7748}, {.60, .7776}, {.80, .7839},
	},
	SodiumChloride: {
		{0, .2844}, {.05, .3082}, {.10, .3235}, {.15, .3373}, {.20, .3490}, {.25, .3596}, {.26, .3613},
	},
	LacticAcid: {
		{.05, .7953}, {.10, .7887}, {.20, .7825}, {.40, .7877}, {.48, .7907}, {.60, .7951}, {.80, .8046},
	},
}

// constant are the apparent specific volumes in mL/g of what has no table, all
// from memory and good to a few per cent, which is 0.1 kg/m³ at 5 g/L. Acids:
// partial molar volumes at 25 °C in cm³/mol over the molar mass (malic 82.8,
// tartaric 83.5, acetic 51.9, ascorbic 105, succinic 82.5; phosphoric from the
// density of the 10 % acid, 1.0532). Carbonic acid: dissolved CO₂ 34 and the
// water it counts with 18. Sodium and potassium stand for a metal in the place
// of hydrogen: −13 and −2.5 cm³/mol, from the volumes of acetic acid and its
// salts. That is the pull of ions on the water around them: it holds for a salt
// that is dissolved and makes a dry one too dense. Fat: between butterfat 0.93 and
// vegetable oil 0.92 g/mL. Protein: the usual partial specific volume of
// globular proteins. Fibre and other solids: as a carbohydrate.
var constant = [Substances]float64{
	MalicAcid:      82.8 / 134.087,
	TartaricAcid:   83.5 / 150.086,
	AceticAcid:     51.9 / 60.052,
	PhosphoricAcid: 0.479,
	AscorbicAcid:   105 / 176.124,
	SuccinicAcid:   82.5 / 118.088,
	CarbonicAcid:   52 / 62.024,
	Sodium:         -13 / sodiumForHydrogen,
	Potassium:      -2.5 / potassiumForHydrogen,
	Fat:            1.08,
	Protein:        0.73,
	Fibre:          0.62,
	OtherSolids:    0.62,
}

// disaccharideOffset is how much less a gram of lactose or maltose takes than a
// gram of sucrose, mL/g: partial molar volumes about 209 against 211.5 cm³/mol
// at 25 °C (from memory), molar mass 342.3.
const disaccharideOffset = -0.0073

// sugarVolume is the apparent specific volume of sugar s in mL/g where all
// sugars together are the mass fraction w of sugars + water, and phi is that of
// sucrose there. Beyond the end of its table a sugar keeps its distance from
// sucrose.
func sugarVolume(s Substance, w, phi float64) float64 {
	rows := measured[s]
	if rows == nil {
		return phi + disaccharideOffset
	}
	if end := rows[len(rows)-1]; w > end.w {
		return phi + end.phi - sucroseVolume(end.w)
	}
	return interpolate(rows, w)
}

// apparentVolume is the apparent specific volume of s, not a sugar, in mL/g at
// the mass fraction w in itself + water.
func apparentVolume(s Substance, w float64) float64 {
	if rows := measured[s]; rows != nil {
		return interpolate(rows, w)
	}
	return constant[s]
}

// interpolate reads rows at w, on a straight line between two rows.
func interpolate(rows []point, w float64) float64 {
	if w <= rows[0].w {
		return rows[0].phi
	}
	for i := 1; i < len(rows); i++ {
		if b := rows[i]; w <= b.w {
			a := rows[i-1]
			return a.phi + (b.phi-a.phi)*(w-a.w)/(b.w-a.w)
		}
	}
	return rows[len(rows)-1].phi
}
