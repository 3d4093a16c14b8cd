package wire

import (
	"servewright/domain/recipe"
)

// Recipe is how a house-made component is made.
type Recipe struct {
	// Lines are what goes in; a line may point at another house-made component.
	Lines []RecipeLine `json:"lines" validate:"required,max=60"`
	// Packaging is what it is filled into; it counts in the full cost only.
	Packaging []RecipeLine `json:"packaging,omitempty" validate:"max=60"`
	// Yield is what comes out; without it, all that went in.
	Yield *Yield `json:"yield,omitempty"`
	// LabourMin is the working time of one batch.
	LabourMin *float64 `json:"labour_min,omitempty" example:"25"`
	// EnergyKWh is the energy of one batch.
	EnergyKWh     *float64 `json:"energy_kwh,omitempty" example:"0.9"`
	ShelfLifeDays *int     `json:"shelf_life_days,omitempty" example:"60"`
	// Method is how it is made, one step a text.
	Method []string `json:"method,omitempty" validate:"max=100" example:"Roast the quince at 180 °C for 25 minutes."`
} // @name Recipe

// Yield is what a recipe gives: one of its members, or none.
type Yield struct {
	// Measured is the volume or mass of the finished batch.
	Measured *Quantity `json:"measured,omitempty"`
	// LossPct is what is lost of it, the composition staying as it is.
	LossPct *float64 `json:"loss_pct,omitempty" example:"6"`
} // @name Yield

func (rec *Recipe) recipe(env *Env, r *Report) *recipe.Recipe {
	if rec == nil {
		return nil
	}
	out := &recipe.Recipe{
		Lines:     recipeLines(rec.Lines, env, "/recipe/lines", r),
		Packaging: recipeLines(rec.Packaging, env, "/recipe/packaging", r),
		Yield:     rec.Yield.yield(),
		LabourMin: orZero[float64](rec.LabourMin),
		EnergyKWh: orZero[float64](rec.EnergyKWh),
		Method:    rec.Method,
	}
	if rec.ShelfLifeDays != nil {
		out.ShelfLifeDays = *rec.ShelfLifeDays
	}
	return out
}

func (y *Yield) yield() recipe.Yield {
	if y == nil {
		return recipe.Yield{}
	}
	out := recipe.Yield{LossPct: y.LossPct}
	if y.Measured != nil {
		q := y.Measured.quantity()
		out.Measured = &q
	}
	return out
}

func fromRecipe(rec *recipe.Recipe, find Lookup) *Recipe {
	if rec == nil {
		return nil
	}
	out := &Recipe{
		Lines:     fromLines(rec.Lines, find),
		Packaging: fromLines(rec.Packaging, find),
		Yield:     fromYield(rec.Yield),
		LabourMin: unlessZero(rec.LabourMin),
		EnergyKWh: unlessZero(rec.EnergyKWh),
		Method:    rec.Method,
	}
	if rec.ShelfLifeDays != 0 {
		days := rec.ShelfLifeDays
		out.ShelfLifeDays = &days
	}
	return out
}

func fromYield(y recipe.Yield) *Yield {
	if y.Measured == nil && y.LossPct == nil {
		return nil
	}
	out := &Yield{LossPct: y.LossPct}
	if y.Measured != nil {
		q := fromQuantity(*y.Measured)
		out.Measured = &q
	}
	return out
}
