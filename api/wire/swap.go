package wire

import (
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
	"servewright/domain/serve"
	"servewright/domain/swap"
)

// Swap asks what one component in another's place does to the drinks that pour
// it.
type Swap struct {
	// From is the component that leaves: an id, or code:LIQ-7.
	From string `json:"from" validate:"required" example:"code:LIQ-7"`
	// To is the component that takes its place.
	To string `json:"to" validate:"required" example:"code:H-QUINCE"`
	// Specs are the specs to compare; without it, every spec that reaches From, through house-made components too.
	Specs []string `json:"specs,omitempty" validate:"max=1000" example:"code:C-104"`
	// Amounts: the amounts stay as they are written.
	Amounts string `json:"amounts,omitempty" validate:"oneof=same" default:"same" example:"same"`
	// Limit is how many specs a page has; above 200 counts as 200.
	Limit *int `json:"limit,omitempty" default:"100" example:"100"`
	// Cursor is next_cursor of the page before.
	Cursor string `json:"cursor,omitempty" example:"eyJsIjoiOWY4NmQwODE4ODRjN2Q2NSJ9"`
} // @name Swap

// SwapAnswer is a swap across a menu: totals over all its specs, and a page of
// them one by one.
type SwapAnswer struct {
	From   Profile    `json:"from"`
	To     Profile    `json:"to"`
	Totals SwapTotals `json:"totals"`
	Specs  []SwapSpec `json:"specs"`
	// NextCursor asks for the page after this one; null at the end.
	NextCursor *string `json:"next_cursor" extensions:"x-nullable" example:"eyJsIjoiOWY4NmQwODE4ODRjN2Q2NSJ9"`
	// Cautions are left out with detail=short.
	Cautions []Caution `json:"cautions,omitzero"`
} // @name SwapAnswer

// SwapTotals are sums over all compared specs, one serve of each.
type SwapTotals struct {
	Specs int `json:"specs" example:"14"`
	// Unmade are specs that cannot be made as they are written, on either side; they are left out of the sums.
	Unmade int `json:"unmade" example:"0"`
	// Unpriced are specs left out of the sums of money, because a price is missing on either side.
	Unpriced  int             `json:"unpriced" example:"1"`
	Before    SwapSums        `json:"before"`
	After     SwapSums        `json:"after"`
	Allergens AllergensChange `json:"allergens"`
} // @name SwapTotals

// SwapSums are the totals of one side.
type SwapSums struct {
	// GoodsCost is of the priced specs; null when there is none.
	GoodsCost *Money `json:"goods_cost" extensions:"x-nullable"`
	// RevenueBeforeTax is of the specs that have both cost and price, and RevenueGoodsCost is what their goods cost.
	RevenueBeforeTax *Money `json:"revenue_before_tax" extensions:"x-nullable"`
	RevenueGoodsCost *Money `json:"revenue_goods_cost" extensions:"x-nullable"`
	AlcoholG         Number `json:"alcohol_g" example:"264"`
	SugarG           Number `json:"sugar_g" example:"198"`
	VolumeML         Number `json:"volume_ml" example:"2140"`
	EnergyKcal       Number `json:"energy_kcal" example:"2610"`
} // @name SwapSums

// SwapSpec is what the swap does to one spec.
type SwapSpec struct {
	Spec Ref `json:"spec"`
	// Before is null when the spec cannot be made even as it stands; Unmade says why.
	Before *Serve `json:"before" extensions:"x-nullable"`
	// After is null when the spec cannot be made with the substitute as it is written; Unmade says why.
	After  *Serve `json:"after" extensions:"x-nullable"`
	Unmade string `json:"unmade,omitempty" example:"the amount cannot be turned into grams"`
	// Change is what happens to each figure, by its name in a serve.
	Change map[string]Change `json:"change"`
	// CostChange is what happens to the money; null where either side is unknown.
	CostChange CostChange      `json:"cost_change"`
	Allergens  AllergensChange `json:"allergens"`
	// Lines are the lines that the swap touches.
	Lines []SwapLine `json:"lines"`
} // @name SwapSpec

// Change is what happens to one figure.
type Change struct {
	By Number `json:"by" example:"-0.31"`
	// Band is ± one standard uncertainty of By; left out with detail=short.
	Band *Number `json:"band,omitempty" example:"0.4"`
	// BeyondBand says that measuring noise cannot explain the change.
	BeyondBand bool `json:"beyond_band" example:"false"`
	// LikelyNoticed says whether a guest would notice side by side; null when no threshold answers that.
	LikelyNoticed *bool      `json:"likely_noticed" extensions:"x-nullable" example:"false"`
	Threshold     *Threshold `json:"threshold,omitempty"`
} // @name Change

// Threshold is how large a change has to be for a guest to notice it.
type Threshold struct {
	Low  Number `json:"low" example:"0.08"`
	High Number `json:"high" example:"0.2"`
	// Ratio says that Low and High are shares of the figure; else they are in its unit.
	Ratio  bool   `json:"ratio" example:"true"`
	Source string `json:"source" example:"guess: no published threshold was found"`
} // @name Threshold

// CostChange is what happens to the money of one spec.
type CostChange struct {
	Total       *Money `json:"total" extensions:"x-nullable"`
	GrossProfit *Money `json:"gross_profit" extensions:"x-nullable"`
} // @name CostChange

// AllergensChange is what a drink comes to contain, and no longer contains.
type AllergensChange struct {
	Gained []string `json:"gained" example:"nuts"`
	Lost   []string `json:"lost" example:"sulphites"`
} // @name AllergensChange

// SwapLine is a line that the swap touches.
type SwapLine struct {
	// Line is its place in the spec's lines, from 0.
	Line   int    `json:"line" example:"1"`
	LineID string `json:"line_id" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b22"`
	Was    Ref    `json:"was"`
	Is     Ref    `json:"is"`
	// Remade says that the component is the same, made with the substitute.
	Remade bool `json:"remade" example:"false"`
} // @name SwapLine

// figureNames are the figures by their name in a serve, and what turns the
// domain's unit into the name's.
var figureNames = [serve.NumFigures]struct {
	name  string
	scale float64
}{
	serve.MixedVolume: {"mixed.volume_ml", 1}, serve.MixedABV: {"mixed.abv_pct", pct},
	serve.MixedSugarPerL: {"mixed.sugar_g_per_l", 1}, serve.MixedAcidPerL: {"mixed.acid_g_per_l", 1},
	serve.DilutionOfStart: {"dilution.pct_of_start", pct}, serve.DilutionOfServed: {"dilution.pct_of_served", pct},
	serve.WaterVolume: {"dilution.water_ml", 1}, serve.ServedVolume: {"served.volume_ml", 1},
	serve.ServedABV: {"served.abv_pct", pct}, serve.AlcoholG: {"served.alcohol_g", 1},
	serve.SugarG: {"served.sugar_g", 1}, serve.SugarPerL: {"served.sugar_g_per_l", 1},
	serve.AcidPerL: {"served.acid_g_per_l", 1}, serve.EnergyKcal: {"served.energy_kcal", 1},
	serve.EnergyKJ: {"served.energy_kj", 1}, serve.TemperatureC: {"served.temperature_c", 1},
	serve.MeltVolume: {"served.serving_melt_ml", 1},
}

// SwapTotals writes the totals of a swap.
func (v View) SwapTotals(t *swap.Totals) SwapTotals {
	return SwapTotals{
		Specs: t.Specs, Unmade: t.Unmade, Unpriced: t.Unpriced,
		Before: sums(&t.Before), After: sums(&t.After), Allergens: allergensChange(t.Gained, t.Lost),
	}
}

func sums(s *swap.Sums) SwapSums {
	return SwapSums{
		GoodsCost: fromMoneyOrNil(s.Goods), RevenueBeforeTax: fromMoneyOrNil(s.Revenue), RevenueGoodsCost: fromMoneyOrNil(s.RevenueCost),
		AlcoholG: Number(s.AlcoholG), SugarG: Number(s.SugarG), VolumeML: Number(s.VolumeML), EnergyKcal: Number(s.EnergyKcal),
	}
}

func allergensChange(gained, lost safety.Set) AllergensChange {
	return AllergensChange{Gained: gained.Names(), Lost: lost.Names()}
}

// SwapSpec writes what the swap does to one spec. A side is nil when the spec
// cannot be made there.
func (v View) SwapSpec(d *swap.Drink, before, after *Made) (SwapSpec, error) {
	out := SwapSpec{
		Spec: specRef(d.Spec), Before: v.serveOrNil(before), After: v.serveOrNil(after), Change: make(map[string]Change),
		Allergens: allergensChange(d.Gained, d.Lost), Lines: v.swapLines(d),
	}
	if d.Unmade != nil {
		out.Unmade = d.Unmade.Error()
		return out, nil
	}
	for f, name := range figureNames {
		out.Change[name.name] = v.change(&d.Change[f], name.scale)
	}
	return out, out.CostChange.between(before, after)
}

func (v View) serveOrNil(m *Made) *Serve {
	if m == nil {
		return nil
	}
	out := v.Serve(m)
	return &out
}

func (v View) change(c *swap.Change, scale float64) Change {
	out := Change{By: Number(c.By * scale), Band: v.band(c.Band * scale), BeyondBand: c.BeyondBand, LikelyNoticed: noticed(c.Noticed)}
	if c.Threshold != nil && !v.Short {
		low, high := c.Threshold.Low, c.Threshold.High
		out.Threshold = &Threshold{Low: Number(low), High: Number(high), Ratio: c.Threshold.Ratio, Source: c.Threshold.Source}
	}
	return out
}

// noticed is nil where nothing can be said about taste.
func noticed(n swap.Notice) *bool {
	if n != swap.Likely && n != swap.Unlikely {
		return nil
	}
	likely := n == swap.Likely
	return &likely
}

// between notes what happens to the money from one side to the other.
func (c *CostChange) between(before, after *Made) error {
	var err error
	if c.Total, err = difference(before.Cost.Total, after.Cost.Total); err != nil || before.Margin == nil || after.Margin == nil {
		return err
	}
	c.GrossProfit, err = difference(&before.Margin.GrossProfit, &after.Margin.GrossProfit)
	return err
}

func difference(was, is *money.Amount) (*Money, error) {
	if was == nil || is == nil {
		return nil, nil
	}
	by, err := is.Minus(*was)
	return fromMoneyOrNil(&by), err
}

func (v View) swapLines(d *swap.Drink) []SwapLine {
	out := make([]SwapLine, len(d.Lines))
	for i, l := range d.Lines {
		out[i] = SwapLine{Line: l.Index, LineID: string(d.Spec.Lines[l.Index].ID), Was: v.component(l.Was), Is: v.component(l.Is), Remade: l.Was == l.Is}
	}
	return out
}

// Resolve finds the components and specs that a swap speaks of.
func (s *Swap) Resolve(b *recipe.Book, r *Report) (from, to recipe.Ref, specs []*recipe.Spec) {
	find := func(ref, at string) recipe.Ref {
		found, ok := FindComponent(b, ref)
		if !ok && ref != "" {
			r.Add(at, "UNKNOWN_COMPONENT", "there is no component %s; name it by its id or as code:X", clip(ref))
		}
		return found
	}
	from, to = find(s.From, "/from"), find(s.To, "/to")
	if s.Limit != nil && *s.Limit < 1 {
		r.Add("/limit", "OUT_OF_RANGE", "limit is a whole number of at least 1")
	}
	if s.Specs == nil {
		return from, to, nil
	}
	specs = make([]*recipe.Spec, 0, len(s.Specs))
	seen := make(map[recipe.ID]bool)
	for i, ref := range s.Specs {
		sp, ok := FindSpec(b, ref)
		switch {
		case !ok:
			r.Add(step("/specs", i), "UNKNOWN_SPEC", "there is no spec %s; name it by its id or as code:X", clip(ref))
		case seen[sp.ID]:
			r.Add(step("/specs", i), "TWICE", "%s is in the list already", clip(ref))
		default:
			seen[sp.ID] = true
			specs = append(specs, sp)
		}
	}
	return from, to, specs
}
