package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain/recipe"
)

// getProfile answers what is in a component and what it costs.
//
//	@Summary		What is in a component and what it costs
//	@Description	Resolved through any depth of house-made parts. Figures per volume are null for a solid without a bulk density.
//	@ID				getProfile
//	@Tags			components
//	@Param			id			path		string	true	"id, or code:RUM-DARK"	example(code:H-QUINCE)
//	@Param			as_of		query		string	false	"date that picks prices and rates; today in the house's time zone when left out"	format(date)	example(2026-03-01)
//	@Param			revision	query		int		false	"an earlier revision of the component instead of its head"	minimum(1)
//	@Param			detail		query		string	false	"short leaves bands, cautions and line arithmetic out"	Enums(full, short)	default(full)
//	@Success		200			{object}	wire.Profile
//	@Header			200			{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/components/{id}/profile [get]
func (s *server) getProfile(c echo.Context) error {
	q := readQuery(c, "as_of", "revision", "detail")
	number := q.count("revision", 0)
	return s.answerComputed(c, q, func(rd *reading) (any, error) {
		if number > 0 {
			return s.profileOfRevision(c, rd, number)
		}
		r, err := rd.component(c.Param("id"))
		if err != nil {
			return nil, err
		}
		return rd.profile(r)
	})
}

func (s *server) profileOfRevision(c echo.Context, rd *reading, number int) (any, error) {
	ctx := c.Request().Context()
	id, err := s.components.ref(ctx, c.Param("id"))
	if err != nil {
		return nil, err
	}
	kept, err := s.store.ComponentRevision(ctx, id, number)
	if err != nil {
		return nil, err
	}
	then, err := rd.withComponent(kept.Value)
	if err != nil {
		return nil, err
	}
	r, err := then.component(string(id))
	if err != nil {
		return nil, err
	}
	return then.profile(r)
}

// getUses answers what points at a component.
//
//	@Summary		Where a component is used
//	@Description	components and specs point at it directly; reached_specs pour it through house-made components too.
//	@ID				getUses
//	@Tags			components
//	@Param			id	path		string	true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Success		200	{object}	wire.Uses
//	@Header			200	{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/components/{id}/uses [get]
func (s *server) getUses(c echo.Context) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	book, _, err := s.store.Book(c.Request().Context())
	if err != nil {
		return err
	}
	rd := reading{book: book}
	r, err := rd.component(c.Param("id"))
	if err != nil {
		return err
	}
	return answerPage(c, usesOf(book, r))
}

func usesOf(b *recipe.Book, r recipe.Ref) wire.Uses {
	components, specs := b.Uses(b.Component(r).ID)
	reached := b.Reaching(r)
	list := make([]*recipe.Spec, len(reached))
	for i, at := range reached {
		list[i] = &b.Specs()[at]
	}
	return wire.Uses{Components: wire.FromRefs(components), Specs: wire.FromRefs(specs), ReachedSpecs: wire.FromSpecs(list)}
}

// getServe answers a spec worked out in the glass.
//
//	@Summary		Work a spec out in the glass
//	@Description	Dilution, strength, sugar, acid, energy, cost and allergens of one serve. Figures are estimates and never a guide to how much to drink.
//	@ID				getServe
//	@Tags			serves
//	@Param			id			path		string	true	"id, or code:C-104"	example(code:C-104)
//	@Param			as_of		query		string	false	"date that picks prices and rates; today in the house's time zone when left out"	format(date)	example(2026-03-01)
//	@Param			revision	query		int		false	"an earlier revision of the spec instead of its head"	minimum(1)
//	@Param			detail		query		string	false	"short leaves bands, cautions and line arithmetic out"	Enums(full, short)	default(full)
//	@Success		200			{object}	wire.Serve
//	@Header			200			{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/specs/{id}/serve [get]
func (s *server) getServe(c echo.Context) error {
	q := readQuery(c, "as_of", "revision", "detail")
	number := q.count("revision", 0)
	return s.answerComputed(c, q, func(rd *reading) (any, error) {
		sp, err := s.specToServe(c, rd, number)
		if err != nil {
			return nil, err
		}
		return rd.serve(sp)
	})
}

// specToServe finds the spec that the path names, at its head (0) or a revision.
func (s *server) specToServe(c echo.Context, rd *reading, number int) (*recipe.Spec, error) {
	ctx := c.Request().Context()
	if number == 0 {
		return rd.spec(c.Param("id"))
	}
	id, err := s.specs.ref(ctx, c.Param("id"))
	if err != nil {
		return nil, err
	}
	kept, err := s.store.SpecRevision(ctx, id, number)
	return &kept.Value, err
}

// postServe works out a spec that is not stored.
//
//	@Summary		Work out a spec that is not stored
//	@Description	Takes a spec as it would be created, or one that was read and then changed, and stores nothing.
//	@ID				postServe
//	@Tags			serves
//	@Accept			json
//	@Param			as_of	query		string		false	"date that picks prices and rates; today in the house's time zone when left out"	format(date)	example(2026-03-01)
//	@Param			detail	query		string		false	"short leaves bands, cautions and line arithmetic out"	Enums(full, short)	default(full)
//	@Param			spec	body		wire.Spec	true	"the spec"
//	@Success		200		{object}	wire.Serve
//	@Router			/v1/serves [post]
func (s *server) postServe(c echo.Context) error {
	q := readQuery(c, "as_of", "detail")
	rd, err := s.read(c, q)
	if err != nil {
		return err
	}
	sp, err := s.readUnsaved(c, rd.book)
	if err != nil {
		return err
	}
	out, err := rd.serve(&sp)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, out)
}

// readUnsaved reads a spec that will not be stored. What the server gave to a
// stored one may stand in it and means nothing.
func (s *server) readUnsaved(c echo.Context, book *recipe.Book) (recipe.Spec, error) {
	text, err := readBody(c, mediaJSON)
	if err != nil {
		return recipe.Spec{}, err
	}
	var in wire.Spec
	report, err := wire.Decode(text, &in)
	if err != nil {
		return recipe.Spec{}, err
	}
	sp, err := in.Translate(in.Stored, &wire.Env{Find: wire.InBook(book), NewID: s.newID}, book.House(), report)
	if err != nil {
		return recipe.Spec{}, err
	}
	return sp, report.Err()
}
