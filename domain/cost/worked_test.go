package cost_test

import (
	"math"
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// TestYieldOfTheTextbooks: what is trimmed away raises the price of what is
// used. Each row buys at a published price and wastes at a published rate; the
// amount used is priced.
func TestYieldOfTheTextbooks(t *testing.T) {
	tests := []struct {
		name   string
		price  string  // USD for size
		size   float64 // of unit
		unit   measure.Unit
		waste  float64 // %
		use    float64 // of unit
		places int     // digits the source prints
		want   string
		source string
	}{
		{name: "G12 carrots", price: "8.00", size: 80, unit: measure.OzAv, waste: 11, use: 71.2, places: 2, want: "8.00",
			source: "Culinary Institute of America, Ultimate Guide to Recipe Calculation: 80 oz less 8.8 oz trim is 71.2 oz, 89 % (the price is invented: all of what is left costs all that was paid)"},
		{name: "G13 usable ounce", price: "1.696", size: 16, unit: measure.OzAv, waste: 25, use: 1, places: 3, want: "0.141",
			source: "Culinary Institute of America, same: $0.106/oz at 75 % is $0.141/oz"},
		{name: "G16 usable pound", price: "5.60", size: 1, unit: measure.LbAv, waste: 25, use: 1, places: 4, want: "7.4667",
			source: "Vancouver Community College recipe costing handout: $5.60 at 75 %, exact $7.4667 (printed $7.465 from the factor rounded to 1.333)"},
		{name: "G15 carrots", price: "2.40", size: 1, unit: measure.KG, waste: 20, use: 0.8, places: 2, want: "2.40",
			source: "BCcampus Basic Kitchen, Yield Testing (CC BY 4.0): 1 kg leaves 800 g, 80 % (the price is invented)"},
		{name: "G14 usable from bought", price: "10.00", size: 10, unit: measure.LbAv, waste: 20, use: 8, places: 2, want: "10.00",
			source: "Gisslen, Professional Cooking 2014: 10 lb bought at 80 % are 8 lb usable (the price is invented)"},
		{name: "G14 bought for usable", price: "1.00", size: 1, unit: measure.LbAv, waste: 20, use: 10, places: 2, want: "12.50",
			source: "Gisslen, same: 10 lb usable at 80 % take 12.5 lb bought (at an invented $1 a pound)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBar(t)
			b.house.Currency = "USD"
			b.buy("carrots", b.pack(tt.price, 1, tt.size, tt.unit)).WastePct = tt.waste
			got := b.spec(day, line("carrots", tt.use, tt.unit)).Total
			if got == nil || got.Rounded(tt.places).String() != amountText(b, tt.want) {
				t.Errorf("%v %s at %v %% waste = %v, want %s (%s)", tt.use, tt.unit, tt.waste, got, tt.want, tt.source)
			}
		})
	}
}

func amountText(b *bar, s string) string { return b.money(s).String() }

// TestPublishedFourOunces: G13 goes on to price 4 oz at $0.564, which is four
// times the rounded ounce; exact arithmetic gives $0.565333. (The page also
// misprints $0.401.)
func TestPublishedFourOunces(t *testing.T) {
	b := newBar(t)
	b.house.Currency = "USD"
	b.buy("carrots", b.pack("1.696", 1, 16, measure.OzAv)).WastePct = 25
	ounce := b.spec(day, line("carrots", 1, measure.OzAv)).Total.Rounded(3)
	four, err := ounce.Ratio().Times(money.NewRatio(4, 1)).Amount("USD")
	if err != nil || four.String() != "0.564" {
		t.Errorf("4 × %s = %s, %v; published 0.564", ounce, four, err)
	}
	want(t, "4 oz", b.spec(day, line("carrots", 4, measure.OzAv)).Total, "0.565333")
}

// TestPublishedWeightOfAnOunce: G11, the grams of one US fluid ounce (USDA SR28
// and SR26, WEIGHT). A thing of that density bought by the kilogram and poured
// by the ounce costs what its grams cost.
func TestPublishedWeightOfAnOunce(t *testing.T) {
	tests := []struct {
		name  string
		grams float64 // of 1 US fl oz, USDA, one decimal
	}{{"raw lime juice", 30.8}, {"whiskey-sour mix", 32.3}, {"tonic water", 30.5}}
	const flOz = 29.5735295625 // mL, exact: 231 in³ ÷ 128
	for _, tt := range tests {
		b := newBar(t)
		d := measure.Density(tt.grams / flOz)
		c := b.buy(tt.name, b.pack("1000.00", 1, 1, measure.KG)) // 1 EUR a gram
		c.Category, c.Label = recipe.SoftDrink, liquid.Label{Density: &d}
		got := b.spec(day, line(tt.name, 1, measure.FlOzUS)).Total
		if got == nil || math.Abs(got.Number.Float()-tt.grams) > 0.05 { // half the last printed digit
			t.Errorf("1 fl oz of %s weighs as much as it costs: %v g, published %v", tt.name, got, tt.grams)
		}
	}
}

// TestPublishedRecipe: G17, a school-nutrition trade supplement of 2025,
// Appendix A: lines of 7.17, 16.80, 28.13 and 0.81 are $52.91, and $1.06 for
// each of 50 servings.
func TestPublishedRecipe(t *testing.T) {
	b := newBar(t)
	b.house.Currency = "USD"
	var lines []recipe.Line
	for name, price := range map[string]string{"a": "7.17", "b": "16.80", "c": "28.13", "d": "0.81"} {
		b.buy(name, b.pack(price, 1, 1, measure.Piece))
		lines = append(lines, line(name, 1, measure.Piece))
	}
	b.make("batch", measure.Quantity{Amount: 50, Unit: measure.KG}, lines...).Piece.Mass = 1000 // a serving of 1 kg, invented
	got := b.batch(day, "batch")
	want(t, "batch", got.Total.Total, "52.91")
	wantRatio(t, "serving", got.PerPiece, 2, "1.06")
}

// TestPublishedMargins: G18 (Kasavana, AHLEI, The Power of Menu Engineering,
// part 2) and G19 (hospitality course notes).
func TestPublishedMargins(t *testing.T) {
	tests := []struct {
		price, cost string
		pct         float64 // pour cost, published without decimals; 0 = not published
		profit      string
	}{
		{price: "3.00", cost: "1.00", pct: 33, profit: "2.00"},
		{price: "5.00", cost: "2.50", pct: 50, profit: "2.50"},
		{price: "23.65", cost: "7.50", profit: "16.15"},
		{price: "16.45", cost: "5.20", profit: "11.25"},
	}
	b := newBar(t)
	b.house.Currency = "USD"
	s := b.sheet(day)
	for _, tt := range tests {
		m, err := s.Margin(&recipe.Price{Amount: b.money(tt.price), Tax: recipe.TaxExcluded}, b.money(tt.cost))
		if err != nil || !m.Pct || m.GrossProfit.String() != tt.profit {
			t.Errorf("%s less %s = %s, %v; published %s", tt.price, tt.cost, m.GrossProfit, err, tt.profit)
		}
		if tt.pct != 0 && math.Abs(m.PourCostPct-tt.pct) > 0.5 {
			t.Errorf("%s of %s = %v %%, published %v", tt.cost, tt.price, m.PourCostPct, tt.pct)
		}
	}
	// G19: the difference between the two is 4.90, on 100 guests 490.
	diff, err := b.money("16.15").Minus(b.money("11.25"))
	hundred, err2 := diff.Ratio().Times(money.NewRatio(100, 1)).Amount("USD")
	if err != nil || err2 != nil || diff.String() != "4.90" || hundred.String() != "490.00" {
		t.Errorf("16.15 − 11.25 = %s, × 100 = %s; published 4.90 and 490", diff, hundred)
	}
}
