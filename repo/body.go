package repo

import (
	"bytes"
	"encoding/json"
	"fmt"
	"unicode/utf8"

	"servewright/domain"
)

// The bodies of revisions are stored for good. A member is never renamed and
// never changes its meaning or unit; a new one must mean, when it is absent,
// what was so before it.

// encode writes a body. The same body is always the same text.
func encode(body any) (string, error) {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(body); err != nil {
		return "", domain.Errorf(domain.Invalid, "this cannot be kept: %w", err)
	}
	return string(bytes.TrimSuffix(buf.Bytes(), []byte("\n"))), nil
}

func decode(body string, into any) error {
	if err := json.Unmarshal([]byte(body), into); err != nil {
		return fmt.Errorf("a stored body cannot be read: %w", err)
	}
	return nil
}

// text is a string that a person wrote. encoding/json would put U+FFFD in the
// place of broken UTF-8 and say nothing.
type text string

// MarshalText refuses what would not come back as it was.
func (t text) MarshalText() ([]byte, error) {
	if !utf8.ValidString(string(t)) {
		return nil, fmt.Errorf("%q is not UTF-8", string(t))
	}
	return []byte(t), nil
}

// each translates a list; an empty one stays nil.
func each[A, B any](list []A, fn func(A) B) []B {
	if len(list) == 0 {
		return nil
	}
	out := make([]B, len(list))
	for i := range list {
		out[i] = fn(list[i])
	}
	return out
}

// eachErr is each for translations that can fail.
func eachErr[A, B any](list []A, fn func(A) (B, error)) (out []B, err error) {
	for i := range list {
		b, err := fn(list[i])
		if err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, nil
}
