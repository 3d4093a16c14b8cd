package wire

import (
	"servewright/domain/recipe"
)

// Book is a whole house in one file: what the load command takes. Its lines may
// point at components by code:X, in any order. Ids may be left out: a code that
// is stored already keeps its id, anything else gets a new one.
type Book struct {
	House      *House      `json:"house,omitempty"`
	Components []Component `json:"components,omitempty"`
	Specs      []Spec      `json:"specs,omitempty"`
} // @name Book

// Loaded is a [Book] in the words of the domain.
type Loaded struct {
	House      *recipe.House // nil = the stored one stays
	Components []recipe.Component
	Specs      []recipe.Spec
}

// Load reads a Book file. current is what is stored, fresh what a new house is
// like. Every fault of the file is in the one error, with pointers into it.
func Load(file []byte, current *recipe.Book, fresh recipe.House, newID func() recipe.ID) (Loaded, error) {
	var in Book
	report, err := Decode(file, &in)
	if err != nil {
		return Loaded{}, err
	}
	l := loading{in: &in, current: current, newID: newID, report: report, byRef: make(map[string]Named)}
	if err := l.house(fresh); err != nil {
		return Loaded{}, err
	}
	ids := l.names()
	if err := l.components(ids); err != nil {
		return Loaded{}, err
	}
	if err := l.specs(); err != nil {
		return Loaded{}, err
	}
	return l.out, report.Err()
}

type loading struct {
	in      *Book
	current *recipe.Book
	newID   func() recipe.ID
	report  *Report
	byRef   map[string]Named // the file's components by id and by code:X
	rules   *recipe.House
	out     Loaded
}

func (l *loading) house(fresh recipe.House) error {
	l.rules = l.current.House()
	if l.in.House == nil {
		return nil
	}
	h, err := l.in.House.Translate(Stored{}, fresh, l.report.under("/house"))
	l.rules, l.out.House = &h, &h
	return err
}

// names gives every component its id, so that lines can point at any of them.
func (l *loading) names() []recipe.ID {
	ids := make([]recipe.ID, len(l.in.Components))
	for i := range l.in.Components {
		c := &l.in.Components[i]
		at := l.report.under(step("/components", i))
		ids[i] = l.id(c.ID, at, func() (recipe.ID, bool) {
			r, ok := l.current.ComponentByCode(c.Code)
			if !ok {
				return "", false
			}
			return l.current.Component(r).ID, true
		})
		named := Named{ids[i], c.Code, c.Name}
		if _, twice := l.byRef["code:"+c.Code]; twice && c.Code != "" {
			at.Add("/code", "CODE_TWICE", "another component of this file has the code %s", clip(c.Code))
		}
		l.byRef["code:"+c.Code], l.byRef[string(ids[i])] = named, named
	}
	return ids
}

// id is the one a thing is sent with, else the one that its code has, else new.
func (l *loading) id(sent string, at *Report, stored func() (recipe.ID, bool)) recipe.ID {
	if sent != "" {
		id, ok := ParseID(sent)
		if !ok {
			at.Add("/id", "BAD_ID", "%q is not a UUID; leave the id out and one is made", clip(sent))
		}
		return id
	}
	if id, ok := stored(); ok {
		return id
	}
	return l.newID()
}

// find looks in the file first, then in what is stored.
func (l *loading) find(ref string) (Named, bool) {
	key := ref
	if id, ok := ParseID(ref); ok {
		key = string(id)
	}
	if named, ok := l.byRef[key]; ok && key != "code:" {
		return named, true
	}
	return InBook(l.current)(ref)
}

func (l *loading) components(ids []recipe.ID) error {
	env := &Env{Find: l.find, NewID: l.newID}
	for i := range l.in.Components {
		in := &l.in.Components[i]
		c, err := in.Translate(Stored{ID: string(ids[i])}, env, l.rules, l.report.under(step("/components", i)))
		if err != nil {
			return err
		}
		if r, ok := l.current.Find(c.ID); ok {
			sameItems(&c, l.current.Component(r), in)
		}
		l.out.Components = append(l.out.Components, c)
	}
	return nil
}

// sameItems lets packs and lines that came without an id keep the id that is
// stored in their place, so that loading a file again changes nothing.
func sameItems(c, had *recipe.Component, in *Component) {
	for i := range min(len(c.Packs), len(had.Packs)) {
		if in.Packs[i].ID == "" {
			c.Packs[i].ID = had.Packs[i].ID
		}
	}
	if c.Recipe == nil || had.Recipe == nil {
		return
	}
	sameLines(c.Recipe.Lines, had.Recipe.Lines, func(i int) string { return in.Recipe.Lines[i].ID })
	sameLines(c.Recipe.Packaging, had.Recipe.Packaging, func(i int) string { return in.Recipe.Packaging[i].ID })
}

func sameLines(lines, had []recipe.Line, sent func(int) string) {
	for i := range min(len(lines), len(had)) {
		if sent(i) == "" {
			lines[i].ID = had[i].ID
		}
	}
}

func (l *loading) specs() error {
	env := &Env{Find: l.find, NewID: l.newID}
	seen := make(map[string]bool)
	for i := range l.in.Specs {
		in, at := &l.in.Specs[i], l.report.under(step("/specs", i))
		if seen[in.Code] && in.Code != "" {
			at.Add("/code", "CODE_TWICE", "another spec of this file has the code %s", clip(in.Code))
		}
		seen[in.Code] = true
		id := l.id(in.ID, at, func() (recipe.ID, bool) {
			sp, ok := l.current.SpecByCode(in.Code)
			if !ok {
				return "", false
			}
			return sp.ID, true
		})
		s, err := in.Translate(Stored{ID: string(id)}, env, l.rules, at)
		if err != nil {
			return err
		}
		if had, ok := l.current.Spec(s.ID); ok {
			sameLines(s.Lines, had.Lines, func(i int) string { return in.Lines[i].ID })
		}
		l.out.Specs = append(l.out.Specs, s)
	}
	return nil
}
