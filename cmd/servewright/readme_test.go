package main

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"reflect"
	"strings"
	"testing"
)

// fence is one fenced block of the README.
type fence struct {
	kind, text string
}

// fences reads the fenced blocks of a file at the top level.
func fences(t *testing.T, name string) []fence {
	t.Helper()
	text, err := os.ReadFile(root + "/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var out []fence
	parts := strings.Split("\n"+string(text), "\n```")
	for i := 1; i < len(parts); i += 2 {
		kind, body, _ := strings.Cut(parts[i], "\n")
		out = append(out, fence{kind, body + "\n"})
	}
	return out
}

// TestReadmeWalk does what the README's curl commands do, against a fresh
// server, and compares the answers with those that the README shows. A shown
// answer may leave members out.
func TestReadmeWalk(t *testing.T) {
	r := start(t, "serve", "--addr", "127.0.0.1:0", "--db", ":memory:")
	calls, shown := 0, 0
	var last string
	for _, f := range fences(t, "README.md") {
		switch f.kind {
		case "sh":
			calls++
			last = curl(t, strings.ReplaceAll(f.text, "http://"+defaultAddr, r.url))
		case "json":
			shown++
			compare(t, f.text, last)
		}
	}
	if calls < 8 || shown < 4 {
		t.Errorf("the README has %d commands and shows %d answers, want at least 8 and 4", calls, shown)
	}
}

// curl does what a curl command line of the README does: curl URL, or
// curl --json BODY URL.
func curl(t *testing.T, command string) string {
	t.Helper()
	words := shellWords(t, command)
	var res *http.Response
	var err error
	switch {
	case len(words) == 2 && words[0] == "curl":
		res, err = http.Get(words[1])
	case len(words) == 4 && words[0] == "curl" && words[1] == "--json":
		res, err = http.Post(words[3], "application/json", strings.NewReader(words[2]))
	default:
		t.Fatalf("this test does not know the command %q", command)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	if res.StatusCode/100 != 2 {
		t.Fatalf("%s answers %d %s", command, res.StatusCode, body)
	}
	return string(body)
}

// shellWords splits a command as a shell does, for plain words and words in
// single quotes.
func shellWords(t *testing.T, command string) []string {
	t.Helper()
	var words []string
	for i, part := range strings.Split(strings.TrimSpace(command), "'") {
		if i%2 == 1 {
			words = append(words, part)
		} else {
			words = append(words, strings.Fields(part)...)
		}
	}
	return words
}

// compare wants everything that is shown to stand in got, with the same value.
func compare(t *testing.T, shown, got string) {
	t.Helper()
	var want, have any
	if err := json.Unmarshal([]byte(shown), &want); err != nil {
		t.Fatalf("the README shows an answer that is not JSON: %v\n%s", err, shown)
	}
	if err := json.Unmarshal([]byte(got), &have); err != nil {
		t.Fatalf("the answer is not JSON: %v\n%s", err, got)
	}
	for _, fault := range missing("", want, have) {
		t.Error("README.md: " + fault)
	}
}

func missing(at string, want, have any) (faults []string) {
	switch w := want.(type) {
	case map[string]any:
		h, _ := have.(map[string]any)
		for name, v := range w {
			faults = append(faults, missing(at+"/"+name, v, h[name])...)
		}
		return faults
	case []any:
		h, _ := have.([]any)
		if len(h) < len(w) {
			return []string{fmt.Sprintf("%s has %d items, not %d", at, len(h), len(w))}
		}
		for i := range w {
			faults = append(faults, missing(fmt.Sprintf("%s/%d", at, i), w[i], h[i])...)
		}
		return faults
	}
	if !reflect.DeepEqual(want, have) {
		return []string{fmt.Sprintf("%s is %v in the answer, not %v", at, have, want)}
	}
	return nil
}

// TestReadmeShowsTheDemo holds the table in the README against what the demo
// prints, blank lines and lines left out aside.
func TestReadmeShowsTheDemo(t *testing.T) {
	out, code := call(t, nil, "demo", "--once", "--as-of", "2026-06-01")
	if code != 0 {
		t.Fatalf("demo --once exits with %d:\n%s", code, out)
	}
	lines := 0
	for _, f := range fences(t, "README.md") {
		if f.kind != "text" {
			continue
		}
		for l := range strings.Lines(f.text) {
			lines++
			if !strings.Contains(out, l) {
				t.Errorf("README.md shows a line that the demo does not print: %s", l)
			}
		}
	}
	if lines < 8 {
		t.Errorf("README.md shows %d lines of the demo, want the table", lines)
	}
}

// TestReadmeCommands checks that the commands at the top are the ones that CI
// runs, and that nothing has to be done before them.
func TestReadmeCommands(t *testing.T) {
	readme, err := os.ReadFile(root + "/README.md")
	if err != nil {
		t.Fatal(err)
	}
	ci, err := os.ReadFile(root + "/.ci/run")
	if err != nil {
		t.Fatal(err)
	}
	for _, command := range []string{"\n    go run ./cmd/servewright demo\n", "\n    go test ./...\n"} {
		if !strings.Contains(string(readme), command) {
			t.Errorf("README.md lacks the command %q", strings.TrimSpace(command))
		}
	}
	if !strings.Contains(string(ci), "\ngo test ./...\n") {
		t.Error(".ci/run does not run the README's test command, go test ./..., as it stands there")
	}
}
