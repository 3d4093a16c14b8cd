package liquid

import "math"

// The excess enthalpy of ethanol–water at 25 °C, J per mol of mixture:
//
//	H = x (1 − x) (h₁ + h₂ x^½ + h₃ x^1.5 + h₄ x^2.5 + h₅ x^4.5),  x = mole fraction of ethanol
//
// J. A. Larkin, J. Chem. Thermodyn. 7 (1975) 137–148, each h = a + b T + c T² at
// T = 298.15 K (coefficients from memory). The form fails towards water, where
// it would give −22.7 kJ/mol of ethanol instead of about −10.2.
var larkin = [5]struct{ a, b, c float64 }{
	{-3.63868e5, 1.83829e3, -2.32763},
	{9.25982e5, -4.83586e3, 6.37228},
	{-14.04894e5, 7.51661e3, -10.11280},
	{10.91318e5, -5.89498e3, 7.98868},
	{-2.79986e5, 1.50557e3, -2.03127},
}

// Molar masses in g/mol (IUPAC atomic weights).
const (
	ethanolMolar = 46.069
	waterMolar   = 18.015
)

// infiniteDilution is the heat of dissolving ethanol in much water at 25 °C,
// J/mol (about −10.2 kJ/mol, from memory). blendBelow is the mole fraction below
// which a cubic with that slope at 0 takes over from Larkin's form, meeting its
// value and slope.
const (
	infiniteDilution = -10200
	blendBelow       = 0.15
)

var larkin25, blend = prepareExcess()

// prepareExcess works out the coefficients at 25 °C and the cubic x (c₀ + c₁ x +
// c₂ x²) that meets the form at blendBelow.
func prepareExcess() (h [5]float64, cubic [3]float64) {
	const kelvin = 298.15
	for i, k := range larkin {
		h[i] = k.a + kelvin*(k.b+kelvin*k.c)
	}
	const x, dx = blendBelow, 1e-5
	value := larkinForm(&h, x)
	slope := (larkinForm(&h, x+dx) - larkinForm(&h, x-dx)) / (2 * dx)
	q, dq := value/x, slope/x-value/(x*x) // of H/x and its slope
	c2 := (dq*x - (q - infiniteDilution)) / (x * x)
	return h, [3]float64{infiniteDilution, dq - 2*c2*x, c2}
}

func larkinForm(h *[5]float64, x float64) float64 {
	r, x2 := math.Sqrt(x), x*x
	return x * (1 - x) * (h[0] + r*h[1] + x*r*h[2] + x2*r*h[3] + x2*x2*r*h[4])
}

// excessEnthalpy is H in J per mol of mixture at 25 °C.
func excessEnthalpy(x float64) float64 {
	if x < blendBelow {
		return x * horner(blend[:], x)
	}
	return larkinForm(&larkin25, x)
}

// HeatOfDilution returns the heat in J that is set free when `water` grams of
// water are mixed into m, at 25 °C: the fall of the excess enthalpy of its
// ethanol and water. ±8 %; colder drinks set free more, by Larkin about a third
// at 10 °C. What sugars and acids give is left out, being smaller by far. It is 0
// without alcohol or water to add.
func (m *Mix) HeatOfDilution(water float64) float64 {
	if !(water > 0) || m[Ethanol] <= 0 {
		return 0
	}
	ethanol := m[Ethanol] / ethanolMolar
	before := m[Water] / waterMolar
	return math.Max(0, mixingHeat(ethanol, before)-mixingHeat(ethanol, before+water/waterMolar)) // rounding, not cold
}

// mixingHeat is the enthalpy in J of mixing moles of ethanol and water.
func mixingHeat(ethanol, water float64) float64 {
	n := ethanol + water
	return n * excessEnthalpy(ethanol/n)
}
