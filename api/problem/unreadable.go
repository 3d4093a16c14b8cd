package problem

import (
	"fmt"

	"servewright/domain"
)

// Unreadable is JSON that cannot be read: the first fault and the byte where it
// stands. It is of kind [domain.Malformed].
type Unreadable struct {
	Offset  int64  // bytes from the start of the body
	Pointer string // the value being read
	Code    string // SYNTAX, DUPLICATE_NAME, BAD_UTF8, TRAILING_DATA or TOO_DEEP
	Detail  string
}

// Error returns the fault with its place.
func (u *Unreadable) Error() string { return fmt.Sprintf("byte %d: %s", u.Offset, u.Detail) }

// Is reports whether target is the kind Malformed.
func (u *Unreadable) Is(target error) bool { return target == error(domain.Malformed) }

func (u *Unreadable) document() *Document {
	doc := bare(kinds[domain.Malformed])
	doc.Detail = u.Error()
	doc.Offset = &u.Offset
	doc.Errors = []Fault{{Pointer: &u.Pointer, Code: u.Code, Detail: u.Detail}}
	return doc
}

// Misplaced gathers faults beside what the body says: in query parameters,
// headers and cursors.
// It is of kind [domain.Malformed].
type Misplaced struct {
	Faults []Fault
}

// Parameter notes a fault in a query parameter.
func (m *Misplaced) Parameter(name, code, format string, args ...any) {
	m.Faults = append(m.Faults, Fault{Parameter: name, Code: code, Detail: fmt.Sprintf(format, args...)})
}

// Header notes a fault in a request header.
func (m *Misplaced) Header(name, code, format string, args ...any) {
	m.Faults = append(m.Faults, Fault{Header: name, Code: code, Detail: fmt.Sprintf(format, args...)})
}

// Pointer notes a fault in a member of the body that is no part of what the body
// says, such as a cursor.
func (m *Misplaced) Pointer(pointer, code, format string, args ...any) {
	m.Faults = append(m.Faults, Fault{Pointer: &pointer, Code: code, Detail: fmt.Sprintf(format, args...)})
}

// Err returns nil when nothing was noted.
func (m *Misplaced) Err() error {
	if len(m.Faults) == 0 {
		return nil
	}
	return m
}

// Error returns the first fault.
func (m *Misplaced) Error() string { return m.Faults[0].Detail }

// Is reports whether target is the kind Malformed.
func (m *Misplaced) Is(target error) bool { return target == error(domain.Malformed) }

func (m *Misplaced) document() *Document {
	doc := bare(kinds[domain.Malformed])
	doc.Errors = m.Faults
	doc.Detail = m.Faults[0].Detail
	if len(m.Faults) > 1 {
		doc.Detail = fmt.Sprintf("%d parts of the request cannot be read; each stands in errors", len(m.Faults))
	}
	return doc
}
