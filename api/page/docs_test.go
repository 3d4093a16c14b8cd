package page_test

import (
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"servewright/api/page"
)

// get asks the page's handler; 418 stands for what it does not answer itself.
func get(t *testing.T, path, etag string) *httptest.ResponseRecorder {
	t.Helper()
	other := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusTeapot) })
	w, r := httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, "/", nil)
	r.URL.Path = path
	r.Header.Set("If-None-Match", etag)
	page.Docs(other).ServeHTTP(w, r)
	return w
}

// TestDocsLoadsOnlyItself follows everything the page names.
func TestDocsLoadsOnlyItself(t *testing.T) {
	w := get(t, "/docs/", "")
	if w.Code != http.StatusOK || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/html") {
		t.Fatalf("GET /docs/ = %d %s, want 200 text/html", w.Code, w.Header().Get("Content-Type"))
	}
	links := regexp.MustCompile(`(?:href|src)="([^"]+)"`).FindAllStringSubmatch(w.Body.String(), -1)
	if len(links) < 6 {
		t.Fatalf("the page names %d files, want its styles, scripts, licences and the document", len(links))
	}
	for _, l := range links {
		switch target := l[1]; {
		case target == "data:,", target == "../openapi.json":
		case strings.ContainsAny(target, ":/"):
			t.Errorf("the page names %s, which is not its own", target)
		default:
			if got := get(t, "/docs/"+target, ""); got.Code != http.StatusOK || got.Body.Len() == 0 {
				t.Errorf("GET /docs/%s = %d with %d bytes, want 200 and its content", target, got.Code, got.Body.Len())
			}
		}
	}
}

func TestDocsHeaders(t *testing.T) {
	tests := []struct{ path, mediaType string }{
		{"/docs/", "text/html; charset=utf-8"},
		{"/docs/page.js", "text/javascript; charset=utf-8"},
		{"/docs/swagger-ui.css", "text/css; charset=utf-8"},
		{"/docs/LICENSE", "text/plain; charset=utf-8"},
	}
	for _, tt := range tests {
		w := get(t, tt.path, "")
		if got := w.Header().Get("Content-Type"); got != tt.mediaType {
			t.Errorf("%s has media type %q, want %q", tt.path, got, tt.mediaType)
		}
		csp := w.Header().Get("Content-Security-Policy")
		if !strings.HasPrefix(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s has policy %q, want one that starts from nothing and takes nothing unsafe", tt.path, csp)
		}
		again := get(t, tt.path, w.Header().Get("ETag"))
		if again.Code != http.StatusNotModified {
			t.Errorf("%s asked again with its ETag = %d, want 304", tt.path, again.Code)
		}
	}
}

func TestDocsLeavesTheRest(t *testing.T) {
	for _, path := range []string{"/docs", "/docs/docs.go", "/docs/index.html", "/docs/../docs.go", "/docs/nothing", "/doc", ""} {
		if w := get(t, path, ""); w.Code != http.StatusTeapot {
			t.Errorf("GET %s = %d, want it left to the other handler", path, w.Code)
		}
	}
}
