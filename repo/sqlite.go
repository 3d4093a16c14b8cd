package repo

import (
	"net/url"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/jmoiron/sqlx"
	"modernc.org/sqlite"

	"servewright/domain"
)

// memory is the DSN of a database that lives in this process and is gone when
// it is closed.
const memory = ":memory:"

// busyMilliseconds is how long a statement waits for another process that
// writes the same file.
const busyMilliseconds = "5000"

// sqliteReaders is how many connections read beside the writer: more than the
// machines this was measured on have processors brought nothing.
const sqliteReaders = 4

func init() {
	sqlite.StrictPragmas(true)             // one statement in each pragma, or none
	sqlx.BindDriver("sqlite", sqlx.DOLLAR) // sqlx does not know the name and would bind nothing
}

// openSQLite opens, or makes, a database file. Every connection gets its
// settings from the DSN: a pragma that is executed reaches only one of a pool.
func openSQLite(dsn string) (*DB, error) {
	file, busy, err := parseSQLite(dsn)
	if err != nil {
		return nil, err
	}
	// The writer flushes each commit to the disk (FULL) and takes the write
	// lock at BEGIN: a transaction that begins reading and then cannot write
	// fails whatever the timeout.
	common := "&_dqs=0&_foreign_keys=on&_busy_timeout=" + busy
	writer, err := sqlx.Open("sqlite", file+"_journal_mode=WAL&_synchronous=FULL&_txlock=immediate"+common)
	if err != nil {
		return nil, err
	}
	writer.SetMaxOpenConns(1)
	db := &DB{engine: &sqliteEngine, write: &pool{DB: writer}}
	if file == memory+"?" {
		db.read = db.write // another connection would be another database
		return db, nil
	}
	reader, err := sqlx.Open("sqlite", file+"_query_only=1&_txlock=deferred"+common)
	if err != nil {
		return nil, err
	}
	reader.SetMaxOpenConns(sqliteReaders)
	reader.SetMaxIdleConns(sqliteReaders)
	db.read = &pool{DB: reader}
	return db, nil
}

// parseSQLite returns the start of a driver's DSN, up to where its parameters
// begin, and the busy timeout. It takes a path, a file: URI whose only
// parameters are mode=ro or mode=rw and _busy_timeout in milliseconds, or
// :memory:. What keeps the data safe cannot be switched off in the DSN.
func parseSQLite(dsn string) (file, busy string, err error) {
	if dsn == memory {
		return memory + "?", busyMilliseconds, nil
	}
	rest, isURI := strings.CutPrefix(dsn, "file:")
	if !isURI {
		return "file:" + escapePath(dsn) + "?", busyMilliseconds, nil
	}
	path, query, _ := strings.Cut(rest, "?")
	params, err := url.ParseQuery(query)
	if err != nil {
		return "", "", domain.Errorf(domain.Invalid, "the parameters of %q cannot be read: %w", dsn, err)
	}
	file, busy = "file:"+path+"?", busyMilliseconds
	for key, values := range params {
		value := values[len(values)-1]
		switch {
		case key == "mode" && slices.Contains([]string{"ro", "rw"}, value):
			file += "mode=" + value + "&"
		case key == "_busy_timeout" && isMilliseconds(value):
			busy = value
		default:
			return "", "", domain.Errorf(domain.Invalid,
				"a database file takes no parameter %s=%s; only mode=ro, mode=rw and _busy_timeout in milliseconds", key, value)
		}
	}
	return file, busy, nil
}

func isMilliseconds(s string) bool {
	n, err := strconv.Atoi(s)
	return err == nil && n >= 0 && n <= 600_000
}

// escapePath writes a path so that a URI means just that path.
func escapePath(path string) string {
	p := filepath.ToSlash(filepath.Clean(path))
	if filepath.VolumeName(path) != "" {
		p = "/" + p
	}
	return (&url.URL{Path: p}).EscapedPath()
}
