package repo

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"

	"github.com/lib/pq"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"servewright/domain"
)

// failure turns what a driver says into one of the domain's kinds; what names
// the thing that could not be done. It is the only place that knows drivers'
// codes. Errors that are no driver's, and a caller's cancellation, pass through.
func failure(err error, what string) error {
	var known *domain.Error
	switch {
	case err == nil, errors.As(err, &known), errors.Is(err, context.Canceled):
		return err
	}
	switch kindOf(err) {
	case domain.Conflict:
		e := domain.Errorf(domain.Conflict, "%s: another thing has this id or code already; choose another", what)
		e.Code, e.Cause = "CODE_TAKEN", err
		return e
	case domain.Busy:
		return because(domain.Busy, err, "%s: the database is busy; try again shortly", what)
	case domain.Full:
		return because(domain.Full, err, "%s: the database takes no writes: its disk is full or it is read-only", what)
	case domain.Unavailable:
		return because(domain.Unavailable, err, "%s: the database does not answer", what)
	}
	return fmt.Errorf("%s: %w", what, err)
}

func because(k domain.Kind, cause error, format string, args ...any) error {
	e := domain.Errorf(k, format, args...)
	e.Cause = cause
	return e
}

// kindOf returns the kind of a driver's error, 0 for one that only a
// programmer can mend.
func kindOf(err error) domain.Kind {
	var lite *sqlite.Error
	if errors.As(err, &lite) {
		return sqliteKind(lite.Code())
	}
	var pg *pq.Error
	if errors.As(err, &pg) {
		return postgresKind(string(pg.Code))
	}
	var netErr net.Error
	if errors.Is(err, driver.ErrBadConn) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, context.DeadlineExceeded) || errors.As(err, &netErr) {
		return domain.Unavailable
	}
	return 0
}

// sqliteKind reads an extended result code (sqlite.org/rescode.html).
func sqliteKind(code int) domain.Kind {
	switch code {
	case sqlite3.SQLITE_CONSTRAINT_UNIQUE, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY:
		return domain.Conflict
	}
	switch code & 0xff {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return domain.Busy
	case sqlite3.SQLITE_FULL, sqlite3.SQLITE_READONLY:
		return domain.Full
	case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_NOMEM,
		sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_INTERRUPT:
		return domain.Unavailable
	}
	return 0
}

// postgresKind reads an SQLSTATE (PostgreSQL documentation, appendix A).
func postgresKind(state string) domain.Kind {
	switch state {
	case "23505": // unique_violation
		return domain.Conflict
	case "40001", "40P01", // serialization_failure, deadlock_detected, after all retries
		"55P03",          // lock_not_available: lock_timeout
		"53300", "53200": // too_many_connections, out_of_memory
		return domain.Busy
	case "53100", // disk_full
		"25006", // read_only_sql_transaction: a standby, or set so
		"0A000": // feature_not_supported: what a standby says to BEGIN READ WRITE
		return domain.Full
	case "57014", // query_canceled: statement_timeout
		"57P01", "57P02", "57P03", "57P05", // shutdowns, starting up, idle session ended
		"25P03", // idle_in_transaction_session_timeout
		"3D000", // invalid_catalog_name: no such database
		"58030": // io_error
		return domain.Unavailable
	}
	switch state[:min(2, len(state))] {
	case "08", "28": // connection exceptions, invalid authorization
		return domain.Unavailable
	}
	return 0
}

// retryable reports whether a transaction that failed with err did nothing and
// may well succeed when it is run again.
func retryable(err error) bool {
	var pg *pq.Error
	return errors.As(err, &pg) && (pg.Code == "40001" || pg.Code == "40P01")
}
