package main

import (
	"context"
	"fmt"

	"servewright/repo"
)

// openStore opens the database and the house in it.
func openStore(ctx context.Context, dsn string, migrate bool) (*repo.DB, *repo.Store, error) {
	db, err := repo.Open(ctx, dsn)
	if err != nil {
		return nil, nil, err
	}
	store, err := houseIn(ctx, db, migrate)
	if err != nil {
		db.Close()
		return nil, nil, err
	}
	return db, store, nil
}

func houseIn(ctx context.Context, db *repo.DB, migrate bool) (*repo.Store, error) {
	if migrate {
		if err := db.Migrate(ctx); err != nil {
			return nil, err
		}
	}
	return db.DefaultOrg(ctx)
}

func runMigrate(ctx context.Context, args []string, t terminal) error {
	var dsn string
	f := newFlags("migrate", "", "Brings a database to this program's schema. Running it again changes nothing; several\nservers may run it at once.", t.env)
	f.database(&dsn)
	if err := f.parse(args, t.out); err != nil {
		return err
	}
	db, err := repo.Open(ctx, dsn)
	if err != nil {
		return err
	}
	defer db.Close()
	if err := db.Migrate(ctx); err != nil {
		return err
	}
	fmt.Fprintln(t.out, "The database has this program's schema.")
	return nil
}
