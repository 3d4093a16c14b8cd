package liquid

import "servewright/domain/measure"

// WaterDensity returns the density of air-free water in kg/m³ at t, 0–100 °C:
//
//	ρ = (999.83952 + 16.952577 t − 7.9905127e−3 t² − 46.241757e−6 t³
//	     + 105.84601e−9 t⁴ − 281.03006e−12 t⁵) / (1 + 16.887236e−3 t)
//
// G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, as quoted with ICUMSA SPS-4
// (coefficients read in two secondary copies that agree).
func WaterDensity(t measure.Temperature) float64 {
	x := float64(t)
	n := 999.83952 + x*(16.952577+x*(-7.9905127e-3+x*(-46.241757e-6+x*(105.84601e-9-281.03006e-12*x))))
	return n / (1 + 16.887236e-3*x)
}

// water20 is WaterDensity(20), kg/m³.
const water20 = 998.2031227373545
