package api

import (
	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain/chill"
	"servewright/domain/recipe"
)

// specShelf says how specs are kept.
func (s *server) specShelf() *shelf[recipe.Spec, wire.Spec, *wire.Spec] {
	return &shelf[recipe.Spec, wire.Spec, *wire.Spec]{
		s: s, kind: "spec", path: "/v1/specs/",
		byCode: s.store.SpecID, get: s.store.Spec, list: s.store.Specs,
		revision: s.store.SpecRevision, revisions: s.store.SpecRevisions,
		add: s.store.AddSpec, edit: s.store.EditSpec, remove: s.store.DeleteSpec,
		write: wire.FromSpec,
		id:    func(sp *recipe.Spec) *recipe.ID { return &sp.ID },
		items: func(sp *recipe.Spec) []recipe.ID { return wire.LineIDs(sp.Lines) },
	}
}

// listSpecs lists specs by name.
//
//	@Summary		List specs
//	@Description	Ordered by name. Filters narrow the list together; a page ends with next_cursor and a Link header while there is more.
//	@ID				listSpecs
//	@Tags			specs
//	@Param			name		query		string	false	"part of the name; case and accents do not count"	example(lamp)
//	@Param			category	query		string	false	"the house's own word, exactly"						example(sour)
//	@Param			method		query		string	false	"how it is made"									Enums(shake, dry_shake, short_shake, stir, build, highball, roll, throw, swizzle, blend, carbonate, none)
//	@Param			code		query		string	false	"the house code, exactly"							example(C-104)
//	@Param			limit		query		int		false	"most items of a page; above 200 counts as 200"		default(50)	minimum(1)
//	@Param			cursor		query		string	false	"next_cursor of the page before"
//	@Success		200			{object}	wire.Page[wire.Spec]
//	@Header			200			{string}	Link	"the next page, rel=next"
//	@Header			200			{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/specs [get]
func (s *server) listSpecs(c echo.Context) error {
	q := readQuery(c, "name", "category", "method", "code", "limit", "cursor")
	return s.specs.answerList(c, q, recipe.Filter{
		Name: q.text("name"), Category: q.text("category"), Code: q.text("code"),
		Method: q.word("method", words(chill.Methods)...),
	})
}

// addSpec stores a new spec.
//
//	@Summary		Create a spec
//	@Description	A spec is a drink's recipe. Its lines point at components by id or as code:RUM-DARK.
//	@ID				addSpec
//	@Tags			specs
//	@Accept			json
//	@Param			spec	body		wire.Spec	true	"the spec"
//	@Success		201		{object}	wire.Spec
//	@Header			201		{string}	Location	"address of the spec"
//	@Header			201		{string}	ETag		"strong validator for If-Match"
//	@Router			/v1/specs [post]
func (s *server) addSpec(c echo.Context) error { return s.specs.answerAdd(c) }

// getSpec answers one spec.
//
//	@Summary		Read a spec
//	@Description	As it was written, with ids for its lines and the ETag that an edit has to send.
//	@ID				getSpec
//	@Tags			specs
//	@Param			id	path		string	true	"id, or code:C-104"	example(code:C-104)
//	@Success		200	{object}	wire.Spec
//	@Header			200	{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/specs/{id} [get]
func (s *server) getSpec(c echo.Context) error { return s.specs.answerGet(c) }

// putSpec replaces a spec.
//
//	@Summary		Replace a spec
//	@Description	Writes a new revision; the old one stays readable. What is left out is no longer said. Lines that are sent with their id keep it.
//	@ID				putSpec
//	@Tags			specs
//	@Accept			json
//	@Param			id			path		string		true	"id, or code:C-104"	example(code:C-104)
//	@Param			If-Match	header		string		true	"ETag of what was read"
//	@Param			spec		body		wire.Spec	true	"the whole spec"
//	@Success		200			{object}	wire.Spec
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/specs/{id} [put]
func (s *server) putSpec(c echo.Context) error { return s.specs.answerPut(c) }

// patchSpec merges into a spec.
//
//	@Summary		Change part of a spec
//	@Description	JSON Merge Patch (RFC 7396): null removes a member, arrays are replaced whole; a single line has an address of its own.
//	@ID				patchSpec
//	@Tags			specs
//	@Accept			application/merge-patch+json
//	@Param			id			path		string	true	"id, or code:C-104"	example(code:C-104)
//	@Param			If-Match	header		string	true	"ETag of what was read"
//	@Param			patch		body		object	true	"the members to change"
//	@Success		200			{object}	wire.Spec
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/specs/{id} [patch]
func (s *server) patchSpec(c echo.Context) error { return s.specs.answerPatch(c) }

// deleteSpec deletes a spec.
//
//	@Summary		Delete a spec
//	@Description	Its revisions stay readable by its id.
//	@ID				deleteSpec
//	@Tags			specs
//	@Param			id			path	string	true	"id, or code:C-104"	example(code:C-104)
//	@Param			If-Match	header	string	true	"ETag of what was read"
//	@Success		204
//	@Router			/v1/specs/{id} [delete]
func (s *server) deleteSpec(c echo.Context) error { return s.specs.answerDelete(c) }

// listSpecRevisions lists what a spec was.
//
//	@Summary		List the revisions of a spec
//	@Description	Newest first; those of a deleted spec too, by its id.
//	@ID				listSpecRevisions
//	@Tags			specs
//	@Param			id		path		string	true	"id, or code:C-104"								example(code:C-104)
//	@Param			limit	query		int		false	"most items of a page; above 200 counts as 200"	default(50)	minimum(1)
//	@Param			cursor	query		string	false	"next_cursor of the page before"
//	@Success		200		{object}	wire.Page[wire.Spec]
//	@Header			200		{string}	Link	"the next page, rel=next"
//	@Header			200		{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/specs/{id}/revisions [get]
func (s *server) listSpecRevisions(c echo.Context) error { return s.specs.answerRevisions(c) }

// getSpecRevision answers what a spec was.
//
//	@Summary		Read one revision of a spec
//	@Description	As it was written then. Lines name the components that they point at as those are called today.
//	@ID				getSpecRevision
//	@Tags			specs
//	@Param			id		path		string	true	"id, or code:C-104"			example(code:C-104)
//	@Param			number	path		int		true	"number of the revision"	example(1)
//	@Success		200		{object}	wire.Spec
//	@Header			200		{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/specs/{id}/revisions/{number} [get]
func (s *server) getSpecRevision(c echo.Context) error { return s.specs.answerRevision(c) }
