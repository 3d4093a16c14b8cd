package wire

import (
	"strings"
	"time"

	"github.com/google/uuid"

	"servewright/domain/recipe"
)

// Stored is what the server says about every stored thing. A body may send it
// back as it was answered; a different value is refused, because nothing that
// is sent is dropped silently.
type Stored struct {
	// ID is a UUIDv7, made by the server.
	ID string `json:"id,omitempty" readonly:"true" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b21"`
	// Revision counts the edits of this thing: 1, 2, 3 …
	Revision int `json:"revision,omitempty" readonly:"true" example:"3"`
	// ChangedAt is when this revision was written.
	ChangedAt string `json:"changed_at,omitempty" readonly:"true" format:"date-time" example:"2026-03-01T09:30:00.123456Z"`
	// Deleted says that this revision deleted the thing.
	Deleted bool `json:"deleted,omitempty" readonly:"true" example:"false"`
	// ETag is the strong validator that If-Match wants, the same as in the ETag header.
	ETag string `json:"etag,omitempty" readonly:"true" example:"\"3-9f86d081884c7d65\""`
} // @name Stored

func fromRevision(id recipe.ID, rev recipe.Revision) Stored {
	return Stored{ID: string(id), Revision: rev.Number, ChangedAt: instant(rev.At), Deleted: rev.Deleted}
}

// instant writes a moment as RFC 3339 does, in UTC to the microsecond.
func instant(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format("2006-01-02T15:04:05.999999Z07:00")
}

// Head gives access to what the server says about a thing.
func (s *Stored) Head() *Stored { return s }

// agree notes every member that was sent and differs from what is stored. A
// thing that is not stored yet has nothing to agree with.
func (s *Stored) agree(have Stored, r *Report) {
	check := func(name string, sent, stored any, given bool) {
		if given && sent != stored {
			r.Add("/"+name, "READ_ONLY", "%s is given by the server; leave it out or send it back as it was answered", name)
		}
	}
	check("id", strings.ToLower(s.ID), have.ID, s.ID != "")
	check("revision", s.Revision, have.Revision, s.Revision != 0)
	check("changed_at", s.ChangedAt, have.ChangedAt, s.ChangedAt != "")
	check("deleted", s.Deleted, have.Deleted, s.Deleted)
	check("etag", s.ETag, have.ETag, s.ETag != "")
}

// ParseID reads an id: a UUID in its plain 36 characters, of any case.
func ParseID(s string) (recipe.ID, bool) {
	if len(s) != 36 {
		return "", false
	}
	u, err := uuid.Parse(s)
	if err != nil {
		return "", false
	}
	return recipe.ID(u.String()), true
}

// ByCode reports whether ref is a house code (code:RUM-DARK) and returns it.
func ByCode(ref string) (code string, ok bool) { return strings.CutPrefix(ref, "code:") }
