package api

import (
	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain/recipe"
)

// componentShelf says how components are kept.
func (s *server) componentShelf() *shelf[recipe.Component, wire.Component, *wire.Component] {
	return &shelf[recipe.Component, wire.Component, *wire.Component]{
		s: s, kind: "component", path: "/v1/components/",
		byCode: s.store.ComponentID, get: s.store.Component, list: s.store.Components,
		revision: s.store.ComponentRevision, revisions: s.store.ComponentRevisions,
		add: s.store.AddComponent, edit: s.store.EditComponent, remove: s.store.DeleteComponent,
		write: wire.FromComponent,
		id:    func(c *recipe.Component) *recipe.ID { return &c.ID },
		items: wire.ComponentIDs,
	}
}

// listComponents lists components by name.
//
//	@Summary		List components
//	@Description	Ordered by name. Filters narrow the list together; a page ends with next_cursor and a Link header while there is more.
//	@ID				listComponents
//	@Tags			components
//	@Param			name		query		string	false	"part of the name; case and accents do not count"	example(rum)
//	@Param			category	query		string	false	"category"											example(spirit)
//	@Param			kind		query		string	false	"where it comes from"								Enums(bought, house_made)
//	@Param			status		query		string	false	"whether it is offered"								Enums(active, delisted)
//	@Param			code		query		string	false	"the house code, exactly"							example(RUM-DARK)
//	@Param			limit		query		int		false	"most items of a page; above 200 counts as 200"		default(50)	minimum(1)
//	@Param			cursor		query		string	false	"next_cursor of the page before"
//	@Success		200			{object}	wire.Page[wire.Component]
//	@Header			200			{string}	Link	"the next page, rel=next"
//	@Header			200			{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/components [get]
func (s *server) listComponents(c echo.Context) error {
	q := readQuery(c, "name", "category", "kind", "status", "code", "limit", "cursor")
	return s.components.answerList(c, q, recipe.Filter{
		Name: q.text("name"), Code: q.text("code"),
		Category: q.word("category", words(recipe.Categories)...),
		Kind:     recipe.Kind(q.word("kind", string(recipe.Bought), string(recipe.HouseMade))),
		Status:   recipe.Status(q.word("status", string(recipe.Active), string(recipe.Delisted))),
	})
}

// addComponent stores a new component.
//
//	@Summary		Create a component
//	@Description	A bought component has a label and packs; a house-made one has a recipe whose lines point at other components by id or as code:RUM-DARK.
//	@ID				addComponent
//	@Tags			components
//	@Accept			json
//	@Param			component	body		wire.Component	true	"the component"
//	@Success		201			{object}	wire.Component
//	@Header			201			{string}	Location	"address of the component"
//	@Header			201			{string}	ETag		"strong validator for If-Match"
//	@Router			/v1/components [post]
func (s *server) addComponent(c echo.Context) error { return s.components.answerAdd(c) }

// getComponent answers one component.
//
//	@Summary		Read a component
//	@Description	As it was written, with ids for its lines and packs and the ETag that an edit has to send.
//	@ID				getComponent
//	@Tags			components
//	@Param			id	path		string	true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Success		200	{object}	wire.Component
//	@Header			200	{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/components/{id} [get]
func (s *server) getComponent(c echo.Context) error { return s.components.answerGet(c) }

// putComponent replaces a component.
//
//	@Summary		Replace a component
//	@Description	Writes a new revision; the old one stays readable. What is left out is no longer said. Lines and packs that are sent with their id keep it.
//	@ID				putComponent
//	@Tags			components
//	@Accept			json
//	@Param			id			path		string			true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param			If-Match	header		string			true	"ETag of what was read"
//	@Param			component	body		wire.Component	true	"the whole component"
//	@Success		200			{object}	wire.Component
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/components/{id} [put]
func (s *server) putComponent(c echo.Context) error { return s.components.answerPut(c) }

// patchComponent merges into a component.
//
//	@Summary		Change part of a component
//	@Description	JSON Merge Patch (RFC 7396): null removes a member, arrays are replaced whole. Delist with {"status": "delisted"}.
//	@ID				patchComponent
//	@Tags			components
//	@Accept			application/merge-patch+json
//	@Param			id			path		string	true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param			If-Match	header		string	true	"ETag of what was read"
//	@Param			patch		body		object	true	"the members to change"
//	@Success		200			{object}	wire.Component
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/components/{id} [patch]
func (s *server) patchComponent(c echo.Context) error { return s.components.answerPatch(c) }

// deleteComponent deletes a component.
//
//	@Summary		Delete a component
//	@Description	Refused with 409 while a recipe or spec points at it; users names them. Its revisions stay readable.
//	@ID				deleteComponent
//	@Tags			components
//	@Param			id			path	string	true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param			If-Match	header	string	true	"ETag of what was read"
//	@Success		204
//	@Router			/v1/components/{id} [delete]
func (s *server) deleteComponent(c echo.Context) error { return s.components.answerDelete(c) }

// listComponentRevisions lists what a component was.
//
//	@Summary		List the revisions of a component
//	@Description	Newest first; those of a deleted component too, by its id.
//	@ID				listComponentRevisions
//	@Tags			components
//	@Param			id		path		string	true	"id, or code:RUM-DARK"							example(code:RUM-DARK)
//	@Param			limit	query		int		false	"most items of a page; above 200 counts as 200"	default(50)	minimum(1)
//	@Param			cursor	query		string	false	"next_cursor of the page before"
//	@Success		200		{object}	wire.Page[wire.Component]
//	@Header			200		{string}	Link	"the next page, rel=next"
//	@Header			200		{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/components/{id}/revisions [get]
func (s *server) listComponentRevisions(c echo.Context) error { return s.components.answerRevisions(c) }

// getComponentRevision answers what a component was.
//
//	@Summary		Read one revision of a component
//	@Description	As it was written then. Lines name the components that they point at as those are called today.
//	@ID				getComponentRevision
//	@Tags			components
//	@Param			id		path		string	true	"id, or code:RUM-DARK"		example(code:RUM-DARK)
//	@Param			number	path		int		true	"number of the revision"	example(1)
//	@Success		200		{object}	wire.Component
//	@Header			200		{string}	ETag	"validator for If-None-Match"
//	@Router			/v1/components/{id}/revisions/{number} [get]
func (s *server) getComponentRevision(c echo.Context) error { return s.components.answerRevision(c) }
