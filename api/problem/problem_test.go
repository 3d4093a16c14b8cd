package problem_test

import (
	"errors"
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"

	"servewright/api/problem"
	"servewright/domain"
)

func TestManyFaultsAreCapped(t *testing.T) {
	var bad domain.Faults
	for i := range 250 {
		bad.Add(fmt.Sprintf("/lines/%d", i), "X", "broken")
	}
	doc, known := problem.Of(bad.Err())
	if len(doc.Errors) != 100 || !known || !strings.Contains(doc.Detail, "250") {
		t.Errorf("250 faults give %d errors and the detail %q, want 100 and the number named", len(doc.Errors), doc.Detail)
	}
	one, _ := problem.Of(bad[:1].Err())
	if one.Detail != "broken" || *one.Errors[0].Pointer != "/lines/0" {
		t.Errorf("one fault gives the detail %q at %q", one.Detail, *one.Errors[0].Pointer)
	}
}

func TestConflictNamesTheUsers(t *testing.T) {
	err := &domain.Error{Kind: domain.Conflict, Code: "IN_USE", Text: "used by 1", Refs: []domain.Ref{{Type: "spec", ID: "1", Code: "C-104", Name: "Pier Lamp"}}}
	doc, _ := problem.Of(fmt.Errorf("delete: %w", err))
	if doc.Status != 409 || doc.Code != "IN_USE" || doc.Detail != "used by 1" || len(doc.Users) != 1 || doc.Users[0] != (problem.User{Type: "spec", ID: "1", Code: "C-104", Name: "Pier Lamp"}) {
		t.Errorf("document is %+v", doc)
	}
}

// TestNothingLeaks keeps what a database or a program said out of the answer.
func TestNothingLeaks(t *testing.T) {
	const secret = "hunter2"
	for _, err := range []error{
		errors.New(secret), fmt.Errorf("x: %w", errors.New(secret)), domain.Errorf(domain.Kind(99), secret),
		&domain.Error{Kind: domain.Unavailable, Text: secret, Cause: errors.New(secret)},
		&domain.Error{Kind: domain.Full, Text: secret, Cause: errors.New(secret)},
	} {
		doc, _ := problem.Of(err)
		rec := httptest.NewRecorder()
		if err := doc.Write(rec); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(rec.Body.String(), secret) || rec.Code < 500 || rec.Header().Get("Content-Type") != problem.MediaType {
			t.Errorf("%v is answered %d %s", err, rec.Code, rec.Body)
		}
	}
}

func TestOfStatus(t *testing.T) {
	for status, kind := range map[int]string{404: "not-found", 405: "method-not-allowed", 413: "too-large", 415: "unsupported", 503: "busy", 500: "internal", 502: "internal", 408: "http", 418: "http"} {
		doc := problem.OfStatus(status)
		if doc.Type != "/problems/"+kind || doc.Title == "" || status < 500 && doc.Status != status {
			t.Errorf("OfStatus(%d) is %+v, want type %s", status, doc, kind)
		}
	}
}

func TestMisplacedAndUnreadable(t *testing.T) {
	var bad problem.Misplaced
	if bad.Err() != nil {
		t.Error("nothing noted is an error")
	}
	bad.Parameter("limit", "OUT_OF_RANGE", "at least %d", 1)
	bad.Header("If-Match", "BAD_ETAG", "no quotes")
	doc, known := problem.Of(bad.Err())
	if doc.Status != 400 || !known || doc.Errors[0].Parameter != "limit" || doc.Errors[1].Header != "If-Match" || doc.Errors[0].Pointer != nil {
		t.Errorf("document is %+v", doc)
	}
	doc, _ = problem.Of(&problem.Unreadable{Offset: 17, Pointer: "/a", Code: "SYNTAX", Detail: "no comma"})
	if doc.Status != 400 || *doc.Offset != 17 || *doc.Errors[0].Pointer != "/a" || doc.Detail != "byte 17: no comma" {
		t.Errorf("document is %+v", doc)
	}
}
