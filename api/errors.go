package api

import (
	"context"
	"errors"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"servewright/api/problem"
)

// statusClientGone is logged for a request whose client did not wait; nothing is
// answered. The number is a convention of log readers, not a status of HTTP.
const statusClientGone = 499

// answerError is the one place where a failure becomes an answer and where a
// failure of the server is logged.
func (s *server) answerError(err error, c echo.Context) {
	if clientGone(err, c) {
		c.Response().Status = statusClientGone
		return
	}
	if c.Response().Committed { // too late to say anything
		s.logFailure(c, err)
		return
	}
	doc, expected := document(err)
	if !expected {
		s.logFailure(c, err)
	}
	doc.RequestID = c.Response().Header().Get(echo.HeaderXRequestID)
	h := c.Response().Header()
	if wait := doc.RetryAfter(); wait > 0 {
		h.Set(echo.HeaderRetryAfter, strconv.Itoa(wait))
	}
	if doc.Status != http.StatusPreconditionFailed { // there it tells the current one
		h.Del("ETag")
	}
	h.Del(echo.HeaderLocation)
	h.Set(echo.HeaderCacheControl, "no-store")
	if err := doc.Write(c.Response()); err != nil {
		s.log.Debug("problem not sent", "error", err)
	}
}

// document also knows the errors that Echo makes before any handler runs.
func document(err error) (doc *problem.Document, expected bool) {
	var refused *echo.HTTPError
	if !errors.As(err, &refused) {
		return problem.Of(err)
	}
	doc = problem.OfStatus(refused.Code)
	if text, ok := refused.Message.(string); ok && text != http.StatusText(refused.Code) && doc.Detail == "" && refused.Code < http.StatusInternalServerError {
		doc.Detail = text
	}
	return doc, refused.Code < http.StatusInternalServerError
}

// clientGone reports whether the client hung up and that is why there is no
// answer. A deadline that the server set is not that.
func clientGone(err error, c echo.Context) bool {
	return errors.Is(c.Request().Context().Err(), context.Canceled) && (errors.Is(err, context.Canceled) || !known(err))
}

func (s *server) logFailure(c echo.Context, err error) {
	s.log.Error("request failed", "error", err.Error(), "method", c.Request().Method, "route", c.Path(),
		"request_id", c.Response().Header().Get(echo.HeaderXRequestID))
}
