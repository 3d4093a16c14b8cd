package cost_test

import (
	"strings"
	"testing"

	"servewright/domain/cost"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// nested fills a bar with a liqueur made of a cordial made of a syrup.
func nested(b *bar) {
	b.buy("sugar", b.pack("12.00", 1, 10, measure.KG)).Category = recipe.Sugar
	b.buy("water", b.pack("0.002", 1, 1, measure.L)).Category = recipe.WaterCategory
	b.buy("lime", b.pack("15.00", 1, 60, measure.Piece)).Piece.Juice = 30
	b.buy("spirit", b.pack("138.00", 6, 700, measure.ML)).Category = recipe.Spirit
	b.make("syrup", ml(1600), line("sugar", 1, measure.KG), line("water", 1000, measure.ML))
	b.make("cordial", ml(680), line("syrup", 500, measure.ML), line("lime", 200, measure.ML))
	b.make("liqueur", ml(990), line("cordial", 300, measure.ML), line("spirit", 700, measure.ML))
}

// TestNestedByHand: three deep, computed by hand.
//
//	syrup    1.20 + 0.002                                      = 1.202     a batch of 1600 mL
//	cordial  500 × 1.202 ÷ 1600 = 0.375625
//	         200 ÷ 30 × 0.25    = 1.666667 (1.6666…)           = 2.042292  a batch of 680 mL
//	liqueur  300 × 2.042292 ÷ 680 = 0.901011 (0.90101117…)
//	         700 × 138 ÷ 4200     = 23                         = 23.901011 a batch of 990 mL
//	30 mL    30 × 23.901011 ÷ 990 = 0.724273 (0.72427306…)
func TestNestedByHand(t *testing.T) {
	b := newBar(t)
	nested(b)
	want(t, "syrup", b.batch(day, "syrup").Total.Total, "1.202")
	want(t, "cordial", b.batch(day, "cordial").Total.Total, "2.042292")
	liqueur := b.batch(day, "liqueur")
	want(t, "liqueur", liqueur.Total.Total, "23.901011")
	want(t, "its first line", liqueur.Total.Lines[0].Cost, "0.901011")
	wantRatio(t, "its litre", liqueur.PerL, 12, "24.142435353535") // 23.901011 ÷ 0.99
	want(t, "30 mL of it", b.spec(day, line("liqueur", 30, measure.ML)).Total, "0.724273")
	want(t, "full cost without effort is goods", liqueur.Total.Full, "23.901011")
}

// TestYields: measured in mL, L and ounces, lossy, and computed.
func TestYields(t *testing.T) {
	loss := 25.0
	tests := []struct {
		name  string
		yield recipe.Yield
		perL  string
	}{
		{"measured", recipe.Yield{Measured: &measure.Quantity{Amount: 800, Unit: measure.ML}}, "25"},
		{"measured in litres", recipe.Yield{Measured: &measure.Quantity{Amount: 0.8, Unit: measure.L}}, "25"},
		{"measured in US ounces", recipe.Yield{Measured: &measure.Quantity{Amount: 32, Unit: measure.FlOzUS}}, "21.133764"}, // 20 ÷ 0.946352946
		{"computed: a litre of one thing is a litre", recipe.Yield{}, "20"},
		{"a quarter lost", recipe.Yield{LossPct: &loss}, "26.666667"},
	}
	for _, tt := range tests {
		b := newBar(t)
		b.buy("spirit", b.pack("20.00", 1, 1, measure.L)).Category = recipe.Spirit
		b.make("m", ml(1), line("spirit", 1000, measure.ML)).Recipe.Yield = tt.yield
		wantRatio(t, tt.name, b.batch(day, "m").PerL, 6, tt.perL)
	}
}

// TestSolidHasAPricePerKilogram: a house-made solid has no volume and no price
// per litre; its pieces are priced when they weigh something.
func TestSolidHasAPricePerKilogram(t *testing.T) {
	b := newBar(t)
	b.buy("sugar", b.pack("12.00", 1, 10, measure.KG)).Category = recipe.Sugar
	b.buy("acid", b.pack("8.00", 1, 1, measure.KG)).Category = recipe.Acid
	mix := b.make("rim mix", measure.Quantity{Amount: 1, Unit: measure.KG}, line("sugar", 900, measure.G), line("acid", 100, measure.G))
	mix.Piece.Mass = 2
	got := b.batch(day, "rim mix")
	wantRatio(t, "kilogram", got.PerKg, 6, "1.88") // 1.08 + 0.80
	wantRatio(t, "piece", got.PerPiece, 6, "0.00376")
	if got.PerL != nil {
		t.Errorf("a solid has a price per litre: %s", got.PerL)
	}
	want(t, "5 g", b.spec(day, line("rim mix", 5, measure.G)).Total, "0.0094")
	if total := b.spec(day, line("rim mix", 5, measure.ML)); len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, "bulk_density") {
		t.Errorf("5 mL of a solid: %+v", total.Missing)
	}
}

// TestNothingLeft: a batch that yields nothing has no price, never a division
// by zero.
func TestNothingLeft(t *testing.T) {
	b := newBar(t)
	b.buy("peel", b.pack("1.00", 1, 1, measure.KG)).Category = recipe.Botanical
	b.make("m", ml(1), line("peel", 10, measure.G)).Recipe.Yield = recipe.Yield{}
	total := b.spec(day, line("m", 10, measure.ML))
	if len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, "recipe.yield.measured") {
		t.Errorf("missing %+v", total.Missing)
	}
	b = newBar(t)
	b.buy("x", b.pack("999999999999", 1, 1, measure.L))
	b.make("drop", ml(0.001), line("x", 100, measure.L))
	if total := b.spec(day, line("drop", 10, measure.ML)); len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, "check its amounts and its yield") {
		t.Errorf("missing %+v", total.Missing)
	}
	b = newBar(t)
	b.add(recipe.Component{Kind: recipe.HouseMade}, "no recipe")
	if total := b.spec(day, line("no recipe", 10, measure.ML)); len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, "no recipe; write one") {
		t.Errorf("missing %+v", total.Missing)
	}
}

// TestFullCost: labour, energy and packaging by hand, through a nested batch.
//
//	base   goods 10.00; 30 min at 18.00/h = 9.00; 2 kWh at 0.35 = 0.70; 1 jar 0.80 → full 20.50 for 1000 mL
//	blend  500 mL of base: goods 5.00, full 10.25; 10 min = 3.00; 2 bottles = 1.20   → full 14.45, goods 5.00 for 500 mL
func TestFullCost(t *testing.T) {
	b := newBar(t)
	labour, energy := b.money("18.00"), b.money("0.35")
	b.house.LabourPerHour, b.house.EnergyPerKWh = &labour, &energy
	b.buy("spirit", b.pack("10.00", 1, 1, measure.L)).Category = recipe.Spirit
	b.buy("jar", b.pack("0.80", 1, 1, measure.Piece)).Category = recipe.Packaging
	b.buy("bottle", b.pack("7.20", 12, 1, measure.Piece)).Category = recipe.Packaging
	base := b.make("base", ml(1000), line("spirit", 1, measure.L)).Recipe
	base.LabourMin, base.EnergyKWh, base.Packaging = 30, 2, []recipe.Line{line("jar", 1, measure.Piece)}
	blend := b.make("blend", ml(500), line("base", 500, measure.ML)).Recipe
	blend.LabourMin, blend.Packaging = 10, []recipe.Line{line("bottle", 2, measure.Piece)}

	got := b.batch(day, "base")
	want(t, "base goods", got.Total.Total, "10.00")
	want(t, "base full", got.Total.Full, "20.50")
	want(t, "labour", got.Labour, "9.00")
	want(t, "energy", got.Energy, "0.70")
	want(t, "jar", got.Packaging[0].Cost, "0.80")
	if got.LabourText != "30 min × 18.00 EUR/h = 9.00 EUR" || got.EnergyText != "2 kWh × 0.35 EUR/kWh = 0.70 EUR" {
		t.Errorf("labour %q, energy %q", got.LabourText, got.EnergyText)
	}
	got = b.batch(day, "blend")
	want(t, "blend goods", got.Total.Total, "5.00")
	want(t, "blend full", got.Total.Full, "14.45")
	wantRatio(t, "blend litre", got.PerL, 6, "10")
	wantRatio(t, "blend litre in full", got.FullPerL, 6, "28.9")
	want(t, "energy nobody used", got.Energy, "0.00")
	total := b.spec(day, line("blend", 50, measure.ML), line("spirit", 50, measure.ML))
	want(t, "drink", total.Total, "1.00")
	want(t, "drink in full", total.Full, "1.945") // 1.445 + 0.50
}

// TestFullCostUnknown: without a labour rate, an energy tariff or a price for
// the bottle, goods stand and full cost names what it lacks.
func TestFullCostUnknown(t *testing.T) {
	b := newBar(t)
	b.buy("spirit", b.pack("10.00", 1, 1, measure.L)).Category = recipe.Spirit
	b.buy("bottle").Category = recipe.Packaging
	made := b.make("base", ml(1000), line("spirit", 1, measure.L)).Recipe
	made.LabourMin, made.EnergyKWh, made.Packaging = 30, 2, []recipe.Line{line("bottle", 1, measure.Piece)}
	total := b.spec(day, line("base", 50, measure.ML))
	want(t, "goods", total.Total, "0.50")
	if total.Full != nil || len(total.FullMissing) != 3 {
		t.Fatalf("full %v, missing %+v", total.Full, total.FullMissing)
	}
	for i, says := range []string{"add one", "labour_per_hour", "energy_per_kwh"} {
		m := total.FullMissing[i]
		if !strings.Contains(m.Reason, says) || m.Path[0] != "base" {
			t.Errorf("full missing %d = %+v, want %q", i, m, says)
		}
	}
	got := b.batch(day, "base")
	if got.PerL == nil || got.FullPerL != nil || got.Labour != nil || got.Energy != nil || got.Packaging[0].Cost != nil {
		t.Errorf("batch %+v", got)
	}
	if len(got.Total.FullMissing) != 3 || strings.Join(got.Total.FullMissing[0].Path, "/") != "base/bottle" {
		t.Errorf("batch full missing %+v", got.Total.FullMissing)
	}
}

// TestPackedInItself: packaging is outside the graph that a Book checks, so a
// circle through it must end here.
func TestPackedInItself(t *testing.T) {
	b := newBar(t)
	b.buy("spirit", b.pack("10.00", 1, 1, measure.L)).Category = recipe.Spirit
	b.make("one", ml(1000), line("spirit", 1, measure.L)).Recipe.Packaging = []recipe.Line{line("two", 10, measure.ML)}
	b.make("two", ml(1000), line("one", 1, measure.L)).Recipe.Packaging = []recipe.Line{line("two", 10, measure.ML)}
	for _, name := range []string{"one", "two"} {
		got := b.batch(day, name)
		want(t, name, got.Total.Total, "10.00")
		if got.Total.Full != nil || len(got.Total.FullMissing) == 0 || !strings.Contains(got.Total.FullMissing[0].Reason, "packed in itself") {
			t.Errorf("%s: full %v, missing %+v", name, got.Total.Full, got.Total.FullMissing)
		}
	}
}

// TestBoughtBatch: a bought component has prices and the pack they come from,
// and no batch.
func TestBoughtBatch(t *testing.T) {
	b := newBar(t)
	b.buy("spirit", b.pack("138.00", 6, 700, measure.ML)).Category = recipe.Spirit
	b.buy("unpriced")
	got := b.batch(day, "spirit")
	wantRatio(t, "litre", got.PerL, 6, "32.857143")
	if got.PerL.Cmp(money.NewRatio(230, 7)) != 0 || got.FullPerL.Cmp(*got.PerL) != 0 {
		t.Errorf("PerL = %s, FullPerL = %s, want exactly 230/7", got.PerL, got.FullPerL)
	}
	if got.Pack == nil || got.Pack.ID != "p" || got.Total.Total != nil || len(got.Total.Missing) != 0 {
		t.Errorf("batch %+v", got)
	}
	got = b.batch(day, "unpriced")
	if got.Pack != nil || got.PerL != nil || len(got.Total.Missing) != 1 || got.Total.Missing[0].Path[0] != "unpriced" {
		t.Errorf("batch %+v", got)
	}
}

// TestSwappedBook: a sheet of a swapped book prices the substitute, in specs
// and inside house-made components, and names it.
func TestSwappedBook(t *testing.T) {
	b := newBar(t)
	nested(b)
	b.buy("cheap spirit", b.pack("11.00", 1, 1, measure.L)).Category = recipe.Spirit
	book := b.book()
	from, _ := book.Find("spirit")
	to, _ := book.Find("cheap spirit")
	sp := recipe.Spec{Lines: []recipe.Line{line("spirit", 50, measure.ML), line("liqueur", 30, measure.ML)}}
	s := cost.On(book.Swapped(from, to), day)
	total := s.Spec(&sp)
	checkTotal(t, s, &sp, total)
	want(t, "50 mL", total.Lines[0].Cost, "0.55")
	want(t, "30 mL", total.Lines[1].Cost, "0.260637") // 30 × (0.901011 + 7.70) ÷ 990
	if total.Lines[0].Component != "cheap spirit" || total.Lines[0].Name != "cheap spirit" {
		t.Errorf("the line names %s", total.Lines[0].Name)
	}
}
