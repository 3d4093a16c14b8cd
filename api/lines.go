package api

import (
	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain/recipe"
)

// lines says how the lines of a spec are kept.
func (s *server) lines() *part[recipe.Spec, wire.Spec, *wire.Spec, recipe.Line, wire.SpecLine] {
	return &part[recipe.Spec, wire.Spec, *wire.Spec, recipe.Line, wire.SpecLine]{
		sh: s.specs, word: "line", steps: "/lines",
		list:  func(sp *recipe.Spec) *[]recipe.Line { return &sp.Lines },
		id:    func(l *recipe.Line) *recipe.ID { return &l.ID },
		valid: (*recipe.Spec).Valid,
		write: wire.FromSpecLine,
		read:  (*wire.SpecLine).Line,
	}
}

// packs says how the packs of a component are kept.
func (s *server) packs() *part[recipe.Component, wire.Component, *wire.Component, recipe.Pack, wire.Pack] {
	return &part[recipe.Component, wire.Component, *wire.Component, recipe.Pack, wire.Pack]{
		sh: s.components, word: "pack", steps: "/packs",
		list:  func(c *recipe.Component) *[]recipe.Pack { return &c.Packs },
		id:    func(p *recipe.Pack) *recipe.ID { return &p.ID },
		valid: (*recipe.Component).Valid,
		write: func(p *recipe.Pack, _ wire.Lookup) wire.Pack { return wire.FromPack(p) },
		read:  (*wire.Pack).Pack,
	}
}

// addLine appends a line to a spec.
//
//	@Summary		Add a line to a spec
//	@Description	The line goes behind the last one. Nobody's edit of another line is lost.
//	@ID				addLine
//	@Tags			specs
//	@Accept			json
//	@Param			id		path		string			true	"id, or code:C-104"	example(code:C-104)
//	@Param			line	body		wire.SpecLine	true	"the line"
//	@Success		201		{object}	wire.SpecLine
//	@Header			201		{string}	Location	"address of the line"
//	@Header			201		{string}	ETag		"strong validator for If-Match"
//	@Router			/v1/specs/{id}/lines [post]
func (s *server) addLine(c echo.Context) error { return s.lines().answerAdd(c) }

// getLine answers one line of a spec.
//
//	@Summary	Read a line of a spec
//	@Description	By itself, with an ETag of its own.
//	@ID			getLine
//	@Tags		specs
//	@Param		id		path		string	true	"id, or code:C-104"	example(code:C-104)
//	@Param		line_id	path		string	true	"id of the line"	example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b22)
//	@Success	200		{object}	wire.SpecLine
//	@Header		200		{string}	ETag	"strong validator for If-Match; edits of other lines leave it as it is"
//	@Router		/v1/specs/{id}/lines/{line_id} [get]
func (s *server) getLine(c echo.Context) error { return s.lines().answerGet(c) }

// putLine replaces one line of a spec.
//
//	@Summary		Replace a line of a spec
//	@Description	Writes a new revision of the spec; the other lines stay as they are.
//	@ID				putLine
//	@Tags			specs
//	@Accept			json
//	@Param			id			path		string			true	"id, or code:C-104"	example(code:C-104)
//	@Param			line_id		path		string			true	"id of the line"	example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b22)
//	@Param			If-Match	header		string			true	"ETag of the line that was read"
//	@Param			line		body		wire.SpecLine	true	"the whole line"
//	@Success		200			{object}	wire.SpecLine
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/specs/{id}/lines/{line_id} [put]
func (s *server) putLine(c echo.Context) error { return s.lines().answerPut(c) }

// patchLine merges into one line of a spec.
//
//	@Summary		Change part of a line of a spec
//	@Description	JSON Merge Patch (RFC 7396): null removes a member.
//	@ID				patchLine
//	@Tags			specs
//	@Accept			application/merge-patch+json
//	@Param			id			path		string	true	"id, or code:C-104"	example(code:C-104)
//	@Param			line_id		path		string	true	"id of the line"	example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b22)
//	@Param			If-Match	header		string	true	"ETag of the line that was read"
//	@Param			patch		body		object	true	"the members to change"
//	@Success		200			{object}	wire.SpecLine
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/specs/{id}/lines/{line_id} [patch]
func (s *server) patchLine(c echo.Context) error { return s.lines().answerPatch(c) }

// deleteLine takes a line out of a spec.
//
//	@Summary		Take a line out of a spec
//	@Description	A spec keeps at least one line.
//	@ID				deleteLine
//	@Tags			specs
//	@Param			id			path	string	true	"id, or code:C-104"	example(code:C-104)
//	@Param			line_id		path	string	true	"id of the line"	example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b22)
//	@Param			If-Match	header	string	true	"ETag of the line that was read"
//	@Success		204
//	@Router			/v1/specs/{id}/lines/{line_id} [delete]
func (s *server) deleteLine(c echo.Context) error { return s.lines().answerDelete(c) }

// addPack appends a pack to a component.
//
//	@Summary		Add a pack to a component
//	@Description	A new price is a new pack with the day it is in force from; the old ones stay, so that earlier days keep their cost.
//	@ID				addPack
//	@Tags			components
//	@Accept			json
//	@Param			id		path		string		true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param			pack	body		wire.Pack	true	"the pack"
//	@Success		201		{object}	wire.Pack
//	@Header			201		{string}	Location	"address of the pack"
//	@Header			201		{string}	ETag		"strong validator for If-Match"
//	@Router			/v1/components/{id}/packs [post]
func (s *server) addPack(c echo.Context) error { return s.packs().answerAdd(c) }

// getPack answers one pack of a component.
//
//	@Summary	Read a pack of a component
//	@Description	By itself, with an ETag of its own.
//	@ID			getPack
//	@Tags		components
//	@Param		id		path		string	true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param		pack_id	path		string	true	"id of the pack"		example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b23)
//	@Success	200		{object}	wire.Pack
//	@Header		200		{string}	ETag	"strong validator for If-Match; edits of other packs leave it as it is"
//	@Router		/v1/components/{id}/packs/{pack_id} [get]
func (s *server) getPack(c echo.Context) error { return s.packs().answerGet(c) }

// putPack replaces one pack of a component.
//
//	@Summary		Replace a pack of a component
//	@Description	Writes a new revision of the component; the other packs stay as they are.
//	@ID				putPack
//	@Tags			components
//	@Accept			json
//	@Param			id			path		string		true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param			pack_id		path		string		true	"id of the pack"		example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b23)
//	@Param			If-Match	header		string		true	"ETag of the pack that was read"
//	@Param			pack		body		wire.Pack	true	"the whole pack"
//	@Success		200			{object}	wire.Pack
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/components/{id}/packs/{pack_id} [put]
func (s *server) putPack(c echo.Context) error { return s.packs().answerPut(c) }

// patchPack merges into one pack of a component.
//
//	@Summary		Change part of a pack of a component
//	@Description	JSON Merge Patch (RFC 7396): null removes a member.
//	@ID				patchPack
//	@Tags			components
//	@Accept			application/merge-patch+json
//	@Param			id			path		string	true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param			pack_id		path		string	true	"id of the pack"		example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b23)
//	@Param			If-Match	header		string	true	"ETag of the pack that was read"
//	@Param			patch		body		object	true	"the members to change"
//	@Success		200			{object}	wire.Pack
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/components/{id}/packs/{pack_id} [patch]
func (s *server) patchPack(c echo.Context) error { return s.packs().answerPatch(c) }

// deletePack takes a pack out of a component.
//
//	@Summary	Take a pack out of a component
//	@Description	The other packs stay as they are; days that only this one priced lose their cost.
//	@ID			deletePack
//	@Tags		components
//	@Param		id			path	string	true	"id, or code:RUM-DARK"	example(code:RUM-DARK)
//	@Param		pack_id		path	string	true	"id of the pack"		example(0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b23)
//	@Param		If-Match	header	string	true	"ETag of the pack that was read"
//	@Success	204
//	@Router		/v1/components/{id}/packs/{pack_id} [delete]
func (s *server) deletePack(c echo.Context) error { return s.packs().answerDelete(c) }
