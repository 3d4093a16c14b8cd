package wire

import (
	"servewright/domain/measure"
	"servewright/domain/recipe"
	"servewright/domain/safety"
)

// Component is anything poured or laid on a drink, bought or house-made.
type Component struct {
	Stored
	Kind string `json:"kind" validate:"required,oneof=bought house_made" example:"bought"`
	// Code is the house's own unique code; wherever an id is asked for, code:RUM-DARK serves too.
	Code string `json:"code,omitempty" validate:"max=64" example:"RUM-DARK"`
	Name string `json:"name" validate:"required,max=120" example:"Dark cane rum 42"`
	// Category says what kind of thing it is, and so what it normally has when its label is silent.
	Category string `json:"category" validate:"required,oneof=spirit liqueur fortified_wine wine sparkling_wine beer cider bitters juice syrup soft_drink water dairy egg sugar acid salt botanical fruit garnish ice packaging other" example:"spirit"`
	// Status: a delisted component is kept where used and offered nowhere new.
	Status string `json:"status,omitempty" validate:"oneof=active delisted" default:"active" example:"active"`
	Label  *Label `json:"label,omitempty"`
	// Packs are what it is sold in, with prices by date; bought components only.
	Packs []Pack `json:"packs,omitempty" validate:"max=400"`
	// WastePct is what is bought and lost before it can be poured, % of what is bought.
	WastePct  *float64   `json:"waste_pct,omitempty" example:"2"`
	Allergens *Allergens `json:"allergens,omitempty"`
	Piece     *Piece     `json:"piece,omitempty"`
	// DashML is the size of its own dash, when not the house's.
	DashML *float64 `json:"dash_ml,omitempty" example:"0.8"`
	// PouredC is the temperature it is kept at, when not the house's ingredient temperature.
	PouredC *float64 `json:"poured_c,omitempty" example:"4"`
	// Recipe is how it is made; house-made components only.
	Recipe      *Recipe      `json:"recipe,omitempty"`
	ExternalIDs []ExternalID `json:"external_ids,omitempty" validate:"max=50"`
	Notes       string       `json:"notes,omitempty" validate:"max=4000" example:"kept in the cellar"`
} // @name Component

// Allergens is what somebody has stated. Without it nothing is known, which is
// neither "none" nor "contains". For a house-made component it adds to what its
// parts bring.
type Allergens struct {
	// Declared are the allergens it contains; an empty list states that there are none.
	Declared []string `json:"declared" validate:"required,oneof=gluten crustaceans eggs fish peanuts soybeans milk nuts celery mustard sesame sulphites lupin molluscs" example:"sulphites"`
	// MayContain are those it may hold traces of.
	MayContain []string `json:"may_contain,omitempty" validate:"oneof=gluten crustaceans eggs fish peanuts soybeans milk nuts celery mustard sesame sulphites lupin molluscs" example:"nuts"`
} // @name AllergenDeclaration

// Piece is what one piece holds: the juice of one lime, the mass of one cube.
type Piece struct {
	JuiceML *float64 `json:"juice_ml,omitempty" example:"28"`
	MassG   *float64 `json:"mass_g,omitempty" example:"70"`
} // @name Piece

// ExternalID is the name another system has for a thing.
type ExternalID struct {
	System string `json:"system" validate:"required,max=120" example:"stock"`
	ID     string `json:"id" validate:"required,max=120" example:"000417"`
} // @name ExternalID

// Translate reads the body as a component. have is what the server says about
// the stored one, zero for a new one; faults go to the report, together with the
// domain's rules. The error is anything but a fault of the body.
func (c *Component) Translate(have Stored, env *Env, h *recipe.House, r *Report) (recipe.Component, error) {
	c.agree(have, r)
	out := recipe.Component{
		ID: recipe.ID(have.ID), Kind: recipe.Kind(c.Kind), Code: c.Code, Name: c.Name,
		Category: recipe.Category(c.Category), Status: recipe.Status(c.Status),
		Label:       c.Label.label(r),
		Packs:       c.packs(env, r),
		WastePct:    orZero[float64](c.WastePct),
		Allergens:   c.Allergens.declaration(),
		Piece:       c.Piece.piece(),
		Dash:        orZero[measure.Volume](c.DashML),
		PouredC:     typed[measure.Temperature](c.PouredC),
		Recipe:      c.Recipe.recipe(env, r),
		ExternalIDs: externalIDs(c.ExternalIDs),
		Notes:       c.Notes,
	}
	if c.Status == "" {
		out.Status = recipe.Active
	}
	return out, r.Rules("", out.Valid(h))
}

func (c *Component) packs(env *Env, r *Report) []recipe.Pack {
	var out []recipe.Pack
	for i := range c.Packs {
		out = append(out, c.Packs[i].pack(env, step("/packs", i), r))
	}
	return out
}

func (a *Allergens) declaration() safety.Declaration {
	if a == nil {
		return safety.Declaration{}
	}
	return safety.Declaration{Declared: true, Contains: allergenSet(a.Declared), MayContain: allergenSet(a.MayContain)}
}

// allergenSet takes words that the decoder has already checked.
func allergenSet(words []string) safety.Set {
	var set safety.Set
	for _, w := range words {
		if a, ok := safety.ParseAllergen(w); ok {
			set |= safety.Of(a)
		}
	}
	return set
}

func (p *Piece) piece() recipe.Piece {
	if p == nil {
		return recipe.Piece{}
	}
	return recipe.Piece{Juice: orZero[measure.Volume](p.JuiceML), Mass: orZero[measure.Mass](p.MassG)}
}

func externalIDs(in []ExternalID) []recipe.ExternalID {
	var out []recipe.ExternalID
	for _, x := range in {
		out = append(out, recipe.ExternalID{System: x.System, ID: x.ID})
	}
	return out
}

// FromComponent writes a stored component; find names what its lines point at.
func FromComponent(k recipe.Kept[recipe.Component], find Lookup) Component {
	c := &k.Value
	out := Component{
		Stored: fromRevision(c.ID, k.Revision), Kind: string(c.Kind), Code: c.Code, Name: c.Name,
		Category: string(c.Category), Status: string(c.Status), Label: fromLabel(&c.Label),
		WastePct: unlessZero(c.WastePct), Allergens: fromDeclaration(c.Allergens), Piece: fromPiece(c.Piece),
		DashML: unlessZero(c.Dash), PouredC: plain(c.PouredC), Recipe: fromRecipe(c.Recipe, find),
		ExternalIDs: fromExternalIDs(c.ExternalIDs), Notes: c.Notes,
	}
	for i := range c.Packs {
		out.Packs = append(out.Packs, FromPack(&c.Packs[i]))
	}
	return out
}

func fromDeclaration(d safety.Declaration) *Allergens {
	if !d.Declared {
		return nil
	}
	return &Allergens{Declared: d.Contains.Names(), MayContain: d.MayContain.Names()}
}

func fromPiece(p recipe.Piece) *Piece {
	if p == (recipe.Piece{}) {
		return nil
	}
	return &Piece{JuiceML: unlessZero(p.Juice), MassG: unlessZero(p.Mass)}
}

func fromExternalIDs(in []recipe.ExternalID) []ExternalID {
	var out []ExternalID
	for _, x := range in {
		out = append(out, ExternalID{System: x.System, ID: x.ID})
	}
	return out
}
