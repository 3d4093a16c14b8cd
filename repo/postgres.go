package repo

import (
	"context"
	"database/sql"
	"errors"
	"net/url"
	"strings"
	"time"

	"github.com/jmoiron/sqlx"
	"github.com/lib/pq"

	"servewright/domain"
)

// connectTimeout is the longest that making one connection may take, sign-in
// included, when the DSN does not say connect_timeout.
const connectTimeout = 5 * time.Second

// postgresConns is how many connections a server keeps: two for each processor
// of the machines this was measured on, where 16 were slower than 4.
const postgresConns = 4

// sessionDefaults are set on each connection unless the DSN sets them. A
// server that hangs must not keep a house's counter locked, and a write that
// waits for it gives up as SQLite does.
var sessionDefaults = map[string]string{
	"lock_timeout":                        busyMilliseconds,
	"statement_timeout":                   "30000",
	"idle_in_transaction_session_timeout": "30000",
}

func isPostgres(dsn string) bool {
	return strings.HasPrefix(dsn, "postgres://") || strings.HasPrefix(dsn, "postgresql://")
}

func openPostgres(dsn string) (*DB, error) {
	cfg, err := pq.NewConfig(dsn)
	if err != nil {
		var inURL *url.Error
		if errors.As(err, &inURL) {
			err = inURL.Err // without the address, which can hold a password
		}
		return nil, domain.Errorf(domain.Invalid, "the database's address cannot be read; write it as postgres://user@host/name: %w", err)
	}
	if cfg.ConnectTimeout <= 0 {
		cfg.ConnectTimeout = connectTimeout
	}
	if cfg.FallbackApplicationName == "" {
		cfg.FallbackApplicationName = "servewright"
	}
	if cfg.Runtime == nil {
		cfg.Runtime = map[string]string{}
	}
	for name, value := range sessionDefaults {
		if _, set := cfg.Runtime[name]; !set {
			cfg.Runtime[name] = value
		}
	}
	cfg.BinaryParameters = true // one round trip for a statement that is not prepared
	c, err := pq.NewConnectorConfig(cfg)
	if err != nil {
		return nil, domain.Errorf(domain.Invalid, "the database's address cannot be used: %w", err)
	}
	c.Dialer(dialer{})
	db := sqlx.NewDb(sql.OpenDB(connector{c}), "postgres")
	db.SetMaxOpenConns(postgresConns)
	db.SetMaxIdleConns(postgresConns)
	p := &pool{DB: db}
	return &DB{engine: &postgresEngine, write: p, read: p}, nil
}

// checkDurable refuses a server that answers before what it was told is on its
// disk: a power cut would take back acknowledged writes.
func checkDurable(ctx context.Context, db *sqlx.DB) error {
	// Kin of PostgreSQL lack the settings, and with them the choice.
	const query = `SELECT coalesce(current_setting('synchronous_commit', true), 'on') AS commit,
		coalesce(current_setting('fsync', true), 'on') AS fsync`
	var set struct{ Commit, Fsync string }
	if err := db.GetContext(ctx, &set, query); err != nil {
		return failure(err, "open the database")
	}
	if set.Commit == "off" || set.Fsync == "off" {
		return domain.Errorf(domain.Invalid,
			"this PostgreSQL has synchronous_commit=%s and fsync=%s and may lose what it has acknowledged; set both to on", set.Commit, set.Fsync)
	}
	return nil
}
