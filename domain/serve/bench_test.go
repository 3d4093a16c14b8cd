package serve

import (
	"testing"

	"servewright/domain/chill"
	"servewright/domain/recipe"
)

var (
	keepGlass  Glass
	keepResult Result
)

func benchPlain(b *testing.B, sp recipe.Spec) {
	bk := book(b)
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if keepGlass, err = Plain(bk, &sp); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlain makes a sour by the published fit, without bands.
func BenchmarkPlain(b *testing.B) { benchPlain(b, sour()) }

// BenchmarkPlainEnergy makes a highball by the energy balance.
func BenchmarkPlainEnergy(b *testing.B) {
	sp := sour()
	sp.Method, sp.ServingIce = chill.Highball, chill.Cubes
	benchPlain(b, sp)
}

// BenchmarkMake makes a sour with bands, cautions and units.
func BenchmarkMake(b *testing.B) {
	bk, sp := book(b), sour()
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if keepResult, err = Make(bk, &sp); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBare is the bare loop that the others are compared with: the masses
// of the sour's three lines added up, nothing else.
func BenchmarkBare(b *testing.B) {
	bk, sp := book(b), sour()
	for b.Loop() {
		var m making
		for i := range sp.Lines {
			r, _ := bk.Of(&sp.Lines[i])
			m.in.Mix.Add(&bk.Contents(r).PerG, sp.Lines[i].Amount.Amount)
		}
		keepGlass.Start = m.in.Mix
	}
}
