package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"servewright/testdata/demo"
)

// TestLoadTwice checks that loading a file again changes nothing that counts:
// the same things with the same ids, in new revisions at most.
func TestLoadTwice(t *testing.T) {
	dsn := filepath.Join(t.TempDir(), "bar.db")
	file := filepath.Join(t.TempDir(), "house.json")
	if err := os.WriteFile(file, demo.House, 0o600); err != nil {
		t.Fatal(err)
	}
	var before []string
	for round := range 2 {
		out, code := call(t, map[string]string{"SERVEWRIGHT_DB": dsn}, "load", file)
		if code != 0 || out != "Loaded 55 components and 16 specs.\n" {
			t.Fatalf("load, round %d, exits with %d and says %q", round+1, code, out)
		}
		ids := stored(t, dsn)
		if round == 1 && strings.Join(ids, " ") != strings.Join(before, " ") {
			t.Errorf("the second load changed ids:\n%v\n%v", before, ids)
		}
		before = ids
	}
}

// TestLoadAllOrNothing checks that a file with one fault leaves the database as
// it was.
func TestLoadAllOrNothing(t *testing.T) {
	dsn := filepath.Join(t.TempDir(), "bar.db")
	broken := strings.Replace(string(demo.House), `"component_id": "code:TOMATO"`, `"component_id": "code:TOMATEN"`, 1)
	file := filepath.Join(t.TempDir(), "house.json")
	if err := os.WriteFile(file, []byte(broken), 0o600); err != nil {
		t.Fatal(err)
	}
	out, code := call(t, nil, "load", "--db", dsn, file)
	if code != 1 || !strings.Contains(out, "/specs/12/lines/1/component_id") || !strings.Contains(out, "TOMATEN") {
		t.Errorf("load of a file with a fault exits with %d and says %q, want 1, the pointer and the name", code, out)
	}
	if ids := stored(t, dsn); len(ids) != 0 {
		t.Errorf("%d components are stored after a refused load, want none", len(ids))
	}
}

// stored lists code and id of every component in a database.
func stored(t *testing.T, dsn string) []string {
	t.Helper()
	ctx := context.Background()
	db, store, err := openStore(ctx, dsn, true)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	b, _, err := store.Book(ctx)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for i := range b.Components() {
		ids = append(ids, b.Components()[i].Code+"="+string(b.Components()[i].ID))
	}
	return ids
}
