// Package page shows the API to a person: one page that draws the API's
// document, and everything that page needs, embedded in the program. It works
// offline and under a policy that lets a browser load nothing from elsewhere.
package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"
)

// docs is the page, swagger-ui-dist 5.35.0 as published on npm (Apache-2.0;
// only its bundle, style sheet and licence texts), and its set-up.
//
//go:embed docs
var docs embed.FS

// policy lets the page load scripts, styles and the document from this server
// and nothing else. swagger-ui draws its icons from data: addresses.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src data:; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// asset is one file of the page, ready to be sent.
type asset struct {
	body      []byte
	mediaType string
	etag      string
}

// Docs answers GET and HEAD of /docs/ with the page and of /docs/NAME with what
// the page loads; notFound answers everything else.
func Docs(notFound http.Handler) http.Handler {
	assets := load()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name, below := strings.CutPrefix(r.URL.Path, "/docs/")
		if a, ok := assets[name]; below && ok {
			a.ServeHTTP(w, r)
			return
		}
		notFound.ServeHTTP(w, r)
	})
}

// ServeHTTP sends the file, or 304 to a client that has it.
func (a asset) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", a.mediaType)
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cache-Control", "no-cache")
	h.Set("ETag", a.etag)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(a.body))
}

// load reads the embedded files by what follows /docs/ in their address.
func load() map[string]asset {
	out := make(map[string]asset)
	err := fs.WalkDir(docs, "docs", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := docs.ReadFile(name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		a := asset{body, mediaType(name), `"` + hex.EncodeToString(sum[:8]) + `"`}
		out[strings.TrimSuffix(strings.TrimPrefix(name, "docs/"), "index.html")] = a
		return nil
	})
	if err != nil {
		panic(err) // an embedded file cannot fail to be read
	}
	return out
}

// mediaType does not ask the machine, whose table may differ.
func mediaType(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	}
	return "text/plain; charset=utf-8"
}
