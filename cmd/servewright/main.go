// Servewright holds a bar's components and specs and works out what is in the
// glass and what it costs, over a JSON API.
//
//	servewright demo      see one swap across an invented bar's menu, then try the API on it
//	servewright serve     serve the API
//	servewright load      read components and specs from a JSON file
//	servewright migrate   bring a database to this program's schema
//	servewright version   print the version
//
// Each command answers -h with its flags. It exits with 0 when all went well, 1
// when something failed and 2 when it was called wrongly.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	os.Exit(run(ctx, os.Args[1:], terminal{in: os.Stdin, out: os.Stdout, err: os.Stderr, env: os.Getenv}))
}

// terminal is what a command sees of the world it was called in.
type terminal struct {
	in       io.Reader
	out, err io.Writer
	env      func(string) string
}

// command is one thing the program does.
type command struct {
	name, summary string
	run           func(ctx context.Context, args []string, t terminal) error
}

var commands = []command{
	{"demo", "see one swap across an invented bar's menu, then try the API on it", runDemo},
	{"serve", "serve the API", runServe},
	{"load", "read components and specs from a JSON file", runLoad},
	{"migrate", "bring a database to this program's schema", runMigrate},
	{"version", "print the version", runVersion},
}

// misuse is a command called wrongly: exit code 2.
type misuse struct{ text string }

func (m misuse) Error() string { return m.text }

// run does what args say and returns the exit code. Every failure is one line
// on the terminal's err.
func run(ctx context.Context, args []string, t terminal) int {
	err := dispatch(ctx, args, t)
	var wrong misuse
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.As(err, &wrong):
		fmt.Fprintf(t.err, "servewright: %s\n", oneLine(err))
		return 2
	}
	fmt.Fprintf(t.err, "servewright: %s\n", oneLine(err))
	return 1
}

func dispatch(ctx context.Context, args []string, t terminal) error {
	if len(args) == 0 {
		return misuse{"say what to do: " + commandNames() + " (-h tells more)"}
	}
	switch args[0] {
	case "-h", "--help", "-help", "help":
		usage(t.out)
		return nil
	}
	for _, c := range commands {
		if c.name == args[0] {
			return c.run(ctx, args[1:], t)
		}
	}
	return misuse{fmt.Sprintf("there is no command %q; use one of %s", args[0], commandNames())}
}

func commandNames() string {
	names := make([]string, len(commands))
	for i, c := range commands {
		names[i] = c.name
	}
	return strings.Join(names, ", ")
}

func usage(w io.Writer) {
	fmt.Fprint(w, "Servewright works out what is in the glass and what it costs.\n\nUsage: servewright COMMAND [flags]\n\n")
	for _, c := range commands {
		fmt.Fprintf(w, "  %-9s%s\n", c.name, c.summary)
	}
	fmt.Fprint(w, "\nservewright COMMAND -h lists a command's flags.\n")
}

// oneLine writes a failure with the cause at its root, which the sentence of a
// kind of failure leaves out.
func oneLine(err error) string {
	text, root := err.Error(), err
	for next := err; next != nil; next = errors.Unwrap(next) {
		root = next
	}
	if !strings.Contains(text, root.Error()) {
		text += ": " + root.Error()
	}
	return strings.Join(strings.Fields(text), " ")
}
