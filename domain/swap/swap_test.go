package swap

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
	"servewright/domain/serve"
)

// The bar of these tests is invented.

const today measure.Date = "2026-06-01"

func abv(pct float64) *measure.ABV { a := measure.ABV(pct / 100); return &a }

func num(v float64) *float64 { return &v }

func euros(s string) money.Amount {
	a, err := money.NewAmount(s, "EUR")
	if err != nil {
		panic(err)
	}
	return a
}

func bottle(id string, cat recipe.Category, l liquid.Label, perLitre string) recipe.Component {
	c := recipe.Component{ID: recipe.ID(id), Kind: recipe.Bought, Name: id, Category: cat, Status: recipe.Active, Label: l,
		Allergens: safety.Declaration{Declared: true}}
	if perLitre != "" {
		c.Packs = []recipe.Pack{{Size: measure.Quantity{Amount: 1, Unit: measure.L}, Count: 1, Price: euros(perLitre), Tax: recipe.TaxExcluded, ValidFrom: "2026-01-01"}}
	}
	return c
}

func part(id string, ml float64) recipe.Line {
	return recipe.Line{Component: recipe.ID(id), Amount: measure.Quantity{Amount: ml, Unit: measure.ML}, Stage: recipe.Mix}
}

func made(id string, lines ...recipe.Line) recipe.Component {
	return recipe.Component{ID: recipe.ID(id), Kind: recipe.HouseMade, Name: id, Category: recipe.Liqueur, Status: recipe.Active, Recipe: &recipe.Recipe{Lines: lines}}
}

func drink(id string, lines ...recipe.Line) recipe.Spec {
	return recipe.Spec{ID: recipe.ID(id), Name: id, Method: chill.Shake, ServingIce: chill.NoIce, Lines: lines,
		Price: &recipe.Price{Amount: euros("12"), Tax: recipe.TaxExcluded}}
}

func shelf() []recipe.Component {
	cs := []recipe.Component{
		bottle("gin", recipe.Spirit, liquid.Label{ABV: abv(43)}, "20"),
		bottle("lemon", recipe.Juice, liquid.Label{Sugar: num(25), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 48}}, "6"),
		bottle("liqueur", recipe.Liqueur, liquid.Label{ABV: abv(24), Sugar: num(300)}, "28"),
		bottle("syrup", recipe.Syrup, liquid.Label{Brix: num(50)}, "2"),
		bottle("unpriced", recipe.Spirit, liquid.Label{ABV: abv(40)}, ""),
		made("house", part("gin", 558.1), part("syrup", 487)),
		made("batch", part("liqueur", 500), part("lemon", 500)),
	}
	cs[2].Allergens.Contains = safety.Of(safety.Nuts)
	cs[0].Allergens.Contains = safety.Of(safety.Sulphites)
	litre := measure.Quantity{Amount: 0.98, Unit: measure.L}
	cs[6].Recipe.Yield.Measured = &litre
	return cs
}

func menu(t testing.TB, specs ...recipe.Spec) (*recipe.Book, recipe.Ref, recipe.Ref) {
	t.Helper()
	b, err := recipe.NewBook(recipe.DefaultHouse(), shelf(), specs)
	if err != nil {
		t.Fatal(err)
	}
	from, _ := b.Find("liqueur")
	to, _ := b.Find("house")
	return b, from, to
}

func TestSwapAcrossTheMenu(t *testing.T) {
	b, from, to := menu(t,
		drink("direct", part("gin", 40), part("liqueur", 25), part("lemon", 20)),
		drink("nested", part("gin", 40), part("batch", 40)),
		drink("other", part("gin", 60), part("lemon", 20)),
		drink("dear", part("unpriced", 40), part("liqueur", 20)))
	c := Across(b, today, from, to, nil)
	if len(c.Specs) != 3 {
		t.Fatalf("%d specs compared, want the three that reach the liqueur", len(c.Specs))
	}
	totals, err := c.Totals()
	if err != nil {
		t.Fatal(err)
	}
	if totals.Unpriced != 1 || totals.Unmade != 0 {
		t.Errorf("unpriced %d, unmade %d; want 1 and 0", totals.Unpriced, totals.Unmade)
	}
	if totals.Lost != safety.Of(safety.Nuts) || totals.Gained != safety.Of(safety.Sulphites) {
		t.Errorf("gained %v, lost %v; want sulphites gained (by the drink without gin) and nuts lost", totals.Gained.Names(), totals.Lost.Names())
	}
	if len(c.Cautions) != 1 || c.Cautions[0].Code != "YIELD_KEPT" {
		t.Errorf("cautions %+v, want one that the batch's measured yield is kept", c.Cautions)
	}
	if got, err := totals.After.Goods.Cmp(*totals.Before.Goods); err != nil || got >= 0 {
		t.Errorf("goods %s before, %s after: want the house liqueur cheaper", totals.Before.Goods, totals.After.Goods)
	}
}

// TestYieldKeptOnlyWherePoured: a drink without the batch says nothing of it.
func TestYieldKeptOnlyWherePoured(t *testing.T) {
	b, from, to := menu(t, drink("direct", part("liqueur", 25)), drink("nested", part("batch", 40)))
	direct, _ := b.Spec("direct")
	if c := Across(b, today, from, to, []*recipe.Spec{direct}); len(c.Cautions) != 0 {
		t.Errorf("cautions %+v for a drink that does not pour the batch", c.Cautions)
	}
}

// TestTotalsAreTheDrinks: what the fast totals say is what the drinks say one
// by one.
func TestTotalsAreTheDrinks(t *testing.T) {
	b, from, to := menu(t,
		drink("direct", part("gin", 40), part("liqueur", 25), part("lemon", 20)),
		drink("nested", part("gin", 40), part("batch", 40)))
	c := Across(b, today, from, to, nil)
	totals, err := c.Totals()
	if err != nil {
		t.Fatal(err)
	}
	goods, alcohol := euros("0"), 0.0
	for i := range c.Specs {
		d, err := c.Drink(i)
		if err != nil {
			t.Fatal(err)
		}
		if goods, err = goods.Plus(*d.After.Cost.Total); err != nil {
			t.Fatal(err)
		}
		alcohol += d.After.Result.Figures[serve.AlcoholG]
	}
	if got, _ := goods.Cmp(*totals.After.Goods); got != 0 {
		t.Errorf("goods of the drinks %s, of the totals %s", goods, totals.After.Goods)
	}
	if math.Abs(alcohol-totals.After.AlcoholG) > 1e-9 {
		t.Errorf("alcohol of the drinks %v g, of the totals %v g", alcohol, totals.After.AlcoholG)
	}
}

func TestDrink(t *testing.T) {
	b, from, to := menu(t, drink("direct", part("gin", 40), part("liqueur", 25), part("lemon", 20)), drink("nested", part("gin", 40), part("batch", 40)))
	c := Across(b, today, from, to, nil)
	d, err := c.Drink(0)
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Lines) != 1 || d.Lines[0] != (Line{Index: 1, Was: from, Is: to}) {
		t.Errorf("lines %+v, want the second, liqueur for house", d.Lines)
	}
	if !d.Lost.Has(safety.Nuts) || d.Gained != 0 {
		t.Errorf("gained %v, lost %v", d.Gained.Names(), d.Lost.Names())
	}
	was, is := d.Before.Result.Figures, d.After.Result.Figures
	for f, ch := range d.Change {
		if want := is[f] - was[f]; ch.By != 0 && ch.By != want {
			t.Errorf("figure %d changes by %v, want %v", f, ch.By, want)
		}
		if ch.BeyondBand && math.Abs(ch.By) < ch.Band {
			t.Errorf("figure %d: %v is called beyond its band %v", f, ch.By, ch.Band)
		}
	}
	if d.Before.Margin == nil || d.After.Margin == nil || d.After.Margin.GrossProfitPct <= d.Before.Margin.GrossProfitPct {
		t.Error("the cheaper liqueur did not raise the gross profit")
	}
	n, err := c.Drink(1)
	if err != nil {
		t.Fatal(err)
	}
	if batch, _ := b.Find("batch"); len(n.Lines) != 1 || n.Lines[0] != (Line{Index: 1, Was: batch, Is: batch}) {
		t.Errorf("lines %+v, want the remade batch", n.Lines)
	}
}

// TestUnmade: a substitute that cannot be measured as the line is written says
// so for that drink and leaves the others standing.
func TestUnmade(t *testing.T) {
	cs := shelf()
	cs[2].Piece.Mass = 30
	byPiece := recipe.Line{Component: "liqueur", Amount: measure.Quantity{Amount: 1, Unit: measure.Piece}, Stage: recipe.Mix}
	b, err := recipe.NewBook(recipe.DefaultHouse(), cs, []recipe.Spec{drink("a", part("gin", 40), byPiece), drink("b", part("liqueur", 20))})
	if err != nil {
		t.Fatal(err)
	}
	from, _ := b.Find("liqueur")
	to, _ := b.Find("house")
	c := Across(b, today, from, to, nil)
	totals, err := c.Totals()
	if err != nil || totals.Unmade != 1 {
		t.Errorf("totals %+v, %v; want one unmade", totals, err)
	}
	d, err := c.Drink(0)
	if err != nil || !errors.Is(d.Unmade, domain.Invalid) {
		t.Errorf("drink: %v, unmade %v; want the reason", err, d.Unmade)
	}
}

func TestNotice(t *testing.T) {
	var strong serve.Result
	tests := []struct {
		f             serve.Figure
		was, is, band float64
		want          Notice
		why           string
	}{
		{serve.SugarPerL, 100, 125, 1, Likely, "25 % more sugar, all thresholds are below"},
		{serve.SugarPerL, 100, 103, 0.1, Unlikely, "3 % is under the lowest, 8 %"},
		{serve.SugarPerL, 100, 115, 1, CannotSay, "15 % lies between 8 and 20 %"},
		{serve.SugarPerL, 100, 103, 5, NotMeasured, "within its band"},
		{serve.SugarPerL, 125, 100, 1, Likely, "a fall counts as its rise"},
		{serve.TemperatureC, -3, 4, 0.1, Likely, "7 °C against at most 5"},
		{serve.EnergyKcal, 100, 300, 1, CannotSay, "nobody tastes energy"},
		{serve.AcidPerL, 0, 5, 0.1, CannotSay, "no ratio to nothing"},
	}
	for _, tt := range tests {
		if got, _ := notice(tt.f, tt.was, tt.is, tt.band, &strong); got != tt.want {
			t.Errorf("figure %d from %v to %v ± %v: %d, want %d (%s)", tt.f, tt.was, tt.is, tt.band, got, tt.want, tt.why)
		}
	}
	strong.Figures[serve.AcidPerL] = 8
	if got, _ := notice(serve.SugarPerL, 100, 125, 1, &strong); got != CannotSay {
		t.Errorf("25 %% more sugar in an acid drink: %d, want cannot say (the top widens to 30 %%)", got)
	}
}

// bigMenu is n specs over the shelf, half of them through the nested batch and
// over several methods.
func bigMenu(n int) []recipe.Spec {
	methods := []chill.Method{chill.Shake, chill.Stir, chill.Shake, chill.Highball, chill.Stir}
	specs := make([]recipe.Spec, n)
	for i := range specs {
		mid := part("liqueur", 15+float64(i%4)*5)
		if i%2 == 1 {
			mid = part("batch", 30+float64(i%3)*5)
		}
		specs[i] = drink(fmt.Sprintf("spec-%05d", i), part("gin", 30+float64(i%5)*5), mid, part("lemon", 15), part("syrup", 10))
		specs[i].Method = methods[i%len(methods)]
	}
	return specs
}

var keepTotals Totals

func benchSwap(b *testing.B, n int) {
	bk, from, to := menu(b, bigMenu(n)...)
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if keepTotals, err = Across(bk, today, from, to, nil).Totals(); err != nil {
			b.Fatal(err)
		}
	}
}

// The swap over menus of 1,000 and 10,000 specs, and, to compare them with, the
// bare loop that only adds up the masses of their lines, on both sides.
func BenchmarkSwap1000(b *testing.B)  { benchSwap(b, 1000) }
func BenchmarkSwap10000(b *testing.B) { benchSwap(b, 10000) }

func BenchmarkBareLoop1000(b *testing.B)  { benchBare(b, 1000) }
func BenchmarkBareLoop10000(b *testing.B) { benchBare(b, 10000) }

func benchBare(b *testing.B, n int) {
	bk, _, _ := menu(b, bigMenu(n)...)
	var sum liquid.Mix
	for b.Loop() {
		for range 2 {
			for s := range bk.Specs() {
				for i := range bk.Specs()[s].Lines {
					l := &bk.Specs()[s].Lines[i]
					r, _ := bk.Of(l)
					sum.Add(&bk.Contents(r).PerG, l.Amount.Amount)
				}
			}
		}
	}
	keepTotals.Before.AlcoholG = sum[liquid.Ethanol]
}
