package repotest

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"servewright/domain"
	"servewright/domain/recipe"
	"servewright/repo"
)

// rounds is how often a race is run; less when the tests are to be short.
func rounds(n int) int {
	if testing.Short() {
		return n / 10
	}
	return n
}

// again runs a write until it is neither stale nor refused for a moment, as a
// client does: after a short pause.
func again(write func() error) error {
	for {
		err := write()
		if !errors.Is(err, domain.Stale) && !errors.Is(err, domain.Busy) {
			return err
		}
		time.Sleep(rand.N(100 * time.Millisecond))
	}
}

// testIncrements: 32 writers count up a number in one spec, each reading it
// first, through two servers. Whoever read an older revision is told so.
func testIncrements(t *testing.T, db Database) {
	ctx := context.WithoutCancel(t.Context())
	servers := []*repo.Store{db.Store(t), db.Store(t)}
	c := must(servers[0].AddComponent(ctx, bottle("A"), noon))(t)
	sp := drink("Counted", c.Value.ID)
	sp.Notes = "0"
	must(servers[0].AddSpec(ctx, sp, noon))(t)
	writers, each := 32, rounds(40)
	var tries atomic.Int64
	var done sync.WaitGroup
	for i := range writers {
		s := servers[i%2]
		done.Go(func() {
			for range each {
				if err := again(func() error { tries.Add(1); return increment(ctx, s, sp.ID) }); err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	done.Wait()
	got := must(servers[0].Spec(ctx, sp.ID))(t)
	if want := writers * each; got.Value.Notes != fmt.Sprint(want) || got.Number != want+1 || got.Stamp != int64(want+2) {
		t.Errorf("%d increments came to %s at revision %d, change %d", want, got.Value.Notes, got.Number, got.Stamp)
	}
	if refused := int(tries.Load()) - writers*each; refused < writers {
		t.Errorf("only %d tries were refused: the writers hardly met", refused)
	}
	wantBook(t, servers[0], servers[1])
}

func increment(ctx context.Context, s *repo.Store, id recipe.ID) error {
	read, err := s.Spec(ctx, id)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(read.Value.Notes)
	if err != nil {
		return err
	}
	_, err = s.EditSpec(ctx, id, read.Number, func(sp recipe.Spec) (recipe.Spec, error) {
		sp.Notes = strconv.Itoa(n + 1)
		return sp, nil
	}, noon)
	return err
}

// testCycleRace: as many edits as a circle has components race, each pointing
// one at the next. Each alone is fine; all together would close the circle.
func testCycleRace(t *testing.T, db Database) {
	ctx := context.WithoutCancel(t.Context())
	servers := []*repo.Store{db.Store(t), db.Store(t), db.Store(t)}
	base := must(servers[0].AddComponent(ctx, bottle("Base"), noon))(t).Value.ID
	for _, length := range []int{2, 3} {
		var ring []recipe.ID
		for i := range length {
			ring = append(ring, must(servers[0].AddComponent(ctx, batch(fmt.Sprintf("Ring %d of %d", i, length), base), noon))(t).Value.ID)
		}
		for round := range rounds(100) {
			refused := race(length, func(i int) error {
				return point(ctx, servers[i], ring[i], ring[(i+1)%length])
			})
			if len(refused) != 1 || !errors.Is(refused[0], domain.Invalid) {
				t.Fatalf("round %d: %d edits of a circle of %d were refused, want the last alone: %v", round, len(refused), length, refused)
			}
			for _, s := range servers { // each takes in what the others wrote, which a circle would stop
				if _, _, err := s.Book(ctx); err != nil {
					t.Fatalf("round %d left a book that cannot be read: %v", round, err)
				}
			}
			for _, id := range ring {
				if err := point(ctx, servers[0], id, base); err != nil {
					t.Fatal(err)
				}
			}
		}
		wantBook(t, servers[0], db.Store(t))
	}
}

// point makes a batch of one part, whatever its revision is.
func point(ctx context.Context, s *repo.Store, id, part recipe.ID) error {
	return again(func() error {
		read, err := s.Component(ctx, id)
		if err != nil {
			return err
		}
		_, err = s.EditComponent(ctx, id, read.Number, func(c recipe.Component) (recipe.Component, error) {
			c.Recipe.Lines = pours(part)
			return c, nil
		}, noon)
		return err
	})
}

// race runs n writes at once and returns the errors of those refused.
func race(n int, write func(i int) error) []error {
	errs := make([]error, n)
	start, done := make(chan struct{}), sync.WaitGroup{}
	for i := range n {
		done.Go(func() {
			<-start
			errs[i] = write(i)
		})
	}
	close(start)
	done.Wait()
	return slices.DeleteFunc(errs, func(err error) bool { return err == nil })
}

func testUseDeleteRace(t *testing.T, db Database) {
	ctx := context.WithoutCancel(t.Context())
	a, b := db.Store(t), db.Store(t)
	for round := range rounds(50) {
		c := must(a.AddComponent(ctx, bottle("Wanted"), noon))(t)
		sp := drink("User", c.Value.ID)
		refused := race(2, func(i int) error {
			if i == 0 {
				return again(func() error { return a.DeleteComponent(ctx, c.Value.ID, 1, noon) })
			}
			return again(func() error { _, err := b.AddSpec(ctx, sp, noon); return err })
		})
		if len(refused) != 1 || !errors.Is(refused[0], domain.Conflict) && !errors.Is(refused[0], domain.Invalid) {
			t.Fatalf("round %d: of a deletion and a new use these were refused: %v; want just one", round, refused)
		}
	}
	wantBook(t, a, b)
}

func testCodeRace(t *testing.T, db Database) {
	ctx := context.WithoutCancel(t.Context())
	servers := []*repo.Store{db.Store(t), db.Store(t)}
	for round := range rounds(50) {
		refused := race(4, func(i int) error {
			c := bottle("Owner")
			c.Code = fmt.Sprintf("R-%d", round)
			_, err := servers[i%2].AddComponent(ctx, c, noon)
			return err
		})
		if len(refused) != 3 {
			t.Fatalf("round %d: %d of 4 claims on one code were refused: %v", round, len(refused), refused)
		}
		for _, err := range refused {
			wantCodeTaken(t, err, fmt.Sprintf("R-%d", round))
		}
	}
}

func testCancelled(t *testing.T, db Database) {
	s := db.Store(t)
	c := must(s.AddComponent(t.Context(), bottle("Kept"), noon))(t)
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := s.AddComponent(gone, bottle("Never"), noon)
	wantCancelled(t, err, "a write with a context that is over")
	_, err = s.Component(gone, c.Value.ID)
	wantCancelled(t, err, "a read with a context that is over")
	_, _, err = s.Components(gone, recipe.Filter{})
	wantCancelled(t, err, "a list with a context that is over")
	_, _, err = s.Book(gone)
	wantCancelled(t, err, "the book with a context that is over")

	for range 10 {
		ctx, cancel := context.WithCancel(t.Context())
		_, err = s.EditComponent(ctx, c.Value.ID, 1, func(c recipe.Component) (recipe.Component, error) {
			c.Name = "Never"
			cancel() // the caller hangs up in the middle
			return c, nil
		}, noon)
		wantCancelled(t, err, "an edit whose caller hangs up")
	}
	head := must(s.Component(t.Context(), c.Value.ID))(t)
	wantSame(t, head, c, "the head after cancelled writes")
	if _, n := book(t, s); n != 1 {
		t.Errorf("cancelled writes moved the counter to %d", n)
	}
	must(s.EditComponent(t.Context(), c.Value.ID, 1, rename("Still works"), noon))(t)
}

func wantCancelled(t testing.TB, err error, doing string) {
	t.Helper()
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("%s: %v, want context.Canceled", doing, err)
	}
}

func testDeadline(t *testing.T, db Database) {
	s := db.Store(t)
	c := must(s.AddComponent(t.Context(), bottle("Kept"), noon))(t)
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	_, err := s.EditComponent(ctx, c.Value.ID, 1, func(c recipe.Component) (recipe.Component, error) {
		c.Name = "Never"
		<-ctx.Done()
		return c, nil
	}, noon)
	wantKind(t, err, domain.Unavailable, "an edit that runs out of time")
	if !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("%v hides that time ran out", err)
	}
	head := must(s.Component(t.Context(), c.Value.ID))(t)
	wantSame(t, head, c, "the head after it")
}
