package repo

import (
	"context"
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
