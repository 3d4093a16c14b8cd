package cost_test

import (
	"math/big"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// TestTexts: the arithmetic as a person reads it.
func TestTexts(t *testing.T) {
	b := newBar(t)
	nested(b)
	taxed := b.pack("165.60", 6, 700, measure.ML)
	taxed.Tax = recipe.TaxIncluded
	b.buy("taxed", taxed).WastePct = 4
	rho := measure.Density(1.33)
	honey := b.buy("honey", b.pack("24.00", 1, 3, measure.KG))
	honey.Category, honey.Label = recipe.Syrup, liquid.Label{Density: &rho}
	tests := []struct {
		pour        recipe.Line
		text, price string
	}{
		{line("spirit", 45, measure.ML), "45 mL × 32.857143 EUR/L = 1.478571 EUR", "138.00 EUR ÷ (6 × 700 mL)"},
		{line("spirit", 1.5, measure.FlOzUS), "1.5 [foz_us] (44.360294 mL) × 32.857143 EUR/L = 1.457553 EUR", "138.00 EUR ÷ (6 × 700 mL)"}, // 44.36029434375 × 23 ÷ 700 = 1.45755252…
		{line("spirit", 0.5, measure.L), "0.5 L × 32.857143 EUR/L = 16.428571 EUR", "138.00 EUR ÷ (6 × 700 mL)"},
		{line("spirit", 2, measure.CL), "2 cL (20 mL) × 32.857143 EUR/L = 0.657143 EUR", "138.00 EUR ÷ (6 × 700 mL)"},
		{line("sugar", 240, measure.G), "240 g × 1.20 EUR/kg = 0.288 EUR", "12.00 EUR ÷ 10 kg"},
		{line("lime", 0.125, measure.Piece), "0.125 piece × 0.25 EUR/piece = 0.03125 EUR", "15.00 EUR ÷ 60 piece"},
		{line("lime", 25, measure.ML), "25 mL × 8.333333 EUR/L = 0.208333 EUR", "15.00 EUR ÷ 60 piece ÷ 30 mL/piece"},
		{line("liqueur", 30, measure.ML), "30 mL × 24.142435 EUR/L = 0.724273 EUR", "23.901011 EUR a batch ÷ 990 mL"},
		{line("taxed", 50, measure.ML), "50 mL × 34.22619 EUR/L = 1.71131 EUR", "165.60 EUR ÷ 1.2 (tax) ÷ (6 × 700 mL) ÷ (1 − 4 % waste)"},
		{line("honey", 10, measure.ML), "10 mL × 10.64 EUR/L = 0.1064 EUR", "24.00 EUR ÷ 3 kg × 1.33 g/mL"},
	}
	for _, tt := range tests {
		l := b.spec(day, tt.pour).Lines[0]
		if l.Text != tt.text || l.PriceText != tt.price {
			t.Errorf("%s\n got %q from %q\nwant %q from %q", l.Name, l.Text, l.PriceText, tt.text, tt.price)
		}
	}
}

// TestLineFigures: the line's own figures beside its text.
func TestLineFigures(t *testing.T) {
	b := newBar(t)
	nested(b)
	l := b.spec(day, line("spirit", 1.5, measure.FlOzUS)).Lines[0]
	if l.AmountML == nil || *l.AmountML != 44.36029434375 || l.Per != "L" || l.PricePer.String() != "230/7" || l.PricePerAmount.String() != "32.857143" || l.Amount.Unit != measure.FlOzUS {
		t.Errorf("line %+v", l)
	}
	l = b.spec(day, line("sugar", 10, measure.G)).Lines[0]
	if l.AmountML != nil || l.Per != "kg" || l.PricePerAmount.String() != "1.20" {
		t.Errorf("line %+v", l)
	}
}

var followed = regexp.MustCompile(`^(?:[\d.]+ \S+ \(([\d.]+) mL\)|([\d.]+) (mL|L)) × ([\d.]+) EUR/L = ([\d.]+) EUR$`)

// TestTextCanBeFollowed: whoever multiplies what the text shows gets the cost
// it shows, to the cent.
func TestTextCanBeFollowed(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b, names := drawBar(rt, t)
		for _, l := range b.spec(day, drawLines(rt, names)...).Lines {
			m := followed.FindStringSubmatch(l.Text)
			if m == nil {
				rt.Fatalf("cannot be read: %q", l.Text)
			}
			amount, ok1 := new(big.Rat).SetString(m[1] + m[2])
			price, ok2 := new(big.Rat).SetString(m[4])
			cost, ok3 := new(big.Rat).SetString(m[5])
			if !ok1 || !ok2 || !ok3 {
				rt.Fatalf("cannot be read: %q", l.Text)
			}
			if m[3] != "L" {
				amount.Quo(amount, big.NewRat(1000, 1))
			}
			// The price is off by half a millionth a litre and the litres, at most
			// 2, by half a thousand-millionth: together below a cent for any price
			// below 1,000,000 EUR/L.
			off := amount.Mul(amount, price)
			if off.Sub(off, cost); price.Cmp(big.NewRat(1e6, 1)) < 0 && off.Abs(off).Cmp(big.NewRat(1, 100)) > 0 {
				rt.Fatalf("%q is off by %s", l.Text, off.FloatString(6))
			}
			if l.PriceText == "" {
				rt.Fatalf("%q has no origin", l.Text)
			}
		}
	})
}
