package recipe

import "servewright/domain"

// CheckComponent returns every fault that component r has in this Book, as
// [Book.WithComponent] would if it replaced one with the lines before. It is
// for many at once: nothing is copied.
func (b *Book) CheckComponent(r Ref, before []Line) error {
	c := &b.comps[r]
	var bad domain.Faults
	bad.Check("", c.Valid(&b.house))
	if c.Recipe != nil {
		b.checkLines(&bad, "/recipe/lines", c.Recipe.Lines, before, false)
		b.checkLines(&bad, "/recipe/packaging", c.Recipe.Packaging, before, false)
		b.checkAmounts(&bad, *c)
	}
	return bad.Err()
}

// CheckSpec returns every fault that a spec has in this Book, as
// [Book.WithSpec] would if it replaced one with the lines before.
func (b *Book) CheckSpec(s *Spec, before []Line) error {
	var bad domain.Faults
	bad.Check("", s.Valid(&b.house))
	b.checkLines(&bad, "/lines", s.Lines, before, true)
	return bad.Err()
}
