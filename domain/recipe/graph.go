package recipe

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"servewright/domain"
)

// MaxNesting is how many house-made components may stand inside one another.
const MaxNesting = 32

// walker visits the graph of components depth first.
type walker struct {
	book  *Book
	depth []int32 // 0 = not seen, −1 = on the path now, n+1 = n levels of house-made things inside
	path  []Ref
	order []Ref
}

// checkNesting refuses components made of themselves and nesting deeper than
// MaxNesting, and fixes the order of the Book.
func (b *Book) checkNesting() error {
	w := walker{book: b, depth: make([]int32, len(b.comps)), order: make([]Ref, 0, len(b.comps))}
	for r := range b.comps {
		if _, err := w.visit(Ref(r)); err != nil {
			return err
		}
	}
	b.order = w.order
	return nil
}

// visit returns how many levels of house-made components r is: 0 for a bought
// one.
func (w *walker) visit(r Ref) (int32, error) {
	if d := w.depth[r]; d != 0 {
		if d < 0 {
			return 0, w.cycle(r)
		}
		return d - 1, nil
	}
	w.depth[r] = -1
	w.path = append(w.path, r)
	levels := int32(0)
	for _, p := range w.book.parts[r] {
		inside, err := w.visit(p)
		if err != nil {
			return 0, err
		}
		levels = max(levels, inside)
	}
	if w.book.comps[r].Recipe != nil {
		levels++
	}
	if levels > MaxNesting {
		return 0, w.tooDeep(r)
	}
	w.path = w.path[:len(w.path)-1]
	w.depth[r] = levels + 1
	w.order = append(w.order, r)
	return levels, nil
}

// cycle names the way from r back to itself.
func (w *walker) cycle(r Ref) error {
	start := 0
	for i, p := range w.path {
		if p == r {
			start = i
		}
	}
	names := w.names(append(w.path[start:], r))
	return graphFault("COMPONENT_CYCLE", fmt.Sprintf("%s is made of itself: %s", w.book.comps[r].Name, names))
}

// tooDeep names the longest way down from r.
func (w *walker) tooDeep(r Ref) error {
	path := []Ref{r}
	for parts := w.book.parts[r]; len(parts) > 0; parts = w.book.parts[r] {
		r = slices.MaxFunc(parts, func(a, b Ref) int { return cmp.Compare(w.depth[a], w.depth[b]) })
		path = append(path, r)
	}
	return graphFault("NESTING_TOO_DEEP", fmt.Sprintf("more than %d house-made components inside one another: %s; make one of them of bought things",
		MaxNesting, w.names(path)))
}

func (w *walker) names(path []Ref) string {
	names := make([]string, len(path))
	for i, r := range path {
		names[i] = w.book.comps[r].Name
	}
	return strings.Join(names, " → ")
}

func graphFault(code, detail string) error {
	return &domain.Error{Kind: domain.Invalid, Code: code, Faults: []domain.Fault{{Pointer: "/recipe/lines", Code: code, Detail: detail}}}
}

// Order returns every component, parts before what is made of them, as
// written; do not modify it.
func (b *Book) Order() []Ref { return b.order }

// nameRefs lists at most five names, and how many more there are.
func nameRefs(refs []domain.Ref) string {
	const most = 5
	var names []string
	for i, r := range refs {
		if i == most {
			names = append(names, fmt.Sprintf("and %d more", len(refs)-most))
			break
		}
		names = append(names, fmt.Sprintf("%s %q", r.Type, r.Name))
	}
	return strings.Join(names, ", ")
}
