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
	out := *b
	out.specs = put(b.specs, s, func(x Spec) ID { return x.ID })
	if err := out.indexSpecs(); err != nil {
		return nil, err
	}
	return &out, out.CheckSpec(&s, b)
}

// WithComponent returns the Book with c added, or put in the place of the
// component with its id.
func (b *Book) WithComponent(c Component) (*Book, error) {
	out := b.withComponents(put(b.comps, c, func(x Component) ID { return x.ID }))
	if err := out.indexComponents(); err != nil {
		return nil, err
	}
	var bad domain.Faults
	out.checkComponent(&bad, &c, b)
	if err := bad.Err(); err != nil {
		return nil, err
	}
	if err := out.link(); err != nil {
		return nil, err
	}
	out.checkAmounts(&bad, c)
	return out, bad.Err()
}

// withComponents returns the Book over other components, yet to be indexed and
// linked; specs and their lookups stay.
func (b *Book) withComponents(comps []Component) *Book {
	return &Book{house: b.house, comps: comps, specs: b.specs, specID: b.specID, specCode: b.specCode}
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
	return &out, out.indexSpecs()
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
	out := b.withComponents(slices.Delete(slices.Clone(b.comps), int(r), int(r)+1))
	if err := out.indexComponents(); err != nil {
		return nil, err
	}
	return out, out.link()
}
