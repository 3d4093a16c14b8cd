package liquid

import (
	"math"

	"servewright/domain/measure"
)

// melinderHeat is the specific heat of ethanol–water by A. Melinder, Properties
// of Secondary Working Fluids for Indirect Systems, IIR (2010), J/(kg K): row j
// for (t − 8.1578 °C)ʲ, column i for (x − 29.2361)ⁱ, x the ethanol mass %, 0–60 %,
// from the freezing point to 40 °C (secondary copy).
var melinderHeat = [4][6]float64{
	{4204, -21.02, -0.3714, 0.01743, -6.292e-05, -8.29e-06},
	{2.319, 0.4927, -0.002335, -0.0002969, 5.353e-06},
	{-0.03042, -0.003072, -1.96e-05, 1.901e-06},
	{0.000686, -5.69e-05, 7.461e-07},
}

// perryHeat are specific heats of strong ethanol, J/(g K), at 3, 23 and 41 °C:
// Perry's Chemical Engineers' Handbook, Table 2-205 (secondary copy; 1 cal =
// 4.184 J).
var (
	perryT    = [3]float64{3, 23, 41}
	perryHeat = [2][3]float64{{2.803, 3.042, 3.130}, {2.259, 2.414, 2.598}} // 80 %, 100 % by mass
)

// The temperatures between which the polynomials behave, °C. Outside, the heat
// capacity stays as it is at the nearer end.
const (
	heatColdest = -40
	heatWarmest = 40
)

// ethanolWaterHeat is the specific heat in J/(g K) of ethanol and water with the
// ethanol mass fraction p at t °C: Melinder to 60 %, then straight lines to
// Perry's 80 and 100 %.
func ethanolWaterHeat(p, t float64) float64 {
	t = math.Min(math.Max(t, heatColdest), heatWarmest)
	weak := melinderSpecific(math.Min(p, melinderP), t)
	switch {
	case p <= melinderP:
		return weak
	case p <= 0.8:
		return weak + (perrySpecific(0, t)-weak)*(p-melinderP)/0.2
	}
	strong := perrySpecific(0, t)
	return strong + (perrySpecific(1, t)-strong)*(p-0.8)/0.2
}

func melinderSpecific(p, t float64) float64 {
	x, d, sum := 100*p-melinderX, t-melinderT, 0.0
	for j := len(melinderHeat) - 1; j >= 0; j-- {
		sum = sum*d + horner(melinderHeat[j][:], x)
	}
	return sum / 1000
}

// perrySpecific reads row i at t, on straight lines that go on beyond the ends.
func perrySpecific(i int, t float64) float64 {
	k := 0
	if t > perryT[1] {
		k = 1
	}
	row := &perryHeat[i]
	return row[k] + (row[k+1]-row[k])*(t-perryT[k])/(perryT[k+1]-perryT[k])
}

// specific is a specific heat a + b t in J/(g K), t in °C.
type specific struct{ a, b float64 }

// What a dissolved gram adds to the heat capacity. Sugars: the slope of the
// specific heat of sugar solutions, 4.1868 − 0.0251 w% + 7.5e−5 w% t (Bubník et
// al., Sugar Technologists Manual 1995, from memory), which is that of water
// less sugar plus these; acids are taken alike. Fat, protein, fibre and solids
// (as ash): Y. Choi and M. R. Okos (1986), from memory. Glycerol: pure, from
// memory. Dissolved salts add next to nothing.
var (
	sugarHeat     = specific{1.68, 7.5e-3}
	fatHeat       = specific{1.9842, 1.4733e-3}
	proteinHeat   = specific{2.0082, 1.2089e-3}
	fibreHeat     = specific{1.8459, 1.8306e-3}
	solidsHeat    = specific{1.0926, 1.8896e-3}
	glycerolHeat  = specific{2.43, 0}
	dissolvedHeat = [Substances]specific{
		Sucrose: sugarHeat, Glucose: sugarHeat, Fructose: sugarHeat, Lactose: sugarHeat, Maltose: sugarHeat,
		Glycerol: glycerolHeat, CitricAcid: sugarHeat, MalicAcid: sugarHeat, TartaricAcid: sugarHeat,
		LacticAcid: sugarHeat, AceticAcid: sugarHeat, PhosphoricAcid: sugarHeat, AscorbicAcid: sugarHeat,
		SuccinicAcid: sugarHeat, CarbonicAcid: sugarHeat,
		Fat: fatHeat, Protein: proteinHeat, Fibre: fibreHeat, OtherSolids: solidsHeat,
	}
)

// HeatCapacity returns the heat capacity of the whole mix in J/K at t: that of
// its ethanol and water together, which is more than the sum of the two, and
// what each dissolved gram adds. Between −40 and 40 °C; beyond, it stays. With
// sugar it is an estimate, good to about 2 %.
func (m *Mix) HeatCapacity(t measure.Temperature) float64 {
	c, x := 0.0, math.Min(math.Max(float64(t), heatColdest), heatWarmest)
	if liquid := m[Water] + m[Ethanol]; liquid > 0 {
		c = liquid * ethanolWaterHeat(m[Ethanol]/liquid, x)
	}
	for s := Sucrose; s < Substances; s++ {
		if g := m[s]; g != 0 {
			h := &dissolvedHeat[s]
			c += g * (h.a + h.b*x)
		}
	}
	return c
}
