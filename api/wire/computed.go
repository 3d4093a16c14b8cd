package wire

import (
	"servewright/domain"
	"servewright/domain/recipe"
	"servewright/domain/safety"
)

// View says how a computed answer is written.
type View struct {
	Book  *recipe.Book // names what the answer points at
	Short bool         // leave bands, cautions and line arithmetic out
}

// Caution rides along with a number that still stands.
type Caution struct {
	Code string `json:"code" example:"SUGAR_ESTIMATED"`
	// Severity is note, warning or danger; more may come.
	Severity string `json:"severity" extensions:"x-extensible-enum" example:"warning"`
	Detail   string `json:"detail" example:"Old quince liqueur: sugar is not on the label; 100 to 400 g/L is usual for a liqueur"`
	// Source is where the rule or figure comes from, and how well it was checked.
	Source string `json:"source" example:"Regulation (EU) 2019/787"`
} // @name Caution

// AllergenAnswer is what is known of the allergens in a drink or component.
type AllergenAnswer struct {
	Contains   []string `json:"contains" example:"sulphites"`
	MayContain []string `json:"may_contain" example:"nuts"`
	// Unconfirmed are the components of which nobody has declared anything.
	Unconfirmed []Ref `json:"unconfirmed"`
} // @name Allergens

// Cautions writes cautions; nil in a short answer, where the member is left out.
func (v View) Cautions(list []domain.Caution) []Caution {
	if v.Short {
		return nil
	}
	out := make([]Caution, len(list))
	for i, k := range list {
		out[i] = Caution{Code: k.Code, Severity: string(k.Severity), Detail: k.Detail, Source: k.Source}
	}
	return out
}

func (v View) allergens(contains, may safety.Set, unconfirmed []recipe.ID) AllergenAnswer {
	out := AllergenAnswer{Contains: contains.Names(), MayContain: may.Names(), Unconfirmed: make([]Ref, len(unconfirmed))}
	for i, id := range unconfirmed {
		out.Unconfirmed[i] = v.byID(id)
	}
	return out
}

func (v View) byID(id recipe.ID) Ref {
	if r, ok := v.Book.Find(id); ok {
		return v.component(r)
	}
	return Ref{ID: string(id)}
}

func (v View) component(r recipe.Ref) Ref {
	c := v.Book.Component(r)
	return Ref{ID: string(c.ID), Code: c.Code, Name: c.Name}
}

// band writes ± one standard uncertainty; nil where there is none to speak of,
// and in a short answer.
func (v View) band(u float64) *Number {
	if v.Short || !(u > 0) {
		return nil
	}
	return number6(u)
}

func number6(x float64) *Number {
	n := Number(x)
	return &n
}

// numberOrNil writes a figure that may be unknown.
func numberOrNil(x *float64) *Number {
	if x == nil {
		return nil
	}
	return number6(*x)
}

// FromRefs writes the names of stored things.
func FromRefs(refs []domain.Ref) []Ref {
	out := make([]Ref, len(refs))
	for i, r := range refs {
		out[i] = Ref{ID: r.ID, Code: r.Code, Name: r.Name}
	}
	return out
}

// FromSpecs writes the names of specs.
func FromSpecs(specs []*recipe.Spec) []Ref {
	out := make([]Ref, len(specs))
	for i, sp := range specs {
		out[i] = specRef(sp)
	}
	return out
}

func specRef(sp *recipe.Spec) Ref { return Ref{ID: string(sp.ID), Code: sp.Code, Name: sp.Name} }
