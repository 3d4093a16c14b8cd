package main

import (
	"fmt"
	"io"
	"strings"

	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/serve"
	"servewright/domain/swap"
)

// The columns of the table: one for the drink, five for what changes.
const (
	nameWidth  = 20
	cellWidth  = 16
	tableWidth = nameWidth + 5*cellWidth // 100
)

// report prints what a swap does to a menu, for a terminal of 100 columns
// without colour.
type report struct {
	w        io.Writer
	c        *swap.Comparison
	date     measure.Date
	currency money.Currency
	drinks   []swap.Drink // those that can be made with the substitute
	unmade   []swap.Drink
}

// printSwap works out every drink of c on both sides and prints it.
func printSwap(w io.Writer, c *swap.Comparison, date measure.Date) error {
	r := &report{w: w, c: c, date: date, currency: c.Before.Book.House().Currency}
	for i := range c.Specs {
		d, err := c.Drink(i)
		switch {
		case err != nil:
			return err
		case d.Unmade != nil:
			r.unmade = append(r.unmade, d)
		default:
			r.drinks = append(r.drinks, d)
		}
	}
	totals, err := c.Totals()
	if err != nil {
		return err
	}
	r.heading()
	r.table()
	r.sums(&totals)
	r.words()
	return nil
}

func (r *report) say(format string, args ...any) { fmt.Fprintf(r.w, format, args...) }

func (r *report) heading() {
	r.say("%s: one swap across the menu, at the prices of %s\n\n", r.c.Before.Book.House().Name, r.date)
	currency := string(r.currency)
	r.litre("", "", "strength", "sugar", "goods", "full cost")
	r.litre("", "one litre", "% vol", "g", currency, currency)
	r.rule()
	r.side("out", &r.c.Before, r.c.From)
	r.side("in", &r.c.After, r.c.To)
	r.say("\n")
}

// side describes a component: what is in a litre of it and what that costs.
func (r *report) side(way string, s *swap.Side, ref recipe.Ref) {
	mix, batch := s.Book.Contents(ref).PerG, s.Sheet.Batch(ref)
	sugar := 1000 * mix.SugarG() / float64(mix.Volume())
	r.litre(way, batch.Name, fmt.Sprintf("%.1f", mix.ABV().Pct()), fmt.Sprintf("%.0f", sugar), r.price(batch.PerL), r.price(batch.FullPerL))
}

func (r *report) litre(way, name, strength, sugar, goods, full string) {
	r.say("%s\n", strings.TrimRight(fmt.Sprintf("%-5s%-43s%12s%12s%14s%14s", way, name, strength, sugar, goods, full), " "))
}

func (r *report) rule() { r.say("%s\n", strings.Repeat("─", tableWidth)) }

func (r *report) price(perLitre *money.Ratio) string {
	if perLitre == nil {
		return "unknown"
	}
	a, err := perLitre.Amount(r.currency)
	if err != nil {
		return "too large"
	}
	return printed(a)
}

// printed writes an amount in the currency's minor unit, rounded half up as on
// a till receipt.
func printed(a money.Amount) string {
	return a.RoundedHalfUp(a.Currency.MinorUnits()).StringFixed()
}

func (r *report) table() {
	r.row("", "strength", "dilution", "sugar", "cost", "gross profit")
	r.row("one drink", "% vol", "% of start", "g", string(r.currency), "%")
	r.rule()
	for i := range r.drinks {
		d := &r.drinks[i]
		r.row(d.Spec.Name, figure(d, serve.ServedABV, 100), figure(d, serve.DilutionOfStart, 100), figure(d, serve.SugarG, 1),
			costs(d), profits(d))
	}
}

func (r *report) row(name string, cells ...string) {
	if long := []rune(name); len(long) > nameWidth {
		name = string(long[:nameWidth-1]) + "…"
	}
	line := fmt.Sprintf("%-*s", nameWidth, name)
	for _, c := range cells {
		line += fmt.Sprintf("%*s", cellWidth, c)
	}
	r.say("%s\n", strings.TrimRight(line, " "))
}

// pair writes one cell. The mark says that measuring noise cannot explain the
// change.
func pair(was, is, mark string) string { return was + " → " + is + mark }

func figure(d *swap.Drink, f serve.Figure, scale float64) string {
	mark := " "
	if d.Change[f].BeyondBand {
		mark = "*"
	}
	write := func(m *swap.Made) string { return fmt.Sprintf("%.1f", scale*m.Result.Figures[f]) }
	return pair(write(&d.Before), fmt.Sprintf("%4s", write(&d.After)), mark)
}

func costs(d *swap.Drink) string {
	write := func(m *swap.Made) string {
		if m.Cost.Total == nil {
			return "?"
		}
		return printed(*m.Cost.Total)
	}
	return pair(write(&d.Before), write(&d.After), "")
}

func profits(d *swap.Drink) string {
	write := func(m *swap.Made) string {
		if m.Margin == nil || !m.Margin.Pct {
			return "?"
		}
		return fmt.Sprintf("%.1f", m.Margin.GrossProfitPct)
	}
	return pair(write(&d.Before), write(&d.After), "")
}
