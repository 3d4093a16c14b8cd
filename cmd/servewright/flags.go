package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

// The defaults of a server on a person's own machine.
const (
	defaultAddr = "127.0.0.1:8080"
	defaultDB   = "servewright.db"
)

// flags reads one command's flags.
type flags struct {
	*flag.FlagSet
	operands string // what follows the flags, for the help; empty = nothing may
	about    string
	env      func(string) string
}

func newFlags(name, operands, about string, env func(string) string) *flags {
	fs := flag.NewFlagSet(name, flag.ContinueOnError)
	fs.SetOutput(io.Discard) // faults are told once, by run
	return &flags{FlagSet: fs, operands: operands, about: about, env: env}
}

// text defines a flag whose default is an environment variable's value, or
// fallback where that is empty. The help never shows the value: it may hold a
// password.
func (f *flags) text(into *string, name, variable, fallback, usage string) {
	value := fallback
	if v := f.env(variable); v != "" {
		value = v
	}
	f.StringVar(into, name, value, usage+"\n(default: $"+variable+", else "+fallback+")")
}

func (f *flags) database(into *string) {
	f.text(into, "db", "SERVEWRIGHT_DB", defaultDB, "the `database`: a path (embedded SQLite) or postgres://… (PostgreSQL)")
}

// parse reads args. -h prints the help to w and returns flag.ErrHelp.
func (f *flags) parse(args []string, w io.Writer) error {
	err := f.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		f.help(w)
		return err
	case err != nil:
		return misuse{fmt.Sprintf("%s: %v (-h lists the flags)", f.Name(), err)}
	case f.operands == "" && f.NArg() > 0:
		return misuse{fmt.Sprintf("%s takes flags only, not %q (-h lists them)", f.Name(), f.Arg(0))}
	}
	return nil
}

func (f *flags) help(w io.Writer) {
	call := "servewright " + f.Name()
	f.VisitAll(func(*flag.Flag) { call = "servewright " + f.Name() + " [flags]" })
	call = strings.TrimSpace(call + " " + f.operands)
	fmt.Fprintf(w, "Usage: %s\n\n%s\n", call, f.about)
	f.VisitAll(func(fl *flag.Flag) {
		kind, text := flag.UnquoteUsage(fl)
		fmt.Fprintf(w, "\n  %s\n", strings.TrimSpace("--"+fl.Name+" "+strings.ToUpper(kind)))
		for line := range strings.Lines(text) {
			fmt.Fprintf(w, "      %s\n", strings.TrimSpace(line))
		}
	})
}
