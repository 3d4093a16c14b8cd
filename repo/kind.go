package repo

import (
	"context"
	"math"
	"time"

	"servewright/domain"
	"servewright/domain/recipe"
)

// kind is one kind of thing a house keeps: how it is stored, and how the Book
// takes it in. The methods are the same for all.
type kind[T any] struct {
	word    string // in column type, and to people
	body    func(*T) any
	value   func(id recipe.ID, body string) (T, error)
	facets  func(*T) facets
	with    func(*recipe.Book, T) (*recipe.Book, error)
	without func(*recipe.Book, recipe.ID) (*recipe.Book, error)
}

var components = &kind[recipe.Component]{
	word:   "component",
	body:   func(c *recipe.Component) any { return bodyOfComponent(c) },
	value:  readComponent,
	facets: componentFacets,
	with:   (*recipe.Book).WithComponent, without: (*recipe.Book).WithoutComponent,
}

var specs = &kind[recipe.Spec]{
	word:   "spec",
	body:   func(s *recipe.Spec) any { return bodyOfSpec(s) },
	value:  readSpec,
	facets: specFacets,
	with:   (*recipe.Book).WithSpec, without: (*recipe.Book).WithoutSpec,
}

var houses = &kind[recipe.House]{
	word:   "house",
	body:   func(h *recipe.House) any { return bodyOfHouse(h) },
	value:  func(_ recipe.ID, body string) (recipe.House, error) { return readHouse(body) },
	facets: func(h *recipe.House) facets { return facets{SortKey: fold(h.Name)} },
	with:   (*recipe.Book).WithHouse,
}

// kept translates a stored revision.
func (k *kind[T]) kept(row *revisionRow) (recipe.Kept[T], error) {
	v, err := k.value(row.ID, row.Body)
	return recipe.Kept[T]{Value: v, Revision: row.revision()}, err
}

// newest returns the head of a thing, domain.NotFound when there is none. It
// may be a tombstone.
func (k *kind[T]) newest(ctx context.Context, t *tx, org, id recipe.ID) (recipe.Kept[T], error) {
	var row revisionRow
	if err := t.get(ctx, &row, headQuery, org, k.word, storable(id)); err != nil {
		return recipe.Kept[T]{}, none(err, "there is no %s %s", k.word, id)
	}
	return k.kept(&row)
}

// live is newest for things that are not deleted.
func (k *kind[T]) live(ctx context.Context, t *tx, org, id recipe.ID) (recipe.Kept[T], error) {
	kept, err := k.newest(ctx, t, org, id)
	if err == nil && kept.Deleted {
		return recipe.Kept[T]{}, domain.Errorf(domain.NotFound, "%s %s is deleted; its revisions can still be read", k.word, id)
	}
	return kept, err
}

func (k *kind[T]) get(ctx context.Context, s *Store, id recipe.ID) (kept recipe.Kept[T], err error) {
	err = s.look(ctx, "read "+k.word, func(t *tx) error {
		kept, err = k.live(ctx, t, s.org, id)
		return err
	})
	return kept, err
}

func (k *kind[T]) id(ctx context.Context, s *Store, code string) (id recipe.ID, err error) {
	err = s.look(ctx, "find "+k.word, func(t *tx) error {
		if !isText(code) {
			return domain.Errorf(domain.NotFound, "there is no %s with code %q", k.word, code)
		}
		return none(t.get(ctx, &id, codeQuery, s.org, k.word, code), "there is no %s with code %q", k.word, code)
	})
	return id, err
}

func (k *kind[T]) list(ctx context.Context, s *Store, f recipe.Filter) (page []recipe.Kept[T], next *recipe.Position, err error) {
	limit := clampLimit(f.Limit)
	args, err := filterArgs(s.org, k.word, f, limit+1)
	if err != nil {
		return nil, nil, err
	}
	var rows []listRow
	err = s.look(ctx, "list "+k.word+"s", func(t *tx) error {
		rows = rows[:0]
		return t.list(ctx, &rows, listQuery, args...)
	})
	if err != nil {
		return nil, nil, err
	}
	if len(rows) > limit {
		rows = rows[:limit]
		last := &rows[limit-1]
		next = &recipe.Position{Key: last.SortKey, ID: last.ID}
	}
	page = make([]recipe.Kept[T], len(rows))
	for i := range rows {
		if page[i], err = k.kept(&rows[i].revisionRow); err != nil {
			return nil, nil, err
		}
	}
	return page, next, nil
}

func (k *kind[T]) revision(ctx context.Context, s *Store, id recipe.ID, n int) (kept recipe.Kept[T], err error) {
	err = s.look(ctx, "read "+k.word, func(t *tx) error {
		var row revisionRow
		if err := t.get(ctx, &row, revisionQuery, s.org, k.word, storable(id), n); err != nil {
			return none(err, "there is no revision %d of %s %s", n, k.word, id)
		}
		kept, err = k.kept(&row)
		return err
	})
	return kept, err
}

// revisions returns at most limit revisions below number after, newest first;
// after ≤ 0 begins at the newest.
func (k *kind[T]) revisions(ctx context.Context, s *Store, id recipe.ID, after, limit int) (page []recipe.Kept[T], err error) {
	if after <= 0 {
		after = math.MaxInt
	}
	var rows []revisionRow
	err = s.look(ctx, "list revisions of "+k.word, func(t *tx) error {
		rows = rows[:0]
		if _, err := k.newest(ctx, t, s.org, id); err != nil {
			return err
		}
		return t.list(ctx, &rows, revisionsQuery, s.org, k.word, storable(id), after, clampLimit(limit))
	})
	if err != nil {
		return nil, err
	}
	page = make([]recipe.Kept[T], len(rows))
	for i := range rows {
		if page[i], err = k.kept(&rows[i]); err != nil {
			return nil, err
		}
	}
	return page, nil
}

func (k *kind[T]) add(ctx context.Context, s *Store, id recipe.ID, v T, now time.Time) (kept recipe.Kept[T], err error) {
	if !isID(id) {
		return kept, domain.Errorf(domain.Invalid, "the id of a new %s must be a UUID in lower case, not %q", k.word, id)
	}
	err = s.write(ctx, "add "+k.word, now, func(w *work) error {
		if _, err := k.newest(ctx, w.tx, s.org, id); err == nil {
			return domain.Errorf(domain.Conflict, "%s %s is there already", k.word, id)
		} else if !isNotFound(err) {
			return err
		}
		kept, err = k.keep(ctx, w, id, v, 1)
		return err
	})
	return kept, err
}

func (k *kind[T]) edit(ctx context.Context, s *Store, id recipe.ID, revision int, edit func(T) (T, error), now time.Time) (kept recipe.Kept[T], err error) {
	err = s.write(ctx, "edit "+k.word, now, func(w *work) error {
		old, err := k.at(ctx, w, id, revision)
		if err != nil {
			return err
		}
		v, err := edit(old.Value)
		if err != nil {
			return err
		}
		kept, err = k.keep(ctx, w, id, v, old.Number+1)
		return err
	})
	return kept, err
}

func (k *kind[T]) remove(ctx context.Context, s *Store, id recipe.ID, revision int, now time.Time) error {
	return s.write(ctx, "delete "+k.word, now, func(w *work) error {
		old, err := k.at(ctx, w, id, revision)
		if err != nil {
			return err
		}
		book, err := w.base(ctx)
		if err != nil {
			return err
		}
		if w.book, err = k.without(book, id); err != nil {
			return err
		}
		body, err := encode(k.body(&old.Value))
		if err != nil {
			return err
		}
		return w.put(ctx, k.word, id, old.Number+1, body, true, k.facets(&old.Value))
	})
}

// at returns the head of a thing that must stand at the given revision.
func (k *kind[T]) at(ctx context.Context, w *work, id recipe.ID, revision int) (recipe.Kept[T], error) {
	kept, err := k.live(ctx, w.tx, w.store.org, id)
	if err == nil && kept.Number != revision {
		return kept, stale(k.word, kept.Number, revision)
	}
	return kept, err
}

func stale(word string, at, asked int) error {
	return domain.Errorf(domain.Stale, "this %s is at revision %d, not %d; read it again and repeat the edit", word, at, asked)
}

// keep stores v as revision number of a thing, if the Book takes it.
func (k *kind[T]) keep(ctx context.Context, w *work, id recipe.ID, v T, number int) (kept recipe.Kept[T], err error) {
	book, err := w.base(ctx)
	if err != nil {
		return kept, err
	}
	body, err := encode(k.body(&v))
	if err != nil {
		if _, why := k.with(book, v); why != nil {
			return kept, why // says more than the encoder
		}
		return kept, err
	}
	// The Book gets what was stored, not what the caller can still change.
	stored, err := k.value(id, body)
	if err != nil {
		return kept, err
	}
	if book, err = k.with(book, stored); err != nil {
		return kept, err
	}
	if err = w.put(ctx, k.word, id, number, body, false, k.facets(&stored)); err != nil {
		return kept, err
	}
	w.book = book
	kept.Revision = recipe.Revision{Number: number, Stamp: w.stamp, At: w.at}
	kept.Value, err = k.value(id, body)
	return kept, err
}
