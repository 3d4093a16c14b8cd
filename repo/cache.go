package repo

import (
	"context"
	"slices"
	"sync"

	"servewright/domain/recipe"
)

// snapshot is a Book and the counter at which it stood like that. The zero
// snapshot is before the first change.
type snapshot struct {
	book  *recipe.Book
	stamp int64
}

// keptSnapshots is how many Books before the newest stay in memory: what a
// feed compares with is mostly from a moment ago.
const keptSnapshots = 8

// cache holds a house's newest Book and some before it. A request that arrives
// while the counter is being checked waits for the next check, which all who
// wait share: the one under way may have looked before a write that the request
// already knows of.
type cache struct {
	load func(ctx context.Context, have snapshot) (snapshot, error) // the newest

	mu            sync.Mutex
	head          snapshot
	older         []snapshot // latest use last
	running, next *check
}

// check is one look at the counter, shared by those who wait for it.
type check struct {
	done chan struct{}
	snap snapshot
	err  error
}

// newest returns the newest snapshot as of some moment after the call.
func (c *cache) newest(ctx context.Context) (snapshot, error) {
	if err := ctx.Err(); err != nil {
		return snapshot{}, err
	}
	ch := c.join()
	select {
	case <-ch.done:
		return ch.snap, ch.err
	case <-ctx.Done():
		return snapshot{}, ctx.Err()
	}
}

func (c *cache) join() *check {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.running == nil {
		c.running = &check{done: make(chan struct{})}
		go c.run(c.running)
		return c.running
	}
	if c.next == nil {
		c.next = &check{done: make(chan struct{})}
	}
	return c.next
}

// run makes one check and starts the next if somebody waits for it. It has its
// own deadline: the request that asked first may go away.
func (c *cache) run(ch *check) {
	ctx, cancel := context.WithTimeout(context.Background(), longest)
	defer cancel()
	c.mu.Lock()
	have := c.head
	c.mu.Unlock()
	ch.snap, ch.err = c.load(ctx, have)
	if ch.err == nil {
		c.offer(ch.snap)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	close(ch.done)
	c.running, c.next = c.next, nil
	if c.running != nil {
		go c.run(c.running)
	}
}

// offer makes snap the head if it is newer, and keeps the one before it.
func (c *cache) offer(snap snapshot) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if snap.stamp < c.head.stamp || snap.stamp == c.head.stamp && c.head.book != nil {
		return
	}
	if c.head.book != nil {
		c.remember(c.head)
	}
	c.head = snap
}

// remember keeps an older snapshot. The caller holds mu.
func (c *cache) remember(snap snapshot) {
	c.older = append(c.older, snap)
	if len(c.older) > keptSnapshots {
		c.older = slices.Delete(c.older, 0, 1)
	}
}

// keep is remember for those who do not hold mu.
func (c *cache) keep(snap snapshot) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.remember(snap)
}

// at returns the snapshot of a counter, if it is in memory.
func (c *cache) at(stamp int64) (snapshot, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.head.stamp == stamp && c.head.book != nil {
		return c.head, true
	}
	for i, snap := range c.older {
		if snap.stamp == stamp {
			c.older = append(slices.Delete(c.older, i, i+1), snap)
			return snap, true
		}
	}
	return snapshot{}, false
}

// best returns the newest snapshot in memory that is not after stamp, from
// which the one at stamp can be made; the zero snapshot when there is none.
func (c *cache) best(stamp int64) snapshot {
	c.mu.Lock()
	defer c.mu.Unlock()
	var best snapshot
	for _, snap := range append(c.older[:len(c.older):len(c.older)], c.head) {
		if snap.stamp <= stamp && snap.stamp >= best.stamp && snap.book != nil {
			best = snap
		}
	}
	return best
}

// forgetAfter drops the snapshots after a counter. There can only be any when
// an older copy of the database was put back under a running server.
func (c *cache) forgetAfter(stamp int64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.older = slices.DeleteFunc(c.older, func(s snapshot) bool { return s.stamp > stamp })
	if c.head.stamp > stamp {
		c.head = snapshot{}
	}
}
