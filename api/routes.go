package api

import (
	"net/http"

	"github.com/labstack/echo/v4"
)

// route is the table of all addresses.
func (s *server) route(e *echo.Echo) {
	get := func(path string, h echo.HandlerFunc) {
		e.GET(path, h)
		e.HEAD(path, h) // net/http leaves the body out
	}
	get("/livez", s.livez)
	get("/readyz", s.readyz)
	get("/problems/:name", s.explainProblem)
	s.routePages(get)

	get("/v1/house", s.getHouse)
	e.PUT("/v1/house", s.putHouse)
	e.PATCH("/v1/house", s.patchHouse)

	get("/v1/components", s.listComponents)
	e.POST("/v1/components", s.addComponent)
	get("/v1/components/:id", s.getComponent)
	e.PUT("/v1/components/:id", s.putComponent)
	e.PATCH("/v1/components/:id", s.patchComponent)
	e.DELETE("/v1/components/:id", s.deleteComponent)
	get("/v1/components/:id/profile", s.getProfile)
	get("/v1/components/:id/uses", s.getUses)
	get("/v1/components/:id/revisions", s.listComponentRevisions)
	get("/v1/components/:id/revisions/:number", s.getComponentRevision)

	e.POST("/v1/components/:id/packs", s.addPack)
	get("/v1/components/:id/packs/:pack_id", s.getPack)
	e.PUT("/v1/components/:id/packs/:pack_id", s.putPack)
	e.PATCH("/v1/components/:id/packs/:pack_id", s.patchPack)
	e.DELETE("/v1/components/:id/packs/:pack_id", s.deletePack)

	get("/v1/specs", s.listSpecs)
	e.POST("/v1/specs", s.addSpec)
	get("/v1/specs/:id", s.getSpec)
	e.PUT("/v1/specs/:id", s.putSpec)
	e.PATCH("/v1/specs/:id", s.patchSpec)
	e.DELETE("/v1/specs/:id", s.deleteSpec)
	get("/v1/specs/:id/serve", s.getServe)
	get("/v1/specs/:id/revisions", s.listSpecRevisions)
	get("/v1/specs/:id/revisions/:number", s.getSpecRevision)
	e.POST("/v1/specs/:id/lines", s.addLine)
	get("/v1/specs/:id/lines/:line_id", s.getLine)
	e.PUT("/v1/specs/:id/lines/:line_id", s.putLine)
	e.PATCH("/v1/specs/:id/lines/:line_id", s.patchLine)
	e.DELETE("/v1/specs/:id/lines/:line_id", s.deleteLine)

	e.POST("/v1/serves", s.postServe)
	e.POST("/v1/swaps", s.postSwap)
}

// routePages serves what was handed in as options.
func (s *server) routePages(get func(string, echo.HandlerFunc)) {
	if s.document != nil {
		get("/openapi.json", echo.WrapHandler(s.document))
	}
	if s.docs != nil {
		get("/docs", func(c echo.Context) error { return c.Redirect(http.StatusMovedPermanently, "/docs/") })
		get("/docs/*", echo.WrapHandler(s.docs))
	}
}
