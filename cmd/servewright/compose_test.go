package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/compose-spec/compose-go/v2/loader"
	"github.com/compose-spec/compose-go/v2/types"
)

const composeFile = root + "/docker-compose.yml"

// compose reads the compose file by the current specification, which refuses
// unknown keys, undefined services and unset variables.
func compose(t *testing.T, env types.Mapping) (*types.Project, error) {
	t.Helper()
	text, err := os.ReadFile(composeFile)
	if err != nil {
		t.Fatal(err)
	}
	dir, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	return loader.LoadWithContext(context.Background(), types.ConfigDetails{
		WorkingDir:  dir,
		Environment: env,
		ConfigFiles: []types.ConfigFile{{Filename: "docker-compose.yml", Content: text}},
	})
}

func TestComposeNeedsAPassword(t *testing.T) {
	_, err := compose(t, types.Mapping{})
	if err == nil || !strings.Contains(err.Error(), "POSTGRES_PASSWORD") {
		t.Errorf("without POSTGRES_PASSWORD: error %v, want one that names it", err)
	}
}

func TestComposeStandsAsDescribed(t *testing.T) {
	const password = "only-in-this-test"
	p, err := compose(t, types.Mapping{"POSTGRES_PASSWORD": password})
	if err != nil {
		t.Fatal(err)
	}
	server, database := p.Services["server"], p.Services["database"]
	for name, s := range p.Services {
		if s.HealthCheck == nil || len(s.HealthCheck.Test) == 0 {
			t.Errorf("service %s has no health check", name)
		}
	}
	if c := server.DependsOn["database"].Condition; c != types.ServiceConditionHealthy {
		t.Errorf("server waits for the database to be %q, want %q", c, types.ServiceConditionHealthy)
	}
	if len(server.Ports) != 1 || server.Ports[0].HostIP != "127.0.0.1" {
		t.Errorf("server publishes %+v, want one port, on 127.0.0.1 alone", server.Ports)
	}
	if len(database.Ports) != 0 {
		t.Errorf("the database publishes %+v, want nothing", database.Ports)
	}
	if len(database.Volumes) != 1 || database.Volumes[0].Source != "records" {
		t.Errorf("the database keeps its data in %+v, want the volume records", database.Volumes)
	}
	if got := server.Environment["PGPASSWORD"]; got == nil || *got != password {
		t.Errorf("the server's PGPASSWORD is %v, want the chosen one", got)
	}
	if got := p.Configs["role"].Content; strings.Contains(got, password) || !strings.Contains(got, "NOBYPASSRLS") {
		t.Errorf("the role is made by %q; it must not hold the password, nor step round row-level security", got)
	}
	checkCommand(t, server.Command)
	checkBuild(t, server.Build.DockerfileInline)
}

// checkCommand holds the command against the program's own flags.
func checkCommand(t *testing.T, args []string) {
	t.Helper()
	if len(args) == 0 || args[0] != "serve" {
		t.Fatalf("the server's command is %q, want serve …", args)
	}
	if _, err := parseServe(args[1:], terminal{out: io.Discard, env: func(string) string { return "" }}); err != nil {
		t.Errorf("servewright refuses the compose file's command %q: %v", args, err)
	}
}

// checkBuild looks at what the inline build copies and with which Go.
func checkBuild(t *testing.T, dockerfile string) {
	t.Helper()
	for line := range strings.Lines(dockerfile) {
		f := strings.Fields(line)
		if len(f) == 3 && f[0] == "COPY" && !strings.HasPrefix(f[1], "--") {
			if _, err := os.Stat(filepath.Join(root, f[1])); err != nil {
				t.Errorf("the build copies %s: %v", f[1], err)
			}
		}
	}
	mod, err := os.ReadFile(root + "/go.mod")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(mod), "\ngo ")
	version, _, _ := strings.Cut(rest, "\n")
	if minor := strings.TrimSuffix(version, ".0"); !strings.Contains(dockerfile, "FROM golang:"+minor+"-") {
		t.Errorf("the build's Go is not go.mod's %s", minor)
	}
}
