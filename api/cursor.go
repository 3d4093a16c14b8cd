package api

import (
	"encoding/base64"
	"encoding/json"
	"net/url"

	"github.com/labstack/echo/v4"
)

// cursor is a place in a list: where the next page starts, and of which list. It
// is opaque to clients and no authorisation; the check keeps one that was
// altered, or that belongs to another filter, from being taken for a place.
type cursor struct {
	List  string `json:"l"`           // hash of path and filters
	Key   string `json:"k,omitempty"` // after this folded name
	ID    string `json:"i,omitempty"` // and this id
	Below int    `json:"n,omitempty"` // below this number: revisions
	Check string `json:"c"`           // hash of all of the above
}

// cursorVersion is part of the check: a change of what a cursor means makes
// older ones unreadable instead of misread.
const cursorVersion = "1"

// listHash names a list: the path and every parameter but the page's own.
func listHash(c echo.Context) string {
	filters := url.Values{}
	for name, values := range c.QueryParams() {
		if name != "cursor" && name != "limit" {
			filters[name] = values
		}
	}
	return shortHash([]byte(c.Request().URL.Path), []byte(filters.Encode()))
}

func (cur cursor) check() string {
	cur.Check = ""
	text, _ := json.Marshal(cur) // a struct of texts and a number always marshals
	return shortHash([]byte(cursorVersion), text)
}

func (cur cursor) String() string {
	cur.Check = cur.check()
	text, _ := json.Marshal(cur)
	return base64.RawURLEncoding.EncodeToString(text)
}

// cursor reads the parameter cursor; the zero cursor when there is none.
func (q *query) cursor(list string) cursor {
	s := q.values.Get("cursor")
	if s == "" {
		if q.values.Has("cursor") {
			q.bad.Parameter("cursor", "BAD_CURSOR", "cursor is empty; leave it out to start at the beginning")
		}
		return cursor{}
	}
	cur, ok := parseCursor(s)
	if !ok {
		q.bad.Parameter("cursor", "BAD_CURSOR", "the cursor is not one that this server gave out; start without it")
		return cursor{}
	}
	if cur.List != list {
		q.bad.Parameter("cursor", "OTHER_LIST", "the cursor belongs to another list or other filters; start without it")
		return cursor{}
	}
	return cur
}

// parseCursor reads a cursor back; what is not exactly one that was given out is
// not ok.
func parseCursor(s string) (cur cursor, ok bool) {
	text, err := base64.RawURLEncoding.Strict().DecodeString(s)
	if err != nil || json.Unmarshal(text, &cur) != nil || cur.Check != cur.check() || cur.String() != s {
		return cursor{}, false
	}
	return cur, true
}

// linkNext announces the next page (RFC 8288) and returns its cursor.
func linkNext(c echo.Context, cur cursor) *string {
	text := cur.String()
	query := c.Request().URL.Query()
	query.Set("cursor", text)
	next := url.URL{Path: c.Request().URL.Path, RawQuery: query.Encode()}
	c.Response().Header().Set("Link", "<"+next.String()+`>; rel="next"`)
	return &text
}
