package recipe

import (
	"slices"
	"strings"
	"sync/atomic"

	"servewright/domain"
)

// WithHouse returns the Book with other defaults.
func (b *Book) WithHouse(h House) (*Book, error) {
	if err := h.Valid(); err != nil {
		return nil, err
	}
	if err := b.checkCurrency(&h); err != nil {
		return nil, err
	}
	out := *b
	out.house = h
	out.contents = make([]atomic.Pointer[Contents], len(b.comps))
	return &out, nil
}

// WithSpec returns the Book with s added, or put in the place of the spec with
// its id.
func (b *Book) WithSpec(s Spec) (*Book, error) {
	var before []Line
	if i, ok := b.specID[s.ID]; ok {
		before = b.specs[i].Lines
	}
	out := *b
	out.specs = put(b.specs, s, func(x Spec) ID { return x.ID })
	if err := out.index(); err != nil {
		return nil, err
	}
	var bad domain.Faults
	bad.Check("", s.Valid(&b.house))
	out.checkLines(&bad, "/lines", s.Lines, before, true)
	return &out, bad.Err()
}

// WithComponent returns the Book with c added, or put in the place of the
// component with its id.
func (b *Book) WithComponent(c Component) (*Book, error) {
	var before []Line
	if r, ok := b.byID[c.ID]; ok && b.comps[r].Recipe != nil {
		before = slices.Concat(b.comps[r].Recipe.Lines, b.comps[r].Recipe.Packaging)
	}
	out := &Book{house: b.house, specs: b.specs, comps: put(b.comps, c, func(x Component) ID { return x.ID })}
	if err := out.index(); err != nil {
		return nil, err
	}
	var bad domain.Faults
	bad.Check("", c.Valid(&b.house))
	if c.Recipe != nil {
		out.checkLines(&bad, "/recipe/lines", c.Recipe.Lines, before, false)
		out.checkLines(&bad, packagingAt, c.Recipe.Packaging, before, false)
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	if err := out.link(); err != nil {
		return nil, err
	}
	out.checkAmounts(&bad, c)
	return out, bad.Err()
}

// put returns a copy of list, ordered by id, with v in it or in the place of
// the one with its id.
func put[T any](list []T, v T, id func(T) ID) []T {
	at, found := slices.BinarySearchFunc(list, id(v), func(x T, want ID) int { return strings.Compare(string(id(x)), string(want)) })
	out := slices.Clone(list)
	if found {
		out[at] = v
		return out
	}
	return slices.Insert(out, at, v)
}

// WithoutSpec returns the Book without a spec.
func (b *Book) WithoutSpec(id ID) (*Book, error) {
	i, ok := b.specID[id]
	if !ok {
		return nil, domain.Errorf(domain.NotFound, "there is no spec %s", id)
	}
	out := *b
	out.specs = slices.Delete(slices.Clone(b.specs), i, i+1)
	return &out, out.index()
}

// WithoutComponent returns the Book without a component. It is refused
// (domain.Conflict, naming the users) while anything points at it.
func (b *Book) WithoutComponent(id ID) (*Book, error) {
	r, ok := b.byID[id]
	if !ok {
		return nil, domain.Errorf(domain.NotFound, "there is no component %s", id)
	}
	comps, specs := b.Uses(id)
	if users := append(comps, specs...); len(users) > 0 {
		e := domain.Errorf(domain.Conflict, "%q is used by %s; take it out of them first, or delist it instead", b.comps[r].Name, nameRefs(users))
		e.Code, e.Refs = "IN_USE", users
		return nil, e
	}
	out := &Book{house: b.house, specs: b.specs, comps: slices.Delete(slices.Clone(b.comps), int(r), int(r)+1)}
	if err := out.index(); err != nil {
		return nil, err
	}
	return out, out.link()
}
