package repotest

import (
	"fmt"
	"slices"
	"testing"

	"servewright/domain"
	"servewright/domain/recipe"
	"servewright/repo"
)

// small is a load of a bottle, a batch of it and a drink of both, with codes.
func small() (cs []recipe.Component, ss []recipe.Spec) {
	a := bottle("A")
	made := batch("Made", a.ID)
	sp := drink("Drink", a.ID, made.ID)
	a.Code, made.Code, sp.Code = "A", "M", "D"
	return []recipe.Component{made, a}, []recipe.Spec{sp} // wholes before parts
}

func testLoad(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	h := fullHouse(t)
	cs, ss := small()
	if err := s.Load(ctx, &h, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	b, n := book(t, s)
	slices.SortFunc(cs, func(a, b recipe.Component) int { return slices.Compare([]byte(a.ID), []byte(b.ID)) })
	wantSame(t, contents(b), written{h, cs, ss}, "the Book after a load")
	if n != 1 {
		t.Errorf("a load moved the counter to %d, want 1", n)
	}
	for _, c := range cs {
		if k := must(s.Component(ctx, c.ID))(t); k.Number != 1 || k.Stamp != 1 {
			t.Errorf("a loaded component is at %+v, want revision 1 with stamp 1", k.Revision)
		}
	}
	cs[0].Name, cs[0].ExternalIDs = "changed by the caller", nil
	b, _ = book(t, s)
	if b.Components()[0].Name == cs[0].Name {
		t.Error("what the caller changes after a load changes the Book")
	}
	wantBook(t, s, db.Store(t))
}

func testLoadReplaces(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	cs, ss := small()
	if err := s.Load(ctx, nil, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	again, specs := small() // the same codes under new ids
	again[0].Name, again[1].Name, specs[0].Name = "Made 2", "A 2", "Drink 2"
	byID := specs[0]
	byID.ID, byID.Code, byID.Name = newID(), "", "New drink"
	if err := s.Load(ctx, nil, again, append(specs, byID), noon); err != nil {
		t.Fatal(err)
	}
	b, n := book(t, s)
	if n != 2 || len(b.Components()) != 2 || len(b.Specs()) != 2 {
		t.Fatalf("after the second load: change %d, %d components, %d specs; want 2, 2, 2", n, len(b.Components()), len(b.Specs()))
	}
	made := must(s.Component(ctx, cs[0].ID))(t)
	if made.Value.Name != "Made 2" || made.Number != 2 || made.Value.Recipe.Lines[0].Component != cs[1].ID {
		t.Errorf("the batch with code M is %q at %d, made of %s; want Made 2 at 2, made of %s",
			made.Value.Name, made.Number, made.Value.Recipe.Lines[0].Component, cs[1].ID)
	}
	if sp := must(s.Spec(ctx, byID.ID))(t); sp.Value.Lines[0].Component != cs[1].ID || sp.Value.Lines[1].Component != cs[0].ID {
		t.Errorf("lines of a new spec do not follow the ids that its components are stored under: %+v", sp.Value.Lines)
	}
	if err := s.DeleteSpec(ctx, byID.ID, 1, noon); err != nil {
		t.Fatal(err)
	}
	byID.Lines = staged(pours(cs[1].ID))
	if err := s.Load(ctx, nil, nil, []recipe.Spec{byID}, noon); err != nil {
		t.Fatal(err)
	}
	if sp := must(s.Spec(ctx, byID.ID))(t); sp.Number != 3 {
		t.Errorf("a deleted spec loaded again is at revision %d, want 3", sp.Number)
	}
}

// testLoadSwapsCodes: things may trade codes within a load, whichever comes
// first in it.
func testLoadSwapsCodes(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	cs, ss := small()
	other := drink("Other", cs[1].ID)
	other.Code = "E"
	ss = append(ss, other)
	if err := s.Load(ctx, nil, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	cs[0].Code, cs[1].Code = cs[1].Code, cs[0].Code
	ss[0].Code, ss[1].Code = "E", "D"
	if err := s.Load(ctx, nil, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	for _, c := range cs {
		if id, err := s.ComponentID(ctx, c.Code); err != nil || id != c.ID {
			t.Errorf("code %s names %s (%v), want %s", c.Code, id, err, c.ID)
		}
	}
	for _, sp := range ss {
		if id, err := s.SpecID(ctx, sp.Code); err != nil || id != sp.ID {
			t.Errorf("code %s names %s (%v), want %s", sp.Code, id, err, sp.ID)
		}
	}
	wantBook(t, s, db.Store(t))
}

func testLoadSame(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	h := fullHouse(t)
	cs, ss := small()
	for range 3 {
		if err := s.Load(ctx, &h, cs, ss, noon); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Load(ctx, nil, nil, nil, noon); err != nil {
		t.Fatal(err)
	}
	cs[1].Name = "A 2"
	if err := s.Load(ctx, &h, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	_, n := book(t, s)
	a, made := must(s.Component(ctx, cs[1].ID))(t), must(s.Component(ctx, cs[0].ID))(t)
	if n != 2 || a.Number != 2 || made.Number != 1 {
		t.Errorf("counter %d, changed thing at %d, unchanged thing at %d; want 2, 2, 1", n, a.Number, made.Number)
	}
}

func testLoadFaults(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	cs, ss := small()
	if err := s.Load(ctx, nil, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	before, _ := book(t, s)
	faults := []struct {
		pointer string
		spoil   func(h *recipe.House, cs *[]recipe.Component, ss *[]recipe.Spec)
	}{
		{"/house/time_zone", func(h *recipe.House, _ *[]recipe.Component, _ *[]recipe.Spec) { h.TimeZone = "" }},
		{"/components/1/name", func(_ *recipe.House, cs *[]recipe.Component, _ *[]recipe.Spec) { (*cs)[1].Name = "" }},
		{"/components/0/recipe/lines/0/component_id", func(_ *recipe.House, cs *[]recipe.Component, _ *[]recipe.Spec) {
			(*cs)[0].Recipe.Lines[0].Component = newID()
		}},
		{"/specs/0/lines/1/component_id", func(_ *recipe.House, _ *[]recipe.Component, ss *[]recipe.Spec) { (*ss)[0].Lines[1].Component = "x" }},
		{"/components/2", func(_ *recipe.House, cs *[]recipe.Component, _ *[]recipe.Spec) { *cs = append(*cs, (*cs)[0]) }},
		{"/components/2", func(_ *recipe.House, cs *[]recipe.Component, _ *[]recipe.Spec) { // one by id, one by code
			twin := (*cs)[0]
			twin.ID = newID()
			*cs = append(*cs, twin)
		}},
		{"/components/2/id", func(_ *recipe.House, cs *[]recipe.Component, _ *[]recipe.Spec) {
			c := bottle("No id")
			c.ID = ""
			*cs = append(*cs, c)
		}},
		{"/specs/0/lines/0/unit", func(_ *recipe.House, cs *[]recipe.Component, ss *[]recipe.Spec) {
			(*ss)[0].Lines[0].Amount.Unit = "piece"
		}},
		{"/recipe/lines", func(_ *recipe.House, cs *[]recipe.Component, _ *[]recipe.Spec) { // a circle
			(*cs)[0].Recipe.Lines = pours((*cs)[0].ID)
		}},
	}
	for _, f := range faults {
		h := fullHouse(t)
		more, specs := slices.Clone(cs), slices.Clone(ss)
		made := *more[0].Recipe
		made.Lines, specs[0].Lines = slices.Clone(made.Lines), slices.Clone(specs[0].Lines)
		more[0].Recipe = &made
		more[0].Notes, more[1].Notes, specs[0].Notes = "new", "new", "new"
		f.spoil(&h, &more, &specs)
		wantFault(t, s.Load(ctx, &h, more, specs, noon), f.pointer, "faulty load")
	}
	priced := bottle("Priced")
	priced.Packs = fullBottle(t).Packs
	if err := s.Load(ctx, nil, []recipe.Component{priced}, nil, noon); err != nil {
		t.Fatal(err)
	}
	kronor := recipe.DefaultHouse()
	kronor.Currency = "SEK"
	wantFault(t, s.Load(ctx, &kronor, nil, nil, noon), "/house/currency", "a load of another currency than what stays is priced in")
	if err := s.DeleteComponent(ctx, priced.ID, 1, noon); err != nil {
		t.Fatal(err)
	}
	clash := bottle("Clash")
	moved := cs[1]
	moved.Code = cs[0].Code
	wantKind(t, s.Load(ctx, nil, []recipe.Component{clash, moved}, nil, noon), domain.Conflict, "a load that gives one code to two things")
	after, n := book(t, s)
	wantSame(t, contents(after), contents(before), "the Book after faulty loads")
	if n != 3 { // the load before, and the priced bottle that came and went
		t.Errorf("faulty loads moved the counter to %d", n)
	}
	wantBook(t, s, db.Store(t))
}

func testLoadMany(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	cs, ss := Many(200, 200)
	if err := s.Load(ctx, nil, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	b, n := book(t, db.Store(t))
	if n != 1 || len(b.Components()) != 200 || len(b.Specs()) != 200 {
		t.Errorf("change %d, %d components, %d specs; want 1, 200, 200", n, len(b.Components()), len(b.Specs()))
	}
}

// Many returns components, every tenth a batch of the four before it, and
// specs of three of them each, for tests of size.
func Many(components, specs int) (cs []recipe.Component, ss []recipe.Spec) {
	for i := range components {
		c := bottle(fmt.Sprintf("Bottle %05d", i))
		if i%10 == 9 {
			c = batch(fmt.Sprintf("Batch %05d", i), cs[i-1].ID, cs[i-2].ID, cs[i-3].ID, cs[i-4].ID)
		}
		c.Code = fmt.Sprintf("C-%05d", i)
		cs = append(cs, c)
	}
	for i := range specs {
		sp := drink(fmt.Sprintf("Drink %05d", i), cs[i%components].ID, cs[(i+9)%components].ID, cs[(i+20)%components].ID)
		sp.Code = fmt.Sprintf("S-%05d", i)
		ss = append(ss, sp)
	}
	return cs, ss
}

// Fill loads Many into a store.
func Fill(t testing.TB, s *repo.Store, components, specs int) ([]recipe.Component, []recipe.Spec) {
	t.Helper()
	cs, ss := Many(components, specs)
	if err := s.Load(t.Context(), nil, cs, ss, noon); err != nil {
		t.Fatal(err)
	}
	return cs, ss
}
