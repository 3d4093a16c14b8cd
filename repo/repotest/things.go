package repotest

import (
	"errors"
	"strings"
	"testing"
	"time"

	"servewright/domain"
	"servewright/domain/measure"
	"servewright/domain/recipe"
	"servewright/repo"
)

func testComesBack(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	plain := bottle("Cane")
	must(s.AddComponent(ctx, plain, noon))(t)
	for _, c := range []recipe.Component{fullBottle(t), fullBatch(plain.ID)} {
		added := must(s.AddComponent(ctx, c, noon))(t)
		wantSame(t, added.Value, c, "the answer to adding")
		read := must(db.Store(t).Component(ctx, c.ID))(t)
		wantSame(t, read, added, "read by another server")
		if id, err := s.ComponentID(ctx, c.Code); err != nil || id != c.ID {
			t.Errorf("ComponentID(%s) = %s, %v, want %s", c.Code, id, err, c.ID)
		}
	}
	sp := fullDrink(t, plain.ID)
	added := must(s.AddSpec(ctx, sp, noon))(t)
	wantSame(t, added.Value, sp, "the answer to adding a spec")
	read := must(db.Store(t).Spec(ctx, sp.ID))(t)
	wantSame(t, read, added, "spec read by another server")
	if id, err := s.SpecID(ctx, sp.Code); err != nil || id != sp.ID {
		t.Errorf("SpecID(%s) = %s, %v, want %s", sp.Code, id, err, sp.ID)
	}
	if added.Number != 1 || added.Stamp != 4 || added.Deleted {
		t.Errorf("the fourth thing added is %+v, want revision 1 with stamp 4", added.Revision)
	}
	wantBook(t, s, db.Store(t))
}

func testNewHouse(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	if err := s.Ready(ctx); err != nil {
		t.Errorf("Ready: %v", err)
	}
	h := must(s.House(ctx))(t)
	wantSame(t, h.Value, recipe.DefaultHouse(), "a new house's defaults")
	b, n := book(t, s)
	if n != 0 || h.Number != 0 || len(b.Components())+len(b.Specs()) != 0 {
		t.Errorf("a new house is at change %d, revision %d, with %d components and %d specs; want nothing", n, h.Number, len(b.Components()), len(b.Specs()))
	}
}

func testEditKeepsOld(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, bottle("First"), noon))(t)
	var all []recipe.Kept[recipe.Component]
	all = append(all, c)
	for i, name := range []string{"Second", "Third"} {
		edited := must(s.EditComponent(ctx, c.Value.ID, i+1, func(c recipe.Component) (recipe.Component, error) {
			c.Name = name
			return c, nil
		}, noon.Add(time.Hour)))(t)
		if edited.Number != i+2 || edited.Stamp != int64(i+2) || edited.Value.Name != name {
			t.Errorf("edit %d answers %q %+v", i+1, edited.Value.Name, edited.Revision)
		}
		all = append(all, edited)
	}
	for i, want := range all {
		got := must(s.ComponentRevision(ctx, c.Value.ID, i+1))(t)
		wantSame(t, got, want, "an older revision")
	}
	head := must(s.Component(ctx, c.Value.ID))(t)
	wantSame(t, head, all[2], "the head")
}

func rename(name string) func(recipe.Component) (recipe.Component, error) {
	return func(c recipe.Component) (recipe.Component, error) {
		c.Name = name
		return c, nil
	}
}

func testStale(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, bottle("One"), noon))(t)
	must(s.EditComponent(ctx, c.Value.ID, 1, rename("Two"), noon))(t)
	for _, n := range []int{0, 1, 3, -1} {
		_, err := s.EditComponent(ctx, c.Value.ID, n, rename("Three"), noon)
		wantKind(t, err, domain.Stale, "edit of another revision")
		wantKind(t, s.DeleteComponent(ctx, c.Value.ID, n, noon), domain.Stale, "deletion of another revision")
	}
	sp := must(s.AddSpec(ctx, drink("Drink", c.Value.ID), noon))(t)
	_, err := s.EditSpec(ctx, sp.Value.ID, 2, func(s recipe.Spec) (recipe.Spec, error) { return s, nil }, noon)
	wantKind(t, err, domain.Stale, "edit of another revision of a spec")
	_, err = s.EditHouse(ctx, 1, func(h recipe.House) (recipe.House, error) { return h, nil }, noon)
	wantKind(t, err, domain.Stale, "edit of another revision of the house")
	head := must(s.Component(ctx, c.Value.ID))(t)
	if head.Value.Name != "Two" || head.Number != 2 {
		t.Errorf("after stale edits the head is %q at %d", head.Value.Name, head.Number)
	}
}

func testNotFound(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, bottle("There"), noon))(t)
	same := func(c recipe.Component) (recipe.Component, error) { return c, nil }
	odd := []recipe.ID{newID(), "", "abc", "' OR 1=1 --", "a\x00b", "\xFF", recipe.ID(strings.ToUpper(string(c.Value.ID))), "00000000-0000-0000-0000-000000000000"}
	for _, id := range odd {
		_, err := s.Component(ctx, id)
		wantKind(t, err, domain.NotFound, "component "+string(id))
		_, err = s.Spec(ctx, id)
		wantKind(t, err, domain.NotFound, "spec "+string(id))
		_, err = s.ComponentRevision(ctx, id, 1)
		wantKind(t, err, domain.NotFound, "revision of "+string(id))
		_, err = s.ComponentRevisions(ctx, id, 0, 10)
		wantKind(t, err, domain.NotFound, "revisions of "+string(id))
		_, err = s.EditComponent(ctx, id, 1, same, noon)
		wantKind(t, err, domain.NotFound, "edit of "+string(id))
		wantKind(t, s.DeleteComponent(ctx, id, 1, noon), domain.NotFound, "deletion of "+string(id))
		_, err = s.ComponentID(ctx, string(id))
		wantKind(t, err, domain.NotFound, "code "+string(id))
	}
	for _, n := range []int{0, -1, 2, 1 << 40} {
		_, err := s.ComponentRevision(ctx, c.Value.ID, n)
		wantKind(t, err, domain.NotFound, "a revision that is not there")
	}
	_, err := s.Spec(ctx, c.Value.ID)
	wantKind(t, err, domain.NotFound, "a component's id read as a spec")
}

func testAddTwice(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := bottle("Once")
	must(s.AddComponent(ctx, c, noon))(t)
	_, err := s.AddComponent(ctx, c, noon)
	wantKind(t, err, domain.Conflict, "adding the same id again")
	if err := s.DeleteComponent(ctx, c.ID, 1, noon); err != nil {
		t.Fatal(err)
	}
	_, err = s.AddComponent(ctx, c, noon)
	wantKind(t, err, domain.Conflict, "adding the id of a deleted thing")
	c.ID = "not-an-id"
	_, err = s.AddComponent(ctx, c, noon)
	wantKind(t, err, domain.Invalid, "adding something that is no id")
	_, n, err := s.Book(ctx)
	if err != nil || n != 2 {
		t.Errorf("the counter is at %d (%v), want 2", n, err)
	}
}

func testRefusedEdit(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, bottle("Sound"), noon))(t)
	boom := errors.New("the caller's own reason")
	_, err := s.EditComponent(ctx, c.Value.ID, 1, func(c recipe.Component) (recipe.Component, error) { return c, boom }, noon)
	if !errors.Is(err, boom) {
		t.Errorf("an edit that fails answers %v, want the caller's error", err)
	}
	refused := []struct {
		pointer string
		spoil   func(*recipe.Component)
	}{
		{"/name", func(c *recipe.Component) { c.Name = "" }},
		{"/category", func(c *recipe.Component) { c.Category = "soup" }},
		{"/waste_pct", func(c *recipe.Component) { c.WastePct = 100 }},
		{"/notes", func(c *recipe.Component) { c.Notes = "broken \xFF" }},
		{"/packs/0/price/currency", func(c *recipe.Component) {
			c.Packs = fullBottle(t).Packs[:1]
			c.Packs[0].Price.Currency = "SEK"
		}},
	}
	for _, r := range refused {
		_, err := s.EditComponent(ctx, c.Value.ID, 1, func(c recipe.Component) (recipe.Component, error) {
			r.spoil(&c)
			return c, nil
		}, noon)
		wantFault(t, err, r.pointer, "edit")
	}
	_, err = s.AddSpec(ctx, drink("Of nothing", newID()), noon)
	wantFault(t, err, "/lines/0/component_id", "spec of a component that is not there")
	head := must(s.Component(ctx, c.Value.ID))(t)
	wantSame(t, head, c, "the head after refused edits")
	if _, n, err := s.Book(ctx); n != 1 || err != nil {
		t.Errorf("refused edits moved the counter to %d (%v)", n, err)
	}
}

func testEditGetsCopy(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	given := fullBottle(t)
	c := must(s.AddComponent(ctx, given, noon))(t)
	book(t, s) // so that the edit works from the Book in memory
	spoil := func(c *recipe.Component) {
		c.Packs[0].Supplier, c.ExternalIDs[0].ID, *c.PouredC = "spoiled", "spoiled", 99
		clear(c.Label.Acids)
	}
	_, err := s.EditComponent(ctx, given.ID, 1, func(c recipe.Component) (recipe.Component, error) {
		spoil(&c)
		return c, errors.New("on second thoughts, no")
	}, noon)
	if err == nil {
		t.Fatal("an edit that fails was kept")
	}
	spoil(&given)
	answered := c.Value
	spoil(&answered)
	after, _ := book(t, s)
	wantSame(t, contents(after).Components[0].Packs[0].Supplier, "Quay Wholesale", "the Book's supplier")
	wantBook(t, s, db.Store(t))
}

func testCodes(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	coded := func(name, code string) recipe.Component {
		c := bottle(name)
		c.Code = code
		return c
	}
	a := must(s.AddComponent(ctx, coded("A", "X-1"), noon))(t)
	_, err := s.AddComponent(ctx, coded("B", "X-1"), noon)
	wantCodeTaken(t, err, "X-1")
	b := must(s.AddComponent(ctx, coded("B", "X-2"), noon))(t)
	recode := func(code string) func(recipe.Component) (recipe.Component, error) {
		return func(c recipe.Component) (recipe.Component, error) {
			c.Code = code
			return c, nil
		}
	}
	_, err = s.EditComponent(ctx, b.Value.ID, 1, recode("X-1"), noon)
	wantCodeTaken(t, err, "X-1")
	must(s.EditComponent(ctx, b.Value.ID, 1, recode("x-1"), noon))(t) // codes are exact
	must(s.AddComponent(ctx, coded("C", ""), noon))(t)
	must(s.AddComponent(ctx, coded("D", ""), noon))(t) // no code is no clash
	sp := drink("Spec", a.Value.ID)
	sp.Code = "X-1"
	spec := must(s.AddSpec(ctx, sp, noon))(t) // specs have codes of their own
	if err := s.DeleteSpec(ctx, spec.Value.ID, 1, noon); err != nil {
		t.Fatal(err)
	}
	if err := s.DeleteComponent(ctx, a.Value.ID, 1, noon); err != nil {
		t.Fatal(err)
	}
	_, err = s.ComponentID(ctx, "X-1")
	wantKind(t, err, domain.NotFound, "the code of a deleted component")
	e := must(s.AddComponent(ctx, coded("E", "X-1"), noon))(t)
	if id, err := s.ComponentID(ctx, "X-1"); err != nil || id != e.Value.ID {
		t.Errorf("code X-1 names %s (%v), want its new owner %s", id, err, e.Value.ID)
	}
}

func wantCodeTaken(t testing.TB, err error, code string) {
	t.Helper()
	wantKind(t, err, domain.Conflict, "a code that is taken")
	var e *domain.Error
	if errors.As(err, &e); e.Code != "CODE_TAKEN" || !strings.Contains(e.Error(), code) {
		t.Fatalf("got %q %q, want CODE_TAKEN naming %s", e.Code, e.Error(), code)
	}
}

func testDeleteInUse(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, bottle("Used"), noon))(t)
	made := must(s.AddComponent(ctx, batch("Batch", c.Value.ID), noon))(t)
	sp := must(s.AddSpec(ctx, drink("Drink", c.Value.ID), noon))(t)
	err := s.DeleteComponent(ctx, c.Value.ID, 1, noon)
	wantKind(t, err, domain.Conflict, "deletion of a component in use")
	var e *domain.Error
	errors.As(err, &e)
	users := map[string]string{}
	for _, r := range e.Refs {
		users[r.ID] = r.Type
	}
	wantSame(t, users, map[string]string{string(made.Value.ID): "component", string(sp.Value.ID): "spec"}, "the users named")
	if err := s.DeleteSpec(ctx, sp.Value.ID, 1, noon); err != nil {
		t.Fatal(err)
	}
	if err := s.DeleteComponent(ctx, made.Value.ID, 1, noon); err != nil {
		t.Fatal(err)
	}
	if err := s.DeleteComponent(ctx, c.Value.ID, 1, noon); err != nil {
		t.Errorf("deletion of a component no longer in use: %v", err)
	}
}

func testDeleted(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, fullBottle(t), noon))(t)
	if err := s.DeleteComponent(ctx, c.Value.ID, 1, noon.Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	for _, s := range []*repo.Store{s, db.Store(t)} {
		b, n := book(t, s)
		if _, found := b.Find(c.Value.ID); found || n != 2 {
			t.Errorf("a deleted component is in the book: %v (at %d)", found, n)
		}
	}
	_, err := s.Component(ctx, c.Value.ID)
	wantKind(t, err, domain.NotFound, "a deleted component")
	_, err = s.EditComponent(ctx, c.Value.ID, 2, rename("Again"), noon)
	wantKind(t, err, domain.NotFound, "edit of a deleted component")
	wantKind(t, s.DeleteComponent(ctx, c.Value.ID, 2, noon), domain.NotFound, "second deletion")
	if list, _, err := s.Components(ctx, recipe.Filter{}); err != nil || len(list) != 0 {
		t.Errorf("a deleted component is listed: %v, %v", list, err)
	}
	first := must(s.ComponentRevision(ctx, c.Value.ID, 1))(t)
	wantSame(t, first, c, "the revision before the deletion")
	last := must(s.ComponentRevision(ctx, c.Value.ID, 2))(t)
	wantSame(t, last.Value, c.Value, "what was deleted")
	if !last.Deleted || last.Number != 2 || last.Stamp != 2 || !last.At.After(first.At) {
		t.Errorf("the tombstone is %+v", last.Revision)
	}
}

func testHouse(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	want := fullHouse(t)
	h := must(s.EditHouse(ctx, 0, func(old recipe.House) (recipe.House, error) {
		wantSame(t, old, recipe.DefaultHouse(), "what the first edit gets")
		return want, nil
	}, noon))(t)
	wantSame(t, h.Value, want, "the answer to editing the house")
	read := must(db.Store(t).House(ctx))(t)
	wantSame(t, read, h, "the house read by another server")
	_, err := s.EditHouse(ctx, 1, func(h recipe.House) (recipe.House, error) {
		h.TimeZone = ""
		return h, nil
	}, noon)
	wantFault(t, err, "/time_zone", "a time zone that is none")
	b, n := book(t, s)
	wantSame(t, *b.House(), want, "the Book's house")
	if n != 1 {
		t.Errorf("one edit of the house moved the counter to %d", n)
	}
	before := must(s.BookAt(ctx, 0))(t)
	wantSame(t, *before.House(), recipe.DefaultHouse(), "the house before the edit")
}

// testHouseBefore edits the house on three days and asks on the days between.
func testHouseBefore(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	new := must(s.HouseBefore(ctx, noon))(t)
	wantSame(t, new.Value, recipe.DefaultHouse(), "a house that nobody has written")
	for i := range 3 {
		must(s.EditHouse(ctx, i, func(h recipe.House) (recipe.House, error) {
			h.Name = string(rune('A' + i))
			return h, nil
		}, noon.AddDate(0, 0, 2*i)))(t)
	}
	for days, want := range map[int]string{-1: "A", 0: "A", 1: "A", 2: "A", 3: "B", 4: "B", 5: "C", 400: "C"} {
		if got := must(s.HouseBefore(ctx, noon.AddDate(0, 0, days)))(t); got.Value.Name != want {
			t.Errorf("%d days after the first edit the house is %q, want %q", days, got.Value.Name, want)
		}
	}
}

func testTimes(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	times := []time.Time{
		noon, time.UnixMicro(0), time.UnixMicro(-1), time.UnixMicro(1), time.Date(1999, 12, 31, 23, 59, 59, 999999999, time.UTC),
		time.Date(2026, 3, 29, 1, 30, 0, 1000, time.FixedZone("", -11*3600)), time.Date(9999, 12, 31, 23, 59, 59, 999999000, time.UTC), {},
	}
	for _, at := range times {
		c := must(s.AddComponent(ctx, bottle("At"), at))(t)
		want := at.UTC().Truncate(time.Microsecond)
		got := must(db.Store(t).Component(ctx, c.Value.ID))(t)
		for _, r := range []recipe.Revision{c.Revision, got.Revision} {
			if !r.At.Equal(want) || r.At.Location() != time.UTC {
				t.Errorf("written at %v, read %v, want %v", at, r.At, want)
			}
		}
	}
}

func testTexts(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	names := []string{
		"Cr\u00E8me", "Cre\u0300me", "İncir", "ẞ", "שלום־קפה", "\u202Eright to left\u202C", "👩\u200D🍳\uFE0F", "日本酒",
		strings.Repeat("\uFDFA", 120), strings.Repeat("\U0001F943", 120), `back\slash 'quote' "double" %_?$1 :name`, "<script>&amp;", " ", "\uFFFD", "\U0010FFFF",
	}
	for _, name := range names {
		c := bottle("x" + name)
		if len([]rune(name)) == 120 {
			c.Name = name
		}
		c.Notes, c.ExternalIDs = name+"\n\t"+name, []recipe.ExternalID{{System: "s" + name[:1], ID: "i"}}
		if name[0] >= 0x80 {
			c.ExternalIDs[0].System = "s"
		}
		must(s.AddComponent(ctx, c, noon))(t)
		got := must(db.Store(t).Component(ctx, c.ID))(t)
		wantSame(t, got.Value, c, "a component named "+name)
	}
	c := bottle("Supplier")
	c.Packs = fullBottle(t).Packs
	c.Packs[0].GTIN = "broken \xFF"
	_, err := s.AddComponent(ctx, c, noon)
	wantKind(t, err, domain.Invalid, "broken UTF-8 where the domain does not look")
}

func testDecimals(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	numbers := []struct{ in, want string }{
		{"12345678901234.567890", "12345678901234.56789"},
		{"0.000001", "0.000001"}, {"0.1", "0.1"}, {"10.10", "10.1"}, {"999999999999999.0000000000000000001", "999999999999999.0000000000000000001"}, {"0", "0"},
	}
	for _, n := range numbers {
		c := bottle("Priced")
		c.Packs = []recipe.Pack{{ID: newID(), Size: measure.Quantity{Amount: 1, Unit: measure.L}, Count: 1, Price: euros(t, n.in), Tax: recipe.TaxExcluded, ValidFrom: "2026-01-01"}}
		must(s.AddComponent(ctx, c, noon))(t)
		got := must(db.Store(t).Component(ctx, c.ID))(t)
		if p := got.Value.Packs[0].Price; p.Number.String() != n.want || p != c.Packs[0].Price {
			t.Errorf("%s came back as %s, want %s", n.in, p.Number, n.want)
		}
	}
	floats := []float64{0.1 + 0.2, 1.0 / 3, 5e-324 + 1e-300, 1e9, 29.5735295625}
	for _, f := range floats {
		c := bottle("Poured")
		c.Packs = fullBottle(t).Packs[:1]
		c.Packs[0].Size.Amount = f
		must(s.AddComponent(ctx, c, noon))(t)
		got := must(db.Store(t).Component(ctx, c.ID))(t)
		if a := got.Value.Packs[0].Size.Amount; a != f {
			t.Errorf("%v came back as %v", f, a)
		}
	}
}
