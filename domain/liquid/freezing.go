package liquid

import (
	"math"

	"servewright/domain/measure"
)

// The freezing point of ethanol–water by A. Melinder, Properties of Secondary
// Working Fluids for Indirect Systems, IIR (2010): Σ cᵢ (x − 29.2361)ⁱ in °C, x
// the ethanol mass % (secondary copy), 0–60 %.
var melinderFreezing = [6]float64{-19.41, -0.954, -0.002648, 0.0003851, -2.858e-07, -1.67e-07}

// The centres of Melinder's polynomials.
const (
	melinderX = 29.2361 // mass %
	melinderT = 8.1578  // °C
	melinderP = 0.60    // highest ethanol mass fraction
)

// The polynomial freezes pure water at −0.047 °C; that is taken off over the
// first 2 % of ethanol.
const (
	freezingAt0  = 0.047
	freezingFade = 0.02
)

// Above 60 % by mass the freezing point goes on from the polynomial's last
// value and slope along a parabola to that of ethanol alone, −114.1 °C (from
// memory). No bar gets there but by sugar, which takes the water's place.
const (
	freezingAt60   = -44.91024437623064
	freezingSlope  = -80.0 // K per unit of mass fraction
	ethanolFreezes = -114.1
)

// lowestFreezing is the end of the scale, °C: about the ethanol–water eutectic
// (−118 °C, from memory). Whatever would freeze lower is said to freeze there.
const lowestFreezing = -120

// ethanolDepression is how far ethanol lowers the freezing point of the water it
// is in, K, at the ethanol mass fraction p of the two.
func ethanolDepression(p float64) float64 {
	if p <= 0 {
		return 0
	}
	if p > melinderP {
		dp, span := p-melinderP, 1-melinderP
		bend := (ethanolFreezes - freezingAt60 - freezingSlope*span) / (span * span)
		return -(freezingAt60 + dp*(freezingSlope+dp*bend))
	}
	t := horner(melinderFreezing[:], 100*p-melinderX)
	return -t - freezingAt0*math.Max(0, 1-p/freezingFade)
}

// solute is how a substance lowers the freezing point of water:
//
//	θ = n (k₁ + k₂ n + k₃ n²) in K,  n = molality in mol/kg of water
//
// with the bracket held still above n = top.
type solute struct{ molar, k1, k2, k3, top float64 }

// cryoscopic is the molal freezing-point depression of water, K kg/mol.
const cryoscopic = 1.86

// solutes are fitted here to the freezing columns of the CRC Handbook of
// Chemistry and Physics, 102nd ed. (2021), "Concentrative properties of aqueous
// solutions" (secondary transcription): sucrose to 30 % by mass and its eutectic
// (62.4 %, −14 °C, from memory), glucose and fructose to 20 %, glycerol to 40 %,
// citric and lactic acid and sodium chloride to 20 %. Lactose and maltose are
// taken as sucrose. Other acids and the metals of their salts count one ideal
// particle each, other solids as glucose (chosen here). Protein, fibre and fat
// do not count.
var solutes = [Substances]solute{
	Sucrose:        {342.296, cryoscopic, 0.198, 0.0022, 5},
	Lactose:        {342.296, cryoscopic, 0.198, 0.0022, 5},
	Maltose:        {342.296, cryoscopic, 0.198, 0.0022, 5},
	Glucose:        {180.156, cryoscopic, 0.061, 0, 5},
	Fructose:       {180.156, cryoscopic, 0.030, 0, 5},
	OtherSolids:    {180.156, cryoscopic, 0.061, 0, 5},
	Glycerol:       {92.094, cryoscopic, 0.0545, 0, 5.1},
	SodiumChloride: {58.443, 3.3816, -0.022, 0.0306, 5.2},
	CitricAcid:     {192.123, 1.93, 0.033, 0, 3},
	LacticAcid:     {90.078, 1.643, -0.0153, 0, 5},
	MalicAcid:      {134.087, cryoscopic, 0, 0, 0},
	TartaricAcid:   {150.086, cryoscopic, 0, 0, 0},
	AceticAcid:     {60.052, cryoscopic, 0, 0, 0},
	PhosphoricAcid: {97.994, cryoscopic, 0, 0, 0},
	AscorbicAcid:   {176.124, cryoscopic, 0, 0, 0},
	SuccinicAcid:   {118.088, cryoscopic, 0, 0, 0},
	CarbonicAcid:   {62.024, cryoscopic, 0, 0, 0},
	Sodium:         {sodiumForHydrogen, cryoscopic, 0, 0, 0},
	Potassium:      {potassiumForHydrogen, cryoscopic, 0, 0, 0},
}

// depression is θ of g grams in `water` grams of water.
func (s *solute) depression(g, water float64) float64 {
	n := 1000 * g / (s.molar * water)
	c := math.Min(n, s.top)
	return n * (s.k1 + c*(s.k2+c*s.k3))
}

// FreezingPoint returns the temperature in °C at which the first ice forms, 0
// to −120 °C; 0 for an empty mix.
//
// Ethanol with water alone follows Melinder within 60 % by mass, each other
// solute alone its table. Together the depressions add, each taken at its own
// amount per gram of the water there is. That is the additivity of osmotic
// pressures (K. D. Ross, Food Technol. 29 (1975) 26, from memory), since the
// logarithm of the water activity of ice is a straight line in the depression
// within 2 % down to −40 °C. No measured table of ethanol, sugar and water was
// found: the value for a mix of them is an estimate.
func (m *Mix) FreezingPoint() measure.Temperature {
	water := m[Water]
	if water <= 0 {
		if m.Mass() <= 0 {
			return 0
		}
		return lowestFreezing
	}
	theta := ethanolDepression(m[Ethanol] / (m[Ethanol] + water))
	for s := Sucrose; s < Substances; s++ {
		if k := &solutes[s]; m[s] > 0 && k.molar > 0 {
			theta += k.depression(m[s], water)
		}
	}
	return measure.Temperature(math.Max(-theta, lowestFreezing))
}
