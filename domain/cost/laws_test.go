package cost_test

import (
	"fmt"
	"math/big"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/cost"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// amounts draws what a line says: mostly short decimals.
func amounts() *rapid.Generator[float64] { return within(0.25, 60) }

// sizes draws what a pack or a batch holds, in mL. Together with amounts it
// keeps five levels of nesting below what money can hold.
func sizes() *rapid.Generator[float64] { return within(200, 5000) }

func within(low, high float64) *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Map(rapid.IntRange(int(4*low), int(4*high)), func(n int) float64 { return float64(n) / 4 }),
		rapid.Map(rapid.IntRange(int(1000*low), int(1000*high)), func(n int) float64 { return float64(n) / 1000 }),
		rapid.Float64Range(low, high),
	)
}

func prices() *rapid.Generator[string] {
	return rapid.Map(rapid.IntRange(0, 99_999), func(cents int) string { return fmt.Sprintf("%d.%02d", cents/100, cents%100) })
}

// lineUnits are the units of volume that a line may be written in.
var lineUnits = []measure.Unit{measure.ML, measure.CL, measure.FlOzUS, measure.FlOzBR, measure.TspUS, measure.Oz, measure.Dash, measure.Drop, measure.Barspoon}

// drawBar draws a house: bought liquids, then house-made ones of what is there
// already, each with a measured yield.
func drawBar(t *rapid.T, tb testing.TB) (*bar, []string) {
	b := newBar(tb)
	var names []string
	for i := range rapid.IntRange(1, 4).Draw(t, "bought") {
		name := "bought " + strconv.Itoa(i)
		p := b.pack(prices().Draw(t, "price"), rapid.IntRange(1, 24).Draw(t, "count"), sizes().Draw(t, "size"), rapid.SampledFrom([]measure.Unit{measure.ML, measure.CL, measure.L, measure.FlOzUS}).Draw(t, "unit"))
		if rapid.Bool().Draw(t, "tax included") {
			p.Tax = recipe.TaxIncluded
		}
		b.buy(name, p).WastePct = float64(rapid.IntRange(0, 60).Draw(t, "waste")) / 4
		names = append(names, name)
	}
	for i := range rapid.IntRange(0, 5).Draw(t, "made") {
		name := "made " + strconv.Itoa(i)
		b.make(name, ml(sizes().Draw(t, "yield")), drawLines(t, names)...)
		names = append(names, name)
	}
	return b, names
}

func drawLines(t *rapid.T, names []string) []recipe.Line {
	lines := make([]recipe.Line, rapid.IntRange(1, 6).Draw(t, "lines"))
	for i := range lines {
		lines[i] = line(rapid.SampledFrom(names).Draw(t, "of"), amounts().Draw(t, "amount"), rapid.SampledFrom(lineUnits).Draw(t, "unit"))
	}
	return lines
}

// oracle costs a line the slow way: math/big alone, depth first, nothing kept.
func oracle(b *bar, l recipe.Line) *big.Rat {
	units := b.house.Units
	exact := func(f float64) *big.Rat {
		r, _ := new(big.Rat).SetString(strconv.FormatFloat(f, 'g', -1, 64))
		return r
	}
	inML := func(q measure.Quantity) *big.Rat {
		return new(big.Rat).Mul(exact(q.Amount), exact(q.Unit.Size(units)))
	}
	perML := new(big.Rat)
	for i := range b.comps {
		c := &b.comps[i]
		if c.ID != l.Component {
			continue
		}
		if c.Recipe == nil {
			p := c.Packs[0]
			perML, _ = perML.SetString(p.Price.Number.String())
			if p.Tax == recipe.TaxIncluded {
				perML.Quo(perML, big.NewRat(120, 100))
			}
			perML.Quo(perML, new(big.Rat).Mul(big.NewRat(int64(p.Count), 1), inML(p.Size)))
		} else {
			for _, part := range c.Recipe.Lines {
				perML.Add(perML, oracle(b, part))
			}
			perML.Quo(perML, quantised(inML(*c.Recipe.Yield.Measured)))
		}
		keep := new(big.Rat).Sub(big.NewRat(1, 1), new(big.Rat).Quo(exact(c.WastePct), big.NewRat(100, 1)))
		perML.Quo(perML, keep)
	}
	return quantised(perML.Mul(perML, inML(l.Amount)))
}

// quantised rounds to a millionth, half to even, by the textbook; x ≥ 0.
func quantised(x *big.Rat) *big.Rat {
	y := new(big.Rat).Mul(x, big.NewRat(1e6, 1))
	q, r := new(big.Int).QuoRem(y.Num(), y.Denom(), new(big.Int))
	if c := r.Lsh(r, 1).Cmp(y.Denom()); c > 0 || c == 0 && q.Bit(0) == 1 {
		q.Add(q, big.NewInt(1))
	}
	return new(big.Rat).SetFrac(q, big.NewInt(1e6))
}

// TestCostIsExact: for any house of nested components the cost of a drink is,
// to the last digit, what plain exact arithmetic gives; the lines sum to the
// total; the fast way agrees (checkTotal).
func TestCostIsExact(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, names := drawBar(rt, t)
		lines := drawLines(rt, names)
		total := b.spec(day, lines...)
		if total.Total == nil {
			rt.Fatalf("missing %+v", total.Missing)
		}
		sum := new(big.Rat)
		for i, l := range lines {
			exact := oracle(b, l)
			sum.Add(sum, exact)
			if total.Lines[i].Cost.Ratio().Rat().Cmp(exact) != 0 {
				rt.Fatalf("%s, by hand %s", total.Lines[i].Text, exact.FloatString(6))
			}
		}
		if total.Total.Ratio().Rat().Cmp(sum) != 0 || *total.Total != *total.Full {
			rt.Fatalf("total %s, full %s, by hand %s", total.Total, total.Full, sum.FloatString(6))
		}
	})
}

// drawAmong draws one of n indices.
func drawAmong(t *rapid.T, n int, what string) int { return rapid.IntRange(0, n-1).Draw(t, what) }

// TestRaisingAPriceNeverLowersACost: of the drink, or of anything in it.
func TestRaisingAPriceNeverLowersACost(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, names := drawBar(rt, t)
		lines := drawLines(rt, names)
		was := b.spec(day, lines...)
		c := &b.comps[drawAmong(rt, len(b.comps), "raised")]
		if c.Recipe != nil {
			c = &b.comps[0]
		}
		more, err := c.Packs[0].Price.Plus(b.money(prices().Draw(rt, "by")))
		if err != nil {
			rt.Fatal(err)
		}
		c.Packs[0].Price = more
		is := b.spec(day, lines...)
		if cmp, err := is.Total.Cmp(*was.Total); err != nil || cmp < 0 {
			rt.Fatalf("raising the price of %s to %s lowers the cost from %s to %s", c.Name, more, was.Total, is.Total)
		}
		for i := range lines {
			if cmp, err := is.Lines[i].Cost.Cmp(*was.Lines[i].Cost); err != nil || cmp < 0 {
				rt.Fatalf("raising the price of %s to %s turns %q into %q", c.Name, more, was.Lines[i].Text, is.Lines[i].Text)
			}
		}
	})
}

// TestLinear: k times the amounts, or k times every price, cost k times as
// much. Quantising moves a line by at most half a millionth, so a line of the
// plain drink times k is off by k/2, and the other by ½; nothing is nested
// here, for below a quantised batch the same holds of the batch.
func TestLinear(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, names := drawBar(rt, t)
		for i := range names {
			if b.comps[i].Recipe != nil {
				names = names[:i]
				break
			}
		}
		lines := drawLines(rt, names)
		k := rapid.Int64Range(2, 9).Draw(rt, "k")
		was := b.spec(day, lines...).Total
		more := make([]recipe.Line, len(lines))
		for i, l := range lines {
			more[i] = l
			more[i].Amount.Amount *= float64(k)
			if money.RatioOf(more[i].Amount.Amount).Cmp(money.RatioOf(l.Amount.Amount).Times(money.NewRatio(k, 1))) != 0 {
				rt.Skip("the float of k times the amount is not k times its decimal")
			}
		}
		byAmount := b.spec(day, more...).Total
		for i := range b.comps {
			if packs := b.comps[i].Packs; len(packs) > 0 {
				dearer, err := packs[0].Price.Ratio().Times(money.NewRatio(k, 1)).Amount("EUR")
				if err != nil {
					rt.Fatal(err)
				}
				packs[0].Price = dearer
			}
		}
		byPrice := b.spec(day, lines...).Total
		limit := big.NewRat(int64(len(lines))*(k+1), 2e6)
		for what, got := range map[string]*money.Amount{"amounts": byAmount, "prices": byPrice} {
			off := got.Ratio().Minus(was.Ratio().Times(money.NewRatio(k, 1))).Rat()
			if off.Abs(off).Cmp(limit) > 0 {
				rt.Fatalf("%d times the %s costs %s, not %d × %s", k, what, got, k, was)
			}
		}
		if *byAmount != *byPrice {
			rt.Fatalf("%d times the amounts costs %s, %d times the prices %s", k, byAmount, k, byPrice)
		}
	})
}

// TestSheetsAgree: one sheet asked about everything in any order says what a
// fresh one says.
func TestSheetsAgree(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, names := drawBar(rt, t)
		s := b.sheet(day)
		for range 10 {
			sp := recipe.Spec{Lines: []recipe.Line{line(rapid.SampledFrom(names).Draw(rt, "of"), 30, measure.ML)}}
			got, ok := s.SpecTotal(&sp)
			fresh, ok2 := cost.On(b.book(), day).SpecTotal(&sp)
			if got != fresh || ok != ok2 {
				rt.Fatalf("%s: %s on a used sheet, %s on a fresh one", sp.Lines[0].Component, got, fresh)
			}
		}
	})
}
