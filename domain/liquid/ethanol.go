package liquid

import "servewright/domain/measure"

// The coefficients of the general formula of OIML R 22 (1975), the same as in
// the Annex of Council Directive 76/766/EEC (OJ L 262, 27.9.1976, p. 149). Read
// in five secondary copies that agree but for two single-copy misprints; the
// printed recommendation itself was not seen. Units: kg/m³ and powers of K.
var (
	r22A = [12]float64{
		998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
		306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
	}
	r22B = [6]float64{-0.20618513, -0.0052682542, 3.6130013e-05, -3.8957702e-07, 7.169354e-09, -9.9739231e-11}
	r22C = [5][11]float64{
		{
			0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792, 3924.090430035045,
			-12101.64659068747, 22486.46550400788, -26055.62982188164, 18523.73922069467, -7420.201433430137,
			1285.617841998974,
		},
		{
			-0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029, -50.29988758547014,
			109.635566657757, -142.2753946421155, 108.043594285623, -44.14153236817392, 7.442971530188783,
		},
		{
			-0.0006802995733503803, 0.01876837790289664, -0.2002561813734156, 1.02299296671922, -2.895696483903638,
			4.810060584300675, -4.672147440794683, 2.458043105903461, -0.5411227621436812,
		},
		{4.075376675622027e-06, -8.76305857347111e-06, 6.515031360099368e-06, -1.51578483698721e-06},
		{-2.788074354782409e-08, 1.345612883493354e-08},
	}
)

// ethanol20 is the density of ethanol at 20 °C, kg/m³: EthanolWaterDensity(1,
// 20), which the tables print as 789.24.
const ethanol20 = 789.2391232999144

// EthanolDensity is the density of ethanol at 20 °C in g/mL, to which strength by
// volume refers. The tables print it as 0.78924.
const EthanolDensity measure.Density = ethanol20 / 1000

// EthanolWaterDensity returns the density in kg/m³ of ethanol and water with
// the ethanol mass fraction p, 0–1, at t, −20 to 40 °C:
//
//	ρ(p, t) = A₁ + Σₖ₌₂¹² Aₖ pᵏ⁻¹ + Σₖ₌₁⁶ Bₖ dᵏ + Σᵢ₌₁⁵ Σₖ Cᵢₖ pᵏ dⁱ,  d = t − 20 °C
//
// It is the formula behind the tables of OIML R 22 (1975).
func EthanolWaterDensity(p float64, t measure.Temperature) float64 {
	if t == 20 {
		return ethanolWater20(p)
	}
	d := float64(t) - 20
	sum := 0.0
	for i := len(r22C) - 1; i >= 0; i-- {
		sum = (sum + p*horner(r22C[i][:], p)) * d
	}
	return ethanolWater20(p) + d*horner(r22B[:], d) + sum
}

// ethanolWater20 is the formula at 20 °C, where only the A terms are left. It
// is written out because everything poured goes through it.
func ethanolWater20(p float64) float64 {
	a := &r22A
	return a[0] + p*(a[1]+p*(a[2]+p*(a[3]+p*(a[4]+p*(a[5]+p*(a[6]+p*(a[7]+p*(a[8]+p*(a[9]+p*(a[10]+p*a[11]))))))))))
}

// horner returns c[0] + c[1] x + c[2] x² + …
func horner(c []float64, x float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
