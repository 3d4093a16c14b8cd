package repo_test

import (
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"servewright/domain"
	"servewright/domain/recipe"
	"servewright/repo"
	"servewright/repo/repotest"
)

// behind opens the database without the package, as the only house.
func behind(t *testing.T, e repotest.Engine, db repotest.Database) (raw *sql.DB, org string) {
	t.Helper()
	driver, _, _ := strings.Cut(e.Name, " ")
	raw, err := sql.Open(driver, db.DSN)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { raw.Close() })
	raw.SetMaxOpenConns(1)
	if err := raw.QueryRowContext(t.Context(), `SELECT org_id FROM org`).Scan(&org); err != nil {
		t.Fatal(err)
	}
	if driver == "postgres" {
		if _, err := raw.ExecContext(t.Context(), `SELECT set_config('servewright.org', $1, false)`, org); err != nil {
			t.Fatal(err)
		}
	}
	return raw, org
}

// onEngines runs a test on an empty database of each engine.
func onEngines(t *testing.T, test func(t *testing.T, e repotest.Engine, db repotest.Database)) {
	for _, e := range repotest.Engines {
		t.Run(e.Name, func(t *testing.T) { test(t, e, e.New(t)) })
	}
}

// TestOlderCopyPutBack: when somebody puts a backup back under a running
// server, what the server remembers of the lost changes is not mixed into what
// is written from then on.
func TestOlderCopyPutBack(t *testing.T) {
	onEngines(t, func(t *testing.T, e repotest.Engine, db repotest.Database) {
		for _, look := range []bool{true, false} { // does anybody read before the next write?
			s := db.Store(t)
			_, start, err := s.Book(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			write := func(names ...string) {
				for _, name := range names {
					if err := add(t.Context(), s, name); err != nil {
						t.Fatal(err)
					}
				}
			}
			write("kept 1", "kept 2", "lost 1", "lost 2", "lost 3")
			raw, org := behind(t, e, db)
			for _, q := range []string{
				`DELETE FROM head WHERE id IN (SELECT id FROM revision WHERE stamp > $1)`, `DELETE FROM revision WHERE stamp > $1`, `UPDATE org SET counter = $1`,
			} {
				if _, err := raw.ExecContext(t.Context(), q, start+2); err != nil {
					t.Fatal(err)
				}
			}
			if look {
				wantNames(t, s, start+2, "lost", 0)
			}
			write("new 1", "new 2", "new 3") // up to the counter that was lost
			wantNames(t, s, start+5, "lost", 0)
			wantNames(t, s, start+5, "new 3", 1)
			for _, q := range []string{`DELETE FROM head`, `DELETE FROM revision`, `UPDATE org SET counter = 0 WHERE org_id = $1`} {
				args := []any{org}[:strings.Count(q, "$1")]
				if _, err := raw.ExecContext(t.Context(), q, args...); err != nil {
					t.Fatal(err)
				}
			}
			wantNames(t, s, 0, "", 0)
		}
	})
}

// wantNames wants the newest Book at a change, with n names that hold part.
func wantNames(t *testing.T, s *repo.Store, stamp int64, part string, n int) {
	t.Helper()
	b, at, err := s.Book(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, c := range b.Components() {
		if strings.Contains(c.Name, part) {
			found++
		}
	}
	if at != stamp || found != n {
		t.Fatalf("the book is at change %d with %d names that hold %q, want %d with %d", at, found, part, stamp, n)
	}
}

// TestIndexHoldsCodesToo: even a code that the Book does not know of is not
// given away twice.
func TestIndexHoldsCodesToo(t *testing.T) {
	onEngines(t, func(t *testing.T, e repotest.Engine, db repotest.Database) {
		s := db.Store(t)
		if err := add(t.Context(), s, "There"); err != nil {
			t.Fatal(err)
		}
		raw, _ := behind(t, e, db)
		if _, err := raw.ExecContext(t.Context(), `UPDATE head SET code = 'X-1'`); err != nil {
			t.Fatal(err)
		}
		c := bottle("Claims it")
		c.Code = "X-1"
		_, err := s.AddComponent(t.Context(), c, time.Unix(0, 0))
		wantKind(t, err, domain.Conflict)
		var known *domain.Error
		if errors.As(err, &known); known.Code != "CODE_TAKEN" || !strings.Contains(known.Text, `"X-1"`) {
			t.Errorf("got %s %q, want CODE_TAKEN naming X-1", known.Code, known.Text)
		}
	})
}

// TestSpoiltBody: a stored body that cannot be read is nobody's mistake but
// ours: no kind, and no half Book.
func TestSpoiltBody(t *testing.T) {
	onEngines(t, func(t *testing.T, e repotest.Engine, db repotest.Database) {
		s := db.Store(t)
		c := bottle("Spoilt")
		if _, err := s.AddComponent(t.Context(), c, time.Unix(0, 0)); err != nil {
			t.Fatal(err)
		}
		raw, _ := behind(t, e, db)
		if _, err := raw.ExecContext(t.Context(), `UPDATE revision SET body = '{"kind":'`); err != nil {
			t.Fatal(err)
		}
		fresh := db.Store(t)
		_, _, err := fresh.Book(t.Context())
		_, err2 := fresh.Component(t.Context(), c.ID)
		_, _, err3 := fresh.Components(t.Context(), recipe.Filter{})
		_, err4 := fresh.ComponentRevisions(t.Context(), c.ID, 0, 1)
		for i, err := range []error{err, err2, err3, err4} {
			var known *domain.Error
			if err == nil || errors.As(err, &known) {
				t.Errorf("read %d: %v, want an error without a kind", i, err)
			}
		}
	})
}

// TestClosed: a closed database answers with an error, not a panic or a wait.
func TestClosed(t *testing.T) {
	onEngines(t, func(t *testing.T, e repotest.Engine, db repotest.Database) {
		d := db.Open(t)
		s, err := d.DefaultOrg(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Close(); err != nil {
			t.Fatal(err)
		}
		if _, _, err := s.Book(t.Context()); err == nil {
			t.Error("a book came from a closed database")
		}
		if err := add(t.Context(), s, "Late"); err == nil {
			t.Error("a write went to a closed database")
		}
	})
}

// TestListUsesTheIndex: a page far into a long list reads the page, not the
// list.
func TestListUsesTheIndex(t *testing.T) {
	db := repotest.Engines[0].New(t)
	repotest.Fill(t, db.Store(t), 500, 10)
	raw, _ := behind(t, repotest.Engines[0], db)
	plan := func(query string, args ...any) (lines string) {
		rows, err := raw.QueryContext(t.Context(), "EXPLAIN QUERY PLAN "+query, args...)
		if err != nil {
			t.Fatal(err)
		}
		defer rows.Close()
		for rows.Next() {
			var a, b, c any
			var line string
			if err := rows.Scan(&a, &b, &c, &line); err != nil {
				t.Fatal(err)
			}
			lines += line + "\n"
		}
		return lines
	}
	for name, q := range repo.Queries {
		args := make([]any, strings.Count(q, "$")+1)
		for i := range args {
			args[i] = fmt.Sprint(i)
		}
		n := 0
		for i := range args {
			if strings.Contains(q, fmt.Sprintf("$%d", i+1)) {
				n = i + 1
			}
		}
		got := plan(q, args[:n]...)
		if strings.Contains(got, "CO-ROUTINE h\n") { // the rows found, not a table
			got = strings.Replace(got, "SCAN h\n", "", 1)
		}
		if strings.Contains(got, "SCAN") || strings.Contains(got, "TEMP B-TREE") {
			t.Errorf("%s reads a whole table or sorts:\n%s", name, got)
		}
	}
}
