package chill

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// Round-off of a solved water: the root is good to round-off, the film's
// steps are smooth to far less than this.
const lawG = 1e-6

func between(t *rapid.T, low, high float64, name string) float64 {
	return rapid.Float64Range(low, high).Draw(t, name)
}

// maybe draws a figure that is sometimes not given.
func maybe(t *rapid.T, low, high float64, name string) *float64 {
	if rapid.Bool().Draw(t, name+" given") {
		return number(between(t, low, high, name))
	}
	return nil
}

func maybeC(t *rapid.T, low, high float64, name string) *measure.Temperature {
	if x := maybe(t, low, high, name); x != nil {
		return celsius(*x)
	}
	return nil
}

func anyDrink(t *rapid.T) liquid.Mix {
	return drink(between(t, 20, 500, "mL"), between(t, 0, 60, "% vol"), between(t, 0, 25, "sugar"), between(t, 0, 2, "acid"))
}

// anyInput is a drink of any method with anything known about its making.
func anyInput(t *rapid.T) Input {
	in := Input{
		Method: rapid.SampledFrom(Methods).Draw(t, "method"), ServingIce: rapid.SampledFrom(Ices).Draw(t, "ice"), Mix: anyDrink(t),
		PouredC: measure.Temperature(between(t, -15, 60, "poured")), Set: rapid.Bool().Draw(t, "set"),
		Conditions: Conditions{
			IceC: maybeC(t, -30, 0, "ice"), IceWetPct: maybe(t, 0, 30, "wet"), IceG: maybe(t, 0, 800, "ice g"),
			VesselC: maybeC(t, -20, 40, "vessel"), VesselJPerK: maybe(t, 0, 500, "J/K"),
			TargetC: maybeC(t, -15, 15, "target"), Seconds: maybe(t, 0, 300, "seconds"),
		},
		House: House{RoomC: maybeC(t, 5, 40, "room"), IceC: maybeC(t, -20, 0, "house ice"), IceWetPct: maybe(t, 0, 10, "house wet")},
	}
	if rapid.Bool().Draw(t, "topped") {
		in.Later = anyDrink(t)
	}
	return in
}

func water(t *rapid.T, in Input) float64 {
	r, err := Dilute(&in)
	if err != nil {
		t.Fatal(err)
	}
	return r.WaterG
}

// TestSane asks of everything: finite, not negative, no more than the ice and
// what clings to it, and no colder than the coldest thing in it.
func TestSane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		r, err := Dilute(&in)
		if err != nil {
			t.Fatal(err)
		}
		mix, c := in.Mix, r.FinalC
		mix[liquid.Water] += r.WaterG
		if in.Later.Mass() > 0 {
			mix, c = topped(&in, &r, between(t, -5, 30, "top"))
		}
		for i, got := range []Result{r, Stand(&in, &r, &mix, c)} {
			for name, x := range map[string]float64{"water": got.WaterG, "band": got.BandWaterG, "used": got.IceUsedG, "left": got.IceLeftG} {
				if !(x >= 0 && x <= 1e5) {
					t.Fatalf("%d: %s = %v of %+v", i, name, x, got)
				}
			}
			if !(got.FinalC >= -60 && got.FinalC <= 60) {
				t.Fatalf("%d: final temperature %v of %+v", i, got.FinalC, got)
			}
		}
	})
}

// TestColder: colder ice, ingredients, vessel or room never raise the dilution.
func TestColder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		colder := in
		by := between(t, 0, 15, "colder by")
		switch rapid.SampledFrom([]string{"ice", "ingredients", "vessel", "room"}).Draw(t, "what") {
		case "ice":
			in.Conditions.IceC = celsius(-between(t, 0, 30, "from"))
			colder.Conditions.IceC = celsius(float64(*in.Conditions.IceC) - by)
		case "ingredients":
			colder.PouredC -= measure.Temperature(by)
		case "vessel":
			in.Conditions.VesselC = celsius(between(t, -10, 40, "from"))
			colder.Conditions.VesselC = celsius(float64(*in.Conditions.VesselC) - by)
		case "room":
			in.House.RoomC = celsius(between(t, 10, 40, "from"))
			colder.House.RoomC = celsius(float64(*in.House.RoomC) - by)
		}
		in.Set, colder.Set = true, true // both are known: one model
		if a, b := water(t, in), water(t, colder); b > a+lawG {
			t.Fatalf("colder raised the water from %v to %v g", a, b)
		}
	})
}

// TestColderThanReference: saying that something is colder than usual never
// raises the dilution either, although another model may then speak.
func TestColderThanReference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		usual := Input{Method: rapid.SampledFrom(Methods).Draw(t, "method"), ServingIce: rapid.SampledFrom(Ices).Draw(t, "ice"), Mix: anyDrink(t), PouredC: ReferenceC}
		known := usual
		switch rapid.SampledFrom([]string{"ice", "house ice", "ingredients", "vessel", "room"}).Draw(t, "what") {
		case "ice":
			known.Conditions.IceC = celsius(-between(t, 0, 30, "ice"))
		case "house ice":
			known.House.IceC = celsius(-between(t, 0, 30, "ice"))
		case "ingredients":
			known.PouredC -= measure.Temperature(between(t, 0, 40, "ingredients"))
		case "vessel":
			known.Conditions.VesselC = celsius(21 - between(t, 0, 40, "vessel"))
		case "room":
			known.House.RoomC = celsius(21 - between(t, 0, 20, "room"))
		}
		if a, b := water(t, usual), water(t, known); b > a+lawG {
			t.Fatalf("colder than usual raised the water from %v to %v g", a, b)
		}
	})
}

// TestWetter: wetter ice never lowers the dilution.
func TestWetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.Conditions.IceWetPct = number(between(t, 0, 30, "wet from"))
		wetter := in
		wetter.Conditions.IceWetPct = number(*in.Conditions.IceWetPct + between(t, 0, 20, "wetter by"))
		if a, b := water(t, in), water(t, wetter); b < a-lawG {
			t.Fatalf("wetter lowered the water from %v to %v g", a, b)
		}
	})
}

// TestMoreCold: a colder target or a longer making never takes less water.
func TestMoreCold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		more := in
		if rapid.Bool().Draw(t, "target") {
			in.Conditions.TargetC = celsius(between(t, -10, 15, "from"))
			more.Conditions.TargetC = celsius(float64(*in.Conditions.TargetC) - between(t, 0, 10, "colder by"))
		} else {
			in.House.RoomC = celsius(30) // the room only warms
			in.Conditions.TargetC = nil
			in.Conditions.Seconds = number(between(t, 0, 200, "from"))
			more = in
			more.Conditions.Seconds = number(*in.Conditions.Seconds + between(t, 0, 200, "longer by"))
		}
		if a, b := water(t, in), water(t, more); b < a-lawG {
			t.Fatalf("more cold took less water: %v, then %v g", a, b)
		}
	})
}

// TestScaling: a drink k times as large takes k times the water, with k times
// the ice and vessel (room heat grows by itself, as kit that is not said does).
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		k := between(t, 0.2, 20, "k")
		large := in
		large.Mix.Scale(k)
		large.Later.Scale(k)
		for _, x := range []**float64{&large.Conditions.IceG, &large.Conditions.VesselJPerK} {
			if *x != nil {
				*x = number(**x * k)
			}
		}
		a, errA := Dilute(&in)
		b, errB := Dilute(&large)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		tol := 1e-6 * (1 + b.WaterG)
		if math.Abs(b.WaterG-k*a.WaterG) > tol || math.Abs(float64(b.FinalC-a.FinalC)) > 1e-6 || math.Abs(b.BandWaterG-k*a.BandWaterG) > tol {
			t.Fatalf("× %v: %+v, then %+v", k, a, b)
		}
	})
}

// TestEnergyConserved draws up the heat of every balance entry by entry, apart
// from the code that solved it: given equals taken to 1e-9 of what moves.
func TestEnergyConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		m := making{p: in.Method.practice(in.Standing()), in: &in, ml: float64(in.Mix.Volume())}
		if m.p.End == NoWater {
			return
		}
		l := m.actual()
		out := m.balance(&l, &in.Conditions)
		if out.meltG == 0 {
			return // stopped before the ice was done warming: see unmelted
		}
		end, surface := out.endC, math.Min(out.endC, 0)
		entries := []float64{
			l.drinkJK * (l.drinkC - end), l.vessJK * (l.vesselC - end), l.roomJK * (l.roomC - end),
			in.Mix.HeatOfDilution(l.clingG + out.meltG), -waterHeat * end * (l.clingG + out.meltG),
			-out.meltG * (fusionHeat + l.iceJGK*(0-l.iceC)), -l.share * (l.iceG - out.meltG) * l.iceJGK * (surface - l.iceC),
		}
		sum, moved := 0.0, 1.0
		for _, e := range entries {
			sum += e
			moved += math.Abs(e)
		}
		if math.Abs(sum) > 1e-9*moved {
			t.Fatalf("%v J of %v are neither given nor taken: %v, %+v", sum, moved, entries, out)
		}
	})
}

// TestStandLaws: a drink that is colder, or on colder or drier ice, never takes
// more of its serving ice; standing never leaves a drink warmer than it
// was or is handed over.
func TestStandLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		made, err := Dilute(&in)
		if err != nil {
			t.Fatal(err)
		}
		mix, _ := topped(&in, &made, 5)
		c := measure.Temperature(between(t, -8, 30, "drink"))
		a := Stand(&in, &made, &mix, c)
		if a.FinalC > max(c, 6)+1e-9 { // what clings frees some heat of dilution
			t.Fatalf("ice warmed the drink from %v to %v °C", c, a.FinalC)
		}
		if b := Stand(&in, &made, &mix, c-measure.Temperature(between(t, 0, 10, "colder by"))); b.WaterG > a.WaterG+lawG {
			t.Fatalf("a colder drink took %v g, the warmer %v g", b.WaterG, a.WaterG)
		}
		wetter := in
		wetter.Conditions.IceWetPct = number(50)
		if b := Stand(&wetter, &made, &mix, c); b.WaterG < a.WaterG-lawG {
			t.Fatalf("the wettest ice gave %v g, drier %v g", b.WaterG, a.WaterG)
		}
	})
}
