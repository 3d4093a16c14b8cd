package repo

import (
	"servewright/domain/chill"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// houseBody is a house's stored defaults.
type houseBody struct {
	Name          text           `json:"name"`
	TimeZone      text           `json:"time_zone"`
	Currency      money.Currency `json:"currency"`
	Country       text           `json:"country,omitempty"`
	OzML          measure.Volume `json:"oz_ml"`
	DashML        measure.Volume `json:"dash_ml"`
	DropML        measure.Volume `json:"drop_ml"`
	BarspoonML    measure.Volume `json:"barspoon_ml"`
	TaxPct        string         `json:"tax_pct"` // exact decimal
	LabourPerHour *amountBody    `json:"labour_per_hour,omitempty"`
	EnergyPerKWh  *amountBody    `json:"energy_per_kwh,omitempty"`
	Chill         chillBody      `json:"chill"`
	TargetPourPct *string        `json:"target_pour_pct,omitempty"` // exact decimal
}

func bodyOfHouse(h *recipe.House) houseBody {
	return houseBody{
		Name: text(h.Name), TimeZone: text(h.TimeZone), Currency: h.Currency, Country: text(h.Country),
		OzML: h.Units.Oz, DashML: h.Units.Dash, DropML: h.Units.Drop, BarspoonML: h.Units.Barspoon,
		TaxPct: h.TaxPct.String(), LabourPerHour: bodyOfAmountPtr(h.LabourPerHour), EnergyPerKWh: bodyOfAmountPtr(h.EnergyPerKWh),
		Chill: chillBody(h.Chill), TargetPourPct: bodyOfDecimal(h.TargetPourPct),
	}
}

func readHouse(body string) (h recipe.House, err error) {
	var b houseBody
	if err := decode(body, &b); err != nil {
		return h, err
	}
	h = recipe.House{
		Name: string(b.Name), TimeZone: string(b.TimeZone), Currency: b.Currency, Country: string(b.Country),
		Units: measure.BarUnits{Oz: b.OzML, Dash: b.DashML, Drop: b.DropML, Barspoon: b.BarspoonML}, Chill: chill.House(b.Chill),
	}
	if h.TaxPct, err = money.ParseDecimal(b.TaxPct); err != nil {
		return h, err
	}
	if h.LabourPerHour, err = b.LabourPerHour.readPtr(); err != nil {
		return h, err
	}
	if h.EnergyPerKWh, err = b.EnergyPerKWh.readPtr(); err != nil {
		return h, err
	}
	h.TargetPourPct, err = readDecimal(b.TargetPourPct)
	return h, err
}
