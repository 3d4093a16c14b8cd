package repo

import (
	"context"
	"errors"
	"io/fs"

	"github.com/pressly/goose/v3"

	"servewright/domain"
	"servewright/repo/migrations"
)

// versions is the table of the steps taken.
const versions = "schema_version"

// migrateTries is how often Migrate looks again when another server took a
// step at the same moment.
const migrateTries = 5

// Migrate brings the schema up to what this program expects. Each step is one
// transaction. Several servers may do so at once: the step's number can be
// recorded once only, and whoever comes second rolls back and looks again.
func (db *DB) Migrate(ctx context.Context) error {
	p, err := db.provider()
	if err != nil {
		return err
	}
	for range migrateTries {
		if _, err = p.Up(ctx); err == nil {
			return nil
		}
		if current, target, verr := p.GetVersions(ctx); verr == nil && current >= target {
			return nil // the other server finished
		}
	}
	var partial *goose.PartialError
	if errors.As(err, &partial) {
		err = partial.Err
	}
	return failure(err, "migrate the database")
}

func (db *DB) provider() (*goose.Provider, error) {
	steps, err := fs.Sub(migrations.Files, db.engine.folder)
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(db.engine.dialect, db.write.DB.DB, steps,
		goose.WithTableName(versions), goose.WithDisableGlobalRegistry(true))
}

// checkSchema returns domain.Unavailable unless the database answers and its
// schema is at least what this program expects. A newer one is fine: every
// step leaves the database usable by the program before it.
func (db *DB) checkSchema(ctx context.Context) error {
	var have bool
	if err := db.read.GetContext(ctx, &have, db.engine.hasVersions); err != nil {
		return failure(err, "look at the database's schema")
	}
	var at int64
	if have {
		const query = `SELECT coalesce(max(version_id), 0) FROM schema_version`
		if err := db.read.GetContext(ctx, &at, query); err != nil {
			return failure(err, "look at the database's schema")
		}
	}
	want, err := newest(db.engine.folder)
	if err != nil {
		return err
	}
	if at < want {
		return domain.Errorf(domain.Unavailable,
			"the database's schema is at step %d and this program needs step %d; run \"servewright migrate\" first", at, want)
	}
	return nil
}

// newest returns the number of the last migration in a folder.
func newest(folder string) (int64, error) {
	files, err := fs.ReadDir(migrations.Files, folder) // sorted by name
	if err != nil || len(files) == 0 {
		return 0, err
	}
	return goose.NumericComponent(files[len(files)-1].Name())
}
