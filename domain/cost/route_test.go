package cost_test

import (
	"math/big"
	"strings"
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// TestConversions: what a line costs when it is counted otherwise than the pack.
// Every thing gives 30 mL of juice a piece, weighs 90 g a piece, and its juice
// has a density of 1.05 g/mL, where the row knows it. (All invented.)
func TestConversions(t *testing.T) {
	const juice, mass = 1, 2
	density := measure.Density(1.05)
	piece := func(b *bar) recipe.Pack { return b.pack("15.00", 1, 60, measure.Piece) } // 0.25 a piece
	kilo := func(b *bar) recipe.Pack { return b.pack("4.00", 1, 2, measure.KG) }       // 0.002 a gram
	litre := func(b *bar) recipe.Pack { return b.pack("5.00", 1, 1, measure.L) }       // 0.005 a mL
	tests := []struct {
		name    string
		pack    func(b *bar) recipe.Pack
		knows   int
		density bool
		pour    recipe.Line
		want    string // exact, then to a millionth
	}{
		{"juice of fruit by the piece", piece, juice, false, line("x", 25, measure.ML), "0.208333"},              // 25 ÷ 30 × 0.25
		{"juice of fruit by the kilogram", kilo, juice | mass, true, line("x", 25, measure.ML), "0.15"},          // 25 ÷ 30 × 90 × 0.002, not by density
		{"a liquid by the kilogram", kilo, 0, true, line("x", 100, measure.ML), "0.21"},                          // 105 g
		{"pieces of stated mass, by volume", piece, mass, true, line("x", 100, measure.ML), "0.291667"},          // 105 g ÷ 90 × 0.25
		{"grams of fruit by the piece", piece, juice | mass, true, line("x", 180, measure.G), "0.50"},            // two whole pieces
		{"grams of a liquid by the litre", litre, 0, true, line("x", 105, measure.G), "0.50"},                    // 100 mL
		{"grams of juice by the piece", piece, juice, true, line("x", 63, measure.G), "0.50"},                    // 60 mL, two pieces
		{"pieces of fruit by the kilogram", kilo, mass, false, line("x", 0.5, measure.Piece), "0.09"},            // 45 g
		{"pieces' worth of bottled juice", litre, juice, false, line("x", 2, measure.Piece), "0.30"},             // 60 mL
		{"pieces of stated mass by the litre", litre, mass, true, line("x", 7, measure.Piece), "3.00"},           // 630 g ÷ 1.05
		{"pieces of stated juice by the kilogram", kilo, juice, true, line("x", 10, measure.Piece), "0.63"},      // 315 g
		{"same dimension needs nothing: piece", piece, 0, false, line("x", 0.125, measure.Piece), "0.03125"},     // an eighth
		{"same dimension needs nothing: mass", kilo, juice | mass, true, line("x", 250, measure.G), "0.50"},      // as bought
		{"same dimension needs nothing: volume", litre, juice, true, line("x", 100, measure.ML), "0.50"},         // as bought
		{"juice of fruit by the piece in ounces", piece, juice, false, line("x", 1, measure.FlOzUS), "0.246446"}, // 29.5735295625 ÷ 30 × 0.25
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBar(t)
			c := b.buy("x", tt.pack(b))
			if c.Category = recipe.Fruit; tt.density {
				c.Category, c.Label = recipe.Juice, liquid.Label{Density: &density}
			}
			if tt.knows&juice != 0 {
				c.Piece.Juice = 30
			}
			if tt.knows&mass != 0 {
				c.Piece.Mass = 90
			}
			total := b.spec(day, tt.pour)
			want(t, "cost", total.Total, tt.want)
			if l := total.Lines[0]; l.Cost != nil && (l.PriceText == "" || l.PricePer == nil) {
				t.Errorf("the line does not say where its price comes from: %+v", l)
			}
		})
	}
}

// TestNoConversion: when a fact is missing, the line is unknown and says which.
func TestNoConversion(t *testing.T) {
	tests := []struct {
		name string
		unit measure.Unit // of the pack
		pour measure.Unit
		says []string
	}{
		{"by the piece, poured", measure.Piece, measure.ML, []string{"priced by the piece and used by volume", "piece.juice_ml"}},
		{"by the piece, weighed", measure.Piece, measure.G, []string{"priced by the piece and used by mass", "piece.mass_g"}},
		{"by volume, counted", measure.L, measure.Piece, []string{"priced by volume and used by the piece", "piece.juice_ml"}},
		{"by mass, counted", measure.KG, measure.Piece, []string{"priced by mass and used by the piece", "piece.mass_g"}},
		{"by mass, poured", measure.KG, measure.ML, []string{"priced by mass and used by volume", "density", "count the line by mass"}},
		{"by volume, weighed", measure.L, measure.G, []string{"priced by volume and used by mass", "density", "count the line by volume"}},
	}
	for _, tt := range tests {
		b := newBar(t)
		b.buy("x", b.pack("5.00", 1, 1, tt.unit)).Category = recipe.Botanical
		total := b.spec(day, line("x", 1, tt.pour))
		if len(total.Missing) != 1 {
			t.Errorf("%s: missing %+v", tt.name, total.Missing)
			continue
		}
		for _, s := range tt.says {
			if !strings.Contains(total.Missing[0].Reason, s) {
				t.Errorf("%s: %q does not say %q", tt.name, total.Missing[0].Reason, s)
			}
		}
	}
}

// TestUnknownUnitOfALine: only an unchecked spec can hold one.
func TestUnknownUnitOfALine(t *testing.T) {
	b := newBar(t)
	b.buy("x", b.pack("5.00", 1, 1, measure.L))
	total := b.spec(day, line("x", 1, "cup"))
	if len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, "unit") {
		t.Errorf("missing %+v", total.Missing)
	}
}

// TestDensityEntersRounded: a computed density is taken at nine significant
// digits, so that money does not hang on the last bit of a float.
func TestDensityEntersRounded(t *testing.T) {
	b := newBar(t)
	abv, sugar := measure.ABV(0.24), 250.0
	c := b.buy("x", b.pack("1.00", 1, 1, measure.G))
	c.Category, c.Label = recipe.Liqueur, liquid.Label{ABV: &abv, Sugar: &sugar}
	got := b.batch(day, "x").PerL
	if got == nil {
		t.Fatal("no price per litre")
	}
	rho := new(big.Rat).Mul(got.Rat(), big.NewRat(1, 1000)) // at 1 a gram, the price of a mL is its grams
	digits := rho.Mul(rho, big.NewRat(1e8, 1))
	if f, _ := rho.Float64(); !digits.IsInt() || f < 0.9e8 || f > 1.3e8 {
		t.Errorf("density × 10⁸ = %s is not whole", digits.FloatString(20))
	}
}
