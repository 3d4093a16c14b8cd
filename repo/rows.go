package repo

import (
	"errors"
	"strings"
	"time"
	"unicode/utf8"

	"servewright/domain"
	"servewright/domain/recipe"
)

// queries are the statements prepared once for each connection.
var queries = []string{
	takeCounter, headQuery, codeQuery, listQuery, revisionQuery, revisionsQuery, stateQuery, beforeQuery,
	insertRevision, putHead, freeCode,
}

const counterQuery = `SELECT counter FROM org WHERE org_id = $1`

const takeCounter = `UPDATE org SET counter = counter + 1 WHERE org_id = $1 RETURNING counter`

// revisionRow is a stored revision.
type revisionRow struct {
	Type      string
	ID        recipe.ID
	Number    int
	Stamp     int64
	WrittenAt int64 `db:"written_at"` // µs
	Deleted   bool
	Body      string
}

func (r *revisionRow) revision() recipe.Revision {
	return recipe.Revision{Number: r.Number, Stamp: r.Stamp, At: time.UnixMicro(r.WrittenAt).UTC(), Deleted: r.Deleted}
}

const headQuery = `
SELECT r.type, r.id, r.number, r.stamp, r.written_at, r.deleted, r.body
FROM head h
JOIN revision r ON r.org_id = h.org_id AND r.type = h.type AND r.id = h.id AND r.number = h.number
WHERE h.org_id = $1 AND h.type = $2 AND h.id = $3`

const codeQuery = `SELECT id FROM head WHERE org_id = $1 AND type = $2 AND code = $3`

const revisionQuery = `
SELECT type, id, number, stamp, written_at, deleted, body
FROM revision
WHERE org_id = $1 AND type = $2 AND id = $3 AND number = $4`

const revisionsQuery = `
SELECT type, id, number, stamp, written_at, deleted, body
FROM revision
WHERE org_id = $1 AND type = $2 AND id = $3 AND number < $4
ORDER BY number DESC
LIMIT $5`

// beforeQuery reads the newest revision of a thing written before time $4, µs.
const beforeQuery = `
SELECT type, id, number, stamp, written_at, deleted, body
FROM revision
WHERE org_id = $1 AND type = $2 AND id = $3 AND written_at < $4
ORDER BY number DESC
LIMIT 1`

// stateQuery reads what changed after counter $2, as it stood at counter $3:
// of each thing the newest revision up to $3. Numbers have no gaps, so a
// revision was the newest until the one with the next number came. In no
// order: the Book has its own.
const stateQuery = `
SELECT r.type, r.id, r.number, r.stamp, r.written_at, r.deleted, r.body
FROM revision r
LEFT JOIN revision n ON n.org_id = r.org_id AND n.type = r.type AND n.id = r.id AND n.number = r.number + 1
WHERE r.org_id = $1 AND r.stamp > $2 AND r.stamp <= $3 AND (n.stamp IS NULL OR n.stamp > $3)`

// listRow is a stored thing in a list.
type listRow struct {
	revisionRow
	SortKey string `db:"sort_key"`
}

// listQuery finds the page first, in an index, and then reads its bodies.
const listQuery = `
SELECT r.type, r.id, r.number, r.stamp, r.written_at, r.deleted, r.body, h.sort_key
FROM (
  SELECT org_id, type, id, number, sort_key
  FROM head
  WHERE org_id = $1 AND type = $2 AND NOT deleted
    AND (sort_key, id) > ($3, $4)
    AND sort_key LIKE $5 ESCAPE '\'
    AND ($6 = '' OR category = $6)
    AND ($7 = '' OR kind = $7)
    AND ($8 = '' OR status = $8)
    AND ($9 = '' OR method = $9)
    AND ($10 = '' OR code = $10)
  ORDER BY sort_key, id
  LIMIT $11
) h
JOIN revision r ON r.org_id = h.org_id AND r.type = h.type AND r.id = h.id AND r.number = h.number
ORDER BY h.sort_key, h.id`

// filterArgs returns the arguments of listQuery. What cannot be stored is
// malformed in a position, which is made here, and matches nothing in a filter.
func filterArgs(org recipe.ID, word string, f recipe.Filter, limit int) ([]any, error) {
	if f.After.ID != "" && !isID(f.After.ID) || !isText(f.After.Key) {
		return nil, domain.Errorf(domain.Malformed, "this is no place in the list; start again from its first page")
	}
	after := f.After.ID
	if after == "" {
		after = nobody
	}
	args := []any{org, word, f.After.Key, after, likeAnywhere(fold(f.Name))}
	for _, exact := range []string{f.Category, string(f.Kind), string(f.Status), f.Method, f.Code} {
		if !isText(exact) {
			exact = "\uFFFD" // no such word is ever stored
		}
		args = append(args, exact)
	}
	return append(args, limit), nil
}

// nobody is the id before all others.
const nobody recipe.ID = "00000000-0000-0000-0000-000000000000"

// storable returns id, or the id of nothing when it is no id at all:
// PostgreSQL would refuse the query.
func storable(id recipe.ID) recipe.ID {
	if !isID(id) {
		return nobody
	}
	return id
}

// isText reports whether both engines can hold s.
func isText(s string) bool { return utf8.ValidString(s) && !strings.ContainsRune(s, 0) }

func clampLimit(n int) int {
	const most = 200
	if n <= 0 {
		return most
	}
	return min(n, most)
}

// facets are what lists search and sort by.
type facets struct {
	Code, SortKey, Category, Kind, Status, Method string
}

func componentFacets(c *recipe.Component) facets {
	return facets{Code: c.Code, SortKey: fold(c.Name), Category: string(c.Category), Kind: string(c.Kind), Status: string(c.Status)}
}

func specFacets(s *recipe.Spec) facets {
	return facets{Code: s.Code, SortKey: fold(s.Name), Category: s.Category, Method: string(s.Method)}
}

const insertRevision = `
INSERT INTO revision (org_id, type, id, number, stamp, written_at, deleted, body)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`

const putHead = `
INSERT INTO head (org_id, type, id, number, deleted, code, sort_key, category, kind, status, method)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)
ON CONFLICT (org_id, type, id) DO UPDATE SET
  number = excluded.number, deleted = excluded.deleted, code = excluded.code, sort_key = excluded.sort_key,
  category = excluded.category, kind = excluded.kind, status = excluded.status, method = excluded.method`

const freeCode = `UPDATE head SET code = NULL WHERE org_id = $1 AND type = $2 AND id = $3`

func isNotFound(err error) bool { return errors.Is(err, domain.NotFound) }
