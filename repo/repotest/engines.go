package repotest

import (
	"path/filepath"
	"testing"

	"servewright/repo"
)

// A Database is an empty, migrated database that servers open.
type Database struct {
	DSN string
}

// An Engine is a kind of database.
type Engine struct {
	Name string
	New  func(t testing.TB) Database
}

// Engines are the databases that the contract holds on. The third is
// PostgreSQL with every transaction serializable and one write in twenty
// failing as on a distributed database it may: with 40001, asking to be run
// again.
var Engines = []Engine{
	{"sqlite", func(t testing.TB) Database { return migrated(t, filepath.Join(t.TempDir(), "house.db")) }},
	{"postgres", func(t testing.TB) Database { return migrated(t, Postgres(t)) }},
	{"postgres serializable", func(t testing.TB) Database {
		db := migrated(t, Postgres(t)+"&default_transaction_isolation=serializable")
		failWrites(t, db.DSN)
		return db
	}},
}

func migrated(t testing.TB, dsn string) Database {
	t.Helper()
	db := Database{dsn}
	if err := db.Open(t).Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	return db
}

// Open opens the database as one more server on it, with connections and
// caches of its own, until the test ends.
func (d Database) Open(t testing.TB) *repo.DB {
	t.Helper()
	db, err := repo.Open(t.Context(), d.DSN, repo.Throwaway)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

// Store is Open, and the store of its one house.
func (d Database) Store(t testing.TB) *repo.Store {
	t.Helper()
	return house(t, d.Open(t))
}

// Memory returns an empty store that is gone when the test ends.
func Memory(t testing.TB) *repo.Store {
	t.Helper()
	db := Database{":memory:"}.Open(t)
	if err := db.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	return house(t, db)
}

func house(t testing.TB, db *repo.DB) *repo.Store {
	t.Helper()
	s, err := db.DefaultOrg(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return s
}
