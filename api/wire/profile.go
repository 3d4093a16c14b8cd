package wire

import (
	"servewright/domain/cost"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/serve"
)

// Profile is what is in a component and what it costs. Figures per volume are
// null for a solid without a bulk density and for a thing of which nothing is
// known.
type Profile struct {
	Component        Ref     `json:"component"`
	AbvPct           *Number `json:"abv_pct" extensions:"x-nullable" example:"24.3"`
	AbvPctBand       *Number `json:"abv_pct_band,omitempty" example:"0.2"`
	SugarGPerL       *Number `json:"sugar_g_per_l" extensions:"x-nullable" example:"246"`
	SugarGPerLBand   *Number `json:"sugar_g_per_l_band,omitempty" example:"4"`
	AcidGPerL        *Number `json:"acid_g_per_l" extensions:"x-nullable" example:"3.1"`
	AcidGPerLBand    *Number `json:"acid_g_per_l_band,omitempty" example:"0.2"`
	AcidAs           string  `json:"acid_as" example:"citric"`
	PH               *Number `json:"ph" extensions:"x-nullable" example:"3.4"`
	DensityKgPerL    *Number `json:"density_kg_per_l" extensions:"x-nullable" example:"1.0612"`
	DensityBand      *Number `json:"density_kg_per_l_band,omitempty" example:"0.0016"`
	BrixPct          *Number `json:"brix_pct" extensions:"x-nullable" example:"24.1"`
	EnergyKcalPer100 *Number `json:"energy_kcal_per_100ml" extensions:"x-nullable" example:"232"`
	EnergyKcalBand   *Number `json:"energy_kcal_per_100ml_band,omitempty" example:"2"`
	EnergyKJPer100   *Number `json:"energy_kj_per_100ml" extensions:"x-nullable" example:"968"`
	EnergyKJBand     *Number `json:"energy_kj_per_100ml_band,omitempty" example:"8"`
	// YieldML, YieldG and LossML are of one batch; null for a bought component.
	YieldML *Number `json:"yield_ml" extensions:"x-nullable" example:"930"`
	YieldG  *Number `json:"yield_g" extensions:"x-nullable" example:"986"`
	// LossML is what its lines make less what is there to pour.
	LossML *Number `json:"loss_ml" extensions:"x-nullable" example:"41"`

	// GoodsCostPerL is the ingredients over the yield; CostPerL is the same.
	GoodsCostPerL *Money `json:"goods_cost_per_l" extensions:"x-nullable"`
	// FullCostPerL adds labour, energy and packaging.
	FullCostPerL *Money `json:"full_cost_per_l" extensions:"x-nullable"`
	CostPerL     *Money `json:"cost_per_l" extensions:"x-nullable"`
	CostPerKg    *Money `json:"cost_per_kg" extensions:"x-nullable"`
	CostPerPiece *Money `json:"cost_per_piece" extensions:"x-nullable"`
	// CostPerBatch is the goods of one batch; FullCostPerBatch adds labour, energy and packaging.
	CostPerBatch     *Money `json:"cost_per_batch" extensions:"x-nullable"`
	FullCostPerBatch *Money `json:"full_cost_per_batch" extensions:"x-nullable"`
	// PricedSubtotal is the sum of the lines of a batch that have a price.
	PricedSubtotal *Money         `json:"priced_subtotal" extensions:"x-nullable"`
	Missing        []MissingPrice `json:"missing"`
	FullMissing    []MissingPrice `json:"full_missing,omitempty"`
	// CostLines, PackagingLines, Labour and Energy are the arithmetic of one batch; left out with detail=short.
	CostLines      []CostLine `json:"cost_lines,omitzero"`
	PackagingLines []CostLine `json:"packaging_lines,omitempty"`
	Labour         *Effort    `json:"labour,omitempty"`
	Energy         *Effort    `json:"energy,omitempty"`
	// Pack is the pack whose price counts; bought components only.
	Pack *Pack `json:"pack,omitempty"`

	Allergens AllergenAnswer `json:"allergens"`
	// Estimated are the figures that nobody gave and that were taken from what the category usually has.
	Estimated []string `json:"estimated" example:"sugar_g_per_l"`
	// Cautions are left out with detail=short.
	Cautions []Caution `json:"cautions,omitzero"`
} // @name Profile

// Effort is the labour or energy of one batch.
type Effort struct {
	Cost Money  `json:"cost"`
	Text string `json:"text" example:"25 min × 18.00 EUR/h = 7.500000 EUR"`
} // @name Effort

// Profile writes what is in component r and what it costs.
func (v View) Profile(r recipe.Ref, p *serve.Profile, b *cost.Batch) (Profile, error) {
	c := p.Contents
	out := Profile{
		Component: v.component(r), AcidAs: acidAs, PH: numberOrNil(p.PH), BrixPct: numberOrNil(p.Brix),
		Allergens: v.allergens(c.Contains, c.MayContain, c.Unconfirmed),
		Estimated: append([]string{}, c.Estimated...), Cautions: v.Cautions(p.Cautions),
	}
	if p.Volume {
		v.traits(&out, p)
	}
	if v.Book.Component(r).Kind == recipe.HouseMade {
		batch(&out, c)
		out.PricedSubtotal = fromMoneyOrNil(&b.Total.Subtotal)
	}
	v.costs(&out, b)
	return out, unitCosts(&out, b, b.Total.Subtotal.Currency)
}

func (v View) traits(out *Profile, p *serve.Profile) {
	t, b := &p.Traits, &p.Band
	out.AbvPct, out.AbvPctBand = number6(t[serve.TraitABV]*pct), v.band(b[serve.TraitABV]*pct)
	out.SugarGPerL, out.SugarGPerLBand = number6(t[serve.TraitSugarPerL]), v.band(b[serve.TraitSugarPerL])
	out.AcidGPerL, out.AcidGPerLBand = number6(t[serve.TraitAcidPerL]), v.band(b[serve.TraitAcidPerL])
	out.DensityKgPerL, out.DensityBand = number6(t[serve.TraitDensity]), v.band(b[serve.TraitDensity])
	out.EnergyKcalPer100, out.EnergyKcalBand = number6(t[serve.TraitKcalPer100ML]), v.band(b[serve.TraitKcalPer100ML])
	out.EnergyKJPer100, out.EnergyKJBand = number6(t[serve.TraitKJPer100ML]), v.band(b[serve.TraitKJPer100ML])
}

func batch(out *Profile, c *recipe.Contents) {
	if c.YieldG > 0 {
		out.YieldG = number6(float64(c.YieldG))
	}
	if c.YieldML > 0 {
		out.YieldML, out.LossML = number6(float64(c.YieldML)), number6(float64(c.LossML))
	}
}

// costs writes what is counted once for the batch.
func (v View) costs(out *Profile, b *cost.Batch) {
	out.CostPerBatch, out.FullCostPerBatch = fromMoneyOrNil(b.Total.Total), fromMoneyOrNil(b.Total.Full)
	out.Missing, out.FullMissing = fromMissing(b.Total.Missing), fromMissing(b.Total.FullMissing)
	if b.Pack != nil {
		pack := FromPack(b.Pack)
		out.Pack = &pack
	}
	if v.Short {
		return
	}
	out.CostLines, out.PackagingLines = v.costLines(b.Total.Lines), v.costLines(b.Packaging)
	out.Labour, out.Energy = effort(b.Labour, b.LabourText), effort(b.Energy, b.EnergyText)
}

func effort(a *money.Amount, text string) *Effort {
	if a == nil || text == "" {
		return nil
	}
	return &Effort{Cost: fromMoney(*a), Text: text}
}

// unitCosts prints the exact prices of a litre, a kilogram and a piece.
func unitCosts(out *Profile, b *cost.Batch, c money.Currency) error {
	for _, u := range []struct {
		to   **Money
		from *money.Ratio
	}{
		{&out.GoodsCostPerL, b.PerL}, {&out.CostPerL, b.PerL}, {&out.FullCostPerL, b.FullPerL},
		{&out.CostPerKg, b.PerKg}, {&out.CostPerPiece, b.PerPiece},
	} {
		if u.from == nil {
			continue
		}
		a, err := u.from.Amount(c)
		if err != nil {
			return err
		}
		*u.to = fromMoneyOrNil(&a)
	}
	return nil
}
