package repo_test

import (
	"context"
	"database/sql"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"servewright/domain"
	"servewright/repo/migrations"
	"servewright/repo/repotest"
)

// TestMigrationsHaveTheSameNumbers: step n is the same step on both engines.
func TestMigrationsHaveTheSameNumbers(t *testing.T) {
	steps := func(folder string) (names []string) {
		files, err := fs.ReadDir(migrations.Files, folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			names = append(names, f.Name())
		}
		return names
	}
	lite, pg := steps("sqlite"), steps("postgres")
	if !slices.Equal(lite, pg) || len(lite) == 0 {
		t.Errorf("sqlite has %v, postgres has %v", lite, pg)
	}
}

// TestMigrationsUseNothingEngineBound: what cannot be had on every database
// the schema is meant for, or gives numbers out of order, is not used.
func TestMigrationsUseNothingEngineBound(t *testing.T) {
	banned := []string{"serial", "identity", "sequence", "nextval", "autoincrement", "listen", "notify", "exclude using",
		"deferrable", "advisory", "now()", "current_timestamp", "numeric", "float", "real ", "double", "timestamp"}
	err := fs.WalkDir(migrations.Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(migrations.Files, name)
		if err != nil {
			return err
		}
		for n, line := range strings.Split(strings.ToLower(string(text)), "\n") {
			code, _, _ := strings.Cut(line, "--")
			for _, word := range banned {
				if strings.Contains(code, word) {
					t.Errorf("%s:%d uses %s", path.Base(name), n+1, word)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// shared are the tables that hold no house data.
var shared = []string{"org", "schema_version"}

// TestSchemaKeepsHousesApart reads the schemas as they came out: every key and
// every reference of house data begins with the house, and PostgreSQL holds
// each table behind a policy.
func TestSchemaKeepsHousesApart(t *testing.T) {
	lite := schemaDB(t, "sqlite", filepath.Join(t.TempDir(), "house.db"))
	pg := schemaDB(t, "postgres", repotest.Postgres(t))
	const liteKeys = `SELECT t.name, 'primary key', group_concat(c.name, ',' ORDER BY c.pk)
		FROM pragma_table_list t JOIN pragma_table_info(t.name) c WHERE t.schema = 'main' AND t.name NOT LIKE 'sqlite_%' AND c.pk > 0 GROUP BY t.name`
	const liteRefs = `SELECT t.name, 'reference', group_concat(f."from", ',' ORDER BY f.seq)
		FROM pragma_table_list t JOIN pragma_foreign_key_list(t.name) f WHERE t.schema = 'main' GROUP BY t.name, f.id`
	const liteIndexes = `SELECT t.name, 'index', group_concat(c.name, ',' ORDER BY c.seqno)
		FROM pragma_table_list t JOIN pragma_index_list(t.name) i JOIN pragma_index_info(i.name) c
		WHERE t.schema = 'main' AND i.origin = 'c' GROUP BY t.name, i.name`
	const pgKeys = `SELECT k.conrelid::regclass::text, CASE k.contype WHEN 'p' THEN 'primary key' ELSE 'reference' END,
		string_agg(a.attname, ',' ORDER BY c.n)
		FROM pg_constraint k, unnest(k.conkey) WITH ORDINALITY AS c(col, n), pg_attribute a
		WHERE k.contype IN ('p', 'f') AND k.connamespace = 'public'::regnamespace AND a.attrelid = k.conrelid AND a.attnum = c.col
		GROUP BY k.oid, k.conrelid, k.contype`
	const pgIndexes = `SELECT i.indrelid::regclass::text, 'index', string_agg(a.attname, ',' ORDER BY c.n)
		FROM pg_index i, unnest(i.indkey::int2[]) WITH ORDINALITY AS c(col, n), pg_attribute a, pg_class r
		WHERE r.oid = i.indrelid AND r.relnamespace = 'public'::regnamespace AND a.attrelid = i.indrelid AND a.attnum = c.col
		GROUP BY i.indexrelid, i.indrelid`
	liteKeyed := lint(t, "sqlite", lite, liteKeys, liteRefs, liteIndexes)
	pgKeyed := lint(t, "postgres", pg, pgKeys, pgIndexes)
	if !slices.Equal(liteKeyed, pgKeyed) {
		t.Errorf("sqlite has the tables %v, postgres %v", liteKeyed, pgKeyed)
	}
	lintPolicies(t, pg, pgKeyed)
	lintText(t, pg)
}

func schemaDB(t *testing.T, driver, dsn string) *sql.DB {
	t.Helper()
	if err := (repotest.Database{DSN: dsn}).Open(t).Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open(driver, dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

// lint runs queries that answer table, what and columns, and returns the
// tables that have a primary key.
func lint(t *testing.T, engine string, db *sql.DB, queries ...string) (keyed []string) {
	t.Helper()
	for _, q := range queries {
		found := 0
		for _, row := range rowsOf(t, db, q) {
			table, what, columns := row[0], row[1], row[2]
			if what == "primary key" {
				keyed = append(keyed, table)
			}
			if slices.Contains(shared, table) {
				continue
			}
			found++
			if first, _, _ := strings.Cut(columns, ","); first != "org_id" {
				t.Errorf("%s: the %s (%s) of table %s does not begin with org_id", engine, what, columns, table)
			}
		}
		if found < 2 {
			t.Errorf("%s: only %d found by %s", engine, found, q)
		}
	}
	slices.Sort(keyed)
	return keyed
}

func lintPolicies(t *testing.T, db *sql.DB, tables []string) {
	t.Helper()
	const query = `SELECT c.relname, (c.relrowsecurity AND c.relforcerowsecurity)::text,
		(SELECT count(*) FROM pg_policies p WHERE p.tablename = c.relname AND p.qual LIKE '%servewright.org%')::text
		FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'`
	walled := map[string]bool{}
	for _, row := range rowsOf(t, db, query) {
		walled[row[0]] = row[1] == "true" && row[2] == "1"
	}
	for _, table := range tables {
		if !slices.Contains(shared, table) && !walled[table] {
			t.Errorf("postgres: table %s is not behind row-level security that is forced", table)
		}
	}
}

// lintText: text that is compared by the database's language sorts and matches
// differently on every server.
func lintText(t *testing.T, db *sql.DB) {
	t.Helper()
	const query = `SELECT table_name, column_name, coalesce(collation_name, 'the database''s') FROM information_schema.columns
		WHERE table_schema = 'public' AND data_type = 'text' AND column_name <> 'body'`
	rows := rowsOf(t, db, query)
	for _, row := range rows {
		if row[2] != "C" {
			t.Errorf("postgres: %s.%s compares by %s rules, want C", row[0], row[1], row[2])
		}
	}
	if len(rows) < 5 {
		t.Errorf("only %d text columns found", len(rows))
	}
}

// rowsOf reads rows of three texts.
func rowsOf(t *testing.T, db *sql.DB, query string) (out [][3]string) {
	t.Helper()
	rows, err := db.QueryContext(t.Context(), query)
	if err != nil {
		t.Fatalf("%v: %s", err, query)
	}
	defer rows.Close()
	for rows.Next() {
		var r [3]string
		if err := rows.Scan(&r[0], &r[1], &r[2]); err != nil {
			t.Fatal(err)
		}
		out = append(out, r)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// unmigrated are empty databases.
var unmigrated = []struct {
	name string
	dsn  func(t *testing.T) string
}{
	{"sqlite", func(t *testing.T) string { return filepath.Join(t.TempDir(), "house.db") }},
	{"postgres", func(t *testing.T) string { return repotest.Postgres(t) }},
}

// TestMigrateAtOnce: servers that start at once on an empty database each come
// up, and every step is taken once.
func TestMigrateAtOnce(t *testing.T) {
	for _, e := range unmigrated {
		t.Run(e.name, func(t *testing.T) {
			db := repotest.Database{DSN: e.dsn(t)}
			ctx := context.WithoutCancel(t.Context())
			var starting sync.WaitGroup
			for range 6 {
				d := db.Open(t)
				starting.Go(func() {
					if err := d.Migrate(ctx); err != nil {
						t.Error(err)
					}
				})
			}
			starting.Wait()
			raw, err := sql.Open(e.name, db.DSN)
			if err != nil {
				t.Fatal(err)
			}
			defer raw.Close()
			var steps, distinct int
			const query = `SELECT count(*), count(DISTINCT version_id) FROM schema_version`
			if err := raw.QueryRowContext(t.Context(), query).Scan(&steps, &distinct); err != nil || steps != distinct || steps < 2 {
				t.Errorf("%d steps are recorded, %d different (%v)", steps, distinct, err)
			}
			if err := db.Store(t).Ready(t.Context()); err != nil {
				t.Errorf("not ready after migrating: %v", err)
			}
		})
	}
}

func TestUnmigratedDatabaseSaysSo(t *testing.T) {
	for _, e := range unmigrated {
		t.Run(e.name, func(t *testing.T) {
			d := (repotest.Database{DSN: e.dsn(t)}).Open(t)
			_, err := d.DefaultOrg(t.Context())
			wantKind(t, err, domain.Unavailable)
			if !strings.Contains(err.Error(), "servewright migrate") {
				t.Errorf("%q does not name the way out", err)
			}
			wantKind(t, d.Org("019a0000-0000-7000-8000-000000000000").Ready(t.Context()), domain.Unavailable)
		})
	}
}

// TestMigrateDownAndUp: a step can be taken back, which needs its Down to name
// everything its Up made.
func TestMigrateDownAndUp(t *testing.T) {
	for _, e := range unmigrated {
		t.Run(e.name, func(t *testing.T) {
			db := repotest.Database{DSN: e.dsn(t)}
			d := db.Open(t)
			for range 2 {
				if err := d.Migrate(t.Context()); err != nil {
					t.Fatal(err)
				}
				if err := d.MigrateDown(t.Context()); err != nil {
					t.Fatal(err)
				}
			}
			if err := d.Migrate(t.Context()); err != nil {
				t.Fatal(err)
			}
		})
	}
}
