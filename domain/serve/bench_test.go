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

// BenchmarkPlainNested makes a sour whose three parts are house-made, each of
// them three deep. The Book has resolved them, as it has in a server.
func BenchmarkPlainNested(b *testing.B) {
	cs := shelf()
	house := func(id, of string) recipe.Component {
		return recipe.Component{ID: recipe.ID(id), Kind: recipe.HouseMade, Name: id, Category: recipe.Syrup, Status: recipe.Active,
			Recipe: &recipe.Recipe{Lines: []recipe.Line{mixed(of, 700), mixed("soda", 100)}}}
	}
	sp := drink(chill.Shake, chill.NoIce)
	for _, base := range []string{"rum", "lime", "syrup"} {
		cs = append(cs, house("one-"+base, base), house("two-"+base, "one-"+base), house("three-"+base, "two-"+base))
		sp.Lines = append(sp.Lines, mixed("three-"+base, map[string]float64{"rum": 70, "lime": 20, "syrup": 20}[base]))
	}
	bk, err := recipe.NewBook(recipe.DefaultHouse(), cs, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if keepGlass, err = Plain(bk, &sp); err != nil {
			b.Fatal(err)
		}
	}
}
