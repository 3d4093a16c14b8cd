package wire

import (
	"strconv"
	"strings"
	"testing"
)

// TestMergeAppendix runs every case of RFC 7396, appendix A.
func TestMergeAppendix(t *testing.T) {
	tests := []struct{ doc, patch, want string }{
		{`{"a":"b"}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"b"}`, `{"b":"c"}`, `{"a":"b","b":"c"}`},
		{`{"a":"b"}`, `{"a":null}`, `{}`},
		{`{"a":"b","b":"c"}`, `{"a":null}`, `{"b":"c"}`},
		{`{"a":["b"]}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"c"}`, `{"a":["b"]}`, `{"a":["b"]}`},
		{`{"a":{"b":"c"}}`, `{"a":{"b":"d","c":null}}`, `{"a":{"b":"d"}}`},
		{`{"a":[{"b":"c"}]}`, `{"a":[1]}`, `{"a":[1]}`},
		{`["a","b"]`, `["c","d"]`, `["c","d"]`},
		{`{"a":"b"}`, `["c"]`, `["c"]`},
		{`{"a":"foo"}`, `null`, `null`},
		{`{"a":"foo"}`, `"bar"`, `"bar"`},
		{`{"e":null}`, `{"a":1}`, `{"e":null,"a":1}`},
		{`[1,2]`, `{"a":"b","c":null}`, `{"a":"b"}`},
		{`{}`, `{"a":{"bb":{"ccc":null}}}`, `{"a":{"bb":{}}}`},
	}
	for _, tt := range tests {
		doc, patch := mustParse(t, tt.doc), mustParse(t, tt.patch)
		if got := print(merge(doc, patch)); got != tt.want {
			t.Errorf("merge(%s, %s) = %s, want %s (RFC 7396, appendix A)", tt.doc, tt.patch, got, tt.want)
		}
	}
}

func TestPatchThatIsNoObject(t *testing.T) {
	for _, patch := range []string{`null`, `[]`, `"x"`, `1`, `{`, ``} {
		if _, err := Patch([]byte(patch), sample{Name: "x"}, new(sample)); err == nil {
			t.Errorf("Patch(%s) was taken, want it refused", patch)
		}
	}
}

func mustParse(t *testing.T, s string) *node {
	t.Helper()
	n, err := parse([]byte(s))
	if err != nil {
		t.Fatalf("parse(%s): %v", s, err)
	}
	return n
}

// print writes a value back as JSON, without spaces.
func print(n *node) string {
	var parts []string
	switch n.kind {
	case '{':
		for _, m := range n.members {
			parts = append(parts, strconv.Quote(m.name)+":"+print(m.value))
		}
		return "{" + strings.Join(parts, ",") + "}"
	case '[':
		for _, item := range n.items {
			parts = append(parts, print(item))
		}
		return "[" + strings.Join(parts, ",") + "]"
	case '"':
		return strconv.Quote(n.text)
	case '0':
		return n.text
	}
	return map[byte]string{'n': "null", 't': "true", 'f': "false"}[byte(n.kind)]
}
