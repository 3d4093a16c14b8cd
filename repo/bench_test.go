package repo_test

import (
	"fmt"
	"runtime"
	"testing"
	"time"

	"servewright/domain/recipe"
	"servewright/repo"
	"servewright/repo/repotest"
)

// benchEngines leaves out the engine that is made to fail.
func benchEngines(b *testing.B, bench func(b *testing.B, db repotest.Database)) {
	for _, e := range repotest.Engines[:2] {
		b.Run(e.Name, func(b *testing.B) { bench(b, e.New(b)) })
	}
}

// BenchmarkBookWhole reads a house of 1,000 components and 1,000 specs from
// nothing, as a server does when it starts.
func BenchmarkBookWhole(b *testing.B) {
	benchEngines(b, func(b *testing.B, db repotest.Database) {
		repotest.Fill(b, db.Store(b), 1000, 1000)
		for b.Loop() {
			b.StopTimer()
			d := db.Open(b)
			s, err := d.DefaultOrg(b.Context())
			if err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
			if book, _, err := s.Book(b.Context()); err != nil || len(book.Components()) != 1000 {
				b.Fatal(err)
			}
			b.StopTimer()
			d.Close()
			b.StartTimer()
		}
	})
}

// BenchmarkBookNow asks for the Book of the same house when nothing changed:
// one look at the counter.
func BenchmarkBookNow(b *testing.B) {
	benchEngines(b, func(b *testing.B, db repotest.Database) {
		s := db.Store(b)
		repotest.Fill(b, s, 1000, 1000)
		for b.Loop() {
			if _, _, err := s.Book(b.Context()); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkBookNowAtOnce is BenchmarkBookNow by 16 requests at once.
func BenchmarkBookNowAtOnce(b *testing.B) {
	benchEngines(b, func(b *testing.B, db repotest.Database) {
		s := db.Store(b)
		repotest.Fill(b, s, 1000, 1000)
		b.ResetTimer()
		b.SetParallelism(16 / runtime.GOMAXPROCS(0))
		b.RunParallel(func(pb *testing.PB) {
			for pb.Next() {
				if _, _, err := s.Book(b.Context()); err != nil {
					b.Error(err)
				}
			}
		})
	})
}

// BenchmarkBookNext takes in one change by another server.
func BenchmarkBookNext(b *testing.B) {
	benchEngines(b, func(b *testing.B, db repotest.Database) {
		s, other := db.Store(b), db.Store(b)
		cs, _ := repotest.Fill(b, other, 1000, 1000)
		edit := renamer(b, other, cs[0].ID)
		for b.Loop() {
			b.StopTimer()
			edit()
			b.StartTimer()
			if _, _, err := s.Book(b.Context()); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkEdit edits a component of a house of 1,000 and 1,000, with the
// checks of the Book, durably on SQLite.
func BenchmarkEdit(b *testing.B) {
	benchEngines(b, func(b *testing.B, db repotest.Database) {
		s := db.Store(b)
		cs, _ := repotest.Fill(b, s, 1000, 1000)
		edit := renamer(b, s, cs[0].ID)
		edit() // with the Book in memory
		for b.Loop() {
			edit()
		}
	})
}

// renamer returns an edit that always succeeds.
func renamer(b *testing.B, s *repo.Store, id recipe.ID) func() {
	n := 0
	return func() {
		n++
		_, err := s.EditComponent(b.Context(), id, n, func(c recipe.Component) (recipe.Component, error) {
			c.Name = fmt.Sprint("Renamed ", n)
			return c, nil
		}, time.Unix(0, 0))
		if err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkComponent reads one component.
func BenchmarkComponent(b *testing.B) {
	benchEngines(b, func(b *testing.B, db repotest.Database) {
		s := db.Store(b)
		cs, _ := repotest.Fill(b, s, 1000, 10)
		for b.Loop() {
			if _, err := s.Component(b.Context(), cs[500].ID); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkList reads a page of 100 from the middle of 1,000, by part of the
// name.
func BenchmarkList(b *testing.B) {
	benchEngines(b, func(b *testing.B, db repotest.Database) {
		s := db.Store(b)
		repotest.Fill(b, s, 1000, 10)
		f := recipe.Filter{Name: "BOTTLE", After: recipe.Position{Key: "bottle 00500"}, Limit: 100}
		for b.Loop() {
			if page, _, err := s.Components(b.Context(), f); err != nil || len(page) != 100 {
				b.Fatal(len(page), err)
			}
		}
	})
}

// BenchmarkLoad keeps a new house in one transaction; ns/thing should not grow
// with its size.
func BenchmarkLoad(b *testing.B) {
	for _, n := range []int{100, 1000, 5000} {
		cs, ss := repotest.Many(n, n)
		b.Run(fmt.Sprint(2*n), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				s := repotest.Engines[0].New(b).Store(b)
				b.StartTimer()
				if err := s.Load(b.Context(), nil, cs, ss, time.Unix(0, 0)); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*2*n), "ns/thing")
		})
	}
}
