package wire

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"servewright/api/problem"
	"servewright/domain"
)

// sample is a body with one member of every shape that a body can have.
type sample struct {
	Name  string             `json:"name" validate:"required,max=10"`
	Kind  string             `json:"kind,omitempty" validate:"oneof=a b"`
	Size  *float64           `json:"size,omitempty"`
	Count *int               `json:"count,omitempty"`
	On    bool               `json:"on,omitempty"`
	Words []string           `json:"words,omitempty" validate:"max=3"`
	Table map[string]float64 `json:"table,omitempty"`
	Inner *inner             `json:"inner,omitempty"`
	List  []inner            `json:"list,omitempty"`
}

type inner struct {
	X float64 `json:"x" validate:"required"`
}

func TestUnreadable(t *testing.T) {
	tests := []struct {
		name   string
		body   string
		code   string
		offset int64 // bytes
	}{
		{"nothing", "", "SYNTAX", 0},
		{"only spaces", "  \n", "SYNTAX", 0},
		{"not JSON", "name=x", "SYNTAX", 1},
		{"unfinished object", `{"name":"x"`, "SYNTAX", 11},
		{"unfinished text", `{"name":"x`, "SYNTAX", 10},
		{"comma before the end", `{"name":"x",}`, "SYNTAX", 11},
		{"single quotes", `{'name':1}`, "SYNTAX", 1},
		{"comment", `{"name":1 /* no */}`, "SYNTAX", 10},
		{"NaN", `{"size":NaN}`, "SYNTAX", 8},
		{"Infinity", `{"size":-Infinity}`, "SYNTAX", 9},
		{"leading zero", `{"size":01}`, "SYNTAX", 9},
		{"plus", `{"size":+1}`, "SYNTAX", 8},
		{"byte order mark", "\ufeff{}", "SYNTAX", 0},
		{"duplicate name", `{"name":"x","name":"y"}`, "DUPLICATE_NAME", 12},
		{"duplicate name, escaped", `{"name":"x","\u006eame":"y"}`, "DUPLICATE_NAME", 12},
		{"duplicate name inside", `{"inner":{"x":1,"x":2}}`, "DUPLICATE_NAME", 16},
		{"duplicate unknown name", `{"q":1,"q":2}`, "DUPLICATE_NAME", 7},
		{"bad UTF-8 in a value", "{\"name\":\"\xff\"}", "BAD_UTF8", 9},
		{"bad UTF-8 in a name", "{\"na\xc3me\":1}", "BAD_UTF8", 4},
		{"overlong UTF-8", "{\"name\":\"\xc0\x80\"}", "BAD_UTF8", 9},
		{"lone surrogate", `{"name":"\ud800"}`, "BAD_UTF8", 9},
		{"raw control character", "{\"name\":\"a\x01\"}", "SYNTAX", 10},
		{"second value", `{"name":"x"} {}`, "TRAILING_DATA", 13},
		{"trailing word", `{"name":"x"}x`, "TRAILING_DATA", 12},
		{"33 arrays", strings.Repeat("[", 33) + strings.Repeat("]", 33), "TOO_DEEP", 32},
		{"33 levels with objects", `{"name":` + strings.Repeat("[", 32) + strings.Repeat("]", 32) + "}", "TOO_DEEP", 39},
		{"a million arrays", strings.Repeat("[", 1_000_000), "TOO_DEEP", 32},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Decode([]byte(tt.body), new(sample))
			var u *problem.Unreadable
			if !errors.As(err, &u) {
				t.Fatalf("Decode(%.60q) error = %v, want an Unreadable", tt.body, err)
			}
			if u.Code != tt.code || u.Offset != tt.offset {
				t.Errorf("Decode(%.60q) = %s at byte %d (%s), want %s at byte %d", tt.body, u.Code, u.Offset, u.Detail, tt.code, tt.offset)
			}
			if !errors.Is(err, domain.Malformed) || u.Detail == "" {
				t.Errorf("Decode(%.60q) is not of kind malformed with a detail: %v", tt.body, err)
			}
		})
	}
}

func TestFaultsOfShape(t *testing.T) {
	tests := []struct {
		name string
		body string
		want []string // pointer and code of every fault, in order of the body
	}{
		{"fine", `{"name":"x","kind":"a","size":1.5,"count":6.0,"on":true,"words":["a"],"table":{"k":1},"inner":{"x":0},"list":[{"x":1}]}`, nil},
		{"32 levels", `{"name":` + strings.Repeat("[", 31) + strings.Repeat("]", 31) + "}", []string{"/name WRONG_TYPE"}},
		{"null is absent", `{"name":"x","kind":null,"size":null,"words":null,"inner":null}`, nil},
		{"null where required", `{"name":null}`, []string{"/name REQUIRED"}},
		{"missing", `{}`, []string{"/name REQUIRED"}},
		{"not an object", `[]`, []string{" WRONG_TYPE"}},
		{"null body", `null`, []string{" WRONG_TYPE"}},
		{"wrong case", `{"Name":"x"}`, []string{"/Name UNKNOWN_MEMBER", "/name REQUIRED"}},
		{"unknown", `{"name":"x","colour":"red","a/b~c":1}`, []string{"/colour UNKNOWN_MEMBER", "/a~1b~0c UNKNOWN_MEMBER"}},
		{"unknown inside", `{"name":"x","list":[{"x":1},{"x":1,"y":2}]}`, []string{"/list/1/y UNKNOWN_MEMBER"}},
		{"every fault at once", `{"name":7,"kind":"c","size":"1","count":1.5,"on":"yes","words":[1,"b",null],"table":{"k":"1"},"inner":{},"list":[[],{"x":true}],"q":0}`,
			[]string{"/name WRONG_TYPE", "/kind UNKNOWN_VALUE", "/size WRONG_TYPE", "/count NOT_WHOLE", "/on WRONG_TYPE",
				"/words/0 WRONG_TYPE", "/words/2 WRONG_TYPE", "/table/k WRONG_TYPE", "/inner/x REQUIRED", "/list/0 WRONG_TYPE", "/list/1/x WRONG_TYPE", "/q UNKNOWN_MEMBER"}},
		{"number beyond range", `{"name":"x","size":1e999,"inner":{"x":-1e999}}`, []string{"/size NUMBER_RANGE", "/inner/x NUMBER_RANGE"}},
		{"whole number beyond range", `{"name":"x","count":1e12}`, []string{"/count NOT_WHOLE"}},
		{"text too long", `{"name":"éééééééééééé"}`, []string{"/name TOO_LONG"}},
		{"list too long", `{"name":"x","words":["a","b","c","d"]}`, []string{"/words TOO_MANY"}},
		{"NUL", `{"name":"a\u0000b"}`, []string{"/name BAD_TEXT"}},
		{"carriage return", `{"name":"a\rb"}`, []string{"/name BAD_TEXT"}},
		{"emoji, joiners and accents pass", `{"name":"👩‍🍳é"}`, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			report, err := Decode([]byte(tt.body), new(sample))
			if err != nil {
				t.Fatalf("Decode(%s): %v", tt.body, err)
			}
			if got := shapes(report.Err()); fmt.Sprint(got) != fmt.Sprint(tt.want) {
				t.Errorf("Decode(%s) faults\n got %q\nwant %q", tt.body, got, tt.want)
			}
		})
	}
}

// shapes lists pointer and code of every fault in err.
func shapes(err error) []string {
	var e *domain.Error
	if !errors.As(err, &e) {
		return nil
	}
	var out []string
	for _, f := range e.Faults {
		out = append(out, f.Pointer+" "+f.Code)
	}
	return out
}

func TestUnknownMemberSaysTheWayOut(t *testing.T) {
	report, err := Decode([]byte(`{"name":"x","Kind":"a","sise":1}`), new(sample))
	if err != nil {
		t.Fatal(err)
	}
	text := report.Err().Error()
	for _, want := range []string{`names are lower case: kind`, `this object takes name, kind, size, count, on, words, table, inner, list`} {
		if !strings.Contains(text, want) {
			t.Errorf("faults are %q, want them to say %q", text, want)
		}
	}
}

func TestRuleIsNotReportedForWhatCouldNotBeRead(t *testing.T) {
	r := NewReport()
	r.Add("/lines/0/amount", "WRONG_TYPE", "must be a number")
	r.Add("/recipe", "WRONG_TYPE", "must be an object")
	rules := domain.Faults{
		{Pointer: "/lines/0/amount", Code: "AMOUNT_RANGE"},
		{Pointer: "/lines/0/unit", Code: "UNKNOWN_UNIT"},
		{Pointer: "/recipe/lines", Code: "REQUIRED"},
		{Pointer: "/recipes", Code: "KEPT"},
		{Pointer: "/recipes", Code: "KEPT"},
	}
	if err := r.Rules("", rules.Err()); err != nil {
		t.Fatal(err)
	}
	want := []string{"/lines/0/amount WRONG_TYPE", "/recipe WRONG_TYPE", "/lines/0/unit UNKNOWN_UNIT", "/recipes KEPT"}
	if got := shapes(r.Err()); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("faults are %q, want %q", got, want)
	}
	if err := r.Rules("", domain.Errorf(domain.Busy, "locked")); !errors.Is(err, domain.Busy) {
		t.Errorf("an error that is no rule came back as %v, want it as it was", err)
	}
}

func FuzzDecode(f *testing.F) {
	for _, seed := range []string{`{"name":"x","list":[{"x":1e999}]}`, `{"name":"x","name":"y"}`, "{\"a\":\"\xff\"}", `[[[[]]]]`, `{"inner":{"x":null}} 1`, `"\ud800"`, ``} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		var got sample
		report, err := Decode(body, &got)
		var u *problem.Unreadable
		switch {
		case err == nil && report.Empty():
			if got.Name == "" && !strings.Contains(string(body), `""`) {
				t.Errorf("Decode(%q) took a body without a name", body)
			}
		case err != nil && !errors.As(err, &u):
			t.Errorf("Decode(%q) error is %v, want an Unreadable", body, err)
		case err != nil && (u.Offset < 0 || u.Offset > int64(len(body)) || u.Detail == ""):
			t.Errorf("Decode(%q) stopped at byte %d of %d: %q", body, u.Offset, len(body), u.Detail)
		}
	})
}
