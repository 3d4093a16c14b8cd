package repo

import (
	"context"
	"time"

	"servewright/domain/recipe"
)

// Store is what one house keeps. It is safe for concurrent use.
//
// Errors have a domain kind: NotFound, Stale, Conflict, what the domain finds
// wrong with a thing, and Busy, Unavailable or Full when it is the database's.
// An edit function gets a copy and may change it; it may be called more than
// once and must do nothing else.
type Store struct {
	db    *DB
	org   recipe.ID
	cache cache
}

// Ready returns nil when the database answers, has the schema this program
// needs and knows the house.
func (s *Store) Ready(ctx context.Context) error {
	if err := s.db.checkSchema(ctx); err != nil {
		return err
	}
	_, err := s.counter(ctx)
	return failure(err, "look for the house")
}

// Component returns a component at its newest revision.
func (s *Store) Component(ctx context.Context, id recipe.ID) (recipe.Kept[recipe.Component], error) {
	return components.get(ctx, s, id)
}

// ComponentID returns the id of the component with a house code.
func (s *Store) ComponentID(ctx context.Context, code string) (recipe.ID, error) {
	return components.id(ctx, s, code)
}

// Components lists components by folded name, and where the next page starts,
// nil after the last.
func (s *Store) Components(ctx context.Context, f recipe.Filter) ([]recipe.Kept[recipe.Component], *recipe.Position, error) {
	return components.list(ctx, s, f)
}

// ComponentRevision returns a component as one of its revisions has it, also
// when it is deleted by now.
func (s *Store) ComponentRevision(ctx context.Context, id recipe.ID, n int) (recipe.Kept[recipe.Component], error) {
	return components.revision(ctx, s, id, n)
}

// ComponentRevisions lists revisions below number after (0 = from the newest),
// newest first.
func (s *Store) ComponentRevisions(ctx context.Context, id recipe.ID, after, limit int) ([]recipe.Kept[recipe.Component], error) {
	return components.revisions(ctx, s, id, after, limit)
}

// AddComponent keeps a new component under the id it carries.
func (s *Store) AddComponent(ctx context.Context, c recipe.Component, now time.Time) (recipe.Kept[recipe.Component], error) {
	return components.add(ctx, s, c.ID, c, now)
}

// EditComponent keeps what edit makes of a component that must be at the given
// revision.
func (s *Store) EditComponent(ctx context.Context, id recipe.ID, revision int, edit func(recipe.Component) (recipe.Component, error), now time.Time) (recipe.Kept[recipe.Component], error) {
	return components.edit(ctx, s, id, revision, edit, now)
}

// DeleteComponent deletes a component that must be at the given revision; a
// Conflict that names the users when there are any.
func (s *Store) DeleteComponent(ctx context.Context, id recipe.ID, revision int, now time.Time) error {
	return components.remove(ctx, s, id, revision, now)
}

// Spec returns a spec at its newest revision.
func (s *Store) Spec(ctx context.Context, id recipe.ID) (recipe.Kept[recipe.Spec], error) {
	return specs.get(ctx, s, id)
}

// SpecID returns the id of the spec with a house code.
func (s *Store) SpecID(ctx context.Context, code string) (recipe.ID, error) {
	return specs.id(ctx, s, code)
}

// Specs lists specs by folded name, and where the next page starts, nil after
// the last.
func (s *Store) Specs(ctx context.Context, f recipe.Filter) ([]recipe.Kept[recipe.Spec], *recipe.Position, error) {
	return specs.list(ctx, s, f)
}

// SpecRevision returns a spec as one of its revisions has it, also when it is
// deleted by now.
func (s *Store) SpecRevision(ctx context.Context, id recipe.ID, n int) (recipe.Kept[recipe.Spec], error) {
	return specs.revision(ctx, s, id, n)
}

// SpecRevisions lists revisions below number after (0 = from the newest),
// newest first.
func (s *Store) SpecRevisions(ctx context.Context, id recipe.ID, after, limit int) ([]recipe.Kept[recipe.Spec], error) {
	return specs.revisions(ctx, s, id, after, limit)
}

// AddSpec keeps a new spec under the id it carries.
func (s *Store) AddSpec(ctx context.Context, sp recipe.Spec, now time.Time) (recipe.Kept[recipe.Spec], error) {
	return specs.add(ctx, s, sp.ID, sp, now)
}

// EditSpec keeps what edit makes of a spec that must be at the given revision.
func (s *Store) EditSpec(ctx context.Context, id recipe.ID, revision int, edit func(recipe.Spec) (recipe.Spec, error), now time.Time) (recipe.Kept[recipe.Spec], error) {
	return specs.edit(ctx, s, id, revision, edit, now)
}

// DeleteSpec deletes a spec that must be at the given revision.
func (s *Store) DeleteSpec(ctx context.Context, id recipe.ID, revision int, now time.Time) error {
	return specs.remove(ctx, s, id, revision, now)
}
