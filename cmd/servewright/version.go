package main

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
)

func runVersion(_ context.Context, args []string, t terminal) error {
	if err := newFlags("version", "", "Prints the version of this program.", t.env).parse(args, t.out); err != nil {
		return err
	}
	fmt.Fprintf(t.out, "servewright %s, %s %s/%s\n", version(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return nil
}

// version is the module's version, or the commit of a build from source.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && (v == "" || v == "(devel)") {
			v = s.Value
		}
	}
	if v == "" {
		return "(devel)"
	}
	return v
}
