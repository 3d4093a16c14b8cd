package repo_test

import (
	"cmp"
	"fmt"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/measure"
	"servewright/domain/recipe"
	"servewright/repo"
	"servewright/repo/repotest"
)

// model is what a house ought to hold, kept as plainly as can be.
type model struct {
	ctx     *testing.T
	servers []*repo.Store
	comps   map[recipe.ID][]recipe.Kept[recipe.Component] // revisions
	specs   map[recipe.ID][]recipe.Kept[recipe.Spec]
	ids     []recipe.ID
	history []state // by counter
}

// state is the live things at one counter.
type state struct {
	comps map[recipe.ID]recipe.Component
	specs map[recipe.ID]recipe.Spec
}

// TestModel runs random operations on two servers and on a model that knows
// nothing of databases, and wants the same from both after each.
func TestModel(t *testing.T) {
	db := repotest.Database{DSN: filepath.Join(t.TempDir(), "house.db")}
	a, b := db.Open(t), db.Open(t)
	if err := a.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		org, err := a.AddOrg(t.Context(), newID()) // a house of its own for each run
		if err != nil {
			rt.Fatal(err)
		}
		m := &model{
			ctx: t, servers: []*repo.Store{org, b.Org(org.ID())},
			comps: map[recipe.ID][]recipe.Kept[recipe.Component]{}, specs: map[recipe.ID][]recipe.Kept[recipe.Spec]{},
			history: []state{{}},
		}
		rt.Repeat(map[string]func(*rapid.T){
			"add component": m.addComponent, "edit component": m.editComponent, "delete component": m.deleteComponent,
			"add spec": m.addSpec, "edit spec": m.editSpec, "delete spec": m.deleteSpec,
			"load": m.load, "read revision": m.readRevision, "read moment": m.readMoment, "list": m.list,
			"": m.compare,
		})
	})
}

func newID() recipe.ID { return recipe.ID(uuid.Must(uuid.NewV7()).String()) }

func (m *model) server(t *rapid.T) *repo.Store { return rapid.SampledFrom(m.servers).Draw(t, "server") }

func (m *model) now() state { return m.history[len(m.history)-1] }

// change is the next moment, a copy of the present one to be altered.
func (m *model) change() state {
	s := state{maps.Clone(m.now().comps), maps.Clone(m.now().specs)}
	if s.comps == nil {
		s.comps, s.specs = map[recipe.ID]recipe.Component{}, map[recipe.ID]recipe.Spec{}
	}
	m.history = append(m.history, s)
	return s
}

// anID draws an id that is or was somebody's, or nobody's.
func (m *model) anID(t *rapid.T) recipe.ID {
	if len(m.ids) == 0 || rapid.IntRange(0, 9).Draw(t, "stranger") == 0 {
		return newID()
	}
	return rapid.SampledFrom(m.ids).Draw(t, "id")
}

func (m *model) lines(t *rapid.T) (lines []recipe.Line) {
	for range rapid.IntRange(1, 2).Draw(t, "lines") {
		lines = append(lines, recipe.Line{Component: m.anID(t), Amount: measure.Quantity{Amount: 10, Unit: measure.ML}})
	}
	return lines
}

var codes = rapid.SampledFrom([]string{"", "A", "B", "a"})

var modelNames = rapid.SampledFrom([]string{"Rum", "rum", "Crème", "creme 2", "İ", "x%_y", "Ω"})

func (m *model) component(t *rapid.T) recipe.Component {
	c := bottle(modelNames.Draw(t, "name"))
	c.Code = codes.Draw(t, "code")
	if rapid.Bool().Draw(t, "made") {
		c.Kind, c.Label.ABV, c.Recipe = recipe.HouseMade, nil, &recipe.Recipe{Lines: m.lines(t)}
	}
	return c
}

func (m *model) spec(t *rapid.T) recipe.Spec {
	lines := m.lines(t)
	for i := range lines {
		lines[i].Stage = recipe.Mix
	}
	return recipe.Spec{
		ID: newID(), Name: modelNames.Draw(t, "name"), Code: codes.Draw(t, "code"),
		Method: chill.Stir, ServingIce: chill.NoIce, Lines: lines,
	}
}

// want compares the kind of an error; 0 = no error.
func want(t *rapid.T, err error, k domain.Kind, doing string) (ok bool) {
	switch {
	case k == 0 && err != nil:
		t.Fatalf("%s: %v", doing, err)
	case k != 0:
		wantKind(t, err, k)
	}
	return k == 0
}

// refusedComponent says why the house does not take c, 0 when it does.
func (m *model) refusedComponent(c recipe.Component) domain.Kind {
	for id, other := range m.now().comps {
		if id != c.ID && c.Code != "" && other.Code == c.Code {
			return domain.Conflict
		}
	}
	if c.Recipe != nil && (m.dangling(c.Recipe.Lines, c.ID) || m.circular(c)) {
		return domain.Invalid
	}
	return 0
}

func (m *model) dangling(lines []recipe.Line, self recipe.ID) bool {
	return slices.ContainsFunc(lines, func(l recipe.Line) bool {
		_, ok := m.now().comps[l.Component]
		return !ok && l.Component != self
	})
}

// circular reports whether c, put in its place, is made of itself.
func (m *model) circular(c recipe.Component) bool {
	var reaches func(id recipe.ID) bool
	reaches = func(id recipe.ID) bool {
		rec := m.now().comps[id].Recipe
		return id == c.ID || rec != nil && slices.ContainsFunc(rec.Lines, func(l recipe.Line) bool { return reaches(l.Component) })
	}
	return slices.ContainsFunc(c.Recipe.Lines, func(l recipe.Line) bool { return reaches(l.Component) })
}

func (m *model) refusedSpec(s recipe.Spec) domain.Kind {
	for id, other := range m.now().specs {
		if id != s.ID && s.Code != "" && other.Code == s.Code {
			return domain.Conflict
		}
	}
	if m.dangling(s.Lines, "") {
		return domain.Invalid
	}
	return 0
}

func (m *model) addComponent(t *rapid.T) {
	c := m.component(t)
	got, err := m.server(t).AddComponent(m.ctx.Context(), c, time.UnixMicro(int64(len(m.history))))
	if want(t, err, m.refusedComponent(c), "add component") {
		m.change().comps[c.ID] = c
		m.ids = append(m.ids, c.ID)
		m.comps[c.ID] = keep(t, m, nil, got, c, false)
	}
}

// keep adds a revision to a thing's, and wants the store to have answered it.
func keep[T any](t *rapid.T, m *model, revs []recipe.Kept[T], got recipe.Kept[T], v T, deleted bool) []recipe.Kept[T] {
	stamp := int64(len(m.history) - 1)
	k := recipe.Kept[T]{Value: v, Revision: recipe.Revision{Number: len(revs) + 1, Stamp: stamp, At: time.UnixMicro(stamp).UTC(), Deleted: deleted}}
	if !deleted && !reflect.DeepEqual(got, k) {
		t.Fatalf("the store answers %+v, want %+v", got, k)
	}
	return append(revs, k)
}

// fate says what an edit of a thing with these revisions comes to, before what
// is edited is looked at.
func fate[T any](revs []recipe.Kept[T], revision int) domain.Kind {
	switch {
	case len(revs) == 0 || revs[len(revs)-1].Deleted:
		return domain.NotFound
	case revision != len(revs):
		return domain.Stale
	}
	return 0
}

// revision draws the right one, mostly.
func revisionOf[T any](t *rapid.T, revs []recipe.Kept[T]) int {
	return len(revs) - rapid.SampledFrom([]int{0, 0, 0, 1, -1}).Draw(t, "behind")
}

func (m *model) editComponent(t *rapid.T) {
	id, c := m.anID(t), m.component(t)
	c.ID = id
	revs := m.comps[id]
	revision := revisionOf(t, revs)
	got, err := m.server(t).EditComponent(m.ctx.Context(), id, revision, func(old recipe.Component) (recipe.Component, error) {
		if !reflect.DeepEqual(old, m.now().comps[id]) {
			t.Fatalf("the edit gets %+v, want %+v", old, m.now().comps[id])
		}
		return c, nil
	}, time.UnixMicro(int64(len(m.history))))
	if want(t, err, cmp.Or(fate(revs, revision), m.refusedComponent(c)), "edit component") {
		m.change().comps[id] = c
		m.comps[id] = keep(t, m, revs, got, c, false)
	}
}

func (m *model) deleteComponent(t *rapid.T) {
	id := m.anID(t)
	revs := m.comps[id]
	revision := revisionOf(t, revs)
	err := m.server(t).DeleteComponent(m.ctx.Context(), id, revision, time.UnixMicro(int64(len(m.history))))
	if want(t, err, cmp.Or(fate(revs, revision), m.inUse(id)), "delete component") {
		delete(m.change().comps, id)
		m.comps[id] = keep(t, m, revs, recipe.Kept[recipe.Component]{}, revs[len(revs)-1].Value, true)
	}
}

func (m *model) inUse(id recipe.ID) domain.Kind {
	names := func(l recipe.Line) bool { return l.Component == id }
	for _, c := range m.now().comps {
		if c.Recipe != nil && slices.ContainsFunc(c.Recipe.Lines, names) {
			return domain.Conflict
		}
	}
	for _, s := range m.now().specs {
		if slices.ContainsFunc(s.Lines, names) {
			return domain.Conflict
		}
	}
	return 0
}

func (m *model) addSpec(t *rapid.T) {
	s := m.spec(t)
	got, err := m.server(t).AddSpec(m.ctx.Context(), s, time.UnixMicro(int64(len(m.history))))
	if want(t, err, m.refusedSpec(s), "add spec") {
		m.change().specs[s.ID] = s
		m.ids = append(m.ids, s.ID)
		m.specs[s.ID] = keep(t, m, nil, got, s, false)
	}
}

func (m *model) editSpec(t *rapid.T) {
	id, s := m.anID(t), m.spec(t)
	s.ID = id
	revs := m.specs[id]
	revision := revisionOf(t, revs)
	got, err := m.server(t).EditSpec(m.ctx.Context(), id, revision, func(recipe.Spec) (recipe.Spec, error) { return s, nil }, time.UnixMicro(int64(len(m.history))))
	if want(t, err, cmp.Or(fate(revs, revision), m.refusedSpec(s)), "edit spec") {
		m.change().specs[id] = s
		m.specs[id] = keep(t, m, revs, got, s, false)
	}
}

func (m *model) deleteSpec(t *rapid.T) {
	id := m.anID(t)
	revs := m.specs[id]
	revision := revisionOf(t, revs)
	err := m.server(t).DeleteSpec(m.ctx.Context(), id, revision, time.UnixMicro(int64(len(m.history))))
	if want(t, err, fate(revs, revision), "delete spec") {
		delete(m.change().specs, id)
		m.specs[id] = keep(t, m, revs, recipe.Kept[recipe.Spec]{}, revs[len(revs)-1].Value, true)
	}
}

// load keeps a new bottle and a new spec of it, at one moment.
func (m *model) load(t *rapid.T) {
	c, s := bottle(modelNames.Draw(t, "bottle")), m.spec(t)
	s.Code, s.Lines = "", s.Lines[:1]
	s.Lines[0].Component = c.ID
	if err := m.server(t).Load(m.ctx.Context(), nil, []recipe.Component{c}, []recipe.Spec{s}, time.UnixMicro(int64(len(m.history)))); err != nil {
		t.Fatal(err)
	}
	next := m.change()
	next.comps[c.ID], next.specs[s.ID] = c, s
	m.ids = append(m.ids, c.ID, s.ID)
	rev := recipe.Revision{Number: 1, Stamp: int64(len(m.history) - 1), At: time.UnixMicro(int64(len(m.history) - 1)).UTC()}
	m.comps[c.ID] = []recipe.Kept[recipe.Component]{{Value: c, Revision: rev}}
	m.specs[s.ID] = []recipe.Kept[recipe.Spec]{{Value: s, Revision: rev}}
}

func (m *model) readRevision(t *rapid.T) {
	id := m.anID(t)
	revs := m.comps[id]
	n := rapid.IntRange(0, len(revs)+1).Draw(t, "number")
	got, err := m.server(t).ComponentRevision(m.ctx.Context(), id, n)
	if n < 1 || n > len(revs) {
		wantKind(t, err, domain.NotFound)
	} else if err != nil || !reflect.DeepEqual(got, revs[n-1]) {
		t.Fatalf("revision %d is %+v (%v), want %+v", n, got, err, revs[n-1])
	}
}

func (m *model) readMoment(t *rapid.T) {
	n := rapid.IntRange(0, len(m.history)-1).Draw(t, "moment")
	b, err := m.server(t).BookAt(m.ctx.Context(), int64(n))
	if err != nil {
		t.Fatal(err)
	}
	wantState(t, b, m.history[n])
}

func (m *model) list(t *rapid.T) {
	f := recipe.Filter{Limit: rapid.IntRange(1, 3).Draw(t, "limit")}
	if rapid.Bool().Draw(t, "by kind") {
		f.Kind = recipe.HouseMade
	}
	var expected []string
	for _, c := range m.now().comps {
		if f.Kind == "" || c.Kind == f.Kind {
			expected = append(expected, repo.Fold(c.Name)+"\x00"+string(c.ID))
		}
	}
	slices.Sort(expected)
	var got []string
	for s := m.server(t); ; {
		page, next, err := s.Components(m.ctx.Context(), f)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range page {
			got = append(got, repo.Fold(k.Value.Name)+"\x00"+string(k.Value.ID))
		}
		if next == nil {
			break
		}
		f.After = *next
	}
	if !slices.Equal(got, expected) {
		t.Fatalf("listed %q, want %q", got, expected)
	}
}

// compare is made after every operation.
func (m *model) compare(t *rapid.T) {
	b, n, err := m.server(t).Book(m.ctx.Context())
	if err != nil || n != int64(len(m.history)-1) {
		t.Fatalf("the counter is at %d (%v), want %d", n, err, len(m.history)-1)
	}
	wantState(t, b, m.now())
}

func wantState(t *rapid.T, b *recipe.Book, s state) {
	t.Helper()
	if len(b.Components()) != len(s.comps) || len(b.Specs()) != len(s.specs) {
		t.Fatalf("%d components and %d specs, want %d and %d", len(b.Components()), len(b.Specs()), len(s.comps), len(s.specs))
	}
	for _, c := range b.Components() {
		if !reflect.DeepEqual(c, s.comps[c.ID]) {
			t.Fatalf("component %+v, want %+v", c, s.comps[c.ID])
		}
	}
	for _, sp := range b.Specs() {
		if !reflect.DeepEqual(sp, s.specs[sp.ID]) {
			t.Fatalf("spec %+v, want %+v", sp, s.specs[sp.ID])
		}
	}
	if order := b.Components(); !slices.IsSortedFunc(order, func(x, y recipe.Component) int { return strings.Compare(string(x.ID), string(y.ID)) }) {
		t.Fatal(fmt.Sprint("components are out of order: ", order))
	}
}
