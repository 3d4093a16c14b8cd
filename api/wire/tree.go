package wire

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"servewright/api/problem"
)

// maxDepth is how deep the values of a body may be nested.
const maxDepth = 32

// node is one JSON value. Numbers keep their text, so that nothing is lost
// before it is known what they are for.
type node struct {
	kind    jsontext.Kind // 'n' null, 't' and 'f' booleans, '"' string, '0' number, '{' object, '[' array
	text    string        // of a string (unescaped) or a number (as written)
	items   []*node       // of an array
	members []member      // of an object, in the order written
}

type member struct {
	name  string
	value *node
}

// get returns the value of a member, nil when there is none.
func (n *node) get(name string) *node {
	for i := range n.members {
		if n.members[i].name == name {
			return n.members[i].value
		}
	}
	return nil
}

// parse reads one JSON value and nothing after it (RFC 8259, and I-JSON's
// rules, RFC 7493: UTF-8 only, no duplicate names, no lone surrogates). The
// error is a [problem.Unreadable] with the first fault.
func parse(body []byte) (*node, error) {
	p := parser{dec: jsontext.NewDecoder(bytes.NewReader(body))}
	n, err := p.value()
	if err != nil {
		return nil, p.unreadable(err, body)
	}
	rest := body[p.dec.InputOffset():]
	if trailing := bytes.TrimLeft(rest, " \t\r\n"); len(trailing) > 0 {
		return nil, &problem.Unreadable{Offset: int64(len(body) - len(trailing)), Code: "TRAILING_DATA",
			Detail: "something follows the JSON value; send exactly one"}
	}
	return n, nil
}

type parser struct {
	dec *jsontext.Decoder
}

// errDeep is told apart from the library's own errors.
var errDeep = errors.New("nested too deep")

func (p *parser) value() (*node, error) {
	tok, err := p.dec.ReadToken()
	if err != nil {
		return nil, err
	}
	if p.dec.StackDepth() > maxDepth {
		return nil, errDeep
	}
	n := &node{kind: tok.Kind()}
	switch n.kind {
	case '"', '0':
		n.text = tok.String()
	case '[':
		err = p.array(n)
	case '{':
		err = p.object(n)
	}
	return n, err
}

func (p *parser) array(n *node) error {
	for p.dec.PeekKind() != ']' {
		item, err := p.value()
		if err != nil {
			return err
		}
		n.items = append(n.items, item)
	}
	_, err := p.dec.ReadToken()
	return err
}

func (p *parser) object(n *node) error {
	for p.dec.PeekKind() != '}' {
		name, err := p.dec.ReadToken()
		if err != nil {
			return err
		}
		m := member{name: name.String()}
		if m.value, err = p.value(); err != nil {
			return err
		}
		n.members = append(n.members, m)
	}
	_, err := p.dec.ReadToken()
	return err
}

func (p *parser) unreadable(err error, body []byte) error {
	out := &problem.Unreadable{Offset: p.dec.InputOffset(), Pointer: string(p.dec.StackPointer()), Code: "SYNTAX"}
	var syntax *jsontext.SyntacticError
	switch {
	case errors.Is(err, errDeep):
		out.Offset-- // of the bracket, not behind it
		out.Code, out.Detail = "TOO_DEEP", "the values are nested deeper than 32"
	case errors.As(err, &syntax):
		out.Offset, out.Pointer = syntax.ByteOffset, string(syntax.JSONPointer)
		out.Code, out.Detail = reason(syntax)
	case errors.Is(err, io.EOF) && len(bytes.TrimSpace(body)) == 0:
		out.Detail = "the body is empty; send a JSON object"
	default:
		out.Detail = "the JSON ends too early"
	}
	return out
}

// reason says why the library refused a text. The library's words name the
// character; the codes are this API's.
func reason(e *jsontext.SyntacticError) (code, detail string) {
	switch {
	case errors.Is(e.Err, jsontext.ErrDuplicateName):
		return "DUPLICATE_NAME", "the member name stands twice in one object"
	case errors.Is(e.Err, io.ErrUnexpectedEOF):
		return "SYNTAX", "the JSON ends too early"
	case e.Err != nil && e.Err.Error() == "invalid UTF-8":
		return "BAD_UTF8", "the text is not UTF-8"
	case e.Err != nil && strings.HasPrefix(e.Err.Error(), "invalid surrogate pair"):
		return "BAD_UTF8", "half of a surrogate pair stands alone"
	case e.Err != nil:
		return "SYNTAX", clip(e.Err.Error())
	}
	return "SYNTAX", "this is not JSON"
}
