package wire

import (
	"servewright/domain/cost"
	"servewright/domain/money"
)

// Cost is what the goods of a spec cost, line by line.
type Cost struct {
	// Total is the goods cost; null while a line has no price.
	Total *Money `json:"total" extensions:"x-nullable"`
	// PricedSubtotal is the sum of the lines that have a price.
	PricedSubtotal Money `json:"priced_subtotal"`
	// Missing names what has no price, with the path down to it.
	Missing []MissingPrice `json:"missing"`
	// Full is the cost with labour, energy and packaging; null while one of them is unknown.
	Full *Money `json:"full" extensions:"x-nullable"`
	// FullMissing is what keeps Full unknown beyond Missing.
	FullMissing []MissingPrice `json:"full_missing,omitempty"`
	// Lines are the arithmetic, in the order written; left out with detail=short.
	Lines []CostLine `json:"lines,omitzero"`
} // @name Cost

// CostLine is what one line costs: amount × price, quantised once to a
// millionth, half to even.
type CostLine struct {
	ComponentID string   `json:"component_id" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b21"`
	Name        string   `json:"name" example:"Dark cane rum 42"`
	Quantity    Quantity `json:"quantity"`
	// AmountML is the volume at 20 °C; null for what has none.
	AmountML *Number `json:"amount_ml" extensions:"x-nullable" example:"45"`
	// The price of one unit of what the line counts by; only one of these is given.
	PricePerL     *Money `json:"price_per_l,omitempty"`
	PricePerKg    *Money `json:"price_per_kg,omitempty"`
	PricePerPiece *Money `json:"price_per_piece,omitempty"`
	// PriceFrom is where the price comes from.
	PriceFrom string `json:"price_from,omitempty" example:"138.00 EUR ÷ (6 × 700 mL)"`
	// Cost is null while it is unknown.
	Cost *Money `json:"cost" extensions:"x-nullable"`
	// Text is the arithmetic as a person would write it, or why there is none.
	Text string `json:"text" example:"45 mL × 32.857143 EUR/L = 1.478571 EUR"`
} // @name CostLine

// MissingPrice is one thing without a price.
type MissingPrice struct {
	// Path is the way down to it through house-made components, by name.
	Path        []string `json:"path" example:"House roast-quince liqueur,Quince"`
	ComponentID string   `json:"component_id" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b21"`
	Reason      string   `json:"reason" example:"no pack is in force on 2026-03-01"`
} // @name MissingPrice

// Margin is what a price leaves over the goods, before tax.
type Margin struct {
	BeforeTax Money `json:"before_tax"`
	// PourCostPct is goods ÷ price before tax; null while the goods are not priced.
	PourCostPct    *Number `json:"pour_cost_pct" extensions:"x-nullable" example:"19.7"`
	GrossProfit    *Money  `json:"gross_profit" extensions:"x-nullable"`
	GrossProfitPct *Number `json:"gross_profit_pct" extensions:"x-nullable" example:"80.3"`
} // @name Margin

// TargetPrice is the price at which the goods are the house's target share of
// it.
type TargetPrice struct {
	TargetPourCostPct string `json:"target_pour_cost_pct" format:"decimal" example:"20"`
	BeforeTax         Money  `json:"before_tax"`
	WithTax           Money  `json:"with_tax"`
} // @name TargetPrice

func (v View) cost(t *cost.Total) Cost {
	return Cost{
		Total: fromMoneyOrNil(t.Total), PricedSubtotal: fromMoney(t.Subtotal), Missing: fromMissing(t.Missing),
		Full: fromMoneyOrNil(t.Full), FullMissing: fromMissing(t.FullMissing), Lines: v.costLines(t.Lines),
	}
}

func fromMissing(list []cost.Missing) []MissingPrice {
	out := make([]MissingPrice, len(list))
	for i, m := range list {
		out[i] = MissingPrice{Path: m.Path, ComponentID: string(m.Component), Reason: m.Reason}
	}
	return out
}

// costLines is nil in a short answer, where the member is left out.
func (v View) costLines(list []cost.Line) []CostLine {
	if v.Short {
		return nil
	}
	out := make([]CostLine, len(list))
	for i := range list {
		out[i] = fromCostLine(&list[i])
	}
	return out
}

func fromCostLine(l *cost.Line) CostLine {
	out := CostLine{
		ComponentID: string(l.Component), Name: l.Name, Quantity: fromQuantity(l.Amount), AmountML: numberOrNil(l.AmountML),
		PriceFrom: l.PriceText, Cost: fromMoneyOrNil(l.Cost), Text: l.Text,
	}
	if l.PricePer == nil {
		return out
	}
	price := fromMoney(l.PricePerAmount)
	switch l.Per {
	case "L":
		out.PricePerL = &price
	case "kg":
		out.PricePerKg = &price
	default:
		out.PricePerPiece = &price
	}
	return out
}

// margin writes what a price leaves over; m is nil while the goods are not
// priced.
func margin(before *money.Amount, m *cost.Margin) *Margin {
	if before == nil {
		return nil
	}
	out := &Margin{BeforeTax: fromMoney(*before)}
	if m == nil {
		return out
	}
	out.GrossProfit = fromMoneyOrNil(&m.GrossProfit)
	if m.Pct {
		out.PourCostPct, out.GrossProfitPct = number6(m.PourCostPct), number6(m.GrossProfitPct)
	}
	return out
}
