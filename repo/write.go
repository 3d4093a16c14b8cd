package repo

import (
	"context"
	"time"

	"servewright/domain"
	"servewright/domain/recipe"
)

// work is one write transaction: it holds the lock on the house's counter, and
// everything it keeps carries one stamp.
type work struct {
	tx    *tx
	store *Store
	stamp int64        // the counter this write makes
	at    time.Time    // to the microsecond, UTC
	book  *recipe.Book // as it stands with what was written so far; nil until base is called
}

// write runs fn in a transaction that holds the house's counter, and hands the
// Book it made to the cache. fn may run more than once and must do nothing but
// read and write through its work.
func (s *Store) write(ctx context.Context, what string, now time.Time, fn func(*work) error) error {
	var w work
	err := s.change(ctx, what, func(t *tx) error {
		w = work{tx: t, store: s, at: time.UnixMicro(now.UnixMicro()).UTC()}
		if err := t.get(ctx, &w.stamp, takeCounter, s.org); err != nil {
			return none(err, "there is no house %s", s.org)
		}
		return fn(&w)
	})
	if err == nil && w.book != nil {
		s.cache.offer(snapshot{w.book, w.stamp})
	}
	return err
}

// base returns the Book as it stands inside the transaction.
func (w *work) base(ctx context.Context) (*recipe.Book, error) {
	if w.book != nil {
		return w.book, nil
	}
	before, cache := w.stamp-1, &w.store.cache
	cache.forgetAfter(before) // nobody else can have made this stamp
	snap, err := w.tx.snapshot(ctx, w.store, cache.best(before), before)
	w.book = snap.book
	return w.book, err
}

// put adds a revision and makes it the head.
func (w *work) put(ctx context.Context, word string, id recipe.ID, number int, body string, deleted bool, f facets) error {
	org, at := w.store.org, w.at.UnixMicro()
	if err := w.tx.do(ctx, insertRevision, org, word, id, number, w.stamp, at, deleted, body); err != nil {
		return err
	}
	var code *string // null when there is none, and free again when the thing is deleted
	if f.Code != "" && !deleted {
		code = &f.Code
	}
	err := w.tx.do(ctx, putHead, org, word, id, number, deleted, code, f.SortKey, f.Category, f.Kind, f.Status, f.Method)
	if kindOf(err) == domain.Conflict {
		// The Book finds it first; this holds even if it did not.
		e := domain.Errorf(domain.Conflict, "code %q is taken by another %s; choose another", f.Code, word)
		e.Code, e.Cause = "CODE_TAKEN", err
		return e
	}
	return err
}
