package wire

import (
	"encoding/json"

	"servewright/api/problem"
)

// merge applies a JSON Merge Patch to a document:
//
//	a member of the patch that is null removes the member,
//	one that is an object is merged into it,
//	anything else (arrays too) takes its place
//
// (RFC 7396, section 2). The document is changed in place and returned.
func merge(doc, patch *node) *node {
	if patch.kind != '{' {
		return patch
	}
	if doc == nil || doc.kind != '{' {
		doc = &node{kind: '{'}
	}
	for _, m := range patch.members {
		switch {
		case m.value.kind == 'n':
			doc.remove(m.name)
		default:
			doc.set(m.name, merge(doc.get(m.name), m.value))
		}
	}
	return doc
}

func (n *node) remove(name string) {
	for i := range n.members {
		if n.members[i].name == name {
			n.members = append(n.members[:i], n.members[i+1:]...)
			return
		}
	}
}

func (n *node) set(name string, v *node) {
	for i := range n.members {
		if n.members[i].name == name {
			n.members[i].value = v
			return
		}
	}
	n.members = append(n.members, member{name, v})
}

// Patch applies a merge patch to what is stored, written as stored would be
// sent, and reads the outcome into into. The error is that of a patch that
// cannot be read.
func Patch(patch []byte, stored, into any) (*Report, error) {
	p, err := parse(patch)
	if err != nil {
		return nil, err
	}
	if p.kind != '{' {
		return nil, &problem.Unreadable{Code: "SYNTAX", Detail: "a merge patch for this resource is a JSON object"}
	}
	text, err := json.Marshal(stored)
	if err != nil {
		return nil, err
	}
	doc, err := parse(text)
	if err != nil {
		return nil, err
	}
	return decodeNode(merge(doc, p), into), nil
}
