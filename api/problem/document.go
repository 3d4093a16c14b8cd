// Package problem turns a failure into a problem document (RFC 9457).
//
// The domain and the store speak of kinds of failure; this package is the one
// place that says which status, which type and which title each kind has over
// HTTP. A problem document is presentation: nothing but an answer is made of it,
// and a failure of no known kind is answered with a title and nothing else.
package problem

import (
	"encoding/json"
	"net/http"
)

// MediaType is the media type of every problem document.
const MediaType = "application/problem+json"

// Document is a problem document as RFC 9457 writes it, with this API's members.
type Document struct {
	// Type names the kind of problem; the address answers with what it means.
	Type string `json:"type" example:"/problems/invalid"`
	// Title is the kind of problem in words, the same for every problem of the type.
	Title string `json:"title" example:"The request breaks a rule"`
	// Status is the HTTP status of the answer.
	Status int `json:"status" example:"422"`
	// Detail says what is wrong this time and names the way out.
	Detail string `json:"detail,omitempty" example:"2 rules are broken; each stands in errors"`
	// Code is a stable code of the rule when the problem has one rule of its own.
	Code string `json:"code,omitempty" example:"CODE_TAKEN"`
	// Errors are the faults, all of them at once.
	Errors []Fault `json:"errors,omitempty"`
	// Offset is the byte of the body where reading stopped, for unreadable JSON.
	Offset *int64 `json:"offset,omitempty" example:"17"`
	// Users are the stored things that stand in the way, such as those that use what was to be deleted.
	Users []User `json:"users,omitempty"`
	// RequestID is the id under which the server logged the request.
	RequestID string `json:"request_id,omitempty" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b21"`
} // @name Problem

// Fault is one broken rule and where it was broken: in the body (Pointer), the
// query or path (Parameter) or a header (Header).
type Fault struct {
	// Pointer is the place in the body that was sent, as an RFC 6901 JSON Pointer; empty for the whole body.
	Pointer *string `json:"pointer,omitempty" example:"/lines/0/amount"`
	// Parameter is the query parameter.
	Parameter string `json:"parameter,omitempty" example:"limit"`
	// Header is the request header.
	Header string `json:"header,omitempty" example:"If-Match"`
	// Code is the stable code of the rule.
	Code string `json:"code" example:"AMOUNT_RANGE"`
	// Detail says what is wrong and names the way out.
	Detail string `json:"detail" example:"amount must be above 0 and at most 1e+09, not -3"`
} // @name Fault

// User is a stored thing that uses another.
type User struct {
	Type string `json:"type" enums:"component,spec" example:"spec"`
	ID   string `json:"id" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b21"`
	Code string `json:"code,omitempty" example:"C-104"`
	Name string `json:"name" example:"Pier Lamp"`
} // @name User

// RetryAfter returns the seconds a client should wait before it tries again, 0
// when trying again would not help.
func (d *Document) RetryAfter() int { return byType[d.Type].retryAfter }

// Write answers with the document.
func (d *Document) Write(w http.ResponseWriter) error {
	body, err := json.Marshal(d)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", MediaType)
	w.WriteHeader(d.Status)
	_, err = w.Write(append(body, '\n'))
	return err
}
