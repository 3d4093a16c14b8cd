// Package reference holds the published figures that tests check against, each
// file with its source, units and traps in its # lines, and reads them.
package reference

import (
	"embed"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"
)

//go:embed *.csv
var files embed.FS

// Row is one row of a table by its column names.
type Row map[string]string

// Rows reads a table. Commas beyond the last column belong to it: sources hold
// commas.
func Rows(t testing.TB, name string) []Row {
	t.Helper()
	f, err := files.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment, r.LazyQuotes, r.FieldsPerRecord = '#', true, -1
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(all), err)
	}
	rows := make([]Row, 0, len(all)-1)
	for _, rec := range all[1:] {
		rows = append(rows, row(all[0], rec))
	}
	return rows
}

func row(head, rec []string) Row {
	m := Row{}
	last := len(head) - 1
	for i := range min(last, len(rec)) {
		m[head[i]] = strings.TrimSpace(rec[i])
	}
	if len(rec) > last {
		m[head[last]] = strings.TrimSpace(strings.Join(rec[last:], ","))
	}
	return m
}

// Num reads the number in a column.
func (r Row) Num(t testing.TB, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimPrefix(r[column], "+"), 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, r, err)
	}
	return x
}
