package openapi_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"

	"servewright/api"
)

func init() {
	openapi3filter.RegisterBodyDecoder(problemType, openapi3filter.JSONBodyDecoder)
	openapi3filter.RegisterBodyDecoder("application/merge-patch+json", openapi3filter.JSONBodyDecoder)
	// The library's own format uuid takes no version 7; the rest it does not know or check.
	for format, pattern := range map[string]string{
		"uuid":      `^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`,
		"decimal":   decimal,
		"date":      `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`,
		"date-time": `^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?Z$`,
	} {
		openapi3.DefineStringFormatValidator(format, openapi3.NewRegexpFormatValidator(pattern))
	}
}

// client calls a live server and holds every answer against the document.
type client struct {
	t      *testing.T
	base   string
	doc    *openapi3.T
	router routers.Router
	found  map[string]operation // by operation id
	seen   map[string]bool      // "operation status"
}

type operation struct {
	method, path string
	*openapi3.Operation
}

func newClient(t *testing.T, store api.Store) *client {
	t.Helper()
	live := httptest.NewServer(server(store))
	t.Cleanup(live.Close)
	doc := document(t)
	doc.Servers = nil // match any host
	router, err := legacy.NewRouter(doc)
	if err != nil {
		t.Fatal(err)
	}
	c := &client{t: t, base: live.URL, doc: doc, router: router, found: map[string]operation{}, seen: map[string]bool{}}
	for path, item := range doc.Paths.Map() {
		for method, op := range item.Operations() {
			c.found[op.OperationID] = operation{method, path, op}
		}
	}
	return c
}

// request is one call of an operation.
type request struct {
	op     string            // operation id
	params map[string]string // of the path
	query  string
	header map[string]string
	body   string
	wrong  bool // it breaks the document on purpose
}

// answer is what came back.
type answer struct {
	status int
	header http.Header
	body   []byte
}

// object reads the answer as a JSON object.
func (a answer) object(t *testing.T) map[string]any {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal(a.body, &v); err != nil {
		t.Fatalf("%v: %s", err, a.body)
	}
	return v
}

var placeholder = regexp.MustCompile(`\{(\w+)\}`)

// call sends r, validates request and answer, and notes what was seen.
func (c *client) call(r request) answer {
	c.t.Helper()
	op, ok := c.found[r.op]
	if !ok {
		c.t.Fatalf("the document has no operation %s", r.op)
	}
	path := placeholder.ReplaceAllStringFunc(op.path, func(p string) string { return url.PathEscape(r.params[strings.Trim(p, "{}")]) })
	req, err := http.NewRequest(op.method, c.base+path+"?"+r.query, strings.NewReader(r.body))
	if err != nil {
		c.t.Fatal(err)
	}
	if op.RequestBody != nil {
		for media := range op.RequestBody.Value.Content {
			req.Header.Set("Content-Type", media)
		}
	}
	for k, v := range r.header {
		req.Header.Set(k, v)
	}
	input := c.checkRequest(req, r)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		c.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		c.t.Fatal(err)
	}
	c.checkAnswer(op, input, res, body)
	return answer{res.StatusCode, res.Header, body}
}

// checkRequest holds a request against the document, unless it is meant to be
// wrong.
func (c *client) checkRequest(req *http.Request, r request) *openapi3filter.RequestValidationInput {
	c.t.Helper()
	route, params, err := c.router.FindRoute(req)
	if err != nil {
		c.t.Fatalf("%s %s is not in the document: %v", req.Method, req.URL.Path, err)
	}
	if route.Operation.OperationID != r.op {
		c.t.Fatalf("%s %s is %s, want %s", req.Method, req.URL.Path, route.Operation.OperationID, r.op)
	}
	input := &openapi3filter.RequestValidationInput{Request: req, PathParams: params, Route: route,
		Options: &openapi3filter.Options{MultiError: true, IncludeResponseStatus: true, SkipSettingDefaults: true, AuthenticationFunc: openapi3filter.NoopAuthenticationFunc}}
	if r.wrong {
		return input
	}
	if err := openapi3filter.ValidateRequest(context.Background(), input); err != nil {
		c.t.Errorf("%s sends what the document does not allow: %v\n%s", r.op, err, r.body)
	}
	req.Body = io.NopCloser(strings.NewReader(r.body))
	return input
}

// checkAnswer wants the status to be documented by itself and the body to be
// what the document says of it.
func (c *client) checkAnswer(op operation, input *openapi3filter.RequestValidationInput, res *http.Response, body []byte) {
	c.t.Helper()
	status := strconv.Itoa(res.StatusCode)
	c.seen[op.OperationID+" "+status] = true
	if op.Responses.Value(status) == nil {
		c.t.Errorf("%s answers %s, which the document does not name: %.300s", op.OperationID, status, body)
		return
	}
	if err := c.against(input, res.StatusCode, res.Header, body); err != nil {
		c.t.Errorf("%s answers %s against the document: %v\n%.1500s", op.OperationID, status, err, body)
	}
}

// against holds one answer against the document.
func (c *client) against(input *openapi3filter.RequestValidationInput, status int, header http.Header, body []byte) error {
	answer := &openapi3filter.ResponseValidationInput{RequestValidationInput: input, Status: status, Header: header, Options: input.Options}
	answer.SetBodyBytes(bytes.Clone(body))
	return openapi3filter.ValidateResponse(context.Background(), answer)
}

// etag reads the current ETag of what op works on.
func (c *client) etag(r request) string {
	c.t.Helper()
	path := c.found[r.op].path
	for id, op := range c.found {
		if op.path == path && op.method == http.MethodGet {
			return c.call(request{op: id, params: r.params}).header.Get("ETag")
		}
	}
	c.t.Fatalf("%s wants If-Match but nothing reads %s", r.op, path)
	return ""
}

// wantsMatch reports whether the operation takes If-Match.
func (o operation) wantsMatch() bool {
	return o.Parameters.GetByInAndName("header", "If-Match") != nil
}
