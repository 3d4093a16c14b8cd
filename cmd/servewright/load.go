package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"servewright/api/wire"
	"servewright/domain/recipe"
	"servewright/repo"
)

// maxFile is the largest file that load reads. Ten thousand specs are about 8
// MB.
const maxFile = 64 << 20

func runLoad(ctx context.Context, args []string, t terminal) error {
	var dsn string
	f := newFlags("load", "FILE", "Reads components and specs, and the house's defaults where given, from a JSON file of the\nform {\"house\": {…}, \"components\": […], \"specs\": […]}; - reads standard input. What has the\ncode or id of a stored thing replaces it. Either the whole file is taken or nothing.", t.env)
	f.database(&dsn)
	if err := f.parse(args, t.out); err != nil {
		return err
	}
	if f.NArg() != 1 {
		return misuse{"load takes one file, or - for standard input (-h tells more)"}
	}
	name, from := f.Arg(0), io.Reader(nil)
	if name == "-" {
		name, from = "standard input", t.in
	}
	text, err := readFile(name, from)
	if err != nil {
		return err
	}
	db, store, err := openStore(ctx, dsn, true)
	if err != nil {
		return err
	}
	defer db.Close()
	in, err := loadBook(ctx, store, text)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	fmt.Fprintf(t.out, "Loaded %d components and %d specs.\n", len(in.Components), len(in.Specs))
	return nil
}

// readFile reads in, or where that is nil the named file.
func readFile(name string, in io.Reader) ([]byte, error) {
	if in == nil {
		file, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		in = file
	}
	text, err := io.ReadAll(io.LimitReader(in, maxFile+1))
	if err == nil && len(text) > maxFile {
		err = errors.New(name + " is larger than the 64 MiB that load reads; split it")
	}
	return text, err
}

// loadBook reads a whole house into the store, or nothing of it.
func loadBook(ctx context.Context, store *repo.Store, text []byte) (wire.Loaded, error) {
	current, _, err := store.Book(ctx)
	if err != nil {
		return wire.Loaded{}, err
	}
	in, err := wire.Load(text, current, recipe.DefaultHouse(), newID)
	if err != nil {
		return wire.Loaded{}, err
	}
	return in, store.Load(ctx, in.House, in.Components, in.Specs, time.Now())
}
