package recipe

import "time"

// Revision says which edit of a stored thing this is. Everything a person
// writes is kept; an edit adds a revision and never changes an older one.
type Revision struct {
	Number  int       // 1, 2, 3 … of this thing
	Stamp   int64     // the house's change counter at that write
	At      time.Time // UTC, to the microsecond
	Deleted bool      // a tombstone: the thing was deleted by this edit
}

// Kept is a stored thing at one of its revisions.
type Kept[T any] struct {
	Value T
	Revision
}

// Filter narrows a list. Empty fields do not narrow. Lists are ordered by
// folded name, then id.
type Filter struct {
	Name     string   // part of the name, case and accents folded
	Category string   // components and specs
	Kind     Kind     // components
	Status   Status   // components
	Method   string   // specs
	Code     string   // exact
	After    Position // start after this place; zero = from the start
	Limit    int      // 1–200
}

// Position is a place in a list ordered by folded name, then id.
type Position struct {
	Key string
	ID  ID
}
