package repo

import (
	"context"
	"testing"

	"github.com/jmoiron/sqlx"

	"servewright/domain/recipe"
)

// MigrateDown takes every step back. Only tests do that.
func (db *DB) MigrateDown(ctx context.Context) error {
	p, err := db.provider()
	if err != nil {
		return err
	}
	_, err = p.DownTo(ctx, 0)
	return err
}

// ExecWrite runs a statement on the connection that writes.
func (db *DB) ExecWrite(ctx context.Context, statement string) error {
	_, err := db.write.ExecContext(ctx, statement)
	return err
}

// Connections takes every connection of the writing and the reading pool, and
// returns them when the test ends.
func (db *DB) Connections(ctx context.Context, t testing.TB) map[string][]*sqlx.Conn {
	out := map[string][]*sqlx.Conn{}
	for name, p := range map[string]*pool{"write": db.write, "read": db.read} {
		for range p.Stats().MaxOpenConnections {
			c, err := p.Connx(ctx)
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { c.Close() })
			out[name] = append(out[name], c)
		}
	}
	return out
}

// Queries are the statements that read.
var Queries = map[string]string{
	"counter": counterQuery, "head": headQuery, "code": codeQuery, "list": listQuery, "revision": revisionQuery,
	"revisions": revisionsQuery, "state": stateQuery, "before": beforeQuery,
}

// ID is the store's org.
func (s *Store) ID() recipe.ID { return s.org }

// Fold is the key that lists sort by.
func Fold(s string) string { return fold(s) }
