package cost

import (
	"slices"

	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// Line is what one line of a spec or a recipe costs.
type Line struct {
	Component recipe.ID
	Name      string
	Amount    measure.Quantity // as written
	AmountML  *float64         // mL at 20 °C; nil for what has no volume

	PricePer       *money.Ratio // exact, per Per; nil when unknown
	Per            string       // "L", "kg" or "piece": how the line counts
	PricePerAmount money.Amount // PricePer quantised to a millionth, for print
	PriceText      string       // where the price comes from, such as "138.00 EUR ÷ (6 × 700 mL)"

	Cost *money.Amount // nil = unknown
	Text string        // such as "45 mL × 32.857143 EUR/L = 1.478571 EUR"; the reason when unknown
}

// Total is what a list of lines costs.
type Total struct {
	Total    *money.Amount // goods; nil when a line is missing
	Subtotal money.Amount  // the sum of the lines that have a price
	Missing  []Missing     // what has none
	Lines    []Line        // in the order written

	Full        *money.Amount // with labour, energy and packaging; nil when unknown
	FullMissing []Missing     // why, when that is not in Missing already
}

// SpecTotal returns what the goods of a spec cost and whether all of them are
// priced; when they are not, the sum is the priced subtotal. It equals the
// Subtotal of [Sheet.Spec] to the last digit, and allocates nothing once the
// components are worked out and the amounts fit 64 bits.
func (s *Sheet) SpecTotal(sp *recipe.Spec) (sum money.Amount, ok bool) {
	ok = true
	micros, long := int64(0), s.nothing()
	for i := range sp.Lines {
		r, found := s.book.Of(&sp.Lines[i])
		if !found {
			ok = false
			continue
		}
		n, fast := s.goods.micros(sp.Lines[i].Amount, r)
		if next := micros + n; fast && (next < micros) == (n < 0) {
			micros = next
			continue
		}
		ok = s.addLong(&long, sp.Lines[i].Amount, r) && ok
	}
	sum, err := money.Micros(micros, s.currency).Plus(long)
	if err != nil { // more money than there is: line by line, as far as it goes
		sum, _ = s.goods.sum(sp.Lines, s.refs(sp))
	}
	return sum, ok && err == nil
}

// addLong adds what a line costs the exact way.
func (s *Sheet) addLong(sum *money.Amount, q measure.Quantity, r recipe.Ref) bool {
	if _, ok := s.goods.perUnit(r, s.size(q.Unit, s.goods.of(r)).dim); !ok {
		return false
	}
	a, missing := s.goods.cost(q, r)
	next, err := sum.Plus(a)
	if len(missing) > 0 || err != nil {
		return false
	}
	*sum = next
	return true
}

// Spec returns what a spec costs, line by line.
func (s *Sheet) Spec(sp *recipe.Spec) Total {
	refs := s.refs(sp)
	t := s.goods.lines(sp.Lines, refs)
	sum, missing := s.full.sum(sp.Lines, refs)
	t.setFull(sum, missing)
	return t
}

// none stands for a component that is not in the Book.
const none recipe.Ref = -1

// refs returns what each line of a spec pours.
func (s *Sheet) refs(sp *recipe.Spec) []recipe.Ref {
	refs := make([]recipe.Ref, len(sp.Lines))
	for i := range sp.Lines {
		r, ok := s.book.Of(&sp.Lines[i])
		if !ok {
			r = none
		}
		refs[i] = r
	}
	return refs
}

// setFull records the full cost, or what it lacks beyond the goods.
func (t *Total) setFull(sum money.Amount, missing []Missing) {
	if len(missing) == 0 {
		t.Full = &sum
		return
	}
	t.FullMissing = slices.DeleteFunc(slices.Clone(missing), func(m Missing) bool { return m.in(t.Missing) })
}

// sum adds up lines without their arithmetic.
func (l *ledger) sum(lines []recipe.Line, refs []recipe.Ref) (money.Amount, []Missing) {
	sum := l.sheet.nothing()
	var missing []Missing
	for i := range lines {
		if refs[i] == none {
			missing = unique(missing, gone(&lines[i]))
			continue
		}
		a, lacking := l.cost(lines[i].Amount, refs[i])
		next, err := sum.Plus(a)
		if len(lacking) == 0 && err != nil {
			lacking = lack(l.sheet.book.Component(refs[i]), "%v", err)
		}
		if missing = unique(missing, lacking); len(lacking) == 0 {
			sum = next
		}
	}
	return sum, missing
}

// gone says that a line points at nothing.
func gone(l *recipe.Line) []Missing {
	return []Missing{{Path: []string{string(l.Component)}, Component: l.Component, Reason: "there is no such component; create it, or point the line at another"}}
}

// lines prices lines one by one.
func (l *ledger) lines(lines []recipe.Line, refs []recipe.Ref) Total {
	t := Total{Subtotal: l.sheet.nothing(), Lines: make([]Line, len(lines))}
	for i := range lines {
		var lacking []Missing
		if t.Lines[i], lacking = l.line(&lines[i], refs[i]); len(lacking) == 0 {
			next, err := t.Subtotal.Plus(*t.Lines[i].Cost)
			if err == nil {
				t.Subtotal = next
				continue
			}
			lacking = lack(l.sheet.book.Component(refs[i]), "%v", err)
			t.Lines[i].Cost, t.Lines[i].Text = nil, noPriceText(lacking)
		}
		t.Missing = unique(t.Missing, lacking)
	}
	if len(t.Missing) == 0 {
		sum := t.Subtotal
		t.Total = &sum
	}
	return t
}

// line prices one line and writes down the arithmetic.
func (l *ledger) line(w *recipe.Line, r recipe.Ref) (Line, []Missing) {
	out := Line{Component: w.Component, Amount: w.Amount}
	if r == none {
		lacking := gone(w)
		out.Text = noPriceText(lacking)
		return out, lacking
	}
	b := l.sheet.book
	c := b.Component(r)
	out.Component, out.Name = c.ID, c.Name
	if ml, ok := b.Millilitres(w.Amount, r); ok {
		out.AmountML = &ml
	}
	z := l.sheet.size(w.Amount.Unit, l.of(r))
	out.Per = per[z.dim].name
	cost, lacking := l.cost(w.Amount, r)
	if len(lacking) > 0 {
		out.Text = noPriceText(lacking)
		return out, lacking
	}
	u, _ := l.perUnit(r, z.dim)
	each := u.ratio.Times(per[z.dim].many)
	out.PricePer, out.Cost = &each, &cost
	out.PricePerAmount, _ = each.Amount(l.sheet.currency)
	out.PriceText = l.origin(r, z.dim)
	out.Text = arithmetic(w.Amount, z, out.PricePerAmount, cost)
	return out, nil
}
