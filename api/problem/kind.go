package problem

import (
	"net/http"

	"servewright/domain"
)

// kind is what one type of problem looks like over HTTP.
type kind struct {
	Name       string // the last step of the type
	Title      string
	Status     int
	Meaning    string // for the page of the type: what it means and the way out
	retryAfter int    // seconds; 0 = trying again would not help
}

// base is the path that every type starts with.
const base = "/problems/"

// The kinds that only HTTP knows.
var (
	methodNotAllowed = kind{"method-not-allowed", "The method is not allowed here", http.StatusMethodNotAllowed,
		"The address exists but does not take this method. The Allow header names those it takes.", 0}
	timedOut = kind{"timeout", "The answer took too long", http.StatusServiceUnavailable,
		"The server gave up after its time limit for one request; nothing was changed. Try again, or ask for less at once.", 2}
	internal = kind{"internal", "The server made a mistake", http.StatusInternalServerError,
		"The fault is the server's and it has been logged under request_id. Nothing is known to have been changed.", 0}
	other = kind{"http", "The request was refused", http.StatusBadRequest,
		"The server refused the request before it reached a resource. The status says why.", 0}
)

// kinds is the one map from a kind of failure to its problem.
var kinds = map[domain.Kind]kind{
	domain.Invalid: {"invalid", "The request breaks a rule", http.StatusUnprocessableEntity,
		"The body could be read but breaks at least one rule. Every broken rule stands in errors with a pointer to its place. Nothing was changed.", 0},
	domain.Malformed: {"malformed", "The request cannot be read", http.StatusBadRequest,
		"The JSON, a query parameter or a header cannot be read. For JSON, offset is the byte where reading stopped. Nothing was changed.", 0},
	domain.NotFound: {"not-found", "There is no such thing", http.StatusNotFound,
		"No such address, or no such component, spec or revision, or it was deleted. A deleted thing's revisions stay readable.", 0},
	domain.Conflict: {"conflict", "The request clashes with what is stored", http.StatusConflict,
		"The code is taken, or the thing is still used; users names who uses it. Nothing was changed.", 0},
	domain.Stale: {"stale", "The thing has changed since it was read", http.StatusPreconditionFailed,
		"If-Match does not name the current ETag, which the ETag header of this answer gives. Read the thing again, then repeat the edit on it. Nothing was changed.", 0},
	domain.Unconditional: {"unconditional", "The edit does not say what it edits", http.StatusPreconditionRequired,
		"Send If-Match with the ETag of what was read, so that nobody's edit is lost. Nothing was changed.", 0},
	domain.TooLarge: {"too-large", "The request is too large", http.StatusRequestEntityTooLarge,
		"The body is larger than the limit, counted after decompression. Nothing was changed.", 0},
	domain.Unsupported: {"unsupported", "The media type is not taken", http.StatusUnsupportedMediaType,
		"The Content-Type or Content-Encoding is not one that the address takes. Nothing was changed.", 0},
	domain.Busy: {"busy", "The server is busy", http.StatusServiceUnavailable,
		"The database is locked or crowded. Try again after the seconds in Retry-After. Nothing was changed.", 1},
	domain.Unavailable: {"unavailable", "The database does not answer", http.StatusServiceUnavailable,
		"The server works but its database does not answer. Try again after the seconds in Retry-After.", 5},
	domain.Full: {"full", "The database takes no write", http.StatusServiceUnavailable,
		"The database is full or read-only; reading still works. Nothing was changed. Someone has to free space or make it writable.", 60},
}

// byType finds a kind by the type of its problem.
var byType = index()

func index() map[string]kind {
	out := make(map[string]kind)
	for _, k := range []kind{methodNotAllowed, timedOut, internal, other} {
		out[base+k.Name] = k
	}
	for _, k := range kinds {
		out[base+k.Name] = k
	}
	return out
}

// Meaning is what the address of a type answers.
type Meaning struct {
	Type    string `json:"type" example:"/problems/stale"`
	Title   string `json:"title" example:"The thing has changed since it was read"`
	Status  int    `json:"status" example:"412"`
	Meaning string `json:"meaning" example:"If-Match does not name the current ETag."`
} // @name ProblemMeaning

// Explain returns what the problem type with the given name means.
func Explain(name string) (Meaning, bool) {
	k, ok := byType[base+name]
	return Meaning{Type: base + k.Name, Title: k.Title, Status: k.Status, Meaning: k.Meaning}, ok
}

// Types lists every problem type there is.
func Types() []string {
	out := make([]string, 0, len(byType))
	for t := range byType {
		out = append(out, t)
	}
	return out
}
