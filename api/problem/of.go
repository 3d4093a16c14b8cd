package problem

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"servewright/domain"
)

// maxFaults is how many faults one answer lists; a body broken more often than
// that is told how many were left out.
const maxFaults = 100

// Of returns the problem document of err, and whether err is of a known kind.
// One that is not known is for the log: its document says nothing of it.
func Of(err error) (doc *Document, known bool) {
	var at *Unreadable
	var where *Misplaced
	var e *domain.Error
	switch {
	case errors.As(err, &at):
		return at.document(), true
	case errors.As(err, &where):
		return where.document(), true
	case errors.As(err, &e):
		return ofDomain(e)
	case errors.Is(err, context.DeadlineExceeded):
		return bare(timedOut), true
	}
	for k := range kinds {
		if errors.Is(err, k) {
			return bare(kinds[k]), true
		}
	}
	return bare(internal), false
}

func bare(k kind) *Document {
	return &Document{Type: base + k.Name, Title: k.Title, Status: k.Status}
}

func ofDomain(e *domain.Error) (*Document, bool) {
	k, ok := kinds[e.Kind]
	if !ok {
		return bare(internal), false
	}
	doc := bare(k)
	if k.Status < http.StatusInternalServerError { // what a database said stays in the log
		doc.Detail, doc.Code = e.Text, e.Code
	}
	doc.addFaults(e.Faults)
	for _, r := range e.Refs {
		doc.Users = append(doc.Users, User{Type: r.Type, ID: r.ID, Code: r.Code, Name: r.Name})
	}
	return doc, k.Status < http.StatusInternalServerError || e.Cause == nil
}

func (d *Document) addFaults(faults []domain.Fault) {
	shown := faults[:min(len(faults), maxFaults)]
	for i := range shown {
		f := &shown[i]
		d.Errors = append(d.Errors, Fault{Pointer: &f.Pointer, Code: f.Code, Detail: f.Detail})
	}
	if d.Detail != "" || len(faults) == 0 {
		return
	}
	switch hidden := len(faults) - len(shown); {
	case hidden > 0:
		d.Detail = fmt.Sprintf("%d rules are broken; the first %d stand in errors", len(faults), len(shown))
	case len(faults) == 1:
		d.Detail = faults[0].Detail
	default:
		d.Detail = fmt.Sprintf("%d rules are broken; each stands in errors", len(faults))
	}
}

// OfStatus returns the problem document of a refusal that HTTP made before any
// handler ran: no such route, no such method.
func OfStatus(status int) *Document {
	switch status {
	case http.StatusMethodNotAllowed:
		return bare(methodNotAllowed)
	case http.StatusNotFound:
		doc := bare(kinds[domain.NotFound])
		doc.Detail = "no such address; /openapi.json lists those there are"
		return doc
	case http.StatusRequestEntityTooLarge:
		return bare(kinds[domain.TooLarge])
	case http.StatusUnsupportedMediaType:
		return bare(kinds[domain.Unsupported])
	case http.StatusServiceUnavailable:
		return bare(kinds[domain.Busy])
	}
	if status >= http.StatusInternalServerError {
		return bare(internal)
	}
	doc := bare(other)
	doc.Status = status
	return doc
}
