package api

import (
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"servewright/api/problem"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// Limits of a page.
const (
	defaultLimit = 50
	maxLimit     = 200
	maxQueryText = 200 // characters of one value
)

// query reads the query parameters of one request and gathers what is wrong
// with them.
type query struct {
	values url.Values
	bad    problem.Misplaced
}

// readQuery takes the named parameters and refuses every other, because a
// filter that is misspelt must not be passed over.
func readQuery(c echo.Context, names ...string) *query {
	q := &query{}
	values, err := url.ParseQuery(c.Request().URL.RawQuery)
	if err != nil {
		q.bad.Parameter("", "BAD_QUERY", "the query is not well formed: %s", clip(err.Error()))
	}
	q.values = values
	for _, name := range sortedKeys(values) {
		switch {
		case !slices.Contains(names, name):
			q.bad.Parameter(clip(name), "UNKNOWN_PARAMETER", "there is no parameter %q here; %s", clip(name), taken(names))
		case len(values[name]) > 1:
			q.bad.Parameter(name, "TWICE", "%s stands %d times; send it once", name, len(values[name]))
		case utf8.RuneCountInString(values.Get(name)) > maxQueryText && name != "cursor":
			q.bad.Parameter(name, "TOO_LONG", "at most %d characters", maxQueryText)
		case !utf8.ValidString(values.Get(name)) || strings.ContainsRune(values.Get(name), 0):
			q.bad.Parameter(name, "BAD_TEXT", "must be UTF-8 text without control characters")
		}
	}
	return q
}

func taken(names []string) string {
	if len(names) == 0 {
		return "this address takes none"
	}
	return "this address takes " + strings.Join(names, ", ")
}

func sortedKeys(v url.Values) []string {
	keys := make([]string, 0, len(v))
	for k := range v {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func (q *query) text(name string) string { return q.values.Get(name) }

// word reads one of a closed list of words; "" when it was not sent.
func (q *query) word(name string, words ...string) string {
	s := q.values.Get(name)
	if s != "" && !slices.Contains(words, s) {
		q.bad.Parameter(name, "UNKNOWN_VALUE", "%q is not taken here; use one of %s", clip(s), strings.Join(words, ", "))
	}
	return s
}

// count reads a whole number of at least 1, or returns fallback.
func (q *query) count(name string, fallback int) int {
	s := q.values.Get(name)
	if !q.values.Has(name) {
		return fallback
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 {
		q.bad.Parameter(name, "OUT_OF_RANGE", "%s is a whole number of at least 1, not %q", name, clip(s))
	}
	return n
}

// limit reads the size of a page; one above the largest is the largest.
func (q *query) limit() int { return min(q.count("limit", defaultLimit), maxLimit) }

// date reads a date; without it, today in the house's time zone.
func (q *query) date(name string, now time.Time, h *recipe.House) measure.Date {
	if !q.values.Has(name) {
		return today(now, h)
	}
	d, err := measure.ParseDate(q.values.Get(name))
	if err != nil {
		q.bad.Parameter(name, "BAD_DATE", "%s", err)
	}
	return d
}

// today is the civil date of the house.
func today(now time.Time, h *recipe.House) measure.Date { return measure.DateIn(now, zoneOf(h)) }

// endOf is the moment at which a date of the house is over.
func endOf(d measure.Date, h *recipe.House) time.Time {
	start, err := time.ParseInLocation(time.DateOnly, string(d), zoneOf(h))
	if err != nil { // a Date has been read before
		return time.Time{}
	}
	return start.AddDate(0, 0, 1)
}

// zoneOf is the house's time zone, checked when it was written.
func zoneOf(h *recipe.House) *time.Location {
	zone, err := time.LoadLocation(h.TimeZone)
	if err != nil {
		return time.UTC
	}
	return zone
}

func (q *query) err() error { return q.bad.Err() }
