package wire

import (
	"servewright/domain/chill"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// Spec is a drink's recipe.
type Spec struct {
	Stored
	// Code is the house's own unique code; wherever an id is asked for, code:C-104 serves too.
	Code string `json:"code,omitempty" validate:"max=64" example:"C-104"`
	Name string `json:"name" validate:"required,max=120" example:"Pier Lamp"`
	// Category is the house's own word for it.
	Category string `json:"category,omitempty" validate:"max=120" example:"sour"`
	// Method is how it is made, and so how ice dilutes it.
	Method string `json:"method" validate:"required,oneof=shake dry_shake short_shake stir build highball roll throw swizzle blend carbonate none" example:"shake"`
	// ServingIce is what the finished drink, top included, stands on.
	ServingIce string `json:"serving_ice,omitempty" validate:"oneof=none cubes large_cube crushed" default:"none" example:"none"`
	// Glass is the trade's word for the glass.
	Glass string `json:"glass,omitempty" validate:"max=120" example:"coupe"`
	// GlassML is the brim volume of the glass, when not the usual one of its kind.
	GlassML *float64   `json:"glass_ml,omitempty" example:"180"`
	Lines   []SpecLine `json:"lines" validate:"required,max=60"`
	// Seconds is how long the bar shakes or stirs, where it works by time.
	Seconds *float64 `json:"seconds,omitempty" example:"12"`
	// Conditions are what is known about making this drink; what is left out is the house's.
	Conditions *Conditions `json:"conditions,omitempty"`
	// Dilution replaces the model by a measurement.
	Dilution    *Dilution    `json:"dilution,omitempty"`
	Price       *Price       `json:"price,omitempty"`
	ExternalIDs []ExternalID `json:"external_ids,omitempty" validate:"max=50"`
	Notes       string       `json:"notes,omitempty" validate:"max=4000" example:"serve without a straw"`
} // @name Spec

// Conditions are what is known about one making of a drink.
type Conditions struct {
	// IngredientC is the temperature of everything poured that has none of its own.
	IngredientC *float64 `json:"ingredient_c,omitempty" example:"18"`
	// IceC is the temperature of the ice, at most 0.
	IceC *float64 `json:"ice_c,omitempty" example:"-10"`
	// IceWetPct is the water clinging to the ice, % of its mass.
	IceWetPct *float64 `json:"ice_wet_pct,omitempty" example:"3"`
	// IceG is the ice that the method uses.
	IceG    *float64 `json:"ice_g,omitempty" example:"180"`
	VesselC *float64 `json:"vessel_c,omitempty" example:"20"`
	// VesselJPerK is the heat capacity of the part of the vessel that is chilled.
	VesselJPerK *float64 `json:"vessel_j_per_k,omitempty" example:"120"`
	// TargetC stops the chilling at a temperature.
	TargetC *float64 `json:"target_c,omitempty" example:"-4"`
} // @name Conditions

// Dilution is a measurement that replaces the model: exactly one of its members.
type Dilution struct {
	// MeasuredPctOfStart is the water added, % of the volume before ice.
	MeasuredPctOfStart *float64 `json:"measured_pct_of_start,omitempty" example:"48"`
	// ServedVolumeML is the volume of the finished drink.
	ServedVolumeML *float64 `json:"served_volume_ml,omitempty" example:"156"`
	// ServedMassG is the mass of the finished drink.
	ServedMassG *float64 `json:"served_mass_g,omitempty" example:"163"`
} // @name DilutionOverride

// Price is what a guest pays.
type Price struct {
	Money
	// Tax says whether the price includes tax.
	Tax string `json:"tax" validate:"required,oneof=included excluded" example:"included"`
	// TaxPct is the tax rate, when not the house's.
	TaxPct *string `json:"tax_pct,omitempty" format:"decimal" example:"20"`
} // @name Price

// Translate reads the body as a spec, under the rules of [Component.Translate].
func (s *Spec) Translate(have Stored, env *Env, h *recipe.House, r *Report) (recipe.Spec, error) {
	s.agree(have, r)
	out := recipe.Spec{
		ID: recipe.ID(have.ID), Code: s.Code, Name: s.Name, Category: s.Category,
		Method: chill.Method(s.Method), ServingIce: chill.Ice(s.ServingIce),
		Glass: s.Glass, GlassVolume: orZero[measure.Volume](s.GlassML),
		Lines:       make([]recipe.Line, len(s.Lines)),
		Conditions:  s.conditions(),
		Dilution:    s.Dilution.override(r),
		Price:       s.Price.price(r),
		ExternalIDs: externalIDs(s.ExternalIDs),
		Notes:       s.Notes,
	}
	if s.ServingIce == "" {
		out.ServingIce = chill.NoIce
	}
	for i := range s.Lines {
		out.Lines[i] = s.Lines[i].line(env, step("/lines", i), r)
	}
	return out, r.Rules("", out.Valid(h))
}

func (s *Spec) conditions() chill.Conditions {
	out := chill.Conditions{Seconds: s.Seconds}
	if c := s.Conditions; c != nil {
		out.IngredientC = typed[measure.Temperature](c.IngredientC)
		out.IceC = typed[measure.Temperature](c.IceC)
		out.IceWetPct, out.IceG = c.IceWetPct, c.IceG
		out.VesselC = typed[measure.Temperature](c.VesselC)
		out.VesselJPerK = c.VesselJPerK
		out.TargetC = typed[measure.Temperature](c.TargetC)
	}
	return out
}

func (d *Dilution) override(r *Report) *chill.Override {
	if d == nil {
		return nil
	}
	var out *chill.Override
	given := 0
	for kind, value := range map[chill.OverrideKind]*float64{
		chill.PctOfStart: d.MeasuredPctOfStart, chill.ServedVolume: d.ServedVolumeML, chill.ServedMass: d.ServedMassG,
	} {
		if value != nil {
			given++
			out = &chill.Override{Kind: kind, Value: *value}
		}
	}
	if given != 1 {
		r.Add("/dilution", "ONE_OF", "give exactly one of measured_pct_of_start, served_volume_ml and served_mass_g, or leave dilution out")
	}
	return out
}

func (p *Price) price(r *Report) *recipe.Price {
	if p == nil {
		return nil
	}
	return &recipe.Price{
		Amount: p.amount("/price", r), Tax: recipe.TaxBasis(p.Tax), TaxPct: decimal(p.TaxPct, "/price/tax_pct", r),
	}
}

// FromSpec writes a stored spec; find names what its lines point at.
func FromSpec(k recipe.Kept[recipe.Spec], find Lookup) Spec {
	s := &k.Value
	out := Spec{
		Stored: fromRevision(s.ID, k.Revision), Code: s.Code, Name: s.Name, Category: s.Category,
		Method: string(s.Method), ServingIce: string(s.ServingIce), Glass: s.Glass, GlassML: unlessZero(s.GlassVolume),
		Lines: make([]SpecLine, len(s.Lines)), Seconds: s.Conditions.Seconds, Conditions: fromConditions(&s.Conditions),
		Dilution: fromOverride(s.Dilution), ExternalIDs: fromExternalIDs(s.ExternalIDs), Notes: s.Notes,
	}
	for i := range s.Lines {
		out.Lines[i] = FromSpecLine(&s.Lines[i], find)
	}
	if p := s.Price; p != nil {
		out.Price = &Price{Money: fromMoney(p.Amount), Tax: string(p.Tax), TaxPct: fromDecimal(p.TaxPct)}
	}
	return out
}

func fromConditions(c *chill.Conditions) *Conditions {
	out := Conditions{
		IngredientC: plain(c.IngredientC), IceC: plain(c.IceC), IceWetPct: c.IceWetPct, IceG: c.IceG,
		VesselC: plain(c.VesselC), VesselJPerK: c.VesselJPerK, TargetC: plain(c.TargetC),
	}
	if out == (Conditions{}) {
		return nil
	}
	return &out
}

func fromOverride(o *chill.Override) *Dilution {
	if o == nil {
		return nil
	}
	v := o.Value
	switch o.Kind {
	case chill.PctOfStart:
		return &Dilution{MeasuredPctOfStart: &v}
	case chill.ServedVolume:
		return &Dilution{ServedVolumeML: &v}
	}
	return &Dilution{ServedMassG: &v}
}
