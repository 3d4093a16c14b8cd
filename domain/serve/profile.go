package serve

import (
	"slices"

	"math"

	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/nutrition"
	"servewright/domain/recipe"
)

// Trait is one number of what is in a component, per volume of it.
type Trait uint8

// The traits. Strength as a fraction, concentrations in g/L at 20 °C, density in
// g/mL, energy of 100 mL in kcal and kJ.
const (
	TraitABV Trait = iota
	TraitSugarPerL
	TraitAcidPerL // as citric
	TraitDensity
	TraitKcalPer100ML
	TraitKJPer100ML
	NumTraits // how many there are
)

// Traits holds one value per [Trait].
type Traits [NumTraits]float64

// Profile is what is in a component as it is poured.
type Profile struct {
	// Volume reports whether the component has a volume; without one it has no
	// traits. It is false for solids without a bulk density and for things of
	// which nothing is known.
	Volume bool
	Traits Traits
	Band   Traits // ± one standard uncertainty of each trait
	Brix   *float64
	PH     *float64 // as labelled; nil when nobody measured it

	Contents *recipe.Contents
	Cautions []domain.Caution
}

// ProfileOf reads the profile of component r off its contents.
func ProfileOf(b *recipe.Book, r recipe.Ref) Profile {
	c := b.Contents(r)
	p := Profile{Contents: c, Cautions: c.Cautions, PH: b.Component(r).Label.PH}
	if c.Opaque {
		p.Cautions = domain.AddCaution(slices.Clip(c.Cautions), recipe.Uncounted(b.Component(r).Name, "drink")) // the Book's own list stays
		return p
	}
	if pct, ok := c.PerG.Brix(); ok {
		p.Brix = &pct
	}
	if !(c.Density > 0) {
		return p
	}
	energy := energyFor(b.House().Country)
	p.Volume, p.Traits = true, traits(&c.PerG, c.Density, energy)
	for i := range c.Spread {
		p.Band.spread(&p.Traits, c, &c.Spread[i].Per, energy)
	}
	for t := range p.Band {
		p.Band[t] = math.Sqrt(p.Band[t])
	}
	return p
}

// traits turns masses per gram into numbers per volume.
func traits(perG *liquid.Mix, density measure.Density, energy func(*liquid.Mix) nutrition.Energy) Traits {
	gPerL := 1000 * float64(density)
	e := energy(perG)
	return Traits{
		TraitABV:       float64(perG.ABV()),
		TraitSugarPerL: perG.SugarG() * gPerL, TraitAcidPerL: acidG(perG) * gPerL,
		TraitDensity:      float64(density),
		TraitKcalPer100ML: e.Kcal * gPerL / 10, TraitKJPer100ML: e.KJ * gPerL / 10,
	}
}

// spread adds the square of what one standard uncertainty of one source does to
// each trait. The density of a powder is a measure of its own and stays.
func (band *Traits) spread(base *Traits, c *recipe.Contents, per *liquid.Mix, energy func(*liquid.Mix) nutrition.Energy) {
	other := c.PerG
	other.Add(per, 1)
	mass := float64(other.Mass())
	density := measure.Density(float64(c.Density) * mass / volumeRatio(&other, &c.PerG))
	other.Scale(1 / mass)
	changed := traits(&other, density, energy)
	for t := range band {
		d := changed[t] - base[t]
		band[t] += d * d
	}
}

// volumeRatio is how many times the volume of b a has.
func volumeRatio(a, b *liquid.Mix) float64 { return ratio(float64(a.Volume()), float64(b.Volume())) }

// energyFor returns the energy factors that hold in a country.
func energyFor(country string) func(*liquid.Mix) nutrition.Energy {
	if country == "US" {
		return nutrition.EnergyUS
	}
	return nutrition.EnergyEU
}
