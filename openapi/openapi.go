// Package openapi holds the description of the API, made from the handlers'
// comments by this package's tests and committed. Never edit openapi.json:
//
//	go generate ./openapi
package openapi

import _ "embed"

// Document is the OpenAPI 3.1 document, as GET /openapi.json answers it.
//
//go:embed openapi.json
var Document []byte

//go:generate go test -count=1 -run ^TestCurrent$ -update .
