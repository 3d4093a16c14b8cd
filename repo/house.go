package repo

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"servewright/domain/recipe"
)

// House returns the house's defaults. Until somebody writes them they are
// recipe.DefaultHouse at revision 0.
func (s *Store) House(ctx context.Context) (kept recipe.Kept[recipe.House], err error) {
	err = s.look(ctx, "read house", func(t *tx) error {
		kept, err = houseNow(ctx, t, s.org)
		return err
	})
	return kept, err
}

// HouseBefore returns the house's defaults as they stood just before a moment.
// Before anybody wrote them, they are as they were first written.
func (s *Store) HouseBefore(ctx context.Context, at time.Time) (kept recipe.Kept[recipe.House], err error) {
	err = s.look(ctx, "read house", func(t *tx) error {
		kept, err = houseBefore(ctx, t, s.org, at)
		return err
	})
	return kept, err
}

func houseBefore(ctx context.Context, t *tx, org recipe.ID, at time.Time) (recipe.Kept[recipe.House], error) {
	var row revisionRow
	err := t.get(ctx, &row, beforeQuery, org, houses.word, org, at.UnixMicro())
	if err == nil {
		return houses.kept(&row)
	}
	if !errors.Is(err, sql.ErrNoRows) {
		return recipe.Kept[recipe.House]{}, err
	}
	err = t.get(ctx, &row, revisionQuery, org, houses.word, org, 1)
	if errors.Is(err, sql.ErrNoRows) {
		return houseNow(ctx, t, org)
	}
	if err != nil {
		return recipe.Kept[recipe.House]{}, err
	}
	return houses.kept(&row)
}

// EditHouse keeps what edit makes of the house's defaults, which must be at the
// given revision.
func (s *Store) EditHouse(ctx context.Context, revision int, edit func(recipe.House) (recipe.House, error), now time.Time) (kept recipe.Kept[recipe.House], err error) {
	err = s.write(ctx, "edit house", now, func(w *work) error {
		old, err := houseNow(ctx, w.tx, s.org)
		if err != nil {
			return err
		}
		if old.Number != revision {
			return stale(houses.word, old.Number, revision)
		}
		h, err := edit(old.Value)
		if err != nil {
			return err
		}
		kept, err = houses.keep(ctx, w, s.org, h, old.Number+1)
		return err
	})
	return kept, err
}

// houseNow returns the newest revision of the house, whose id is the org's.
func houseNow(ctx context.Context, t *tx, org recipe.ID) (recipe.Kept[recipe.House], error) {
	kept, err := houses.newest(ctx, t, org, org)
	if isNotFound(err) {
		return recipe.Kept[recipe.House]{Value: recipe.DefaultHouse(), Revision: recipe.Revision{At: time.Unix(0, 0).UTC()}}, nil
	}
	return kept, err
}
