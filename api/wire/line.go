package wire

import (
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// Quantity is an amount as a person writes it.
type Quantity struct {
	Amount float64 `json:"amount" validate:"required" example:"700"`
	// Unit is a UCUM unit (mL cL dL L g kg [foz_us] [foz_br] [oz_av] [lb_av] [tsp_us] [tbs_us]) or the bar's own oz, dash, drop, barspoon, piece.
	Unit string `json:"unit" validate:"required" example:"mL"`
} // @name Quantity

func (q *Quantity) quantity() measure.Quantity {
	return measure.Quantity{Amount: q.Amount, Unit: measure.Unit(q.Unit)}
}

func fromQuantity(q measure.Quantity) Quantity {
	return Quantity{Amount: q.Amount, Unit: string(q.Unit)}
}

// RecipeLine is one ingredient of a house-made component.
type RecipeLine struct {
	// ID names the line for edits; made by the server.
	ID string `json:"id,omitempty" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b22"`
	// ComponentID is the id of a component, or its house code as code:RUM-DARK.
	ComponentID string `json:"component_id" validate:"required" example:"code:RUM-DARK"`
	// ComponentCode and ComponentName say what ComponentID means; they are answered, not set.
	ComponentCode string `json:"component_code,omitempty" readonly:"true" example:"RUM-DARK"`
	ComponentName string `json:"component_name,omitempty" readonly:"true" example:"Dark cane rum 42"`
	Quantity
	// Note is for the person who makes it.
	Note string `json:"note,omitempty" validate:"max=4000" example:"strained"`
} // @name RecipeLine

// SpecLine is one ingredient of a spec.
type SpecLine struct {
	RecipeLine
	// Stage is when the line joins the drink. Only mix meets the method's ice; garnish never enters the liquid.
	Stage string `json:"stage,omitempty" validate:"oneof=mix top rinse float garnish" default:"mix" example:"mix"`
	// PouredC is the temperature it is poured at, when not the component's own.
	PouredC *float64 `json:"poured_c,omitempty" example:"4"`
} // @name SpecLine

func (l *RecipeLine) line(env *Env, at string, r *Report) recipe.Line {
	return recipe.Line{
		ID:        env.itemID(l.ID, at, r),
		Component: l.component(env, at, r),
		Amount:    l.quantity(),
		Note:      l.Note,
	}
}

// component resolves what the line points at. A code or name that is sent back
// along with the id has to agree with it.
func (l *RecipeLine) component(env *Env, at string, r *Report) recipe.ID {
	if l.ComponentID == "" {
		r.Add(at+"/component_id", "REQUIRED", "component_id is missing")
		return ""
	}
	found, ok := env.Find(l.ComponentID)
	if !ok {
		r.Add(at+"/component_id", "UNKNOWN_COMPONENT", "there is no component %s; create it first, or point at another", clip(l.ComponentID))
		return ""
	}
	if l.ComponentCode != "" && l.ComponentCode != found.Code {
		r.Add(at+"/component_code", "READ_ONLY", "component_code follows component_id, which is %s; leave it out", orNothing(found.Code))
	}
	if l.ComponentName != "" && l.ComponentName != found.Name {
		r.Add(at+"/component_name", "READ_ONLY", "component_name follows component_id, which is %q; leave it out", found.Name)
	}
	return found.ID
}

func orNothing(code string) string {
	if code == "" {
		return "a component without a code"
	}
	return code
}

func (l *SpecLine) line(env *Env, at string, r *Report) recipe.Line {
	out := l.RecipeLine.line(env, at, r)
	out.Stage = recipe.Stage(l.Stage)
	if l.Stage == "" {
		out.Stage = recipe.Mix
	}
	out.PouredC = typed[measure.Temperature](l.PouredC)
	return out
}

// Line reads the body as one line of a spec by itself.
func (l *SpecLine) Line(env *Env, r *Report) recipe.Line { return l.line(env, "", r) }

func recipeLines(lines []RecipeLine, env *Env, at string, r *Report) []recipe.Line {
	out := make([]recipe.Line, len(lines))
	for i := range lines {
		out[i] = lines[i].line(env, step(at, i), r)
	}
	return out
}

func fromLine(l *recipe.Line, find Lookup) RecipeLine {
	out := RecipeLine{ID: string(l.ID), ComponentID: string(l.Component), Quantity: fromQuantity(l.Amount), Note: l.Note}
	if named, ok := find(out.ComponentID); ok {
		out.ComponentCode, out.ComponentName = named.Code, named.Name
	}
	return out
}

func fromLines(lines []recipe.Line, find Lookup) []RecipeLine {
	out := make([]RecipeLine, len(lines))
	for i := range lines {
		out[i] = fromLine(&lines[i], find)
	}
	return out
}

// FromSpecLine writes one line of a spec.
func FromSpecLine(l *recipe.Line, find Lookup) SpecLine {
	return SpecLine{RecipeLine: fromLine(l, find), Stage: string(l.Stage), PouredC: plain(l.PouredC)}
}
