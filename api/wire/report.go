package wire

import (
	"errors"
	"fmt"
	"strings"

	"servewright/domain"
)

// Report gathers everything that is wrong with one body: faults of shape, of
// translation, and of the domain's rules. A rule is not reported for a value
// that could not be read in the first place.
type Report struct {
	*gathered
	prefix string // of every pointer noted here
}

type gathered struct {
	faults  domain.Faults
	blocked map[string]bool // pointers whose value could not be read
}

// NewReport returns an empty report on a whole body.
func NewReport() *Report {
	return &Report{gathered: &gathered{blocked: make(map[string]bool)}}
}

// under returns the same report for a part of the body: pointers noted there
// are counted from the part.
func (r *Report) under(pointer string) *Report {
	return &Report{gathered: r.gathered, prefix: r.prefix + pointer}
}

// Add notes that the value at pointer cannot be read as what it should be.
func (r *Report) Add(pointer, code, format string, args ...any) {
	if r.covered(r.prefix + pointer) {
		return
	}
	r.faults.Add(r.prefix+pointer, code, format, args...)
	r.block(pointer)
}

// block keeps rules about the value at pointer from being reported.
func (r *Report) block(pointer string) {
	r.blocked[r.prefix+pointer] = true
}

// covered reports whether the value at a whole pointer, or one that it is a part
// of, could not be read.
func (r *gathered) covered(pointer string) bool {
	for at := pointer; ; at = at[:strings.LastIndexByte(at, '/')] {
		if r.blocked[at] {
			return true
		}
		if at == "" {
			return false
		}
	}
}

// Check notes err, if it is one, as a fault of the value at pointer.
func (r *Report) Check(pointer string, err error) {
	if err == nil {
		return
	}
	var found domain.Faults
	found.Check(pointer, err)
	for _, f := range found {
		r.Add(f.Pointer, f.Code, "%s", f.Detail)
	}
}

// Rules notes the broken rules that err holds, leaving out those about values
// that could not be read. An error that is not about rules comes back.
func (r *Report) Rules(pointer string, err error) error {
	if err == nil {
		return nil
	}
	if !errors.Is(err, domain.Invalid) {
		return err
	}
	var found domain.Faults
	found.Check(r.prefix+pointer, err)
	for _, f := range found {
		if !r.covered(f.Pointer) && !r.has(f) {
			r.faults = append(r.faults, f)
		}
	}
	return nil
}

func (r *gathered) has(f domain.Fault) bool {
	for _, have := range r.faults {
		if have.Pointer == f.Pointer && have.Code == f.Code {
			return true
		}
	}
	return false
}

// Empty reports whether nothing is wrong so far.
func (r *gathered) Empty() bool { return len(r.faults) == 0 }

// Err returns nil when nothing is wrong, else one Invalid error with all of it.
func (r *gathered) Err() error { return r.faults.Err() }

// escape writes a member name as one step of a JSON Pointer (RFC 6901).
func escape(name string) string {
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(clip(name))
}

// step returns the pointer of the i-th item of a list.
func step(pointer string, i int) string { return fmt.Sprintf("%s/%d", pointer, i) }

// clip shortens what a client wrote before it is quoted back.
func clip(s string) string {
	s = strings.ToValidUTF8(s, "�")
	if r := []rune(s); len(r) > 80 {
		return string(r[:80]) + "…"
	}
	return s
}
