// Package api serves the house over HTTP: JSON under /v1, problem documents for
// everything that is refused.
//
// A handler loads one consistent [recipe.Book], calls one function of the
// domain, and translates the answer; no number is computed here. It declares the
// [Store] that it needs. Bodies and their translation are in wire, failures in
// problem, pages in page.
package api

import (
	"log/slog"
	"net/http"
	"time"
	_ "time/tzdata" // time zones are read by name; a small machine may hold none

	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain/recipe"
)

// Limits of one request.
const (
	maxBody        = 1 << 20          // bytes of a body, counted after decompression
	defaultTimeout = 20 * time.Second // for the whole of one answer
)

// server holds what every handler needs. It keeps no state of its own.
type server struct {
	store   Store
	log     *slog.Logger
	now     func() time.Time
	newID   func() recipe.ID
	timeout time.Duration

	document http.Handler // GET /openapi.json; nil = not served
	docs     http.Handler // GET /docs and what lies under it; nil = not served

	components *shelf[recipe.Component, wire.Component, *wire.Component]
	specs      *shelf[recipe.Spec, wire.Spec, *wire.Spec]
}

// Option sets what a server has beyond its store.
type Option func(*server)

// WithTimeout sets how long one answer may take.
func WithTimeout(d time.Duration) Option { return func(s *server) { s.timeout = d } }

// WithDocument serves the API's own description at /openapi.json.
func WithDocument(h http.Handler) Option { return func(s *server) { s.document = h } }

// WithDocs serves the documentation page at /docs and under /docs/.
func WithDocs(h http.Handler) Option { return func(s *server) { s.docs = h } }

// New returns the server of one house. now is the clock, newID makes the ids of
// what is created.
func New(store Store, log *slog.Logger, now func() time.Time, newID func() recipe.ID, opts ...Option) http.Handler {
	s := &server{store: store, log: log, now: now, newID: newID, timeout: defaultTimeout}
	for _, opt := range opts {
		opt(s)
	}
	s.components, s.specs = s.componentShelf(), s.specShelf()
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.IPExtractor = echo.ExtractIPDirect() // a header that anyone can send is not believed
	e.Binder = strictBinder{}
	e.Pre(decodedPath)
	e.HTTPErrorHandler = s.answerError
	s.use(e)
	s.route(e)
	return e
}

// decodedPath routes by the decoded path, so that code%3AX is code:X: many
// clients escape the colon. An escaped slash then parts segments, and no id or
// code has one.
func decodedPath(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Request().URL.RawPath = ""
		return next(c)
	}
}
