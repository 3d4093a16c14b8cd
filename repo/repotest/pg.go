package repotest

import (
	"crypto/rand"
	"database/sql"
	"fmt"
	"io"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	_ "github.com/lib/pq" // the driver "postgres"
)

// adminDSN is the environment variable that names a PostgreSQL to test on, as
// somebody who may create databases and roles.
const adminDSN = "SERVEWRIGHT_TEST_PG"

// cluster is the PostgreSQL of this test process.
var cluster struct {
	once  sync.Once
	dsn   string // as an administrator
	err   error
	alive io.Closer // the server ends when this is closed, which the end of the process does
}

// Postgres returns the address of a new, empty PostgreSQL database that is
// dropped when the test ends. Its texts are compared by ICU rules unless a
// column says otherwise, the stricter witness, and the user it is for owns it
// but is no superuser, so that row-level security holds.
//
// The server is the one that SERVEWRIGHT_TEST_PG names, else a temporary one
// that is started from the machine's PostgreSQL, 15 or later, and ends with the
// test process. Without either the test is skipped; when CI=true it fails.
func Postgres(t testing.TB) string {
	t.Helper()
	cluster.once.Do(func() {
		if cluster.dsn = os.Getenv(adminDSN); cluster.dsn == "" {
			cluster.dsn, cluster.err = startCluster()
		}
	})
	if cluster.err != nil {
		missing(t, "NOT TESTED ON POSTGRESQL: %v; install PostgreSQL 15 or name a server in %s", cluster.err, adminDSN)
	}
	return newDatabase(t, cluster.dsn)
}

// missing skips a test on a person's machine and fails it in CI.
func missing(t testing.TB, format string, args ...any) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf(format, args...)
	}
	t.Skipf(format, args...)
}

func newDatabase(t testing.TB, admin string) string {
	t.Helper()
	db, err := sql.Open("postgres", admin)
	if err != nil {
		t.Fatal(err)
	}
	name := "sw_" + strings.ToLower(rand.Text())
	statements := []string{
		fmt.Sprintf(`CREATE ROLE %s LOGIN NOSUPERUSER NOBYPASSRLS PASSWORD '%s'`, name, name),
		fmt.Sprintf(`CREATE DATABASE %s OWNER %s TEMPLATE template0 ENCODING 'UTF8' LOCALE 'C' LOCALE_PROVIDER icu ICU_LOCALE 'en-US'`, name, name),
	}
	for _, s := range statements {
		if _, err := db.ExecContext(t.Context(), s); err != nil {
			t.Fatalf("%v: %s", err, s)
		}
	}
	t.Cleanup(func() {
		for _, s := range []string{`DROP DATABASE %s WITH (FORCE)`, `DROP ROLE %s`} {
			if _, err := db.Exec(fmt.Sprintf(s, name)); err != nil {
				t.Errorf("%v: %s", err, s)
			}
		}
		db.Close()
	})
	u, err := url.Parse(admin)
	if err != nil {
		t.Fatalf("%s must be a URL postgres://…", adminDSN)
	}
	u.User, u.Path = url.UserPassword(name, name), "/"+name
	if u.RawQuery == "" {
		u.RawQuery = "sslmode=disable"
	}
	return u.String()
}

// failWrites makes one write in twenty fail with 40001, at its first revision.
func failWrites(t testing.TB, dsn string) {
	t.Helper()
	db, err := sql.Open("postgres", dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	const trouble = `
CREATE FUNCTION trouble() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF random() < 0.05 AND NOT EXISTS (SELECT FROM revision WHERE org_id = NEW.org_id AND stamp = NEW.stamp) THEN
    RAISE EXCEPTION 'restart transaction' USING ERRCODE = '40001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER trouble BEFORE INSERT ON revision FOR EACH ROW EXECUTE FUNCTION trouble()`
	if _, err := db.ExecContext(t.Context(), trouble); err != nil {
		t.Fatal(err)
	}
}

// waitFor tries to connect until it works or time is up.
func waitFor(dsn string, limit time.Duration) error {
	db, err := sql.Open("postgres", dsn)
	if err != nil {
		return err
	}
	defer db.Close()
	for end := time.Now().Add(limit); ; time.Sleep(20 * time.Millisecond) {
		if err = db.Ping(); err == nil || time.Now().After(end) {
			return err
		}
	}
}
