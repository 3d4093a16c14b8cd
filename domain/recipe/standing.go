package recipe

import (
	"slices"

	"servewright/domain"
)

// CheckComponent returns every fault that component r has in this Book, as
// [Book.WithComponent] would when it is put into base. It is for many at once:
// nothing is copied.
func (b *Book) CheckComponent(r Ref, base *Book) error {
	var bad domain.Faults
	b.checkComponent(&bad, &b.comps[r], base)
	b.checkAmounts(&bad, b.comps[r])
	return bad.Err()
}

// CheckSpec returns every fault that a spec has in this Book, as
// [Book.WithSpec] would when it is put into base.
func (b *Book) CheckSpec(s *Spec, base *Book) error {
	var before []Line
	if i, ok := base.specID[s.ID]; ok {
		before = base.specs[i].Lines
	}
	var bad domain.Faults
	bad.Check("", s.Valid(&b.house))
	b.checkLines(&bad, "/lines", s.Lines, before, true)
	return bad.Err()
}

// checkComponent checks c by itself and what its lines point at; the Book need
// not be linked yet.
func (b *Book) checkComponent(bad *domain.Faults, c *Component, base *Book) {
	bad.Check("", c.Valid(&b.house))
	if c.Recipe == nil {
		return
	}
	var before []Line
	if r, ok := base.byID[c.ID]; ok && base.comps[r].Recipe != nil {
		before = slices.Concat(base.comps[r].Recipe.Lines, base.comps[r].Recipe.Packaging)
	}
	b.checkLines(bad, "/recipe/lines", c.Recipe.Lines, before, false)
	b.checkLines(bad, packagingAt, c.Recipe.Packaging, before, false)
}
