// Package swap puts one component in another's place and says what that does
// to every drink that pours it.
//
// The exchange is made in every line of specs and recipes, amount and unit
// kept, except inside anything that the substitute itself is made of. Before
// and after are made and costed the same way, so that a difference is the
// swap's alone.
package swap

import (
	"fmt"

	"servewright/domain"
	"servewright/domain/cost"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
	"servewright/domain/serve"
)

// Comparison is a swap across a menu. It is not safe for concurrent use.
type Comparison struct {
	From, To recipe.Ref
	Specs    []*recipe.Spec // in the order asked for
	Before   Side
	After    Side
	Cautions []domain.Caution
}

// Side is a menu before or after the swap: a Book and its prices.
type Side struct {
	Book  *recipe.Book
	Sheet *cost.Sheet
}

// Across compares from with to over the given specs, or, when specs is nil, over
// every spec that reaches from, through house-made components too. Prices are
// those in force on date.
func Across(b *recipe.Book, date measure.Date, from, to recipe.Ref, specs []*recipe.Spec) *Comparison {
	if specs == nil {
		for _, i := range b.Reaching(from) {
			specs = append(specs, &b.Specs()[i])
		}
	}
	after := b.Swapped(from, to)
	c := &Comparison{From: from, To: to, Specs: specs,
		Before: Side{b, cost.On(b, date)}, After: Side{after, cost.On(after, date)}}
	c.cautions()
	return c
}

// cautions names the house-made components of the compared specs whose measured
// yield the swap keeps.
func (c *Comparison) cautions() {
	b := c.Before.Book
	poured := c.poured()
	for _, r := range c.After.Book.Remade() {
		comp := b.Component(r)
		if !poured[r] || comp.Recipe.Yield.Measured == nil {
			continue
		}
		c.Cautions = domain.AddCaution(c.Cautions, domain.Caution{
			Code: "YIELD_KEPT", Severity: domain.Note,
			Detail: fmt.Sprintf("%s was measured as made with %s; its yield is kept as it stands, so measure it again once it is made with %s",
				comp.Name, b.Component(c.From).Name, b.Component(c.To).Name),
			Source: "the component's measured yield",
		})
	}
	if b.Component(c.To).Status == recipe.Delisted {
		c.Cautions = domain.AddCaution(c.Cautions, domain.Caution{
			Code: "SUBSTITUTE_DELISTED", Severity: domain.Warning,
			Detail: b.Component(c.To).Name + " is delisted",
			Source: "the component's status",
		})
	}
}

// poured is every component that a compared spec reaches before the swap.
func (c *Comparison) poured() map[recipe.Ref]bool {
	seen := map[recipe.Ref]bool{}
	var visit func(r recipe.Ref)
	visit = func(r recipe.Ref) {
		if seen[r] {
			return
		}
		seen[r] = true
		for _, p := range c.Before.Book.Parts(r) {
			visit(p)
		}
	}
	for _, sp := range c.Specs {
		for i := range sp.Lines {
			if r, ok := c.Before.Book.Of(&sp.Lines[i]); ok {
				visit(r)
			}
		}
	}
	return seen
}

// Totals are sums over all compared specs, one serve of each.
type Totals struct {
	Specs    int
	Unmade   int // specs that cannot be made as they are written, on either side
	Unpriced int // specs left out of the sums of money, because a price is missing on either side
	Before   Sums
	After    Sums
	Gained   safety.Set // allergens that some spec contains only after
	Lost     safety.Set // allergens that some spec contains only before
}

// Sums are totals of one side. Money is nil when no spec could be priced.
type Sums struct {
	Goods       *money.Amount // goods cost of the priced specs
	Revenue     *money.Amount // price before tax of the specs that have cost and price
	RevenueCost *money.Amount // goods cost of those
	AlcoholG    float64
	SugarG      float64
	VolumeML    float64
	EnergyKcal  float64
}

// Totals makes and costs every spec on both sides.
func (c *Comparison) Totals() (Totals, error) {
	t := Totals{Specs: len(c.Specs)}
	for _, sp := range c.Specs {
		before, err := serve.Plain(c.Before.Book, sp)
		if err != nil {
			t.Unmade++
			continue
		}
		after, err := serve.Plain(c.After.Book, sp)
		if err != nil {
			t.Unmade++
			continue
		}
		t.Before.pour(&before)
		t.After.pour(&after)
		t.Gained |= after.Contains &^ before.Contains
		t.Lost |= before.Contains &^ after.Contains
		if err := c.price(&t, sp); err != nil {
			return Totals{}, err
		}
	}
	return t, nil
}

func (s *Sums) pour(g *serve.Glass) {
	s.AlcoholG += g.Figures[serve.AlcoholG]
	s.SugarG += g.Figures[serve.SugarG]
	s.VolumeML += g.Figures[serve.ServedVolume]
	s.EnergyKcal += g.Figures[serve.EnergyKcal]
}

// price adds the money of one spec to both sides, or to neither.
func (c *Comparison) price(t *Totals, sp *recipe.Spec) error {
	before, ok1 := c.Before.Sheet.SpecTotal(sp)
	after, ok2 := c.After.Sheet.SpecTotal(sp)
	if !ok1 || !ok2 {
		t.Unpriced++
		return nil
	}
	var revenue *money.Amount
	if sp.Price != nil {
		net, err := c.Before.Sheet.BeforeTax(sp.Price)
		if err != nil {
			return err
		}
		revenue = &net
	}
	if err := t.Before.earn(before, revenue); err != nil {
		return err
	}
	return t.After.earn(after, revenue)
}

func (s *Sums) earn(goods money.Amount, revenue *money.Amount) error {
	if err := add(&s.Goods, goods); err != nil || revenue == nil {
		return err
	}
	if err := add(&s.RevenueCost, goods); err != nil {
		return err
	}
	return add(&s.Revenue, *revenue)
}

func add(sum **money.Amount, a money.Amount) error {
	if *sum == nil {
		first := a // so that only this one is moved to the heap
		*sum = &first
		return nil
	}
	total, err := (*sum).Plus(a)
	**sum = total
	return err
}
