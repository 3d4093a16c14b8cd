package wire

import (
	"servewright/domain/recipe"
)

// Named is a component as a line points at it.
type Named struct {
	ID         recipe.ID
	Code, Name string
}

// Lookup finds the component that a reference (an id or code:X) means.
type Lookup func(ref string) (Named, bool)

// InBook looks components up in a Book.
func InBook(b *recipe.Book) Lookup {
	return func(ref string) (Named, bool) {
		r, ok := FindComponent(b, ref)
		if !ok {
			return Named{}, false
		}
		c := b.Component(r)
		return Named{c.ID, c.Code, c.Name}, true
	}
}

// FindComponent finds the component of a Book that a reference means.
func FindComponent(b *recipe.Book, ref string) (recipe.Ref, bool) {
	if code, ok := ByCode(ref); ok {
		return b.ComponentByCode(code)
	}
	id, ok := ParseID(ref)
	if !ok {
		return 0, false
	}
	return b.Find(id)
}

// FindSpec finds the spec of a Book that a reference means.
func FindSpec(b *recipe.Book, ref string) (*recipe.Spec, bool) {
	if code, ok := ByCode(ref); ok {
		return b.SpecByCode(code)
	}
	id, ok := ParseID(ref)
	if !ok {
		return nil, false
	}
	return b.Spec(id)
}

// Env is what a translation has to know beside the body.
type Env struct {
	Find  Lookup
	NewID func() recipe.ID
	// Keeps reports whether a line or pack may keep an id: one that the thing
	// had before. nil lets every id stand.
	Keeps func(id recipe.ID) bool
}

// itemID returns the id of a line or pack: the one it had, or a new one.
func (e *Env) itemID(sent, at string, r *Report) recipe.ID {
	if sent == "" {
		return e.NewID()
	}
	id, ok := ParseID(sent)
	if !ok || e.Keeps != nil && !e.Keeps(id) {
		r.Add(at+"/id", "UNKNOWN_ID", "there is no id %q here to keep; leave the id of something new out", clip(sent))
	}
	return id
}

// Kept returns a rule for Env.Keeps that lets the given ids stand.
func Kept(ids ...recipe.ID) func(recipe.ID) bool {
	set := make(map[recipe.ID]bool, len(ids))
	for _, id := range ids {
		set[id] = true
	}
	return func(id recipe.ID) bool { return set[id] }
}

// ComponentIDs returns the ids of a component's packs and lines.
func ComponentIDs(c *recipe.Component) []recipe.ID {
	var ids []recipe.ID
	for i := range c.Packs {
		ids = append(ids, c.Packs[i].ID)
	}
	if c.Recipe != nil {
		ids = append(append(ids, LineIDs(c.Recipe.Lines)...), LineIDs(c.Recipe.Packaging)...)
	}
	return ids
}

// LineIDs returns the ids of lines.
func LineIDs(lines []recipe.Line) []recipe.ID {
	ids := make([]recipe.ID, len(lines))
	for i := range lines {
		ids[i] = lines[i].ID
	}
	return ids
}
