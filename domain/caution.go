package domain

// Severity says how much a caution matters.
type Severity string

// The severities, mildest first.
const (
	Note    Severity = "note"    // good to know
	Warning Severity = "warning" // the figure or the drink deserves a second look
	Danger  Severity = "danger"  // someone could be hurt
)

// Caution rides along with a number that still stands. An error means there is
// no number.
type Caution struct {
	Code     string // stable UPPER_SNAKE code
	Severity Severity
	Detail   string // one plain sentence
	Source   string // where the rule or the figure comes from, and how well it was checked
}

// AddCaution appends c to list unless a caution with the same code and detail
// is in it already.
func AddCaution(list []Caution, c Caution) []Caution {
	for _, have := range list {
		if have.Code == c.Code && have.Detail == c.Detail {
			return list
		}
	}
	return append(list, c)
}
