package cost_test

import (
	"fmt"
	"testing"

	"servewright/domain/cost"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// menu is a house of a few hundred components and a drink of five lines, with
// what bars pour: bottles, juice by the piece, a nested liqueur, ounces, dashes.
func menu(t testing.TB) (*recipe.Book, *recipe.Spec) {
	b := newBar(t)
	nested(b)
	b.buy("bitters", b.pack("14.00", 1, 200, measure.ML))
	for i := range 300 {
		b.buy(fmt.Sprintf("bottle %d", i), b.pack("20.00", 1, 700, measure.ML))
	}
	return b.book(), &recipe.Spec{Lines: []recipe.Line{
		line("spirit", 45, measure.ML), line("liqueur", 22.5, measure.ML), line("lime", 25, measure.ML),
		line("bottle 7", 0.75, measure.Oz), line("bitters", 2, measure.Dash),
	}}
}

func TestSpecTotalDoesNotAllocate(t *testing.T) {
	book, sp := menu(t)
	s := cost.On(book, day)
	checkTotal(t, s, sp, s.Spec(sp))
	if n := testing.AllocsPerRun(100, func() { s.SpecTotal(sp) }); n != 0 {
		t.Errorf("SpecTotal on a warm sheet: %v heap allocations, want none", n)
	}
}

func BenchmarkSpecTotal(b *testing.B) {
	book, sp := menu(b)
	s := cost.On(book, day)
	s.SpecTotal(sp)
	b.ReportAllocs()
	for b.Loop() {
		s.SpecTotal(sp)
	}
}

// BenchmarkBareLoop is the yardstick of SpecTotal: look five components up by
// id and add up five floats.
func BenchmarkBareLoop(b *testing.B) {
	book, sp := menu(b)
	prices := make([]float64, len(book.Components()))
	sum := 0.0
	for b.Loop() {
		for i := range sp.Lines {
			r, _ := book.Find(sp.Lines[i].Component)
			sum += sp.Lines[i].Amount.Amount * prices[r]
		}
	}
	if sum != 0 {
		b.Error(sum)
	}
}

func BenchmarkSpec(b *testing.B) {
	book, sp := menu(b)
	s := cost.On(book, day)
	b.ReportAllocs()
	for b.Loop() {
		s.Spec(sp)
	}
}

// BenchmarkBatchNested works out a liqueur three deep on a cold sheet.
func BenchmarkBatchNested(b *testing.B) {
	book, _ := menu(b)
	r, _ := book.Find("liqueur")
	b.ReportAllocs()
	for b.Loop() {
		cost.On(book, day).Batch(r)
	}
}

// BenchmarkMenu costs 10,000 drinks on a cold sheet.
func BenchmarkMenu(b *testing.B) {
	book, sp := menu(b)
	for b.Loop() {
		s := cost.On(book, day)
		for range 10_000 {
			s.SpecTotal(sp)
		}
	}
}
