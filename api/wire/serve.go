package wire

import (
	"servewright/domain/cost"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/serve"
)

// Serve is a spec worked out in the glass. Figures are estimates; a band beside
// a figure is ± one standard uncertainty of it. It is never a guide to how much
// to drink.
type Serve struct {
	Mixed    Mixed          `json:"mixed"`
	Dilution DilutionAnswer `json:"dilution"`
	Served   Served         `json:"served"`
	// AlcoholUnits are the units of alcohol, or standard drinks, of the house's country; not rounded to print.
	AlcoholUnits []AlcoholUnits `json:"alcohol_units"`
	Cost         Cost           `json:"cost"`
	// Price is null while the spec has no price.
	Price *Margin `json:"price" extensions:"x-nullable"`
	// TargetPrice is there when the house has a target pour cost and the goods are priced.
	TargetPrice *TargetPrice   `json:"target_price,omitempty"`
	Allergens   AllergenAnswer `json:"allergens"`
	// Estimated are the figures that nobody gave and that were taken from what the category usually has.
	Estimated []string `json:"estimated" example:"sugar_g_per_l"`
	// Cautions are left out with detail=short.
	Cautions []Caution `json:"cautions,omitzero"`
} // @name Serve

// Mixed is the mix stage alone, before ice.
type Mixed struct {
	VolumeML       Number  `json:"volume_ml" example:"105"`
	VolumeMLBand   *Number `json:"volume_ml_band,omitempty" example:"1.7"`
	AbvPct         Number  `json:"abv_pct" example:"22.86"`
	AbvPctBand     *Number `json:"abv_pct_band,omitempty" example:"0.4"`
	SugarGPerL     Number  `json:"sugar_g_per_l" example:"135"`
	SugarGPerLBand *Number `json:"sugar_g_per_l_band,omitempty" example:"5"`
	AcidGPerL      Number  `json:"acid_g_per_l" example:"12.9"`
	AcidGPerLBand  *Number `json:"acid_g_per_l_band,omitempty" example:"0.6"`
} // @name Mixed

// DilutionAnswer is the method's water.
type DilutionAnswer struct {
	// Model is published_fit, energy_balance, adjusted_fit, fixed or measured; more may come.
	Model string `json:"model" extensions:"x-extensible-enum" example:"published_fit"`
	// PctOfStart is the water added, % of the volume before ice.
	PctOfStart     Number  `json:"pct_of_start" example:"51.9"`
	PctOfStartBand *Number `json:"pct_of_start_band,omitempty" example:"5"`
	// PctOfServed is the water added, % of the served volume.
	PctOfServed     Number  `json:"pct_of_served" example:"34.1"`
	PctOfServedBand *Number `json:"pct_of_served_band,omitempty" example:"2.3"`
	WaterML         Number  `json:"water_ml" example:"54.5"`
	WaterMLBand     *Number `json:"water_ml_band,omitempty" example:"5.3"`
} // @name Dilution

// Served is the finished drink, with everything that joins it after the ice and
// what its serving ice melts into it.
type Served struct {
	VolumeML       Number  `json:"volume_ml" example:"159.7"`
	VolumeMLBand   *Number `json:"volume_ml_band,omitempty" example:"5.6"`
	AbvPct         Number  `json:"abv_pct" example:"15.03"`
	AbvPctBand     *Number `json:"abv_pct_band,omitempty" example:"0.5"`
	AlcoholG       Number  `json:"alcohol_g" example:"18.9"`
	AlcoholGBand   *Number `json:"alcohol_g_band,omitempty" example:"0.3"`
	SugarG         Number  `json:"sugar_g" example:"14.2"`
	SugarGBand     *Number `json:"sugar_g_band,omitempty" example:"0.6"`
	SugarGPerL     Number  `json:"sugar_g_per_l" example:"88.9"`
	SugarGPerLBand *Number `json:"sugar_g_per_l_band,omitempty" example:"4.4"`
	AcidGPerL      Number  `json:"acid_g_per_l" example:"8.5"`
	AcidGPerLBand  *Number `json:"acid_g_per_l_band,omitempty" example:"0.5"`
	// AcidAs is the acid that acidity is counted as.
	AcidAs string `json:"acid_as" example:"citric"`
	// PH is null while it is not worked out.
	PH             *Number `json:"ph" extensions:"x-nullable" example:"2.6"`
	EnergyKcal     Number  `json:"energy_kcal" example:"189"`
	EnergyKcalBand *Number `json:"energy_kcal_band,omitempty" example:"3"`
	EnergyKJ       Number  `json:"energy_kj" example:"786"`
	EnergyKJBand   *Number `json:"energy_kj_band,omitempty" example:"12"`
	// TemperatureC is that of the drink as it is handed over.
	TemperatureC     Number  `json:"temperature_c" example:"-5.8"`
	TemperatureCBand *Number `json:"temperature_c_band,omitempty" example:"0.4"`
	// ServingMeltML is the water that the serving ice melts into it.
	ServingMeltML     Number  `json:"serving_melt_ml" example:"0"`
	ServingMeltMLBand *Number `json:"serving_melt_ml_band,omitempty" example:"2"`
} // @name Served

// AlcoholUnits is the alcohol counted in a country's unit.
type AlcoholUnits struct {
	Country string `json:"country" example:"GB"`
	Units   Number `json:"units" example:"2.4"`
	// Name is what the country calls it.
	Name   string `json:"name" example:"unit"`
	Source string `json:"source" example:"NHS, Alcohol units; high confidence"`
} // @name AlcoholUnits

// Made is a spec worked out, costed and priced: what [View.Serve] writes.
type Made struct {
	Result    serve.Result
	Cost      cost.Total
	BeforeTax *money.Amount // of the spec's price; nil without one
	Margin    *cost.Margin  // nil without a price or while the goods are not priced
	Target    *cost.Target  // nil without a target or while the goods are not priced
}

// Serve writes a spec that was worked out.
func (v View) Serve(m *Made) Serve {
	r := &m.Result
	out := Serve{
		Mixed: v.mixed(r), Dilution: v.dilution(r), Served: v.served(r), AlcoholUnits: units(r),
		Cost: v.cost(&m.Cost), Price: margin(m.BeforeTax, m.Margin), TargetPrice: target(m.Target, v.Book.House()),
		Allergens: v.allergens(r.Contains, r.MayContain, r.Unconfirmed),
		Estimated: append([]string{}, r.Estimated...), Cautions: v.Cautions(r.Cautions),
	}
	return out
}

// pct turns a fraction into percent.
const pct = 100

func (v View) mixed(r *serve.Result) Mixed {
	f, b := &r.Figures, &r.Band
	return Mixed{
		VolumeML: Number(f[serve.MixedVolume]), VolumeMLBand: v.band(b[serve.MixedVolume]),
		AbvPct: Number(f[serve.MixedABV] * pct), AbvPctBand: v.band(b[serve.MixedABV] * pct),
		SugarGPerL: Number(f[serve.MixedSugarPerL]), SugarGPerLBand: v.band(b[serve.MixedSugarPerL]),
		AcidGPerL: Number(f[serve.MixedAcidPerL]), AcidGPerLBand: v.band(b[serve.MixedAcidPerL]),
	}
}

func (v View) dilution(r *serve.Result) DilutionAnswer {
	f, b := &r.Figures, &r.Band
	return DilutionAnswer{
		Model:      string(r.Dilution.Model),
		PctOfStart: Number(f[serve.DilutionOfStart] * pct), PctOfStartBand: v.band(b[serve.DilutionOfStart] * pct),
		PctOfServed: Number(f[serve.DilutionOfServed] * pct), PctOfServedBand: v.band(b[serve.DilutionOfServed] * pct),
		WaterML: Number(f[serve.WaterVolume]), WaterMLBand: v.band(b[serve.WaterVolume]),
	}
}

func (v View) served(r *serve.Result) Served {
	f, b := &r.Figures, &r.Band
	return Served{
		VolumeML: Number(f[serve.ServedVolume]), VolumeMLBand: v.band(b[serve.ServedVolume]),
		AbvPct: Number(f[serve.ServedABV] * pct), AbvPctBand: v.band(b[serve.ServedABV] * pct),
		AlcoholG: Number(f[serve.AlcoholG]), AlcoholGBand: v.band(b[serve.AlcoholG]),
		SugarG: Number(f[serve.SugarG]), SugarGBand: v.band(b[serve.SugarG]),
		SugarGPerL: Number(f[serve.SugarPerL]), SugarGPerLBand: v.band(b[serve.SugarPerL]),
		AcidGPerL: Number(f[serve.AcidPerL]), AcidGPerLBand: v.band(b[serve.AcidPerL]), AcidAs: acidAs,
		EnergyKcal: Number(f[serve.EnergyKcal]), EnergyKcalBand: v.band(b[serve.EnergyKcal]),
		EnergyKJ: Number(f[serve.EnergyKJ]), EnergyKJBand: v.band(b[serve.EnergyKJ]),
		TemperatureC: Number(f[serve.TemperatureC]), TemperatureCBand: v.band(b[serve.TemperatureC]),
		ServingMeltML: Number(f[serve.MeltVolume]), ServingMeltMLBand: v.band(b[serve.MeltVolume]),
	}
}

// acidAs is the acid that the domain counts titratable acidity as.
const acidAs = "citric"

func units(r *serve.Result) []AlcoholUnits {
	if r.Standard.Country == "" {
		return []AlcoholUnits{}
	}
	return []AlcoholUnits{{Country: r.Standard.Country, Units: Number(r.Units), Name: r.Standard.Name, Source: r.Standard.Source}}
}

func target(t *cost.Target, h *recipe.House) *TargetPrice {
	if t == nil || h.TargetPourPct == nil {
		return nil
	}
	return &TargetPrice{TargetPourCostPct: h.TargetPourPct.String(), BeforeTax: fromMoney(t.BeforeTax), WithTax: fromMoney(t.WithTax)}
}
