package recipe

import (
	"slices"
	"strings"
	"sync/atomic"

	"servewright/domain"
	"servewright/domain/money"
)

// Ref is the place of a component in its [Book].
type Ref int32

// Book is everything a house has written, at one moment: components, specs and
// defaults. It is immutable and safe for concurrent use; the With methods
// return changed copies.
type Book struct {
	house    House
	comps    []Component // by id
	specs    []Spec      // by id
	byID     map[ID]Ref
	byCode   map[string]Ref
	specID   map[ID]int
	specCode map[string]int
	parts    [][]Ref // per component: what each recipe line points at
	order    []Ref   // parts before wholes, as written
	contents []atomic.Pointer[Contents]

	// A swapped book pours to wherever from is written, except inside to.
	swapped  bool
	from, to Ref
	inside   []bool // per component: to itself, and what it is made of
	remade   []bool // per component: made with to instead of from, at some depth
}

// NewBook makes a Book. It returns a domain.Invalid error when a line points at
// nothing, a component is made of itself (the path is named) or nesting is
// deeper than [MaxNesting]; domain.Conflict when a code or id is used twice.
func NewBook(h House, cs []Component, ss []Spec) (*Book, error) {
	b := &Book{house: h, comps: slices.Clone(cs), specs: slices.Clone(ss)}
	slices.SortFunc(b.comps, func(x, y Component) int { return strings.Compare(string(x.ID), string(y.ID)) })
	slices.SortFunc(b.specs, func(x, y Spec) int { return strings.Compare(string(x.ID), string(y.ID)) })
	if err := b.indexComponents(); err != nil {
		return nil, err
	}
	if err := b.indexSpecs(); err != nil {
		return nil, err
	}
	return b, b.link()
}

// indexComponents fills the lookups of components and refuses ids and codes
// used twice.
func (b *Book) indexComponents() error {
	b.byID, b.byCode = make(map[ID]Ref, len(b.comps)), make(map[string]Ref, len(b.comps))
	for i := range b.comps {
		c := &b.comps[i]
		if other, taken := b.byCode[c.Code]; taken && c.Code != "" {
			return codeTaken(c.Code, b.comps[other].ref())
		}
		if _, taken := b.byID[c.ID]; taken {
			return domain.Errorf(domain.Conflict, "component %s is there twice", c.ID)
		}
		b.byID[c.ID] = Ref(i)
		if c.Code != "" {
			b.byCode[c.Code] = Ref(i)
		}
	}
	return nil
}

// indexSpecs does the same for specs.
func (b *Book) indexSpecs() error {
	b.specID, b.specCode = make(map[ID]int, len(b.specs)), make(map[string]int, len(b.specs))
	for i := range b.specs {
		s := &b.specs[i]
		if other, taken := b.specCode[s.Code]; taken && s.Code != "" {
			return codeTaken(s.Code, b.specs[other].ref())
		}
		if _, taken := b.specID[s.ID]; taken {
			return domain.Errorf(domain.Conflict, "spec %s is there twice", s.ID)
		}
		b.specID[s.ID] = i
		if s.Code != "" {
			b.specCode[s.Code] = i
		}
	}
	return nil
}

func codeTaken(code string, by domain.Ref) error {
	e := domain.Errorf(domain.Conflict, "code %q is taken by %s %q; choose another", code, by.Type, by.Name)
	e.Code, e.Refs = "CODE_TAKEN", []domain.Ref{by}
	return e
}

func (c *Component) ref() domain.Ref {
	return domain.Ref{Type: "component", ID: string(c.ID), Code: c.Code, Name: c.Name}
}

func (s *Spec) ref() domain.Ref {
	return domain.Ref{Type: "spec", ID: string(s.ID), Code: s.Code, Name: s.Name}
}

// link resolves every line and checks the graph.
func (b *Book) link() error {
	b.parts = make([][]Ref, len(b.comps))
	b.contents = make([]atomic.Pointer[Contents], len(b.comps))
	var bad domain.Faults
	for i := range b.comps {
		if rec := b.comps[i].Recipe; rec != nil {
			b.parts[i] = b.resolveLines(&bad, "/recipe/lines", rec.Lines)
			b.resolveLines(&bad, packagingAt, rec.Packaging)
		}
	}
	for i := range b.specs {
		b.resolveLines(&bad, "/lines", b.specs[i].Lines)
	}
	if err := bad.Err(); err != nil {
		return err
	}
	return b.checkNesting()
}

func (b *Book) resolveLines(bad *domain.Faults, at string, lines []Line) []Ref {
	refs := make([]Ref, len(lines))
	for i := range lines {
		r, ok := b.byID[lines[i].Component]
		if !ok {
			bad.Add(linePointer(at, i)+"/component_id", "UNKNOWN_COMPONENT", "there is no component %s; create it first, or point at another", lines[i].Component)
		}
		refs[i] = r
	}
	return refs
}

// House returns the house's defaults; do not modify them.
func (b *Book) House() *House { return &b.house }

// WithRates returns the Book with the tax rate, labour rate, energy tariff and
// target pour cost of h, everything else kept. A rate in another currency than
// the Book's is taken as not said.
func (b *Book) WithRates(h *House) *Book {
	out := *b
	out.house.TaxPct, out.house.TargetPourPct = h.TaxPct, h.TargetPourPct
	out.house.LabourPerHour = inCurrency(h.LabourPerHour, b.house.Currency)
	out.house.EnergyPerKWh = inCurrency(h.EnergyPerKWh, b.house.Currency)
	return &out
}

func inCurrency(a *money.Amount, c money.Currency) *money.Amount {
	if a == nil || a.Currency != c {
		return nil
	}
	return a
}

// Components returns all components ordered by id; do not modify them.
func (b *Book) Components() []Component { return b.comps }

// Specs returns all specs ordered by id; do not modify them.
func (b *Book) Specs() []Spec { return b.specs }

// Find returns the component with the given id.
func (b *Book) Find(id ID) (Ref, bool) {
	r, ok := b.byID[id]
	return r, ok
}

// Component returns component r; do not modify it.
func (b *Book) Component(r Ref) *Component { return &b.comps[r] }

// ComponentByCode returns the component with the given house code.
func (b *Book) ComponentByCode(code string) (Ref, bool) {
	r, ok := b.byCode[code]
	return r, ok
}

// Spec returns the spec with the given id; do not modify it.
func (b *Book) Spec(id ID) (*Spec, bool) {
	i, ok := b.specID[id]
	if !ok {
		return nil, false
	}
	return &b.specs[i], true
}

// SpecByCode returns the spec with the given house code; do not modify it.
func (b *Book) SpecByCode(code string) (*Spec, bool) {
	i, ok := b.specCode[code]
	if !ok {
		return nil, false
	}
	return &b.specs[i], true
}

// Of returns the component that a spec's line pours in this Book: the
// substitute in a swapped one.
func (b *Book) Of(l *Line) (Ref, bool) {
	r, ok := b.byID[l.Component]
	if ok && b.swapped && r == b.from {
		return b.to, true
	}
	return r, ok
}

// Parts returns what each recipe line of component r points at, in the order of
// the lines; nil for a bought component.
func (b *Book) Parts(r Ref) []Ref {
	parts := b.parts[r]
	if !b.swapped || b.inside[r] || !slices.Contains(parts, b.from) {
		return parts
	}
	out := slices.Clone(parts)
	for i := range out {
		if out[i] == b.from {
			out[i] = b.to
		}
	}
	return out
}

// insideOf reports for every component whether it is whole, or one of the
// things whole is made of, as written.
func (b *Book) insideOf(whole Ref) []bool {
	in := make([]bool, len(b.comps))
	in[whole] = true
	for _, r := range slices.Backward(b.order) { // wholes before parts
		if in[r] {
			for _, p := range b.parts[r] {
				in[p] = true
			}
		}
	}
	return in
}

// Swapped returns the Book in which to is poured wherever from is written, in
// specs and recipes, amounts and units kept, except inside anything that to
// itself is made of.
func (b *Book) Swapped(from, to Ref) *Book {
	out := *b
	out.swapped, out.from, out.to = from != to, from, to
	out.contents = make([]atomic.Pointer[Contents], len(b.comps))
	out.inside = b.insideOf(to)
	out.remade = out.remadeWith()
	for r := range b.comps {
		if !out.remade[r] {
			out.contents[r].Store(b.contents[r].Load())
		}
	}
	return &out
}

// remadeWith reports for every component whether the swap changes what it is
// made of, at some depth.
func (b *Book) remadeWith() []bool {
	remade := make([]bool, len(b.comps))
	if !b.swapped {
		return remade
	}
	for _, r := range b.order {
		if b.inside[r] {
			continue
		}
		remade[r] = slices.ContainsFunc(b.parts[r], func(p Ref) bool { return p == b.from || remade[p] })
	}
	return remade
}

// Remade returns the components that a swapped Book makes with the substitute,
// at some depth; none in a plain Book.
func (b *Book) Remade() []Ref {
	var out []Ref
	for r, remade := range b.remade {
		if remade {
			out = append(out, Ref(r))
		}
	}
	return out
}

// IsRemade reports whether a swapped Book makes r with the substitute.
func (b *Book) IsRemade(r Ref) bool { return b.swapped && b.remade[r] }

// reaching reports for every component whether it is, or is made of, r.
func (b *Book) reaching(r Ref) []bool {
	touched := make([]bool, len(b.comps))
	touched[r] = true
	for _, c := range b.order {
		for _, p := range b.parts[c] {
			touched[c] = touched[c] || touched[p]
		}
	}
	return touched
}

// Reaching returns the indices into Specs of those that pour r, through
// house-made components too.
func (b *Book) Reaching(r Ref) []int {
	touched := b.reaching(r)
	var out []int
	for i := range b.specs {
		if slices.ContainsFunc(b.specs[i].Lines, func(l Line) bool { return touched[b.byID[l.Component]] }) {
			out = append(out, i)
		}
	}
	return out
}

// Uses returns the components and specs that name the component directly.
func (b *Book) Uses(id ID) (components, specs []domain.Ref) {
	names := func(l Line) bool { return l.Component == id }
	for i := range b.comps {
		rec := b.comps[i].Recipe
		if rec != nil && (slices.ContainsFunc(rec.Lines, names) || slices.ContainsFunc(rec.Packaging, names)) {
			components = append(components, b.comps[i].ref())
		}
	}
	for i := range b.specs {
		if slices.ContainsFunc(b.specs[i].Lines, names) {
			specs = append(specs, b.specs[i].ref())
		}
	}
	return components, specs
}
