package repo

import (
	"context"
	"fmt"

	"github.com/jmoiron/sqlx"

	"servewright/domain"
	"servewright/domain/recipe"
)

// Book returns the newest Book and its change counter. It holds every write
// that was acknowledged, by any server, before the call.
func (s *Store) Book(ctx context.Context) (*recipe.Book, int64, error) {
	snap, err := s.cache.newest(ctx)
	return snap.book, snap.stamp, failure(err, "read the book")
}

// BookAt returns the Book as it stood at a change counter from 0, before the
// first change, to the newest; domain.NotFound for any other.
func (s *Store) BookAt(ctx context.Context, stamp int64) (*recipe.Book, error) {
	if snap, ok := s.cache.at(stamp); ok {
		return snap.book, nil
	}
	_, newest, err := s.Book(ctx)
	switch {
	case err != nil:
		return nil, err
	case stamp < 0 || stamp > newest:
		return nil, domain.Errorf(domain.NotFound, "there is no change %d; they go from 0 to %d", stamp, newest)
	}
	if snap, ok := s.cache.at(stamp); ok {
		return snap.book, nil
	}
	var snap snapshot
	err = s.look(ctx, "read the book", func(t *tx) error {
		snap, err = t.snapshot(ctx, s, s.cache.best(stamp), stamp)
		return err
	})
	if err != nil {
		return nil, err
	}
	s.cache.keep(snap)
	return snap.book, nil
}

// loadNewest checks the counter and brings have up to it.
func (s *Store) loadNewest(ctx context.Context, have snapshot) (snapshot, error) {
	counter, err := s.counter(ctx)
	if err != nil || counter == have.stamp && have.book != nil {
		return have, err
	}
	if counter < have.stamp {
		s.cache.forgetAfter(counter)
		have = s.cache.best(counter)
	}
	err = s.look(ctx, "read the book", func(t *tx) error {
		have, err = t.snapshot(ctx, s, have, counter)
		return err
	})
	return have, err
}

// counter reads the house's change counter: one statement, outside any
// transaction.
func (s *Store) counter(ctx context.Context) (n int64, err error) {
	release, err := s.db.read.take(ctx, func(conn *sqlx.Conn) error {
		return conn.GetContext(ctx, &n, counterQuery, s.org)
	})
	if err != nil {
		return 0, none(err, "there is no house %s", s.org)
	}
	release()
	return n, nil
}

// snapshot makes the Book at counter stamp from one that is not after it.
func (t *tx) snapshot(ctx context.Context, s *Store, from snapshot, stamp int64) (snapshot, error) {
	if from.stamp == stamp && from.book != nil {
		return from, nil
	}
	if from.book == nil {
		from.stamp = 0
	}
	var rows []revisionRow
	if err := t.list(ctx, &rows, stateQuery, s.org, from.stamp, stamp); err != nil {
		return snapshot{}, err
	}
	book, err := rebuild(from.book, rows)
	if err != nil {
		// Not the caller's fault, whatever kind the Book takes it for.
		return snapshot{}, fmt.Errorf("what is stored at change %d does not hold together: %v", stamp, err)
	}
	return snapshot{book, stamp}, nil
}

// rebuild puts changes into a Book; nil is the Book before the first change.
func rebuild(from *recipe.Book, changes []revisionRow) (*recipe.Book, error) {
	h := recipe.DefaultHouse()
	if from != nil {
		h = *from.House()
	}
	comps, sps := bookSets(from)
	for i := range changes {
		var err error
		switch row := &changes[i]; row.Type {
		case components.word:
			err = comps.take(components, row)
		case specs.word:
			err = sps.take(specs, row)
		case houses.word:
			h, err = readHouse(row.Body)
		}
		if err != nil {
			return nil, err
		}
	}
	return recipe.NewBook(h, comps.values(), sps.values())
}

// merged is a set of things by id.
type merged[T any] map[recipe.ID]*T

// bookSets returns what is in a Book, which may be nil.
func bookSets(b *recipe.Book) (comps merged[recipe.Component], sps merged[recipe.Spec]) {
	comps, sps = merged[recipe.Component]{}, merged[recipe.Spec]{}
	if b == nil {
		return comps, sps
	}
	for i, list := 0, b.Components(); i < len(list); i++ {
		comps[list[i].ID] = &list[i]
	}
	for i, list := 0, b.Specs(); i < len(list); i++ {
		sps[list[i].ID] = &list[i]
	}
	return comps, sps
}

func (m merged[T]) take(k *kind[T], row *revisionRow) error {
	if row.Deleted {
		delete(m, row.ID)
		return nil
	}
	v, err := k.value(row.ID, row.Body)
	m[row.ID] = &v
	return err
}

func (m merged[T]) values() []T {
	out := make([]T, 0, len(m))
	for _, v := range m {
		out = append(out, *v)
	}
	return out
}
