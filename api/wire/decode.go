package wire

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Decode reads one JSON body into a struct. The error is that of JSON that
// cannot be read at all; what is wrong with JSON that can be read is in the
// report, every fault of it.
//
// Members are matched by their exact names. A member that is null counts as
// absent. Limits come from the fields' validate tags (required, max, oneof),
// which are also what the API document is made of.
func Decode(body []byte, into any) (*Report, error) {
	n, err := parse(body)
	if err != nil {
		return nil, err
	}
	return decodeNode(n, into), nil
}

func decodeNode(n *node, into any) *Report {
	d := decoder{report: NewReport()}
	d.value(n, reflect.ValueOf(into).Elem(), "", nil)
	return d.report
}

// reader is a type that reads its own JSON, such as a number or a word.
type reader interface {
	read(n *node, at string, r *Report)
}

type decoder struct {
	report *Report
}

// value reads n into v. f is the field that holds v, nil for the body itself.
func (d *decoder) value(n *node, v reflect.Value, at string, f *field) {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		v = v.Elem()
	}
	if own, ok := v.Addr().Interface().(reader); ok {
		own.read(n, at, d.report)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		d.object(n, v, at)
	case reflect.Slice:
		d.list(n, v, at, f)
	case reflect.Map:
		d.table(n, v, at)
	default:
		d.scalar(n, v, at, f)
	}
}

func (d *decoder) object(n *node, v reflect.Value, at string) {
	if !d.want(n, '{', at, "an object") {
		return
	}
	known := fieldsOf(v.Type())
	for _, m := range n.members {
		f, ok := known.byName[m.name]
		if !ok {
			d.report.Add(at+"/"+escape(m.name), "UNKNOWN_MEMBER", "%s", known.suggest(m.name))
			continue
		}
		if m.value.kind != 'n' {
			d.value(m.value, v.FieldByIndex(f.index), at+"/"+f.name, f)
		}
	}
	for _, f := range known.inOrder {
		if have := n.get(f.name); f.required && (have == nil || have.kind == 'n') {
			d.report.Add(at+"/"+f.name, "REQUIRED", "%s is missing", f.name)
		}
	}
}

func (d *decoder) list(n *node, v reflect.Value, at string, f *field) {
	if !d.want(n, '[', at, "an array") {
		return
	}
	if f != nil && f.max > 0 && len(n.items) > f.max {
		d.report.Add(at, "TOO_MANY", "%d items are more than the %d taken here", len(n.items), f.max)
		return
	}
	out := reflect.MakeSlice(v.Type(), len(n.items), len(n.items))
	for i, item := range n.items {
		d.value(item, out.Index(i), step(at, i), f.item())
	}
	v.Set(out)
}

func (d *decoder) table(n *node, v reflect.Value, at string) {
	if !d.want(n, '{', at, "an object") {
		return
	}
	out := reflect.MakeMapWithSize(v.Type(), len(n.members))
	for _, m := range n.members {
		value := reflect.New(v.Type().Elem()).Elem()
		d.value(m.value, value, at+"/"+escape(m.name), nil)
		out.SetMapIndex(reflect.ValueOf(m.name), value)
	}
	v.Set(out)
}

func (d *decoder) scalar(n *node, v reflect.Value, at string, f *field) {
	switch v.Kind() {
	case reflect.String:
		if d.want(n, '"', at, "a string") && d.text(n.text, at, f) {
			v.SetString(n.text)
		}
	case reflect.Bool:
		if n.kind != 't' && n.kind != 'f' {
			d.wrong(n, at, "true or false")
			return
		}
		v.SetBool(n.kind == 't')
	case reflect.Float64:
		if x, ok := number(n, at, d.report); ok {
			v.SetFloat(x)
		}
	case reflect.Int:
		if i, ok := whole(n, at, d.report); ok {
			v.SetInt(int64(i))
		}
	default:
		panic(fmt.Sprintf("wire: a body has a member of type %s", v.Type())) // a mistake in this package, found by any test
	}
}

// text reports whether s may stand in the field. Control characters are refused
// because no engine, log or card shows them the same way, line ends and tabs
// excepted.
func (d *decoder) text(s, at string, f *field) bool {
	for _, c := range s {
		if c < ' ' && c != '\n' && c != '\t' || c == 0x7f {
			d.report.Add(at, "BAD_TEXT", "the text holds the control character U+%04X; leave it out", c)
			return false
		}
	}
	if f == nil {
		return true
	}
	if n := utf8.RuneCountInString(s); f.max > 0 && n > f.max {
		d.report.Add(at, "TOO_LONG", "%d characters are more than the %d taken here", n, f.max)
		return false
	}
	if len(f.oneOf) > 0 && !f.takes(s) {
		d.report.Add(at, "UNKNOWN_VALUE", "%q is not taken here; use one of %s", clip(s), strings.Join(f.oneOf, ", "))
		return false
	}
	return true
}

func (d *decoder) want(n *node, k byte, at, what string) bool {
	if byte(n.kind) == k {
		return true
	}
	d.wrong(n, at, what)
	return false
}

func (d *decoder) wrong(n *node, at, what string) { wrongType(n, at, what, d.report) }

func wrongType(n *node, at, what string, r *Report) {
	r.Add(at, "WRONG_TYPE", "must be %s, not %s", what, n.describe())
}

func (n *node) describe() string {
	switch n.kind {
	case 'n':
		return "null"
	case 't', 'f':
		return "true or false"
	case '"':
		return "a string"
	case '0':
		return "a number"
	case '[':
		return "an array"
	}
	return "an object"
}

// number reads a JSON number as a finite float64.
func number(n *node, at string, r *Report) (float64, bool) {
	if n.kind != '0' {
		wrongType(n, at, "a number", r)
		return 0, false
	}
	x, err := strconv.ParseFloat(n.text, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		r.Add(at, "NUMBER_RANGE", "%s is beyond what a number can hold here (about 1.8e308)", clip(n.text))
		return 0, false
	}
	return x, true
}

// whole reads a JSON number as an int; 6.0 is 6.
func whole(n *node, at string, r *Report) (int, bool) {
	x, ok := number(n, at, r)
	if !ok {
		return 0, false
	}
	if x != math.Trunc(x) || math.Abs(x) > 1<<31 {
		r.Add(at, "NOT_WHOLE", "must be a whole number, not %s", clip(n.text))
		return 0, false
	}
	return int(x), true
}
