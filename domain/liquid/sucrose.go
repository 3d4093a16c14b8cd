package liquid

import "servewright/domain/measure"

// sps4 are the coefficients of ICUMSA SPS-4, row i for ((t − 20)/100)ⁱ, column
// k for wᵏ⁺¹, kg/m³ (Z. Bubník, P. Kadlec, D. Urban, M. Bruhns, Sugar
// Technologists Manual, Bartens 1995, p. 164). Read in two secondary copies
// that agree in all but the fourth of the first row, −3.9646 in one and −3.9643
// in the other: at most 1.6e−4 kg/m³.
var sps4 = [5][6]float64{
	{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289},
	{-46.272, -7.172, 1.1597, 5.1126, 17.5254},
	{59.7712, 7.2491, 12.363, -35.4791},
	{-47.2207, -21.6977, 27.6301},
	{18.3184, 12.3081},
}

// SucroseDensity returns the density in kg/m³ of sucrose in water at the mass
// fraction w, 0–1, and t, 0–100 °C:
//
//	ρ(w, t) = ρ_water(t) + Σᵢ ((t − 20)/100)ⁱ Σₖ c[i][k] wᵏ⁺¹
func SucroseDensity(w float64, t measure.Temperature) float64 {
	tau := (float64(t) - 20) / 100
	sum := 0.0
	for i := len(sps4) - 1; i >= 0; i-- {
		sum = sum*tau + w*horner(sps4[i][:], w)
	}
	return WaterDensity(t) + sum
}

// sucroseVolume is the apparent specific volume of sucrose in mL/g at 20 °C and
// the mass fraction w in sugar + water. SPS-4 at 20 °C is ρ = ρw + w g(w), so
//
//	φ = [1/ρ − (1 − w)/ρw] / w = (1 − g/ρ) / ρw
//
// which does not divide by w and so holds from no sugar to no water. At w = 1 it
// is 0.644, the volume of sugar that nothing dissolves.
func sucroseVolume(w float64) float64 {
	c := &sps4[0]
	g := c[0] + w*(c[1]+w*(c[2]+w*(c[3]+w*(c[4]+w*c[5]))))
	return (1 - g/(water20+w*g)) * (1000 / water20)
}
