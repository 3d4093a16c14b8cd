package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"servewright/domain"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
	"servewright/domain/serve"
	"servewright/domain/swap"
)

// sums closes the table: one of each drink on both sides.
func (r *report) sums(t *swap.Totals) {
	r.rule()
	was, is := &t.Before, &t.After
	sugar := pair(fmt.Sprintf("%.1f", was.SugarG), fmt.Sprintf("%.1f", is.SugarG), " ")
	cost, profit := "?", "?"
	if was.Goods != nil && is.Goods != nil {
		cost = pair(printed(*was.Goods), printed(*is.Goods), "")
	}
	if was.Revenue != nil && is.Revenue != nil {
		profit = pair(profitPct(was), profitPct(is), "")
	}
	r.row(fmt.Sprintf("one of each, %d", t.Specs-t.Unmade), "", "", sugar, cost, profit)
	r.say("* more than measuring noise can explain: labels, pours and ice taken together\n")
	r.say("  cost and profit count goods; full cost adds labour, energy and packaging\n\n")
	if was.Goods != nil && is.Goods != nil {
		r.saving(*was.Goods, *is.Goods)
	}
}

// profitPct is the gross profit of all drinks together, % of their price
// before tax.
func profitPct(s *swap.Sums) string {
	cost, revenue := s.RevenueCost.Ratio(), s.Revenue.Ratio()
	return fmt.Sprintf("%.1f", 100*(1-cost.Over(revenue).Float()))
}

// saving says what the swap saves, from the two sums as they are printed, so
// that a reader can subtract them.
func (r *report) saving(was, is money.Amount) {
	places := r.currency.MinorUnits()
	was, is = was.RoundedHalfUp(places), is.RoundedHalfUp(places)
	saved, err := was.Minus(is)
	if err != nil || was.IsZero() {
		return
	}
	verb := "saves"
	if saved.Sign() < 0 {
		verb, saved = "costs", saved.Neg()
	}
	pct := 100 * saved.Ratio().Over(was.Ratio()).Float()
	text := fmt.Sprintf("the swap %s %s %s on one of each, %.1f %% of what their goods cost.", verb, printed(saved), r.currency, pct)
	r.item("Money", text+r.hindsight())
}

// hindsight says what the same swap saved at the prices before the bought
// component's last change of price, if it had one.
func (r *report) hindsight() string {
	pack := r.c.Before.Sheet.Batch(r.c.From).Pack
	if pack == nil {
		return ""
	}
	day, err := time.Parse(time.DateOnly, string(pack.ValidFrom))
	if err != nil {
		return ""
	}
	eve := measure.Date(day.AddDate(0, 0, -1).Format(time.DateOnly))
	t, err := swap.Across(r.c.Before.Book, eve, r.c.From, r.c.To, r.c.Specs).Totals()
	if err != nil || t.Unpriced > 0 || t.Before.Goods == nil || t.After.Goods == nil {
		return ""
	}
	saved, err := t.Before.Goods.Minus(*t.After.Goods)
	if err != nil {
		return ""
	}
	return fmt.Sprintf(" At the prices of %s it would have been %s %s.", eve, printed(saved), r.currency)
}

// words says what the numbers do not.
func (r *report) words() {
	r.item("Taste", r.taste())
	r.item("Allergens", r.allergens())
	for _, d := range r.unmade {
		r.item("Not made", fmt.Sprintf("%s: %v", d.Spec.Name, d.Unmade))
	}
	for _, c := range r.cautions() {
		r.item("Caution", c)
	}
	for _, u := range r.unpriced() {
		r.item("Unknown", u)
	}
	r.item("Mind", "every figure is an estimate until it is measured. Making or infusing liquor for sale may need a licence: "+
		"follow local food-safety and licensing law. None of this says how much to drink.")
}

// tasted are the figures whose change a guest might taste.
var tasted = []struct {
	figure serve.Figure
	word   string
}{{serve.ServedABV, "strength"}, {serve.SugarPerL, "sweetness"}, {serve.AcidPerL, "sourness"}}

// taste says where a guest would notice the change side by side.
func (r *report) taste() string {
	likely, perhaps := r.noticed(swap.Likely), r.noticed(swap.CannotSay)
	if likely == "" && perhaps == "" {
		return "side by side, nobody is likely to notice any of it " + thresholds
	}
	return fmt.Sprintf("side by side, a guest would notice: %s; perhaps: %s %s", cmp.Or(likely, "nothing"), cmp.Or(perhaps, "nothing"), thresholds)
}

const thresholds = "(published thresholds, of simpler drinks)."

// noticed lists what has the verdict n, and in which drinks.
func (r *report) noticed(n swap.Notice) string {
	var parts []string
	for _, t := range tasted {
		var names []string
		for i := range r.drinks {
			if c := &r.drinks[i].Change[t.figure]; c.By != 0 && c.Noticed == n {
				names = append(names, r.drinks[i].Spec.Name)
			}
		}
		if len(names) > 0 {
			parts = append(parts, t.word+" in "+strings.Join(names, ", "))
		}
	}
	return strings.Join(parts, "; ")
}

func (r *report) allergens() string {
	gained := r.where(func(d *swap.Drink) safety.Set { return d.Gained })
	lost := r.where(func(d *swap.Drink) safety.Set { return d.Lost })
	text := "gained: " + gained + "; lost: " + lost + "."
	var names []string
	for i := range r.drinks {
		for _, id := range r.drinks[i].After.Result.Unconfirmed {
			if ref, ok := r.c.After.Book.Find(id); ok {
				names = append(names, r.c.After.Book.Component(ref).Name)
			}
		}
	}
	if slices.Sort(names); len(names) > 0 {
		text += " Nobody has declared those of " + strings.Join(slices.Compact(names), ", ") + "."
	}
	return text
}

// where lists the allergens of a set that each drink has, and in which drinks.
func (r *report) where(of func(*swap.Drink) safety.Set) string {
	var parts []string
	for a := range safety.Allergens {
		var names []string
		for i := range r.drinks {
			if of(&r.drinks[i]).Has(a) {
				names = append(names, r.drinks[i].Spec.Name)
			}
		}
		switch {
		case len(names) == 0:
		case len(names) == len(r.drinks):
			parts = append(parts, fmt.Sprintf("%s in all %d", a, len(names)))
		default:
			parts = append(parts, fmt.Sprintf("%s in %s", a, strings.Join(names, ", ")))
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, "; ")
}

// cautions lists what is worth reading before the swap goes on the menu: of
// the swap, of the substitute, and the warnings of the drinks.
func (r *report) cautions() []string {
	var out []string
	list := append(slices.Clone(r.c.Cautions), r.c.After.Book.Contents(r.c.To).Cautions...)
	for _, k := range list {
		out = append(out, sentence(k.Detail))
	}
	for i := range r.drinks {
		d := &r.drinks[i]
		for _, k := range d.After.Result.Cautions {
			if k.Severity != domain.Note {
				out = append(out, d.Spec.Name+": "+sentence(k.Detail))
			}
		}
	}
	return out
}

func sentence(s string) string { return strings.TrimSuffix(s, ".") + "." }

// unpriced names the drinks of the whole menu whose cost nobody knows.
func (r *report) unpriced() []string {
	var out []string
	specs := r.c.After.Book.Specs()
	for i := range specs {
		total := r.c.After.Sheet.Spec(&specs[i])
		if total.Total != nil {
			continue
		}
		var names []string
		for _, m := range total.Missing {
			names = append(names, strings.Join(m.Path, " > "))
		}
		out = append(out, fmt.Sprintf("the cost of %s, because %s has no price; the rest of it comes to %s %s.",
			specs[i].Name, strings.Join(names, ", "), printed(total.Subtotal), r.currency))
	}
	return out
}

const labelWidth = 11

// item prints a word and its text, wrapped to the table's width.
func (r *report) item(label, text string) {
	line := fmt.Sprintf("%-*s", labelWidth, label)
	used := labelWidth
	for i, word := range strings.Fields(text) {
		n := len([]rune(word))
		if i > 0 && used+1+n > tableWidth {
			r.say("%s\n", line)
			line, used = strings.Repeat(" ", labelWidth), labelWidth
		} else if i > 0 {
			line, used = line+" ", used+1
		}
		line, used = line+word, used+n
	}
	r.say("%s\n", line)
}

// component finds a component of the demonstration house, which has it.
func component(b *recipe.Book, code string) (recipe.Ref, error) {
	ref, ok := b.ComponentByCode(code)
	if !ok {
		return 0, domain.Errorf(domain.NotFound, "no component has the code %s", code)
	}
	return ref, nil
}
