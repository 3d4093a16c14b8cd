package openapi_test

import (
	"context"

	"servewright/api"
	"servewright/domain/recipe"
)

// trouble is a store that fails with err while that is set.
type trouble struct {
	api.Store
	err error
}

func (s *trouble) Ready(ctx context.Context) error {
	if s.err != nil {
		return s.err
	}
	return s.Store.Ready(ctx)
}

func (s *trouble) Book(ctx context.Context) (*recipe.Book, int64, error) {
	if s.err != nil {
		return nil, 0, s.err
	}
	return s.Store.Book(ctx)
}

func (s *trouble) House(ctx context.Context) (k recipe.Kept[recipe.House], err error) {
	if s.err != nil {
		return k, s.err
	}
	return s.Store.House(ctx)
}

func (s *trouble) ComponentID(ctx context.Context, code string) (recipe.ID, error) {
	if s.err != nil {
		return "", s.err
	}
	return s.Store.ComponentID(ctx, code)
}

func (s *trouble) SpecID(ctx context.Context, code string) (recipe.ID, error) {
	if s.err != nil {
		return "", s.err
	}
	return s.Store.SpecID(ctx, code)
}

func (s *trouble) Components(ctx context.Context, f recipe.Filter) ([]recipe.Kept[recipe.Component], *recipe.Position, error) {
	if s.err != nil {
		return nil, nil, s.err
	}
	return s.Store.Components(ctx, f)
}

func (s *trouble) Specs(ctx context.Context, f recipe.Filter) ([]recipe.Kept[recipe.Spec], *recipe.Position, error) {
	if s.err != nil {
		return nil, nil, s.err
	}
	return s.Store.Specs(ctx, f)
}
