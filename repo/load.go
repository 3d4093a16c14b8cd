package repo

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"time"

	"servewright/domain"
	"servewright/domain/recipe"
)

// errNothing ends a write that found nothing to write.
var errNothing = errors.New("nothing to write")

// Load keeps many things in one transaction and under one stamp, or none of
// them. A thing replaces the one with its id, else the one with its code, and
// lines in the load that name the id it came with follow it; else it is new. h
// may be nil. What is stored already as it is given gets no new revision.
// Faults point into the load: /house, /components/0, /specs/0.
func (s *Store) Load(ctx context.Context, h *recipe.House, cs []recipe.Component, ss []recipe.Spec, now time.Time) error {
	err := s.write(ctx, "load", now, func(w *work) error {
		base, err := w.base(ctx)
		if err != nil {
			return err
		}
		l, err := newLoad(base, h, cs, ss)
		if err != nil {
			return err
		}
		if err := l.check(); err != nil {
			return err
		}
		w.book = nil // the caller can still change what it gave: readers load what is stored
		return l.store(ctx, w)
	})
	if errors.Is(err, errNothing) {
		return nil
	}
	return err
}

// load is a set of things on its way into a Book.
type load struct {
	base  *recipe.Book
	house *recipe.House // nil = stays
	comps []recipe.Component
	specs []recipe.Spec
}

// newLoad gives each thing the id it is stored under and refuses a thing given
// twice.
func newLoad(base *recipe.Book, h *recipe.House, cs []recipe.Component, ss []recipe.Spec) (*load, error) {
	l := &load{base: base, house: h, comps: slices.Clone(cs), specs: slices.Clone(ss)}
	var bad domain.Faults
	came := map[recipe.ID]recipe.ID{} // id in the load → id in the store
	seen := map[recipe.ID]bool{}
	place := func(pointer string, id *recipe.ID, known func() (recipe.ID, bool)) {
		if stored, ok := known(); ok {
			came[*id] = stored
			*id = stored
		}
		switch {
		case !isID(*id):
			bad.Add(pointer+"/id", "BAD_ID", "a new thing needs a UUID in lower case as its id, not %q", *id)
		case seen[*id]:
			bad.Add(pointer, "GIVEN_TWICE", "this is there twice; leave one out")
		}
		seen[*id] = true
	}
	for i := range l.comps {
		place(at("/components", i), &l.comps[i].ID, func() (recipe.ID, bool) { return knownComponent(base, &l.comps[i]) })
	}
	for i := range l.specs {
		place(at("/specs", i), &l.specs[i].ID, func() (recipe.ID, bool) { return knownSpec(base, &l.specs[i]) })
	}
	l.follow(came)
	return l, bad.Err()
}

func at(list string, i int) string { return list + "/" + strconv.Itoa(i) }

// knownComponent finds the stored component that c replaces.
func knownComponent(b *recipe.Book, c *recipe.Component) (recipe.ID, bool) {
	if _, ok := b.Find(c.ID); ok {
		return c.ID, true
	}
	r, ok := b.ComponentByCode(c.Code)
	if !ok || c.Code == "" {
		return "", false
	}
	return b.Component(r).ID, true
}

func knownSpec(b *recipe.Book, s *recipe.Spec) (recipe.ID, bool) {
	if _, ok := b.Spec(s.ID); ok {
		return s.ID, true
	}
	known, ok := b.SpecByCode(s.Code)
	if !ok || s.Code == "" {
		return "", false
	}
	return known.ID, true
}

// follow points lines at the ids that components are stored under, in copies.
func (l *load) follow(came map[recipe.ID]recipe.ID) {
	turn := func(lines []recipe.Line) []recipe.Line {
		lines = slices.Clone(lines)
		for i := range lines {
			if id, ok := came[lines[i].Component]; ok {
				lines[i].Component = id
			}
		}
		return lines
	}
	for i := range l.comps {
		if r := l.comps[i].Recipe; r != nil {
			turned := *r
			turned.Lines, turned.Packaging = turn(r.Lines), turn(r.Packaging)
			l.comps[i].Recipe = &turned
		}
	}
	for i := range l.specs {
		l.specs[i].Lines = turn(l.specs[i].Lines)
	}
}

// check finds everything wrong with the Book that the load makes.
func (l *load) check() error {
	h := *l.base.House()
	if l.house != nil {
		h = *l.house
	}
	comps, sps := bookSets(l.base)
	for i := range l.comps {
		comps[l.comps[i].ID] = &l.comps[i]
	}
	for i := range l.specs {
		sps[l.specs[i].ID] = &l.specs[i]
	}
	if err := l.alone(&h, comps); err != nil {
		return err
	}
	book, err := recipe.NewBook(h, comps.values(), sps.values())
	if err != nil {
		return err
	}
	return l.together(book)
}

// alone finds what is wrong with each thing by itself, and lines that point at
// nothing: the Book could not say in which thing.
func (l *load) alone(h *recipe.House, comps merged[recipe.Component]) error {
	var bad domain.Faults
	if l.house != nil {
		bad.Check("/house", h.Valid())
	}
	dangling := func(pointer string, lines []recipe.Line) {
		for i := range lines {
			if comps[lines[i].Component] == nil {
				bad.Add(at(pointer, i)+"/component_id", "UNKNOWN_COMPONENT",
					"there is no component %s, neither here nor in the house", lines[i].Component)
			}
		}
	}
	for i := range l.comps {
		bad.Check(at("/components", i), l.comps[i].Valid(h))
		if r := l.comps[i].Recipe; r != nil {
			dangling(at("/components", i)+"/recipe/lines", r.Lines)
			dangling(at("/components", i)+"/recipe/packaging", r.Packaging)
		}
	}
	for i := range l.specs {
		bad.Check(at("/specs", i), l.specs[i].Valid(h))
		dangling(at("/specs", i)+"/lines", l.specs[i].Lines)
	}
	return bad.Err()
}

// together finds what is wrong with each thing beside the others.
func (l *load) together(book *recipe.Book) error {
	var bad domain.Faults
	if l.house != nil {
		_, err := book.WithHouse(*l.house) // whose currency everything must be in, what stays too
		bad.Check("/house", err)
	}
	for i := range l.comps {
		r, _ := book.Find(l.comps[i].ID)
		bad.Check(at("/components", i), book.CheckComponent(r, l.base))
	}
	for i := range l.specs {
		bad.Check(at("/specs", i), book.CheckSpec(&l.specs[i], l.base))
	}
	return bad.Err()
}

// store keeps what differs from what is stored, errNothing when nothing does.
func (l *load) store(ctx context.Context, w *work) error {
	wrote := false
	if err := l.freeCodes(ctx, w); err != nil {
		return err
	}
	if l.house != nil {
		if err := keepChanged(ctx, w, houses, w.store.org, l.house, &wrote); err != nil {
			return err
		}
	}
	for i := range l.comps {
		if err := keepChanged(ctx, w, components, l.comps[i].ID, &l.comps[i], &wrote); err != nil {
			return err
		}
	}
	for i := range l.specs {
		if err := keepChanged(ctx, w, specs, l.specs[i].ID, &l.specs[i], &wrote); err != nil {
			return err
		}
	}
	if !wrote {
		return errNothing
	}
	return nil
}

// freeCodes takes the codes off the heads that give theirs up, so that another
// thing in the load can have one whichever is kept first.
func (l *load) freeCodes(ctx context.Context, w *work) error {
	for i := range l.comps {
		c := &l.comps[i]
		if r, ok := l.base.Find(c.ID); ok && l.base.Component(r).Code != c.Code {
			if err := w.tx.do(ctx, freeCode, w.store.org, components.word, c.ID); err != nil {
				return err
			}
		}
	}
	for i := range l.specs {
		s := &l.specs[i]
		if old, ok := l.base.Spec(s.ID); ok && old.Code != s.Code {
			if err := w.tx.do(ctx, freeCode, w.store.org, specs.word, s.ID); err != nil {
				return err
			}
		}
	}
	return nil
}

// keepChanged adds a revision of v unless the newest one says the same.
func keepChanged[T any](ctx context.Context, w *work, k *kind[T], id recipe.ID, v *T, wrote *bool) error {
	body, err := encode(k.body(v))
	if err != nil {
		return err
	}
	var row revisionRow
	err = w.tx.get(ctx, &row, headQuery, w.store.org, k.word, id)
	if err != nil && !isNotFound(none(err, "")) {
		return err
	}
	if err == nil && row.Body == body && !row.Deleted {
		return nil
	}
	*wrote = true
	return w.put(ctx, k.word, id, row.Number+1, body, false, k.facets(v))
}
