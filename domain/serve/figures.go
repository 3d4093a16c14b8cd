package serve

import (
	"math"

	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/nutrition"
)

// Figure is one number of a serve that can carry a band and can change in a
// swap.
type Figure uint8

// The figures. Volumes in mL at 20 °C, strengths as fractions, masses in g,
// concentrations in g/L, energy in kcal and kJ, temperature in °C.
const (
	MixedVolume Figure = iota
	MixedABV
	MixedSugarPerL
	MixedAcidPerL   // as citric
	DilutionOfStart // volume of the method's water ÷ volume before ice
	DilutionOfServed
	WaterVolume // the method's
	ServedVolume
	ServedABV
	AlcoholG
	SugarG
	SugarPerL
	AcidPerL // as citric
	EnergyKcal
	EnergyKJ
	TemperatureC
	MeltVolume // of the serving ice
	NumFigures // how many there are
)

// Figures holds one value per [Figure].
type Figures [NumFigures]float64

// finish ices and serves what was poured.
func (m *making) finish() (Glass, error) {
	g := Glass{Start: m.in.Mix, Contains: m.contains, MayContain: m.may &^ m.contains}
	var err error
	if g.Dilution, err = chill.Dilute(&m.in); err != nil {
		return Glass{}, err
	}
	g.Drink = m.in.Mix
	g.Drink[liquid.Water] += g.Dilution.WaterG
	coldC := g.Dilution.FinalC
	if later := m.in.Later.Mass(); later > 0 {
		coldC = m.blendC(&g.Drink, coldC)
		g.Drink.Add(&m.in.Later, 1)
	}
	if !(g.Drink.Mass() > 0) {
		return Glass{}, nothingPoured
	}
	g.Melt = chill.Stand(&m.in, &g.Dilution, &g.Drink, coldC)
	g.Drink[liquid.Water] += g.Melt.WaterG
	g.Figures = m.figures(&g)
	return g, nil
}

// blendC is the temperature of the cold drink once the later lines join it.
func (m *making) blendC(drink *liquid.Mix, coldC measure.Temperature) measure.Temperature {
	cold, later := drink.HeatCapacity(coldC), m.in.Later.HeatCapacity(m.laterC)
	return measure.Temperature((cold*float64(coldC) + later*float64(m.laterC)) / (cold + later))
}

func (m *making) figures(g *Glass) Figures {
	var f Figures
	start := float64(g.Start.Volume())
	served := float64(g.Drink.Volume())
	water := g.Dilution.WaterG / waterDensity
	f[MixedVolume], f[MixedABV] = start, float64(g.Start.ABV())
	f[MixedSugarPerL], f[MixedAcidPerL] = perLitre(g.Start.SugarG(), start), perLitre(acidG(&g.Start), start)
	f[WaterVolume], f[DilutionOfStart], f[DilutionOfServed] = water, ratio(water, start), ratio(water, served)
	f[ServedVolume], f[ServedABV] = served, float64(g.Drink.ABV())
	f[AlcoholG], f[SugarG] = g.Drink[liquid.Ethanol], g.Drink.SugarG()
	f[SugarPerL], f[AcidPerL] = perLitre(f[SugarG], served), perLitre(acidG(&g.Drink), served)
	e := m.energy(&g.Drink)
	f[EnergyKcal], f[EnergyKJ] = e.Kcal, e.KJ
	f[TemperatureC], f[MeltVolume] = float64(g.Melt.FinalC), g.Melt.WaterG/waterDensity
	return f
}

func (m *making) energy(drink *liquid.Mix) nutrition.Energy {
	if m.us {
		return nutrition.EnergyUS(drink)
	}
	return nutrition.EnergyEU(drink)
}

// acidG is titratable acidity in g as citric acid.
func acidG(m *liquid.Mix) float64 { return liquid.AcidAs(m.TitratableMeq(), liquid.CitricAcid) }

func perLitre(g, ml float64) float64 { return 1000 * ratio(g, ml) }

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// rootSum combines independent effects on each figure.
func rootSum(effects []effect) Figures {
	var sum Figures
	for i := range effects {
		for f, d := range effects[i].by {
			sum[f] += d * d
		}
	}
	for f := range sum {
		sum[f] = math.Sqrt(sum[f])
	}
	return sum
}
