package repo

import (
	"context"
	"errors"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"servewright/domain/recipe"
)

func emptyBook(t *testing.T) *recipe.Book {
	t.Helper()
	b, err := recipe.NewBook(recipe.DefaultHouse(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestCheckIsShared: requests that arrive while the counter is looked at wait
// for one more look, which all of them share: never for the one under way,
// which may have missed what they know of.
func TestCheckIsShared(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		loads := int64(0)
		c := cache{load: func(context.Context, snapshot) (snapshot, error) {
			loads++
			n := loads
			time.Sleep(time.Second)
			return snapshot{emptyBook(t), n}, nil
		}}
		var asking sync.WaitGroup
		ask := func(want int64) {
			asking.Go(func() {
				if snap, err := c.newest(t.Context()); err != nil || snap.stamp != want {
					t.Errorf("got look %d (%v), want look %d", snap.stamp, err, want)
				}
			})
		}
		ask(1)
		synctest.Wait()
		time.Sleep(500 * time.Millisecond) // in the middle of the first look
		for range 100 {
			ask(2)
		}
		synctest.Wait()
		time.Sleep(time.Second) // in the middle of the second
		ask(3)
		asking.Wait()
		if loads != 3 {
			t.Errorf("102 requests made %d looks, want 3", loads)
		}
	})
}

// TestCheckOutlivesItsAsker: who asked first may go away; those who share the
// look get its answer. An error is told and not kept.
func TestCheckOutlivesItsAsker(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		broken := errors.New("no answer")
		var answer error
		c := cache{load: func(ctx context.Context, _ snapshot) (snapshot, error) {
			time.Sleep(time.Second)
			if ctx.Err() != nil {
				return snapshot{}, ctx.Err()
			}
			return snapshot{emptyBook(t), 7}, answer
		}}
		ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
		defer cancel()
		if _, err := c.newest(ctx); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("the impatient one got %v", err)
		}
		if snap, err := c.newest(t.Context()); err != nil || snap.stamp != 7 {
			t.Errorf("the patient one got %d, %v", snap.stamp, err)
		}
		answer = broken
		if _, err := c.newest(t.Context()); !errors.Is(err, broken) {
			t.Errorf("got %v, want the load's error", err)
		}
		answer = nil
		if snap, err := c.newest(t.Context()); err != nil || snap.stamp != 7 {
			t.Errorf("after an error: %d, %v", snap.stamp, err)
		}
	})
}

func TestCacheKeepsTheNewestAndSomeBefore(t *testing.T) {
	var c cache
	book := emptyBook(t)
	for _, n := range []int64{3, 1, 4, 4, 2, 5} {
		c.offer(snapshot{book, n})
	}
	if c.head.stamp != 5 || len(c.older) != 2 {
		t.Fatalf("head %d with %d before it, want 5 with 3 and 4", c.head.stamp, len(c.older))
	}
	for n := int64(6); n <= 20; n++ {
		c.offer(snapshot{book, n})
	}
	for n, want := range map[int64]bool{20: true, 19: true, 12: true, 11: false, 21: false} {
		if _, ok := c.at(n); ok != want {
			t.Errorf("snapshot %d in memory: %v, want %v", n, ok, want)
		}
	}
	if got := c.best(15); got.stamp != 15 {
		t.Errorf("best up to 15 is %d", got.stamp)
	}
	if got := c.best(11); got.book != nil {
		t.Errorf("best up to 11 is %d, want none", got.stamp)
	}
	c.forgetAfter(14)
	if got := c.best(100); got.stamp != 14 || c.head.book != nil {
		t.Errorf("after forgetting what came after 14 the best is %d, the head %d", got.stamp, c.head.stamp)
	}
}
