package recipe

import (
	"servewright/domain/chill"
	"servewright/domain/measure"
	"servewright/domain/money"
)

// Stage is when a line joins the drink.
type Stage string

// The stages. Only mix meets the method's ice; garnish never enters the liquid.
const (
	Mix     Stage = "mix"
	Top     Stage = "top"
	Rinse   Stage = "rinse"
	Float   Stage = "float"
	Garnish Stage = "garnish"
)

// Spec is a drink's recipe.
type Spec struct {
	ID          ID
	Code        string
	Name        string
	Category    string // the house's own word, such as "sour"; may be empty
	Method      chill.Method
	ServingIce  chill.Ice
	Glass       string         // trade word, such as "coupe"; may be empty
	GlassVolume measure.Volume // brim volume, 0 = the usual of Glass
	Lines       []Line
	Conditions  chill.Conditions
	Dilution    *chill.Override
	Price       *Price
	ExternalIDs []ExternalID
	Notes       string
}

// Price is what a guest pays for a spec.
type Price struct {
	Amount money.Amount
	Tax    TaxBasis
	TaxPct *money.Decimal // nil = the house's
}

// House are a house's defaults. They are arguments of every computation.
type House struct {
	Name          string
	TimeZone      string // IANA
	Currency      money.Currency
	Country       string // ISO 3166-1 alpha-2: alcohol units, energy factors
	Units         measure.BarUnits
	TaxPct        money.Decimal
	LabourPerHour *money.Amount // nil = not said: full cost is unknown where labour counts
	EnergyPerKWh  *money.Amount
	Chill         chill.House
	TargetPourPct *money.Decimal // wanted pour cost, %
}
