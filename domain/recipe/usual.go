package recipe

import (
	"fmt"

	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// Label tolerances on declared strength, fraction of volume: Regulation (EU)
// No 1169/2011 Annex XII (German text read; 27 CFR 5.65(c) gives the same 0.3
// for spirits). A tolerance of ±T is taken as a rectangular distribution, so
// one standard uncertainty is T/√3 (JCGM 100:2008, 4.3.7).
const (
	sqrt3          = 1.7320508075688772
	spreadSpirit   = 0.003 / sqrt3 // any other drink above 1.2 % vol
	spreadWine     = 0.005 / sqrt3 // still wine, beer up to 5.5 % vol
	spreadFizz     = 0.010 / sqrt3 // sparkling wine, cider, stronger beer
	spreadMacerate = 0.015 / sqrt3 // drinks with macerated fruit or parts of plants
)

// usual is what each category normally has, for the figures nobody gave.
// Strength and sugar of liqueurs, vermouths and sparkling wines follow the
// legal classes (Regulations (EU) 2019/787, 251/2014, 2019/33); soft drinks,
// wine and dairy follow USDA SR 28 rows 14155, 14400, 14096, 01077, 01053. The
// other bounds are common practice, no source.
var usual = map[Category]liquid.Usual{
	Spirit:        {ABV: &liquid.Range{Low: 0.375, Usual: 0.40, High: 0.50}, ABVSpread: spreadSpirit},
	Liqueur:       {ABV: &liquid.Range{Low: 0.15, Usual: 0.25, High: 0.40}, Sugar: &liquid.Range{Low: 100, Usual: 250, High: 400}, ABVSpread: spreadSpirit},
	FortifiedWine: {ABV: &liquid.Range{Low: 0.145, Usual: 0.17, High: 0.22}, Sugar: &liquid.Range{Low: 20, Usual: 90, High: 160}, Acid: &liquid.Range{Low: 3, Usual: 5, High: 7}, ABVSpread: spreadSpirit},
	Wine:          {ABV: &liquid.Range{Low: 0.09, Usual: 0.125, High: 0.15}, Sugar: &liquid.Range{Low: 0, Usual: 4, High: 12}, Acid: &liquid.Range{Low: 4, Usual: 5.5, High: 9}, ABVSpread: spreadWine},
	SparklingWine: {ABV: &liquid.Range{Low: 0.10, Usual: 0.12, High: 0.13}, Sugar: &liquid.Range{Low: 0, Usual: 9, High: 32}, Acid: &liquid.Range{Low: 5, Usual: 6.5, High: 9}, ABVSpread: spreadFizz},
	Beer:          {ABV: &liquid.Range{Low: 0.03, Usual: 0.05, High: 0.09}, Sugar: &liquid.Range{Low: 0, Usual: 3, High: 20}, Acid: &liquid.Range{Low: 0.5, Usual: 1.5, High: 3}, ABVSpread: spreadWine},
	Cider:         {ABV: &liquid.Range{Low: 0.03, Usual: 0.05, High: 0.085}, Sugar: &liquid.Range{Low: 0, Usual: 25, High: 60}, Acid: &liquid.Range{Low: 3, Usual: 5, High: 8}, ABVSpread: spreadFizz},
	Bitters:       {ABV: &liquid.Range{Low: 0.20, Usual: 0.44, High: 0.475}, Sugar: &liquid.Range{Low: 0, Usual: 40, High: 100}, ABVSpread: spreadMacerate},
	Juice:         {Sugar: &liquid.Range{Low: 15, Usual: 90, High: 170}, Acid: &liquid.Range{Low: 3, Usual: 10, High: 60}, ABVSpread: spreadSpirit},
	Syrup:         {Sugar: &liquid.Range{Low: 500, Usual: 620, High: 900}, ABVSpread: spreadSpirit},
	SoftDrink:     {Sugar: &liquid.Range{Low: 0, Usual: 85, High: 120}, Acid: &liquid.Range{Low: 0, Usual: 2, High: 5}, ABVSpread: spreadSpirit},
	WaterCategory: {ABVSpread: spreadSpirit},
	Dairy:         {Sugar: &liquid.Range{Low: 28, Usual: 45, High: 55}, ABVSpread: spreadSpirit},
	Egg:           {ABVSpread: spreadSpirit},
	Sugar:         {Solid: true},
	Acid:          {Solid: true},
	Salt:          {Solid: true},
	Botanical:     {Opaque: true},
	Fruit:         {Opaque: true},
	GarnishItem:   {Opaque: true},
	IceCategory:   {},
	Packaging:     {Opaque: true},
	Other:         {Opaque: true, ABVSpread: spreadMacerate},
}

// stand-ins are taken for the categories whose unlabelled members are nearly
// always one thing. Egg white: USDA SR 28 row 01124, per gram.
var standIns = map[Category]struct {
	what string
	of   map[string]float64
}{
	Egg:   {"raw egg white (USDA SR 28, 01124)", map[string]float64{"protein": 0.109, "fat": 0.0017, "glucose": 0.0071, "other_solids": 0.0065}},
	Sugar: {"pure sucrose", map[string]float64{"sucrose": 1}},
	Acid:  {"anhydrous citric acid", map[string]float64{"citric_acid": 1}},
	Salt:  {"sodium chloride", map[string]float64{"sodium_chloride": 1}},
}

// Usual returns what components of the category normally have, given what the
// label says. Sugars, acids and salts that carry a figure of a liquid (strength,
// sugar per litre, Brix, density) are liquids.
func (c Category) Usual(l *liquid.Label) liquid.Usual {
	u := usual[c]
	liquidFigure := l.ABV != nil || l.Sugar != nil || l.Sugars != nil || l.Brix != nil || l.Density != nil || l.Acids != nil
	if liquidFigure {
		u.Solid = false
		if c == Syrup || c == Juice || c == SoftDrink {
			u.ABV = nil
		}
	}
	if !l.Empty() {
		u.Opaque = false
	}
	return u
}

// labelled returns the label to close for c: its own, or its category's
// stand-in with the caution that says so.
func labelled(c *Component) (liquid.Label, []domain.Caution) {
	stand, ok := standIns[c.Category]
	if !ok || !c.Label.Empty() {
		return c.Label, nil
	}
	return liquid.Label{MassFraction: stand.of, BulkDensity: c.Label.BulkDensity}, []domain.Caution{{
		Code: "COMPOSITION_ASSUMED", Severity: domain.Note,
		Detail: fmt.Sprintf("%s has no label figures and is counted as %s; give mass_fraction if it is something else", c.Name, stand.what),
		Source: "common practice, no source",
	}}
}

// iceDensity is the density of ice at 0 °C in g/mL (0.9167, from memory; the
// 90.6 mL/kg expansion of water gives 0.9168).
const iceDensity measure.Density = 0.9167

// DefaultHouse is what a house starts with. Dash, drop and barspoon have no
// legal size; these are the middle of what trade references give (0.92 mL =
// 1/32 US fl oz; 20 drops to the mL, from memory; 5 mL US barspoon).
func DefaultHouse() House {
	return House{
		TimeZone: "UTC",
		Currency: "EUR",
		Units:    measure.BarUnits{Oz: 29.5735295625, Dash: 0.92, Drop: 0.05, Barspoon: 5},
	}
}
