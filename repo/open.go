package repo

import (
	"context"
	"sync"
	"time"

	"github.com/google/uuid"
	"github.com/pressly/goose/v3"

	"servewright/domain"
	"servewright/domain/recipe"
)

// engine is what differs between the databases once they are open.
type engine struct {
	folder      string // of migrations
	dialect     goose.Dialect
	hasVersions string // query: is there a schema_version?
	enter       string // statement that names the transaction's org, or none
}

var (
	sqliteEngine = engine{
		folder: "sqlite", dialect: goose.DialectSQLite3,
		hasVersions: `SELECT count(*) > 0 FROM sqlite_schema WHERE name = 'schema_version'`,
	}
	postgresEngine = engine{
		folder: "postgres", dialect: goose.DialectPostgres,
		hasVersions: `SELECT to_regclass('schema_version') IS NOT NULL`,
		enter:       `SELECT set_config('servewright.org', $1, true)`,
	}
)

// DB is one database: a SQLite file or a PostgreSQL database. It is safe for
// concurrent use.
type DB struct {
	engine      *engine
	write, read *pool

	mu     sync.Mutex
	stores map[recipe.ID]*Store
}

// Option changes what Open accepts.
type Option func(*options)

type options struct{ throwaway bool }

// Throwaway accepts a PostgreSQL that may lose acknowledged writes in a power
// cut. It is for tests.
func Throwaway(o *options) { o.throwaway = true }

// Open opens a database: postgres://… is a PostgreSQL, anything else the path
// or file: URI of a SQLite file, which is made when there is none. :memory: is
// a SQLite that is gone when closed. Open runs no migration. A server that does
// not answer is domain.Unavailable after five seconds, or what connect_timeout
// in the address says, or when ctx ends.
func Open(ctx context.Context, dsn string, opts ...Option) (*DB, error) {
	var o options
	for _, set := range opts {
		set(&o)
	}
	db, err := open(dsn)
	if err != nil {
		return nil, err
	}
	db.stores = map[recipe.ID]*Store{}
	if err := db.check(ctx, !o.throwaway); err != nil {
		db.Close()
		return nil, err
	}
	return db, nil
}

func open(dsn string) (*DB, error) {
	switch {
	case dsn == "":
		return nil, domain.Errorf(domain.Invalid, "no database is named; give a file such as servewright.db, or postgres://…")
	case isPostgres(dsn):
		return openPostgres(dsn)
	}
	return openSQLite(dsn)
}

// check makes the first connections.
func (db *DB) check(ctx context.Context, durable bool) error {
	ctx, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	for _, p := range []*pool{db.write, db.read} {
		if err := p.PingContext(ctx); err != nil {
			return failure(err, "open the database")
		}
	}
	if durable && db.engine == &postgresEngine {
		return checkDurable(ctx, db.write.DB)
	}
	return nil
}

// Close ends every connection. Requests still under way fail.
func (db *DB) Close() error {
	err := db.read.Close()
	if db.write == db.read {
		return err
	}
	if werr := db.write.Close(); err == nil {
		err = werr
	}
	return err
}

// Org returns the store of an org that is in the database. Every call with one
// id returns the same Store.
func (db *DB) Org(id recipe.ID) *Store {
	id = storable(id)
	db.mu.Lock()
	defer db.mu.Unlock()
	s, ok := db.stores[id]
	if !ok {
		s = &Store{db: db, org: id}
		s.cache.load = s.loadNewest
		db.stores[id] = s
	}
	return s
}

// DefaultOrg returns the store of a server with one house, making its org when
// there is none. Servers that do so at once agree on it.
func (db *DB) DefaultOrg(ctx context.Context) (*Store, error) {
	if err := db.checkSchema(ctx); err != nil {
		return nil, err
	}
	const query = `SELECT org_id FROM org WHERE alias = 'default'`
	var id recipe.ID
	if err := db.read.GetContext(ctx, &id, query); err == nil {
		return db.Org(id), nil
	}
	made, err := uuid.NewV7()
	if err != nil {
		return nil, err
	}
	const insert = `INSERT INTO org (org_id, alias, counter) VALUES ($1, 'default', 0) ON CONFLICT (alias) DO NOTHING`
	if _, err := db.write.ExecContext(ctx, insert, made.String()); err != nil {
		return nil, failure(err, "make the house")
	}
	if err := db.write.GetContext(ctx, &id, query); err != nil {
		return nil, failure(err, "find the house")
	}
	return db.Org(id), nil
}

// AddOrg makes an org without an alias and returns its store. The id is a
// UUIDv7 in lower case; domain.Conflict when it is taken.
func (db *DB) AddOrg(ctx context.Context, id recipe.ID) (*Store, error) {
	if !isID(id) {
		return nil, domain.Errorf(domain.Invalid, "%q is not a UUID in lower case", id)
	}
	const insert = `INSERT INTO org (org_id, counter) VALUES ($1, 0)`
	if _, err := db.write.ExecContext(ctx, insert, id); err != nil {
		return nil, failure(err, "add an org")
	}
	return db.Org(id), nil
}

// isID reports whether id is a UUID as both engines write it.
func isID(id recipe.ID) bool {
	u, err := uuid.Parse(string(id))
	return err == nil && u.String() == string(id)
}

// longest is the longest that a transaction or a check may take when the
// caller sets no deadline of its own.
const longest = 15 * time.Second
