package cost_test

import (
	"strings"
	"testing"

	"servewright/domain/cost"
	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// TestEffectiveDates: which price counts on which day, at the edges.
func TestEffectiveDates(t *testing.T) {
	pack := func(id recipe.ID, from measure.Date, preferred bool) recipe.Pack {
		return recipe.Pack{ID: id, ValidFrom: from, Preferred: preferred}
	}
	history := []recipe.Pack{pack("b", "2026-03-01", false), pack("a", "2026-01-01", false), pack("c", "2026-06-01", false)}
	preferred := []recipe.Pack{pack("a", "2026-01-01", true), pack("b", "2026-03-01", false), pack("c", "2026-06-01", true)}
	tied := []recipe.Pack{pack("0198-2", "2026-01-01", false), pack("0198-9", "2026-01-01", false), pack("0198-5", "2026-01-01", false)}
	tests := []struct {
		name  string
		packs []recipe.Pack
		on    measure.Date
		want  recipe.ID // empty = none
	}{
		{"no packs", nil, "2026-03-01", ""},
		{"before the first", history, "2025-12-31", ""},
		{"the first day of the first", history, "2026-01-01", "a"},
		{"the day before the second", history, "2026-02-28", "a"},
		{"the first day of the second", history, "2026-03-01", "b"},
		{"long after the last", history, "2999-12-31", "c"},
		{"preferred beats later", preferred, "2026-03-01", "a"},
		{"the later preferred", preferred, "2026-06-01", "c"},
		{"preferred but not yet in force", preferred[1:], "2026-03-01", "b"},
		{"same day: the one written last", tied, "2026-01-01", "0198-9"},
	}
	for _, tt := range tests {
		got := recipe.ID("")
		if p := cost.InForce(tt.packs, tt.on); p != nil {
			got = p.ID
		}
		if got != tt.want {
			t.Errorf("%s: on %s pack %q counts, want %q", tt.name, tt.on, got, tt.want)
		}
	}
}

// TestPriceOnADate: the same drink on the day before and the day of a new
// price, and the reason when none is in force yet.
func TestPriceOnADate(t *testing.T) {
	b := newBar(t)
	older, newer := b.pack("20.00", 1, 1, measure.L), b.pack("24.00", 1, 1, measure.L)
	older.ValidFrom, newer.ValidFrom = "2026-01-15", "2026-04-01"
	b.buy("gin", newer, older)
	pour := line("gin", 50, measure.ML)
	want(t, "on the last day of the old price", b.spec("2026-03-31", pour).Total, "1.00")
	want(t, "on the first day of the new price", b.spec("2026-04-01", pour).Total, "1.20")
	total := b.spec("2026-01-14", pour)
	if len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, "no pack is in force on 2026-01-14; the next one is from 2026-01-15") {
		t.Errorf("the day before any price: %+v", total.Missing)
	}
}

// TestPackPrice: what a pack's price pays for, tax and deposit and all.
func TestPackPrice(t *testing.T) {
	tests := []struct {
		name  string
		pack  func(b *bar) recipe.Pack
		waste float64
		pour  recipe.Line
		want  string
	}{
		{"a bottle", func(b *bar) recipe.Pack { return b.pack("23.00", 1, 700, measure.ML) }, 0, line("x", 45, measure.ML), "1.478571"},
		{"a case of six", func(b *bar) recipe.Pack { return b.pack("138.00", 6, 700, measure.ML) }, 0, line("x", 45, measure.ML), "1.478571"},
		{"centilitres", func(b *bar) recipe.Pack { return b.pack("138.00", 6, 70, measure.CL) }, 0, line("x", 4.5, measure.CL), "1.478571"},
		{"a deposit is no cost", func(b *bar) recipe.Pack {
			p, deposit := b.pack("138.00", 6, 700, measure.ML), b.money("1.50")
			p.Deposit = &deposit
			return p
		}, 0, line("x", 45, measure.ML), "1.478571"},
		{"tax included, at the pack's rate", func(b *bar) recipe.Pack {
			p := b.pack("147.66", 6, 700, measure.ML) // 138.00 with 7 %
			p.Tax, p.TaxPct = recipe.TaxIncluded, b.decimal("7")
			return p
		}, 0, line("x", 45, measure.ML), "1.478571"},
		{"tax included, at the house's rate of 20 %", func(b *bar) recipe.Pack {
			p := b.pack("165.60", 6, 700, measure.ML)
			p.Tax = recipe.TaxIncluded
			return p
		}, 0, line("x", 45, measure.ML), "1.478571"},
		{"a rate beside a tax-excluded price says nothing", func(b *bar) recipe.Pack {
			p := b.pack("138.00", 6, 700, measure.ML)
			p.TaxPct = b.decimal("7")
			return p
		}, 0, line("x", 45, measure.ML), "1.478571"},
		{"tax included at 0 %", func(b *bar) recipe.Pack {
			p := b.pack("138.00", 6, 700, measure.ML)
			p.Tax, p.TaxPct = recipe.TaxIncluded, b.decimal("0")
			return p
		}, 0, line("x", 45, measure.ML), "1.478571"},
		{"5 % waste", func(b *bar) recipe.Pack { return b.pack("19.00", 1, 1, measure.L) }, 5, line("x", 50, measure.ML), "1.00"},
		{"US ounces", func(b *bar) recipe.Pack { return b.pack("29.5735295625", 1, 1, measure.L) }, 0, line("x", 1, measure.FlOzUS), "0.874594"},
		{"a tin of 400 g", func(b *bar) recipe.Pack { return b.pack("2.00", 1, 400, measure.G) }, 0, line("x", 30, measure.G), "0.15"},
		{"a price of 0 is a price", func(b *bar) recipe.Pack { return b.pack("0", 1, 1, measure.L) }, 0, line("x", 500, measure.ML), "0.00"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBar(t)
			b.buy("x", tt.pack(b)).WastePct = tt.waste
			want(t, "cost", b.spec(day, tt.pour).Total, tt.want)
		})
	}
}

// TestBarUnits: the house's own ounce, dash, drop and barspoon, and a dash of a
// component's own.
func TestBarUnits(t *testing.T) {
	b := newBar(t)
	b.house.Units = measure.BarUnits{Oz: 30, Dash: 0.92, Drop: 0.05, Barspoon: 5}
	b.buy("house dash", b.pack("100.00", 1, 1, measure.L))
	b.buy("own dash", b.pack("100.00", 1, 1, measure.L)).Dash = 0.6
	tests := []struct {
		pour recipe.Line
		want string
	}{
		{line("house dash", 1.5, measure.Oz), "4.50"}, {line("house dash", 2, measure.Dash), "0.184"}, {line("own dash", 2, measure.Dash), "0.12"},
		{line("house dash", 3, measure.Drop), "0.015"}, {line("house dash", 1, measure.Barspoon), "0.50"}, {line("own dash", 1, measure.Oz), "3.00"},
	}
	for _, tt := range tests {
		want(t, string(tt.pour.Component)+" in "+string(tt.pour.Amount.Unit), b.spec(day, tt.pour).Total, tt.want)
	}
}

// TestUnusablePacks: packs that no validation let through still never become a
// zero or a panic.
func TestUnusablePacks(t *testing.T) {
	tests := []struct {
		name string
		pack func(b *bar) recipe.Pack
		says string
	}{
		{"no size", func(b *bar) recipe.Pack { return b.pack("1", 1, 0, measure.ML) }, "no usable size"},
		{"no count", func(b *bar) recipe.Pack { return b.pack("1", 0, 1, measure.ML) }, "no usable size"},
		{"unknown unit", func(b *bar) recipe.Pack { return b.pack("1", 1, 1, "cup") }, "no usable size"},
		{"absurdly small", func(b *bar) recipe.Pack { return b.pack("1", 1, 1e-300, measure.ML) }, "no usable size"},
		{"negative", func(b *bar) recipe.Pack { return b.pack("1", 1, -1, measure.ML) }, "no usable size"},
		{"another currency", func(b *bar) recipe.Pack {
			p := b.pack("1", 1, 1, measure.L)
			p.Price.Currency = "USD"
			return p
		}, "give it in EUR"},
	}
	for _, tt := range tests {
		b := newBar(t)
		b.buy("x", tt.pack(b))
		total := b.spec(day, line("x", 10, measure.ML))
		if len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, tt.says) {
			t.Errorf("%s: missing %+v, want %q", tt.name, total.Missing, tt.says)
		}
	}
}

// TestCostBeyondMoney: a line or a sum that is a million billion or more is
// unknown, not wrong.
func TestCostBeyondMoney(t *testing.T) {
	b := newBar(t)
	b.buy("x", b.pack("999999999999", 1, 1, measure.ML)) // 10¹⁵ EUR/L, just below
	total := b.spec(day, line("x", 1e6, measure.ML), line("x", 0.5, measure.ML))
	if len(total.Missing) != 1 || !strings.Contains(total.Missing[0].Reason, "check the amounts") {
		t.Errorf("missing %+v", total.Missing)
	}
	want(t, "subtotal", &total.Subtotal, "499999999999.50")
	lines := make([]recipe.Line, 20)
	for i := range lines {
		lines[i] = line("x", 90, measure.ML) // 20 × 9·10¹³
	}
	if total := b.spec(day, lines...); total.Total != nil || len(total.Missing) != 1 {
		t.Errorf("a sum of 1.8·10¹⁵: %v, missing %+v", total.Total, total.Missing)
	}
}
