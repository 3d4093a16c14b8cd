package wire

import (
	"encoding/json"
	"time"

	"servewright/domain/chill"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// House are the house's defaults: arguments of every computation.
type House struct {
	Stored
	Name string `json:"name,omitempty" validate:"max=120" example:"The Tin Lantern"`
	// TimeZone is an IANA name; dates are civil dates in it.
	TimeZone string `json:"time_zone,omitempty" default:"UTC" example:"Europe/Lisbon"`
	// Currency is the one currency of the house.
	Currency string `json:"currency,omitempty" default:"EUR" example:"EUR"`
	// Country picks the unit of alcohol and the energy factors.
	Country string    `json:"country,omitempty" example:"PT"`
	Units   *BarUnits `json:"units,omitempty"`
	// TaxPct is the tax rate of prices that name none.
	TaxPct *string `json:"tax_pct,omitempty" format:"decimal" default:"0" example:"23"`
	// LabourPerHour is what an hour of work costs; without it the full cost is unknown where labour counts.
	LabourPerHour *Money   `json:"labour_per_hour,omitempty"`
	EnergyPerKWh  *Money   `json:"energy_per_kwh,omitempty"`
	RoomC         *float64 `json:"room_c,omitempty" example:"22"`
	// IngredientC is the temperature of everything poured that has none of its own.
	IngredientC *float64 `json:"ingredient_c,omitempty" example:"20"`
	IceC        *float64 `json:"ice_c,omitempty" example:"-8"`
	// IceWetPct is the water clinging to the ice, % of its mass.
	IceWetPct *float64 `json:"ice_wet_pct,omitempty" example:"2"`
	// TargetPourCostPct is the pour cost the house aims at, %.
	TargetPourCostPct *string `json:"target_pour_cost_pct,omitempty" format:"decimal" example:"20"`
} // @name House

// BarUnits are the sizes of the bar's own units. One that is left out keeps its
// usual size.
type BarUnits struct {
	// Oz is "[foz_us]" (29.5735 mL), "[foz_br]" (28.4131 mL), or a number of mL.
	Oz         *Ounce   `json:"oz,omitempty" swaggertype:"string" default:"[foz_us]" example:"[foz_us]"`
	DashML     *float64 `json:"dash_ml,omitempty" example:"0.92"`
	DropML     *float64 `json:"drop_ml,omitempty" example:"0.05"`
	BarspoonML *float64 `json:"barspoon_ml,omitempty" example:"5"`
} // @name BarUnits

// Ounce is the volume of the bar's ounce in mL, written as the UCUM unit where
// it is one.
type Ounce measure.Volume

// namedOunces are the two ounces that have a name.
var namedOunces = []measure.Unit{measure.FlOzUS, measure.FlOzBR}

func (o *Ounce) read(n *node, at string, r *Report) {
	if n.kind != '"' {
		if x, ok := number(n, at, r); ok {
			*o = Ounce(x)
		}
		return
	}
	for _, u := range namedOunces {
		if n.text == string(u) {
			*o = Ounce(u.Size(measure.BarUnits{}))
			return
		}
	}
	r.Add(at, "UNKNOWN_VALUE", "%q is not an ounce; write \"[foz_us]\", \"[foz_br]\" or a number of mL", clip(n.text))
}

// MarshalJSON writes the unit's name, or the number of mL.
func (o Ounce) MarshalJSON() ([]byte, error) {
	for _, u := range namedOunces {
		if float64(o) == u.Size(measure.BarUnits{}) {
			return json.Marshal(u)
		}
	}
	return json.Marshal(float64(o))
}

// Translate reads the body as house defaults. What is left out is as in a new
// house.
func (h *House) Translate(have Stored, fresh recipe.House, r *Report) (recipe.House, error) {
	h.agree(have, r)
	out := fresh
	out.Name, out.Country = h.Name, h.Country
	if h.TimeZone != "" {
		out.TimeZone = h.zone(r)
	}
	if h.Currency != "" {
		out.Currency = money.Currency(h.Currency)
	}
	h.Units.onto(&out.Units)
	if d := decimal(h.TaxPct, "/tax_pct", r); d != nil {
		out.TaxPct = *d
	}
	out.LabourPerHour = h.LabourPerHour.amountOrNil("/labour_per_hour", r)
	out.EnergyPerKWh = h.EnergyPerKWh.amountOrNil("/energy_per_kwh", r)
	out.Chill = chill.House{
		RoomC: typed[measure.Temperature](h.RoomC), IngredientC: typed[measure.Temperature](h.IngredientC),
		IceC: typed[measure.Temperature](h.IceC), IceWetPct: h.IceWetPct,
	}
	out.TargetPourPct = decimal(h.TargetPourCostPct, "/target_pour_cost_pct", r)
	return out, r.Rules("", out.Valid())
}

// zone checks the name against the zones that this machine or program holds.
func (h *House) zone(r *Report) string {
	if _, err := time.LoadLocation(h.TimeZone); err != nil || h.TimeZone == "Local" {
		r.Add("/time_zone", "UNKNOWN_TIME_ZONE", "%q is not an IANA time zone such as \"Europe/Lisbon\"", clip(h.TimeZone))
	}
	return h.TimeZone
}

func (u *BarUnits) onto(out *measure.BarUnits) {
	if u == nil {
		return
	}
	if u.Oz != nil {
		out.Oz = measure.Volume(*u.Oz)
	}
	for to, from := range map[*measure.Volume]*float64{&out.Dash: u.DashML, &out.Drop: u.DropML, &out.Barspoon: u.BarspoonML} {
		if from != nil {
			*to = measure.Volume(*from)
		}
	}
}

// FromHouse writes the stored house defaults.
func FromHouse(k recipe.Kept[recipe.House]) House {
	h := &k.Value
	oz, tax := Ounce(h.Units.Oz), h.TaxPct.String()
	return House{
		Stored: fromRevision("", k.Revision), Name: h.Name, TimeZone: h.TimeZone, Currency: string(h.Currency), Country: h.Country,
		Units:  &BarUnits{Oz: &oz, DashML: plain(&h.Units.Dash), DropML: plain(&h.Units.Drop), BarspoonML: plain(&h.Units.Barspoon)},
		TaxPct: &tax, LabourPerHour: fromMoneyOrNil(h.LabourPerHour), EnergyPerKWh: fromMoneyOrNil(h.EnergyPerKWh),
		RoomC: plain(h.Chill.RoomC), IngredientC: plain(h.Chill.IngredientC), IceC: plain(h.Chill.IceC), IceWetPct: h.Chill.IceWetPct,
		TargetPourCostPct: fromDecimal(h.TargetPourPct),
	}
}
