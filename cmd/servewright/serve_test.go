package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// journal gathers what a running command prints.
type journal struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (j *journal) Write(p []byte) (int, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.text.Write(p)
}

func (j *journal) String() string {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.text.String()
}

// running is a command that runs until it is stopped.
type running struct {
	url  string
	out  *journal
	stop context.CancelFunc
	code chan int
}

var address = regexp.MustCompile(`http://127\.0\.0\.1:[0-9]+`)

// start runs a command that serves and waits until it has said where.
func start(t *testing.T, args ...string) *running {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	r := &running{out: &journal{}, stop: stop, code: make(chan int, 1)}
	t.Cleanup(func() {
		stop()
		<-r.code
	})
	go func() {
		r.code <- run(ctx, args, terminal{in: strings.NewReader(""), out: r.out, err: r.out, env: func(string) string { return "" }})
		close(r.code)
	}()
	for deadline := time.Now().Add(20 * time.Second); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		if r.url = address.FindString(r.out.String()); r.url != "" {
			return r
		}
	}
	t.Fatalf("servewright %q did not say where it serves:\n%s", args, r.out)
	return nil
}

// get asks the running server and returns the status and the body.
func (r *running) get(t *testing.T, path string) (int, string) {
	t.Helper()
	res, err := http.Get(r.url + path)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res.StatusCode, string(body)
}

func TestServe(t *testing.T) {
	r := start(t, "serve", "--addr", "127.0.0.1:0", "--db", filepath.Join(t.TempDir(), "bar.db"))
	tests := []struct {
		path   string
		status int
		body   string // part of it
	}{
		{"/livez", 200, "ok"},
		{"/readyz", 200, "ok"},
		{"/v1/components", 200, `"items":[]`},
		{"/openapi.json", 200, `"openapi"`},
		{"/docs", 200, "<!doctype html>"},
		{"/docs/page.js", 200, "SwaggerUIBundle"},
		{"/docs/nothing", 404, "/problems/not-found"},
		{"/nothing", 404, "/problems/not-found"},
	}
	for _, tt := range tests {
		status, body := r.get(t, tt.path)
		if status != tt.status || !strings.Contains(body, tt.body) {
			t.Errorf("GET %s = %d %.200q, want %d with %q", tt.path, status, body, tt.status, tt.body)
		}
	}
	r.stop()
	if code := <-r.code; code != 0 {
		t.Errorf("a stopped server exits with %d, want 0:\n%s", code, r.out)
	}
}

// TestServeDrains checks that a server that is being stopped says so on /readyz
// while it still answers.
func TestServeDrains(t *testing.T) {
	r := start(t, "serve", "--addr", "127.0.0.1:0", "--db", ":memory:", "--drain", "400ms")
	if status, _ := r.get(t, "/readyz"); status != http.StatusOK {
		t.Fatalf("GET /readyz = %d before the stop, want 200", status)
	}
	r.stop()
	var status int
	for range 20 {
		if status, _ = r.get(t, "/readyz"); status == http.StatusServiceUnavailable {
			break
		}
		time.Sleep(5 * time.Millisecond)
	}
	if status != http.StatusServiceUnavailable {
		t.Errorf("GET /readyz = %d while the server drains, want 503", status)
	}
	if status, _ := r.get(t, "/livez"); status != http.StatusOK {
		t.Errorf("GET /livez = %d while the server drains, want 200", status)
	}
	if code := <-r.code; code != 0 {
		t.Errorf("a drained server exits with %d, want 0", code)
	}
}

// TestServeLocally checks by which names a server that listens on this machine
// alone may be called, and that --open lifts that.
func TestServeLocally(t *testing.T) {
	closed := start(t, "serve", "--addr", "127.0.0.1:0", "--db", ":memory:")
	open := start(t, "serve", "--addr", "127.0.0.1:0", "--db", ":memory:", "--open")
	tests := []struct {
		host                     string
		closedStatus, openStatus int
	}{
		{"127.0.0.1:80", 200, 200},
		{"localhost", 200, 200},
		{"[::1]:8080", 200, 200},
		{"evil.example", 421, 200},
		{"127.0.0.1.evil.example:8080", 421, 200},
		{"192.0.2.7", 421, 200},
	}
	for _, tt := range tests {
		if got := closed.as(t, tt.host); got != tt.closedStatus {
			t.Errorf("called %s, a local server answers %d, want %d", tt.host, got, tt.closedStatus)
		}
		if got := open.as(t, tt.host); got != tt.openStatus {
			t.Errorf("called %s, an open server answers %d, want %d", tt.host, got, tt.openStatus)
		}
	}
}

// as asks the running server under another name and returns the status.
func (r *running) as(t *testing.T, host string) int {
	t.Helper()
	req, err := http.NewRequest(http.MethodGet, r.url+"/v1/house", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Host = host
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	return res.StatusCode
}

func TestServeWithoutItsSchema(t *testing.T) {
	out, code := call(t, nil, "serve", "--addr", "127.0.0.1:0", "--migrate=false", "--db", filepath.Join(t.TempDir(), "empty.db"))
	if code != 1 || !strings.Contains(out, "migrate") {
		t.Errorf("serve on an empty database exits with %d and says %q, want 1 and a word of servewright migrate", code, out)
	}
}

func TestServeOnATakenAddress(t *testing.T) {
	r := start(t, "serve", "--addr", "127.0.0.1:0", "--db", ":memory:")
	out, code := call(t, nil, "serve", "--addr", strings.TrimPrefix(r.url, "http://"), "--db", ":memory:")
	if code != 1 || !strings.Contains(out, "in use") || !strings.Contains(out, "--addr") {
		t.Errorf("serve on a taken address exits with %d and says %q, want 1, the reason and --addr", code, out)
	}
}

// TestDemoServes follows the addresses that the demonstration prints.
func TestDemoServes(t *testing.T) {
	r := start(t, "demo")
	for deadline := time.Now().Add(5 * time.Second); !strings.Contains(r.out.String(), "/docs") && time.Now().Before(deadline); {
		time.Sleep(5 * time.Millisecond)
	}
	for _, path := range []string{"/v1/specs/code:Q-01/serve", "/v1/components/code:H-GINGER/profile", "/docs"} {
		if !strings.Contains(r.out.String(), r.url+path) {
			t.Errorf("the demo does not name %s:\n%s", path, r.out)
		}
		if status, body := r.get(t, path); status != http.StatusOK {
			t.Errorf("GET %s = %d %.300s, want 200", path, status, body)
		}
	}
	res, err := http.Post(r.url+"/v1/swaps", "application/json", strings.NewReader(`{"from": "code:GINGER-LIQ", "to": "code:H-GINGER"}`))
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		t.Errorf("POST /v1/swaps = %d, want 200", res.StatusCode)
	}
}
