package main

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"time"

	"servewright/domain/measure"
	"servewright/domain/recipe"
	"servewright/domain/swap"
	"servewright/repo"
	"servewright/testdata/demo"
)

// The swap that the demonstration makes.
const (
	demoFrom = "GINGER-LIQ"
	demoTo   = "H-GINGER"
)

func runDemo(ctx context.Context, args []string, t terminal) error {
	var once bool
	var day string
	f := newFlags("demo", "", "Loads an invented bar into a database that is thrown away afterwards, prints what putting\nits house-made ginger liqueur in place of the bought one does to the menu, then serves the\nAPI on a free port of this machine until it is stopped.", t.env)
	f.BoolVar(&once, "once", false, "print the table and stop")
	f.StringVar(&day, "as-of", "", "take the prices of this `date`, such as 2026-01-15; else today's")
	if err := f.parse(args, t.out); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "servewright-demo-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	db, store, err := openStore(ctx, filepath.Join(dir, "demo.db"), true)
	if err != nil {
		return err
	}
	defer db.Close()
	if _, err := loadBook(ctx, store, demo.House); err != nil {
		return err
	}
	if err := showSwap(ctx, t.out, store, day); err != nil || once {
		return err
	}
	return serveDemo(ctx, t, store)
}

func showSwap(ctx context.Context, w io.Writer, store *repo.Store, day string) error {
	b, _, err := store.Book(ctx)
	if err != nil {
		return err
	}
	date, err := dateOf(b.House(), day)
	if err != nil {
		return err
	}
	from, err := component(b, demoFrom)
	if err != nil {
		return err
	}
	to, err := component(b, demoTo)
	if err != nil {
		return err
	}
	return printSwap(w, swap.Across(b, date, from, to, nil), date)
}

// dateOf reads a date; empty is today where the house is.
func dateOf(h *recipe.House, day string) (measure.Date, error) {
	if day != "" {
		date, err := measure.ParseDate(day)
		if err != nil {
			return "", misuse{"demo: --as-of: " + err.Error()}
		}
		return date, nil
	}
	zone, err := time.LoadLocation(h.TimeZone)
	if err != nil {
		return "", err
	}
	return measure.DateIn(time.Now(), zone), nil
}

func serveDemo(ctx context.Context, t terminal, store *repo.Store) error {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	url := "http://" + l.Addr().String()
	fmt.Fprintf(t.out, `
This bar is served at %s until you press Ctrl-C. Try in another terminal:

  curl %[1]s/v1/specs/code:Q-01/serve
  curl %[1]s/v1/components/code:%[3]s/profile
  curl --json '{"from": "code:%[2]s", "to": "code:%[3]s"}' %[1]s/v1/swaps

or open %[1]s/docs in a browser.
`, url, demoFrom, demoTo)
	log := slog.New(slog.NewTextHandler(t.err, &slog.HandlerOptions{Level: slog.LevelWarn}))
	return serveUntil(ctx, l, localOnly(newHandler(store, log)), log, func() {})
}
