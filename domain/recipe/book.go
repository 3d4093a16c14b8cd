package recipe

import (
	"slices"
	"strings"
	"sync/atomic"

	"servewright/domain"
	"servewright/domain/measure"
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
	if err := b.index(); err != nil {
		return nil, err
	}
	return b, b.link()
}

// index fills the lookups and refuses ids and codes used twice.
func (b *Book) index() error {
	b.byID, b.byCode = make(map[ID]Ref, len(b.comps)), make(map[string]Ref, len(b.comps))
	b.specID, b.specCode = make(map[ID]int, len(b.specs)), make(map[string]int, len(b.specs))
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

// What an amount of something that gives juice means: a volume of it is its
// juice, a mass is the mass of whole pieces as they are bought, and a piece
// gives its juice. Costing reads amounts the same way.

// Millilitres returns an amount of component r in mL at 20 °C. It is false when
// the component has no volume, or a piece of it no stated size.
func (b *Book) Millilitres(q measure.Quantity, r Ref) (float64, bool) {
	c := &b.comps[r]
	if pieces, ok := b.pieces(q, c); ok && c.Piece.Juice > 0 {
		return pieces * float64(c.Piece.Juice), true
	}
	switch q.Unit.Dimension() {
	case measure.OfVolume:
		return b.volume(q, c), true
	case measure.OfPieces:
		return b.massVolume(q.Amount*float64(c.Piece.Mass), r)
	}
	return b.massVolume(q.In(b.house.Units), r)
}

// pieces counts an amount in pieces; false for a volume, and for a mass of
// things whose piece has no stated mass.
func (b *Book) pieces(q measure.Quantity, c *Component) (float64, bool) {
	switch q.Unit.Dimension() {
	case measure.OfPieces:
		return q.Amount, true
	case measure.OfMass:
		return q.In(b.house.Units) / float64(c.Piece.Mass), c.Piece.Mass > 0
	}
	return 0, false
}

func (b *Book) massVolume(g float64, r Ref) (float64, bool) {
	d := float64(b.Contents(r).Density)
	if !(d > 0 && g > 0) {
		return 0, false
	}
	return g / d, true
}

// volume reads a volume, taking the component's own dash.
func (b *Book) volume(q measure.Quantity, c *Component) float64 {
	if q.Unit == measure.Dash && c.Dash > 0 {
		return q.Amount * float64(c.Dash)
	}
	return q.In(b.house.Units)
}

// Grams returns an amount of component r in g of what is poured. It is false
// when the component has no volume to be measured by, or a piece of it no
// stated size.
func (b *Book) Grams(q measure.Quantity, r Ref) (float64, bool) {
	c := &b.comps[r]
	if c.Piece.Juice > 0 {
		if pieces, ok := b.pieces(q, c); ok {
			return b.volumeMass(pieces*float64(c.Piece.Juice), r)
		}
	}
	switch q.Unit.Dimension() {
	case measure.OfMass:
		return q.In(b.house.Units), true
	case measure.OfPieces:
		return q.Amount * float64(c.Piece.Mass), c.Piece.Mass > 0
	}
	return b.volumeMass(b.volume(q, c), r)
}

func (b *Book) volumeMass(ml float64, r Ref) (float64, bool) {
	d := float64(b.Contents(r).Density)
	if !(d > 0 && ml > 0) {
		return 0, false
	}
	return ml * d, true
}

// WithHouse returns the Book with other defaults.
func (b *Book) WithHouse(h House) (*Book, error) {
	if err := h.Valid(); err != nil {
		return nil, err
	}
	if err := b.checkCurrency(&h); err != nil {
		return nil, err
	}
	out := *b
	out.house = h
	out.contents = make([]atomic.Pointer[Contents], len(b.comps))
	return &out, nil
}

// WithSpec returns the Book with s added, or put in the place of the spec with
// its id.
func (b *Book) WithSpec(s Spec) (*Book, error) {
	var before []Line
	if i, ok := b.specID[s.ID]; ok {
		before = b.specs[i].Lines
	}
	out := *b
	out.specs = put(b.specs, s, func(x Spec) ID { return x.ID })
	if err := out.index(); err != nil {
		return nil, err
	}
	var bad domain.Faults
	bad.Check("", s.Valid(&b.house))
	out.checkLines(&bad, "/lines", s.Lines, before, true)
	return &out, bad.Err()
}

// WithComponent returns the Book with c added, or put in the place of the
// component with its id.
func (b *Book) WithComponent(c Component) (*Book, error) {
	var before []Line
	if r, ok := b.byID[c.ID]; ok && b.comps[r].Recipe != nil {
		before = slices.Concat(b.comps[r].Recipe.Lines, b.comps[r].Recipe.Packaging)
	}
	out := &Book{house: b.house, specs: b.specs, comps: put(b.comps, c, func(x Component) ID { return x.ID })}
	if err := out.index(); err != nil {
		return nil, err
	}
	var bad domain.Faults
	bad.Check("", c.Valid(&b.house))
	if c.Recipe != nil {
		out.checkLines(&bad, "/recipe/lines", c.Recipe.Lines, before, false)
		out.checkLines(&bad, packagingAt, c.Recipe.Packaging, before, false)
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	if err := out.link(); err != nil {
		return nil, err
	}
	out.checkAmounts(&bad, c)
	return out, bad.Err()
}

// put returns a copy of list, ordered by id, with v in it or in the place of
// the one with its id.
func put[T any](list []T, v T, id func(T) ID) []T {
	at, found := slices.BinarySearchFunc(list, id(v), func(x T, want ID) int { return strings.Compare(string(id(x)), string(want)) })
	out := slices.Clone(list)
	if found {
		out[at] = v
		return out
	}
	return slices.Insert(out, at, v)
}

// WithoutSpec returns the Book without a spec.
func (b *Book) WithoutSpec(id ID) (*Book, error) {
	i, ok := b.specID[id]
	if !ok {
		return nil, domain.Errorf(domain.NotFound, "there is no spec %s", id)
	}
	out := *b
	out.specs = slices.Delete(slices.Clone(b.specs), i, i+1)
	return &out, out.index()
}

// WithoutComponent returns the Book without a component. It is refused
// (domain.Conflict, naming the users) while anything points at it.
func (b *Book) WithoutComponent(id ID) (*Book, error) {
	r, ok := b.byID[id]
	if !ok {
		return nil, domain.Errorf(domain.NotFound, "there is no component %s", id)
	}
	comps, specs := b.Uses(id)
	if users := append(comps, specs...); len(users) > 0 {
		e := domain.Errorf(domain.Conflict, "%q is used by %s; take it out of them first, or delist it instead", b.comps[r].Name, nameRefs(users))
		e.Code, e.Refs = "IN_USE", users
		return nil, e
	}
	out := &Book{house: b.house, specs: b.specs, comps: slices.Delete(slices.Clone(b.comps), int(r), int(r)+1)}
	if err := out.index(); err != nil {
		return nil, err
	}
	return out, out.link()
}
