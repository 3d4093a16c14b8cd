package cost_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/cost"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// TestMargin: pour cost is goods against the price before tax, from either
// basis. The figures of the first row are by hand: 13 ÷ 1.2 = 10.833333, less
// 2.134217 is 8.699116; 2.134217 ÷ 10.833333 = 19.7005 %.
func TestMargin(t *testing.T) {
	tests := []struct {
		name   string
		price  string
		tax    recipe.TaxBasis
		pct    string // empty = the house's 20
		before string
		profit string
		pour   float64 // %, to 0.0001
	}{
		{"included, own rate", "13.00", recipe.TaxIncluded, "20", "10.833333", "8.699116", 19.7005},
		{"included, the house's rate", "13.00", recipe.TaxIncluded, "", "10.833333", "8.699116", 19.7005},
		{"excluded", "13.00", recipe.TaxExcluded, "20", "13.00", "10.865783", 16.4171},
		{"included at 0 %", "13.00", recipe.TaxIncluded, "0", "13.00", "10.865783", 16.4171},
		{"included at 8.875 %", "13.00", recipe.TaxIncluded, "8.875", "11.940299", "9.806082", 17.8741}, // 13 ÷ 1.08875 = 11.9402985…
		{"sold below cost", "1.20", recipe.TaxIncluded, "20", "1.00", "-1.134217", 213.4217},
	}
	b := newBar(t)
	s, goods := b.sheet(day), b.money("2.134217")
	for _, tt := range tests {
		p := &recipe.Price{Amount: b.money(tt.price), Tax: tt.tax}
		if tt.pct != "" {
			p.TaxPct = b.decimal(tt.pct)
		}
		m, err := s.Margin(p, goods)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if m.BeforeTax.String() != tt.before || m.GrossProfit.String() != tt.profit {
			t.Errorf("%s: before tax %s, profit %s; want %s, %s", tt.name, m.BeforeTax, m.GrossProfit, tt.before, tt.profit)
		}
		if !m.Pct || math.Abs(m.PourCostPct-tt.pour) > 0.00005 || math.Abs(m.PourCostPct+m.GrossProfitPct-100) > 1e-12 {
			t.Errorf("%s: pour cost %v %%, gross profit %v %%; want %v %%", tt.name, m.PourCostPct, m.GrossProfitPct, tt.pour)
		}
	}
}

func TestMarginOfAGift(t *testing.T) {
	b := newBar(t)
	m, err := b.sheet(day).Margin(&recipe.Price{Amount: b.money("0")}, b.money("2.00"))
	if err != nil || m.Pct || m.GrossProfit.String() != "-2.00" {
		t.Errorf("a drink given away: %+v, %v", m, err)
	}
}

func TestMarginDoesNotMixCurrencies(t *testing.T) {
	b := newBar(t)
	dollars, err := money.NewAmount("5", "USD")
	if err != nil {
		t.Fatal(err)
	}
	_, err = b.sheet(day).Margin(&recipe.Price{Amount: dollars}, b.money("2.00"))
	var e *domain.Error
	if !errors.As(err, &e) || e.Code != "CURRENCY_MIX" {
		t.Errorf("dollars against euros: %v", err)
	}
}

func TestTaxPct(t *testing.T) {
	b := newBar(t)
	s := b.sheet(day)
	own := &recipe.Price{TaxPct: b.decimal("7")}
	if s.TaxPct(nil).String() != "20" || s.TaxPct(&recipe.Price{}).String() != "20" || s.TaxPct(own).String() != "7" {
		t.Errorf("tax %s, %s, %s; want 20, 20, 7", s.TaxPct(nil), s.TaxPct(&recipe.Price{}), s.TaxPct(own))
	}
	if s.Date() != day {
		t.Errorf("date %s", s.Date())
	}
}

// TestPriceForTarget: net price = portion cost ÷ target fraction, gross = net ×
// (1 + tax) (costing formulas of the standard texts).
func TestPriceForTarget(t *testing.T) {
	tests := []struct{ goods, target, tax, before, with string }{
		{"2.00", "20", "20", "10.00", "12.00"},
		{"2.134217", "18", "20", "11.856761", "14.228113"}, // 11.8567611…, 14.2281133…
		{"1.00", "33", "0", "3.030303", "3.030303"},
		{"1.00", "100", "7", "1.00", "1.07"},
		{"0", "20", "20", "0.00", "0.00"},
	}
	b := newBar(t)
	for _, tt := range tests {
		got, err := cost.PriceForTarget(b.money(tt.goods), b.dec(tt.target), b.dec(tt.tax))
		if err != nil || got.BeforeTax.String() != tt.before || got.WithTax.String() != tt.with {
			t.Errorf("%s at %s %%: %s, with tax %s, %v; want %s, %s", tt.goods, tt.target, got.BeforeTax, got.WithTax, err, tt.before, tt.with)
		}
	}
	for _, bad := range [][2]string{{"0", "20"}, {"-5", "20"}, {"100.01", "20"}, {"20", "-1"}} {
		if _, err := cost.PriceForTarget(b.money("1"), b.dec(bad[0]), b.dec(bad[1])); !errors.Is(err, domain.Invalid) {
			t.Errorf("target %s %%, tax %s %%: %v, want Invalid", bad[0], bad[1], err)
		}
	}
}

// TestTargetIsMet: a drink sold at the price for a target has that pour cost,
// as near as a millionth of the money allows.
func TestTargetIsMet(t *testing.T) {
	b := newBar(t)
	s := b.sheet(day)
	rapid.Check(t, func(t *rapid.T) {
		goods := money.Micros(rapid.Int64Range(100_000, 50_000_000).Draw(t, "goods"), "EUR") // 0.10 to 50
		pct := money.NewRatio(rapid.Int64Range(5, 100).Draw(t, "pct"), 1)
		target, err := pct.Rounded(0)
		if err != nil {
			t.Fatal(err)
		}
		price, err := cost.PriceForTarget(goods, target, s.TaxPct(nil))
		if err != nil {
			t.Fatal(err)
		}
		for basis, a := range map[recipe.TaxBasis]money.Amount{recipe.TaxExcluded: price.BeforeTax, recipe.TaxIncluded: price.WithTax} {
			m, err := s.Margin(&recipe.Price{Amount: a, Tax: basis}, goods)
			// A price of 0.10 or more that was quantised twice is off by at most
			// a millionth, which is 1e-5 of it, or 1e-3 points of 100 %.
			if err != nil || math.Abs(m.PourCostPct-target.Float()) > 1e-3 {
				t.Fatalf("%s at %s %% %s: pour cost %v %%, %v", goods, target, basis, m.PourCostPct, err)
			}
		}
	})
}
