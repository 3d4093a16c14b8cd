package api

import (
	"context"
	"time"

	"servewright/domain/recipe"
)

// Store keeps what a house has written. It is declared here because the
// handlers need it; repo satisfies it. Its errors are of the domain's kinds.
//
// Every write takes one stamp of the house's change counter. An edit names the
// revision that it edits and is refused as Stale when that is no longer the
// head.
type Store interface {
	// Book returns everything at the newest stamp, and that stamp.
	Book(ctx context.Context) (*recipe.Book, int64, error)
	// BookAt returns everything as it stood at a stamp.
	BookAt(ctx context.Context, stamp int64) (*recipe.Book, error)

	// Component returns the head revision; a deleted component is NotFound,
	// though its revisions stay readable.
	Component(ctx context.Context, id recipe.ID) (recipe.Kept[recipe.Component], error)
	// ComponentID finds a component by its house code.
	ComponentID(ctx context.Context, code string) (recipe.ID, error)
	// Components lists head revisions; next is nil at the end.
	Components(ctx context.Context, f recipe.Filter) (list []recipe.Kept[recipe.Component], next *recipe.Position, err error)
	ComponentRevision(ctx context.Context, id recipe.ID, number int) (recipe.Kept[recipe.Component], error)
	// ComponentRevisions lists revisions, newest first, below the number before
	// (0 = from the newest).
	ComponentRevisions(ctx context.Context, id recipe.ID, before, limit int) ([]recipe.Kept[recipe.Component], error)
	AddComponent(ctx context.Context, c recipe.Component, now time.Time) (recipe.Kept[recipe.Component], error)
	EditComponent(ctx context.Context, id recipe.ID, revision int, edit func(recipe.Component) (recipe.Component, error), now time.Time) (recipe.Kept[recipe.Component], error)
	// DeleteComponent is a Conflict that names the users while anything points
	// at the component.
	DeleteComponent(ctx context.Context, id recipe.ID, revision int, now time.Time) error

	Spec(ctx context.Context, id recipe.ID) (recipe.Kept[recipe.Spec], error)
	SpecID(ctx context.Context, code string) (recipe.ID, error)
	Specs(ctx context.Context, f recipe.Filter) (list []recipe.Kept[recipe.Spec], next *recipe.Position, err error)
	SpecRevision(ctx context.Context, id recipe.ID, number int) (recipe.Kept[recipe.Spec], error)
	SpecRevisions(ctx context.Context, id recipe.ID, before, limit int) ([]recipe.Kept[recipe.Spec], error)
	AddSpec(ctx context.Context, sp recipe.Spec, now time.Time) (recipe.Kept[recipe.Spec], error)
	EditSpec(ctx context.Context, id recipe.ID, revision int, edit func(recipe.Spec) (recipe.Spec, error), now time.Time) (recipe.Kept[recipe.Spec], error)
	DeleteSpec(ctx context.Context, id recipe.ID, revision int, now time.Time) error

	House(ctx context.Context) (recipe.Kept[recipe.House], error)
	// HouseBefore returns the defaults as they stood just before a moment; before
	// anybody wrote them, as they were first written.
	HouseBefore(ctx context.Context, at time.Time) (recipe.Kept[recipe.House], error)
	EditHouse(ctx context.Context, revision int, edit func(recipe.House) (recipe.House, error), now time.Time) (recipe.Kept[recipe.House], error)

	// Ready reports whether the store answers and has the schema that this
	// program expects.
	Ready(ctx context.Context) error
}
