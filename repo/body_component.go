package repo

import (
	"maps"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// componentBody is a stored component; its id is a column.
type componentBody struct {
	Kind         recipe.Kind          `json:"kind"`
	Code         text                 `json:"code,omitempty"`
	Name         text                 `json:"name"`
	Category     recipe.Category      `json:"category"`
	Status       recipe.Status        `json:"status"`
	Label        *labelBody           `json:"label,omitempty"`
	Packs        []packBody           `json:"packs,omitempty"`
	WastePct     float64              `json:"waste_pct,omitempty"`
	Allergens    *allergensBody       `json:"allergens,omitempty"`
	PieceJuiceML measure.Volume       `json:"piece_juice_ml,omitempty"`
	PieceMassG   measure.Mass         `json:"piece_mass_g,omitempty"`
	DashML       measure.Volume       `json:"dash_ml,omitempty"`
	PouredC      *measure.Temperature `json:"poured_c,omitempty"`
	Recipe       *recipeBody          `json:"recipe,omitempty"`
	ExternalIDs  []externalBody       `json:"external_ids,omitempty"`
	Notes        text                 `json:"notes,omitempty"`
}

func bodyOfComponent(c *recipe.Component) componentBody {
	return componentBody{
		Kind: c.Kind, Code: text(c.Code), Name: text(c.Name), Category: c.Category, Status: c.Status,
		Label: bodyOfLabel(&c.Label), Packs: each(c.Packs, bodyOfPack), WastePct: c.WastePct,
		Allergens: bodyOfAllergens(c.Allergens), PieceJuiceML: c.Piece.Juice, PieceMassG: c.Piece.Mass, DashML: c.Dash,
		PouredC: c.PouredC, Recipe: bodyOfRecipe(c.Recipe), ExternalIDs: bodyOfExternal(c.ExternalIDs), Notes: text(c.Notes),
	}
}

func readComponent(id recipe.ID, body string) (c recipe.Component, err error) {
	var b componentBody
	if err := decode(body, &b); err != nil {
		return c, err
	}
	c = recipe.Component{
		ID: id, Kind: b.Kind, Code: string(b.Code), Name: string(b.Name), Category: b.Category, Status: b.Status,
		Label: b.Label.read(), WastePct: b.WastePct, Piece: recipe.Piece{Juice: b.PieceJuiceML, Mass: b.PieceMassG}, Dash: b.DashML,
		PouredC: b.PouredC, Recipe: b.Recipe.read(), ExternalIDs: readExternal(b.ExternalIDs), Notes: string(b.Notes),
	}
	if c.Allergens, err = b.Allergens.read(); err != nil {
		return c, err
	}
	c.Packs, err = eachErr(b.Packs, packBody.read)
	return c, err
}

// labelBody is what is printed on a bottle or measured in it.
type labelBody struct {
	ABV          *measure.ABV          `json:"abv,omitempty"` // fraction, not %
	SugarGPerL   *float64              `json:"sugar_g_per_l,omitempty"`
	SugarsGPerL  map[substance]float64 `json:"sugars_g_per_l,omitzero"`
	BrixPct      *float64              `json:"brix_pct,omitempty"`
	DensityGML   *measure.Density      `json:"density_g_per_ml,omitempty"`
	AcidsGPerL   map[substance]float64 `json:"acids_g_per_l,omitzero"`
	PH           *float64              `json:"ph,omitempty"`
	MassFraction map[string]float64    `json:"mass_fraction,omitzero"`
	BulkGML      *measure.Density      `json:"bulk_density_g_per_ml,omitempty"`
}

// bodyOfLabel returns nil for a blank label. An empty map is kept: it states
// that there is nothing of the kind.
func bodyOfLabel(l *liquid.Label) *labelBody {
	if l.Blank() {
		return nil
	}
	return &labelBody{
		ABV: l.ABV, SugarGPerL: l.Sugar, SugarsGPerL: rekey[liquid.Substance, substance](l.Sugars), BrixPct: l.Brix, DensityGML: l.Density,
		AcidsGPerL: rekey[liquid.Substance, substance](l.Acids), PH: l.PH, MassFraction: l.MassFraction, BulkGML: l.BulkDensity,
	}
}

func (b *labelBody) read() liquid.Label {
	if b == nil {
		return liquid.Label{}
	}
	return liquid.Label{
		ABV: b.ABV, Sugar: b.SugarGPerL, Sugars: rekey[substance, liquid.Substance](b.SugarsGPerL), Brix: b.BrixPct, Density: b.DensityGML,
		Acids: rekey[substance, liquid.Substance](b.AcidsGPerL), PH: b.PH, MassFraction: maps.Clone(b.MassFraction), BulkDensity: b.BulkGML,
	}
}

// packBody is one way a component is sold.
type packBody struct {
	ID        recipe.ID       `json:"id,omitempty"`
	Size      quantityBody    `json:"size"`
	Count     int             `json:"count"`
	Price     amountBody      `json:"price"`
	Deposit   *amountBody     `json:"deposit,omitempty"`
	Tax       recipe.TaxBasis `json:"tax"`
	TaxPct    *string         `json:"tax_pct,omitempty"` // exact decimal
	ValidFrom measure.Date    `json:"valid_from"`
	Supplier  text            `json:"supplier,omitempty"`
	Preferred bool            `json:"preferred,omitempty"`
	GTIN      text            `json:"gtin,omitempty"`
}

func bodyOfPack(p recipe.Pack) packBody {
	return packBody{
		ID: p.ID, Size: quantityBody(p.Size), Count: p.Count, Price: bodyOfAmount(p.Price), Deposit: bodyOfAmountPtr(p.Deposit),
		Tax: p.Tax, TaxPct: bodyOfDecimal(p.TaxPct), ValidFrom: p.ValidFrom, Supplier: text(p.Supplier), Preferred: p.Preferred, GTIN: text(p.GTIN),
	}
}

func (b packBody) read() (p recipe.Pack, err error) {
	p = recipe.Pack{
		ID: b.ID, Size: measure.Quantity(b.Size), Count: b.Count, Tax: b.Tax, ValidFrom: b.ValidFrom,
		Supplier: string(b.Supplier), Preferred: b.Preferred, GTIN: string(b.GTIN),
	}
	if p.Price, err = b.Price.read(); err != nil {
		return p, err
	}
	if p.Deposit, err = b.Deposit.readPtr(); err != nil {
		return p, err
	}
	p.TaxPct, err = readDecimal(b.TaxPct)
	return p, err
}

// recipeBody is how a house-made component is made.
type recipeBody struct {
	Lines         []lineBody    `json:"lines"`
	Packaging     []lineBody    `json:"packaging,omitempty"`
	YieldMeasured *quantityBody `json:"yield_measured,omitempty"`
	YieldLossPct  *float64      `json:"yield_loss_pct,omitempty"`
	LabourMin     float64       `json:"labour_min,omitempty"`
	EnergyKWh     float64       `json:"energy_kwh,omitempty"`
	ShelfLifeDays int           `json:"shelf_life_days,omitempty"`
	Method        []text        `json:"method,omitempty"`
}

func bodyOfRecipe(r *recipe.Recipe) *recipeBody {
	if r == nil {
		return nil
	}
	return &recipeBody{
		Lines: each(r.Lines, bodyOfLine), Packaging: each(r.Packaging, bodyOfLine),
		YieldMeasured: (*quantityBody)(r.Yield.Measured), YieldLossPct: r.Yield.LossPct,
		LabourMin: r.LabourMin, EnergyKWh: r.EnergyKWh, ShelfLifeDays: r.ShelfLifeDays,
		Method: each(r.Method, func(s string) text { return text(s) }),
	}
}

func (b *recipeBody) read() *recipe.Recipe {
	if b == nil {
		return nil
	}
	return &recipe.Recipe{
		Lines: each(b.Lines, lineBody.read), Packaging: each(b.Packaging, lineBody.read),
		Yield:     recipe.Yield{Measured: (*measure.Quantity)(b.YieldMeasured), LossPct: b.YieldLossPct},
		LabourMin: b.LabourMin, EnergyKWh: b.EnergyKWh, ShelfLifeDays: b.ShelfLifeDays,
		Method: each(b.Method, func(t text) string { return string(t) }),
	}
}
