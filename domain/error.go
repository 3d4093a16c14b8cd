package domain

import (
	"errors"
	"fmt"
	"strings"
)

// Kind is a kind of failure. The list is closed, and each kind is itself an
// error, so errors.Is(err, domain.NotFound) works through any wrapping.
type Kind uint8

// The kinds of failure. How each is answered over HTTP is written once, in
// api/problem.
const (
	Invalid       Kind = iota + 1 // a rule of the trade or of the document is broken
	Malformed                     // the input cannot be read at all
	NotFound                      // no such thing, or not visible to the caller
	Conflict                      // clashes with what is stored
	Stale                         // the caller edited an older revision
	Unconditional                 // an edit that does not say which revision it edits
	TooLarge                      // more than the stated limit
	Unsupported                   // a media type or encoding that is not taken
	Busy                          // try again shortly: the database is locked or crowded
	Unavailable                   // the database does not answer
	Full                          // the database cannot take a write: disk full or read-only
)

var kindText = [...]string{
	Invalid: "invalid", Malformed: "malformed", NotFound: "not found", Conflict: "conflict",
	Stale: "stale", Unconditional: "unconditional", TooLarge: "too large", Unsupported: "unsupported",
	Busy: "busy", Unavailable: "unavailable", Full: "full",
}

// Error makes a Kind an error.
func (k Kind) Error() string { return kindText[k] }

// Fault is one broken rule: where (an RFC 6901 JSON Pointer into the document
// it was found in), which rule (a stable UPPER_SNAKE code) and a sentence for a
// person that names the way out.
type Fault struct {
	Pointer string
	Code    string
	Detail  string
}

// Ref names a stored thing to a person: what stands in the way, who uses what.
type Ref struct {
	Type string // "component" or "spec"
	ID   string
	Code string
	Name string
}

// Error is a failure with its kind for the machine, one sentence for a person,
// every fault found, and the stored things it speaks of.
type Error struct {
	Kind   Kind
	Code   string // stable UPPER_SNAKE code; empty means the kind says it all
	Text   string
	Faults []Fault
	Refs   []Ref
	Cause  error
}

// Error returns the sentence, followed by the faults when there are any.
func (e *Error) Error() string {
	if len(e.Faults) == 0 {
		return e.Text
	}
	parts := make([]string, len(e.Faults))
	for i, f := range e.Faults {
		parts[i] = strings.TrimPrefix(f.Pointer+": "+f.Detail, ": ")
	}
	return strings.TrimPrefix(e.Text+": "+strings.Join(parts, "; "), ": ")
}

// Is reports whether target is this error's kind.
func (e *Error) Is(target error) bool { return target == error(e.Kind) }

// Unwrap returns the cause, if any.
func (e *Error) Unwrap() error { return e.Cause }

// Errorf makes an error of kind k. A %w verb keeps the cause.
func Errorf(k Kind, format string, args ...any) *Error {
	err := fmt.Errorf(format, args...)
	return &Error{Kind: k, Text: err.Error(), Cause: errors.Unwrap(err)}
}

// Faults gathers broken rules so that one answer names them all.
type Faults []Fault

// Add notes a fault at pointer.
func (f *Faults) Add(pointer, code, format string, args ...any) {
	*f = append(*f, Fault{Pointer: pointer, Code: code, Detail: fmt.Sprintf(format, args...)})
}

// Check notes err, if it is one, at pointer. Faults inside err keep their own
// pointers, prefixed with pointer.
func (f *Faults) Check(pointer string, err error) {
	if err == nil {
		return
	}
	var e *Error
	if !errors.As(err, &e) {
		*f = append(*f, Fault{Pointer: pointer, Code: "INVALID", Detail: err.Error()})
		return
	}
	if len(e.Faults) == 0 {
		*f = append(*f, Fault{Pointer: pointer, Code: codeOr(e.Code), Detail: e.Text})
	}
	for _, inner := range e.Faults {
		inner.Pointer = pointer + inner.Pointer
		*f = append(*f, inner)
	}
}

func codeOr(code string) string {
	if code == "" {
		return "INVALID"
	}
	return code
}

// Err returns nil when nothing was noted, else one Invalid error with all of it.
func (f Faults) Err() error {
	if len(f) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Faults: f}
}
