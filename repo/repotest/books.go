package repotest

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"servewright/domain"
	"servewright/domain/recipe"
	"servewright/repo"
)

func testCounter(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	var stamps []int64
	c := must(s.AddComponent(ctx, bottle("A"), noon))(t)
	stamps = append(stamps, c.Stamp)
	for i := 1; i <= 5; i++ {
		_, err := s.EditComponent(ctx, c.Value.ID, 99, rename("stale"), noon) // takes no number
		wantKind(t, err, domain.Stale, "stale edit")
		_, err = s.EditComponent(ctx, c.Value.ID, i, rename(""), noon) // nor does this
		wantKind(t, err, domain.Invalid, "faulty edit")
		stamps = append(stamps, must(s.EditComponent(ctx, c.Value.ID, i, rename(fmt.Sprint(i)), noon))(t).Stamp)
	}
	for i, n := range stamps {
		if n != int64(i+1) {
			t.Fatalf("stamps %v, want 1, 2, 3 …", stamps)
		}
	}
}

// testBookAt writes a history of every kind of change and reads every moment
// of it on a server that has seen none of it.
func testBookAt(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	b, _ := book(t, s)
	history := []written{contents(b)}
	note := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		b, n := book(t, s)
		if n != int64(len(history)) {
			t.Fatalf("change %d moved the counter to %d", len(history), n)
		}
		history = append(history, contents(b))
	}
	a := bottle("A")
	made, sp := batch("Made", a.ID), drink("Drink", a.ID)
	_, err := s.AddComponent(ctx, a, noon)
	note(err)
	_, err = s.AddComponent(ctx, made, noon)
	note(err)
	_, err = s.AddSpec(ctx, sp, noon)
	note(err)
	_, err = s.EditComponent(ctx, a.ID, 1, rename("A again"), noon)
	note(err)
	_, err = s.EditHouse(ctx, 0, func(recipe.House) (recipe.House, error) { return fullHouse(t), nil }, noon)
	note(err)
	_, err = s.EditSpec(ctx, sp.ID, 1, func(s recipe.Spec) (recipe.Spec, error) { s.Lines = staged(pours(made.ID)); return s, nil }, noon)
	note(err)
	note(s.DeleteSpec(ctx, sp.ID, 2, noon))
	note(s.Load(ctx, nil, []recipe.Component{bottle("L1"), bottle("L2")}, []recipe.Spec{drink("L3", a.ID)}, noon))
	note(s.DeleteComponent(ctx, made.ID, 1, noon))

	for _, order := range [][2]int{{0, 1}, {len(history) - 1, -1}} { // upwards, then downwards
		fresh := db.Store(t)
		for i, step := order[0], order[1]; i >= 0 && i < len(history); i += step {
			wantSame(t, contents(must(fresh.BookAt(ctx, int64(i)))(t)), history[i], fmt.Sprintf("the Book at change %d", i))
		}
	}
	for _, n := range []int64{-1, int64(len(history)), 1 << 62} {
		_, err := s.BookAt(ctx, n)
		wantKind(t, err, domain.NotFound, "the Book at a change that is not there")
	}
}

func testBookStays(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, fullBottle(t), noon))(t)
	b, n := book(t, s)
	before := contents(b)
	must(s.EditComponent(ctx, c.Value.ID, 1, rename("Other"), noon))(t)
	must(s.AddComponent(ctx, bottle("More"), noon))(t)
	wantSame(t, contents(b), before, "a Book after later writes")
	wantSame(t, contents(must(s.BookAt(ctx, n))(t)), before, "the same moment read again")
}

func testTwoServers(t *testing.T, db Database) {
	ctx := t.Context()
	servers := []*repo.Store{db.Store(t), db.Store(t)}
	c := must(servers[0].AddComponent(ctx, bottle("0"), noon))(t)
	for i := 1; i <= 10; i++ {
		s, other := servers[i%2], servers[1-i%2]
		must(s.EditComponent(ctx, c.Value.ID, i, rename(fmt.Sprint(i)), noon))(t)
		wantBook(t, s, other)
		b, n := book(t, other)
		r, _ := b.Find(c.Value.ID)
		if got := b.Component(r).Name; got != fmt.Sprint(i) || n != int64(i+1) {
			t.Fatalf("the other server has %q at %d after edit %d", got, n, i)
		}
	}
	if err := servers[0].DeleteComponent(ctx, c.Value.ID, 11, noon); err != nil {
		t.Fatal(err)
	}
	wantBook(t, servers[0], servers[1])
}

// testReadsAfterWrites: a Book that is asked for after a write was acknowledged
// holds it, on every server, however many ask at once, and moments never run
// backwards.
func testReadsAfterWrites(t *testing.T, db Database) {
	ctx, writer, reader := context.WithoutCancel(t.Context()), db.Store(t), db.Store(t)
	c := must(writer.AddComponent(ctx, bottle("0"), noon))(t)
	var acked sync.Map // "stamp" → the newest acknowledged
	acked.Store("stamp", c.Stamp)
	stop := make(chan struct{})
	var readers sync.WaitGroup
	for range 8 {
		readers.Go(func() {
			last := int64(0)
			for {
				select {
				case <-stop:
					return
				default:
				}
				known, _ := acked.Load("stamp")
				_, n, err := reader.Book(ctx)
				if err != nil || n < known.(int64) || n < last {
					t.Errorf("read change %d (%v) after %d was acknowledged and %d read", n, err, known, last)
					return
				}
				last = n
			}
		})
	}
	for i := 1; i <= 30; i++ {
		k, err := writer.EditComponent(ctx, c.Value.ID, i, rename(fmt.Sprint(i)), noon)
		if err != nil {
			t.Error(err)
			break
		}
		acked.Store("stamp", k.Stamp)
	}
	close(stop)
	readers.Wait()
}

// testOrgsApart: what one house keeps is nowhere in another's answers, though
// every id is known.
func testOrgsApart(t *testing.T, db Database) {
	ctx, d := t.Context(), db.Open(t)
	mine, theirs := house(t, d), must(d.AddOrg(ctx, newID()))(t)
	c := bottle("Mine")
	c.Code = "X-1"
	must(mine.AddComponent(ctx, c, noon))(t)
	sp := must(mine.AddSpec(ctx, drink("Mine", c.ID), noon))(t)

	_, err := theirs.Component(ctx, c.ID)
	wantKind(t, err, domain.NotFound, "another house's component")
	_, err = theirs.ComponentID(ctx, "X-1")
	wantKind(t, err, domain.NotFound, "another house's code")
	_, err = theirs.ComponentRevision(ctx, c.ID, 1)
	wantKind(t, err, domain.NotFound, "another house's revision")
	_, err = theirs.EditSpec(ctx, sp.Value.ID, 1, func(s recipe.Spec) (recipe.Spec, error) { return s, nil }, noon)
	wantKind(t, err, domain.NotFound, "edit of another house's spec")
	wantKind(t, theirs.DeleteComponent(ctx, c.ID, 1, noon), domain.NotFound, "deletion of another house's component")
	_, err = theirs.AddSpec(ctx, drink("Theft", c.ID), noon)
	wantFault(t, err, "/lines/0/component_id", "a spec of another house's component")
	if list, _, err := theirs.Components(ctx, recipe.Filter{}); err != nil || len(list) != 0 {
		t.Errorf("another house's components are listed: %v, %v", list, err)
	}
	b, n := book(t, theirs)
	if n != 0 || len(b.Components()) != 0 {
		t.Errorf("the other house's book is at %d with %d components", n, len(b.Components()))
	}
	must(theirs.AddComponent(ctx, c, noon))(t) // the same id and code are theirs to use
	if _, n := book(t, mine); n != 2 {
		t.Errorf("another house's write moved this one's counter to %d", n)
	}
	_, err = d.AddOrg(ctx, "Not-An-Id")
	wantKind(t, err, domain.Invalid, "an org with a bad id")
	_, _, err = d.Org(newID()).Book(ctx)
	wantKind(t, err, domain.NotFound, "the book of a house that is not there")
	_, err = d.Org(newID()).AddComponent(ctx, c, noon)
	wantKind(t, err, domain.NotFound, "a write to a house that is not there")
}

func testDefaultOrgRace(t *testing.T, db Database) {
	ctx := context.WithoutCancel(t.Context())
	var starting sync.WaitGroup
	for i := range 4 {
		d := db.Open(t)
		starting.Go(func() {
			s, err := d.DefaultOrg(ctx)
			if err == nil {
				_, err = s.AddComponent(ctx, bottle(fmt.Sprint(i)), noon)
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	starting.Wait()
	if b, n := book(t, db.Store(t)); n != 4 || len(b.Components()) != 4 {
		t.Errorf("four servers that start at once keep %d components in one house, want 4", len(b.Components()))
	}
}
