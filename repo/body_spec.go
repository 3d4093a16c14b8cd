package repo

import (
	"servewright/domain/chill"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// specBody is a stored spec; its id is a column.
type specBody struct {
	Code        text            `json:"code,omitempty"`
	Name        text            `json:"name"`
	Category    text            `json:"category,omitempty"`
	Method      chill.Method    `json:"method"`
	ServingIce  chill.Ice       `json:"serving_ice"`
	Glass       text            `json:"glass,omitempty"`
	GlassML     measure.Volume  `json:"glass_ml,omitempty"`
	Lines       []lineBody      `json:"lines"`
	Conditions  *conditionsBody `json:"conditions,omitempty"`
	Dilution    *dilutionBody   `json:"dilution,omitempty"`
	Price       *priceBody      `json:"price,omitempty"`
	ExternalIDs []externalBody  `json:"external_ids,omitempty"`
	Notes       text            `json:"notes,omitempty"`
}

func bodyOfSpec(s *recipe.Spec) specBody {
	return specBody{
		Code: text(s.Code), Name: text(s.Name), Category: text(s.Category), Method: s.Method, ServingIce: s.ServingIce,
		Glass: text(s.Glass), GlassML: s.GlassVolume, Lines: each(s.Lines, bodyOfLine), Conditions: bodyOfConditions(s.Conditions),
		Dilution: (*dilutionBody)(s.Dilution), Price: bodyOfPrice(s.Price), ExternalIDs: bodyOfExternal(s.ExternalIDs), Notes: text(s.Notes),
	}
}

func readSpec(id recipe.ID, body string) (s recipe.Spec, err error) {
	var b specBody
	if err := decode(body, &b); err != nil {
		return s, err
	}
	s = recipe.Spec{
		ID: id, Code: string(b.Code), Name: string(b.Name), Category: string(b.Category), Method: b.Method, ServingIce: b.ServingIce,
		Glass: string(b.Glass), GlassVolume: b.GlassML, Lines: each(b.Lines, lineBody.read), Conditions: b.Conditions.read(),
		Dilution: (*chill.Override)(b.Dilution), ExternalIDs: readExternal(b.ExternalIDs), Notes: string(b.Notes),
	}
	s.Price, err = b.Price.read()
	return s, err
}

// conditionsBody is what is known about the making beyond the recipe.
type conditionsBody struct {
	IngredientC *measure.Temperature `json:"ingredient_c,omitempty"`
	IceC        *measure.Temperature `json:"ice_c,omitempty"`
	IceWetPct   *float64             `json:"ice_wet_pct,omitempty"` // % of the ice's mass
	IceG        *float64             `json:"ice_g,omitempty"`
	VesselC     *measure.Temperature `json:"vessel_c,omitempty"`
	VesselJPerK *float64             `json:"vessel_j_per_k,omitempty"`
	TargetC     *measure.Temperature `json:"target_c,omitempty"`
	Seconds     *float64             `json:"seconds,omitempty"`
}

// bodyOfConditions returns nil when nothing is known.
func bodyOfConditions(c chill.Conditions) *conditionsBody {
	if c == (chill.Conditions{}) {
		return nil
	}
	b := conditionsBody(c)
	return &b
}

func (b *conditionsBody) read() chill.Conditions {
	if b == nil {
		return chill.Conditions{}
	}
	return chill.Conditions(*b)
}

// dilutionBody is a measurement in the place of the model.
type dilutionBody struct {
	Kind  chill.OverrideKind `json:"kind"`
	Value float64            `json:"value"`
}

// priceBody is what a guest pays.
type priceBody struct {
	Price  amountBody      `json:"price"`
	Tax    recipe.TaxBasis `json:"tax"`
	TaxPct *string         `json:"tax_pct,omitempty"` // exact decimal
}

func bodyOfPrice(p *recipe.Price) *priceBody {
	if p == nil {
		return nil
	}
	return &priceBody{bodyOfAmount(p.Amount), p.Tax, bodyOfDecimal(p.TaxPct)}
}

func (b *priceBody) read() (*recipe.Price, error) {
	if b == nil {
		return nil, nil
	}
	a, err := b.Price.read()
	if err != nil {
		return nil, err
	}
	pct, err := readDecimal(b.TaxPct)
	return &recipe.Price{Amount: a, Tax: b.Tax, TaxPct: pct}, err
}
