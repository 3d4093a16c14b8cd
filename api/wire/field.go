package wire

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// field is one member that a body takes, read once from a struct's tags.
type field struct {
	name     string
	index    []int
	required bool
	max      int      // longest text in characters, or most items of a list; 0 = no limit of its own
	oneOf    []string // the words taken, nil = any
	readOnly bool
}

func (f *field) takes(word string) bool { return slices.Contains(f.oneOf, word) }

// item returns what holds for one item of a list: the words taken apply to it.
func (f *field) item() *field {
	if f == nil || len(f.oneOf) == 0 {
		return &field{max: maxText}
	}
	return &field{oneOf: f.oneOf, max: maxText}
}

// maxText is the longest text in a list of texts, such as one step of a method.
const maxText = 2000

// fields are the members of one struct.
type fields struct {
	inOrder []*field
	byName  map[string]*field
}

var fieldCache sync.Map // reflect.Type → *fields

func fieldsOf(t reflect.Type) *fields {
	if have, ok := fieldCache.Load(t); ok {
		return have.(*fields)
	}
	out := &fields{byName: make(map[string]*field)}
	for _, sf := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(sf.Tag.Get("json"), ",")
		if name == "" || name == "-" || !sf.IsExported() {
			continue // an embedded struct has no name; its fields are visible by themselves
		}
		f := &field{name: name, index: sf.Index, readOnly: sf.Tag.Get("readonly") == "true"}
		f.limits(sf.Tag.Get("validate"))
		out.inOrder = append(out.inOrder, f)
		out.byName[name] = f
	}
	have, _ := fieldCache.LoadOrStore(t, out)
	return have.(*fields)
}

func (f *field) limits(tag string) {
	for rule := range strings.SplitSeq(tag, ",") {
		name, arg, _ := strings.Cut(rule, "=")
		switch name {
		case "required":
			f.required = true
		case "max":
			f.max, _ = strconv.Atoi(arg)
		case "oneof":
			f.oneOf = strings.Fields(arg)
		}
	}
}

// suggest says what to write instead of a member name that is not taken.
func (fs *fields) suggest(name string) string {
	names := make([]string, len(fs.inOrder))
	for i, f := range fs.inOrder {
		if strings.EqualFold(f.name, name) {
			return "no member " + strconv.Quote(clip(name)) + "; names are lower case: " + f.name
		}
		names[i] = f.name
	}
	return "no member " + strconv.Quote(clip(name)) + "; this object takes " + strings.Join(names, ", ")
}
