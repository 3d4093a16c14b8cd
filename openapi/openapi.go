// Package openapi holds the description of the API, made from the handlers'
// comments by this package's tests and committed. Never edit openapi.json:
//
//	go generate ./openapi
package openapi

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"net/http"
	"time"
)

// Document is the OpenAPI 3.1 document, as GET /openapi.json answers it.
//
//go:embed openapi.json
var Document []byte

// Handler answers with the document, or 304 to a client that has it.
func Handler() http.Handler {
	sum := sha256.Sum256(Document)
	etag := `"` + hex.EncodeToString(sum[:8]) + `"`
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Cache-Control", "no-cache")
		w.Header().Set("ETag", etag)
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(Document))
	})
}

//go:generate go test -count=1 -run ^TestCurrent$ -update .
