package cost_test

import (
	"testing"

	"servewright/domain/cost"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// All houses, suppliers and prices in these tests are invented unless a row
// names its source.

const (
	before = measure.Date("2026-02-28")
	day    = measure.Date("2026-03-01")
	later  = measure.Date("2026-09-01")
)

// bar gathers what a test writes down.
type bar struct {
	t     testing.TB
	house recipe.House
	comps []recipe.Component
	specs []recipe.Spec
}

func newBar(t testing.TB) *bar {
	b := &bar{t: t, house: recipe.DefaultHouse()}
	b.house.TaxPct = b.dec("20")
	return b
}

func (b *bar) dec(s string) money.Decimal {
	b.t.Helper()
	d, err := money.ParseDecimal(s)
	if err != nil {
		b.t.Fatal(err)
	}
	return d
}

func (b *bar) decimal(s string) *money.Decimal {
	d := b.dec(s)
	return &d
}

func (b *bar) money(s string) money.Amount {
	b.t.Helper()
	a, err := money.NewAmount(s, b.house.Currency)
	if err != nil {
		b.t.Fatal(err)
	}
	return a
}

// pack is count × amount unit for price, without tax, from day on.
func (b *bar) pack(price string, count int, amount float64, unit measure.Unit) recipe.Pack {
	return recipe.Pack{ID: "p", Price: b.money(price), Count: count, Size: measure.Quantity{Amount: amount, Unit: unit},
		Tax: recipe.TaxExcluded, ValidFrom: day}
}

// buy adds a bought component whose id is its name.
func (b *bar) buy(name string, packs ...recipe.Pack) *recipe.Component {
	return b.add(recipe.Component{Kind: recipe.Bought, Category: recipe.Other, Packs: packs}, name)
}

// make adds a house-made component with a measured yield.
func (b *bar) make(name string, yield measure.Quantity, lines ...recipe.Line) *recipe.Component {
	return b.add(recipe.Component{Kind: recipe.HouseMade, Category: recipe.Liqueur,
		Recipe: &recipe.Recipe{Lines: lines, Yield: recipe.Yield{Measured: &yield}}}, name)
}

func (b *bar) add(c recipe.Component, name string) *recipe.Component {
	c.ID, c.Name, c.Status = recipe.ID(name), name, recipe.Active
	b.comps = append(b.comps, c)
	return &b.comps[len(b.comps)-1] // good until the next add
}

func (b *bar) book() *recipe.Book {
	b.t.Helper()
	book, err := recipe.NewBook(b.house, b.comps, b.specs)
	if err != nil {
		b.t.Fatal(err)
	}
	return book
}

func (b *bar) sheet(on measure.Date) *cost.Sheet {
	b.t.Helper()
	return cost.On(b.book(), on)
}

// spec prices a drink of the given lines on a date.
func (b *bar) spec(on measure.Date, lines ...recipe.Line) cost.Total {
	b.t.Helper()
	s, sp := b.sheet(on), recipe.Spec{Lines: lines}
	t := s.Spec(&sp)
	checkTotal(b.t, s, &sp, t)
	return t
}

// batch works out a component on a date.
func (b *bar) batch(on measure.Date, name string) *cost.Batch {
	b.t.Helper()
	book := b.book()
	r, ok := book.Find(recipe.ID(name))
	if !ok {
		b.t.Fatalf("no component %s", name)
	}
	return cost.On(book, on).Batch(r)
}

func line(name string, amount float64, unit measure.Unit) recipe.Line {
	return recipe.Line{Component: recipe.ID(name), Amount: measure.Quantity{Amount: amount, Unit: unit}, Stage: recipe.Mix}
}

func ml(v float64) measure.Quantity { return measure.Quantity{Amount: v, Unit: measure.ML} }

// checkTotal holds what is true of every total: the priced lines sum to the
// subtotal to the last digit, the total is the subtotal or nil, the fast way
// agrees, and what has no price says why.
func checkTotal(t testing.TB, s *cost.Sheet, sp *recipe.Spec, total cost.Total) {
	t.Helper()
	sum := money.Amount{Currency: total.Subtotal.Currency}
	for _, l := range total.Lines {
		if l.Text == "" {
			t.Errorf("line %s has no text", l.Name)
		}
		if l.Cost == nil {
			continue
		}
		var err error
		if sum, err = sum.Plus(*l.Cost); err != nil {
			t.Fatal(err)
		}
	}
	if sum != total.Subtotal {
		t.Errorf("lines sum to %s, subtotal is %s", sum, total.Subtotal)
	}
	fast, ok := s.SpecTotal(sp)
	if fast != total.Subtotal || ok != (total.Total != nil) {
		t.Errorf("SpecTotal = %s, %t; Spec = %s, total %v", fast, ok, total.Subtotal, total.Total)
	}
	if (total.Total == nil) != (len(total.Missing) > 0) || total.Total != nil && *total.Total != total.Subtotal {
		t.Errorf("total %v with subtotal %s and missing %v", total.Total, total.Subtotal, total.Missing)
	}
	if total.Full == nil && len(total.Missing)+len(total.FullMissing) == 0 {
		t.Error("the full cost is unknown and nothing says why")
	}
	for _, m := range total.Missing {
		if len(m.Path) == 0 || m.Component == "" || m.Reason == "" {
			t.Errorf("missing says too little: %+v", m)
		}
	}
}

// want compares a known amount with its exact text.
func want(t testing.TB, what string, got *money.Amount, text string) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is unknown, want %s", what, text)
	} else if got.String() != text {
		t.Errorf("%s = %s, want %s", what, got, text)
	}
}

// wantRatio compares an exact price, rounded half to even for the eye.
func wantRatio(t testing.TB, what string, got *money.Ratio, places int, text string) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is unknown, want %s", what, text)
		return
	}
	if d, err := got.Rounded(places); err != nil || d.String() != text {
		t.Errorf("%s = %s, %v; want %s", what, d, err, text)
	}
}
