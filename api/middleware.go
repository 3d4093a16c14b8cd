package api

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

// use installs what every request passes through, outermost first.
func (s *server) use(e *echo.Echo) {
	e.Use(s.secureHeaders, s.requestID, s.logRequest, s.deadline, s.recover)
}

// secureHeaders is the one place for headers that every answer carries. The
// documentation page sets a policy of its own, as it runs a script.
func (s *server) secureHeaders(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set(echo.HeaderContentSecurityPolicy, "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'")
		h.Set(echo.HeaderXContentTypeOptions, "nosniff")
		h.Set(echo.HeaderXFrameOptions, "DENY")
		h.Set(echo.HeaderReferrerPolicy, "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set(echo.HeaderCacheControl, "private, no-cache")
		h.Set(echo.HeaderVary, "Accept, Authorization")
		return next(c)
	}
}

// requestID gives every request a name to find it in the log by. A client may
// bring its own.
func (s *server) requestID(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		id := c.Request().Header.Get(echo.HeaderXRequestID)
		if !plainToken(id) {
			id = uuid.Must(uuid.NewV7()).String()
		}
		c.Response().Header().Set(echo.HeaderXRequestID, id)
		return next(c)
	}
}

// plainToken reports whether s can stand in a log and a header as it is.
func plainToken(s string) bool {
	for _, r := range s {
		if !(r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '-' || r == '_' || r == '.') {
			return false
		}
	}
	return s != "" && len(s) <= 64
}

// logRequest writes one line a request, after its answer.
func (s *server) logRequest(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		start := time.Now()
		if err := next(c); err != nil {
			c.Error(err)
		}
		req, res := c.Request(), c.Response()
		s.log.LogAttrs(context.WithoutCancel(req.Context()), slog.LevelInfo, "request",
			slog.String("method", req.Method), slog.String("path", req.URL.Path), slog.String("route", c.Path()),
			slog.Int("status", res.Status), slog.Int64("bytes", res.Size), slog.Duration("took", time.Since(start)),
			slog.String("request_id", res.Header().Get(echo.HeaderXRequestID)))
		return nil
	}
}

// recover answers a panic as a mistake of the server; the stack goes to the log.
func (s *server) recover(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			switch p := recover(); p {
			case nil:
			case http.ErrAbortHandler:
				panic(p)
			default:
				err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
			}
		}()
		return next(c)
	}
}

// deadline ends a request that takes too long, a body that trickles in included.
func (s *server) deadline(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		req := c.Request()
		ctx, cancel := context.WithTimeout(req.Context(), s.timeout)
		defer cancel()
		// A recorder in a test has no deadlines to set; a real connection has.
		_ = http.NewResponseController(c.Response()).SetReadDeadline(time.Now().Add(s.timeout))
		c.SetRequest(req.WithContext(ctx))
		err := next(c)
		c.SetRequest(req) // what comes after asks whether the client is there, not the deadline
		if err != nil && errors.Is(ctx.Err(), context.DeadlineExceeded) && !known(err) {
			return context.DeadlineExceeded
		}
		return err
	}
}

// known reports whether a failure says by itself how it is answered.
func known(err error) bool {
	_, ok := document(err)
	return ok
}
