package cost

import (
	"strconv"
	"strings"

	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
)

// number writes a figure as a person typed it.
func number(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

func quantity(q measure.Quantity) string { return number(q.Amount) + " " + string(q.Unit) }

// arithmetic writes a line as a person can follow it: the amount, in the unit
// it was written and where that is not the price's also in mL or g, times the
// price, is the cost.
func arithmetic(q measure.Quantity, z size, price, cost money.Amount) string {
	text := quantity(q)
	if plain := q.Unit == measure.L || q.Unit == measure.KG || z.of.Cmp(one) == 0; !plain {
		if d, err := money.RatioOf(q.Amount).Times(z.of).Rounded(6); err == nil {
			text += " (" + d.String() + " " + per[z.dim].base + ")"
		}
	}
	return text + " × " + price.Text() + "/" + per[z.dim].name + " = " + cost.Text()
}

// noPriceText says in the place of the arithmetic why there is none: the way
// down to the first unpriced thing, and what to do about it.
func noPriceText(lacking []Missing) string {
	return "no price: " + strings.Join(lacking[0].Path, " → ") + ": " + lacking[0].Reason
}

// origin writes where the price of r comes from.
func (l *ledger) origin(r recipe.Ref, dim measure.Dimension) string {
	c := l.sheet.book.Component(r)
	u, _ := l.perUnit(r, dim)
	var text strings.Builder
	if c.Kind == recipe.HouseMade {
		l.batchOrigin(&text, r, c, dim, u.from)
	} else {
		l.packOrigin(&text, InForce(c.Packs, l.sheet.date))
	}
	if c.WastePct != 0 {
		text.WriteString(" ÷ (1 − " + number(c.WastePct) + " % waste)")
	}
	if u.from != nil {
		u.from.write(&text, l.sheet.book, r)
	}
	return text.String()
}

// packOrigin writes "138.00 EUR ÷ 1.2 (tax) ÷ (6 × 700 mL)".
func (l *ledger) packOrigin(text *strings.Builder, p *recipe.Pack) {
	text.WriteString(p.Price.Text())
	if tax := l.sheet.taxFactor(p.Tax, p.TaxPct); tax.Cmp(one) != 0 {
		if d, err := tax.Rounded(19); err == nil {
			text.WriteString(" ÷ " + d.String() + " (tax)")
		}
	}
	if p.Count == 1 {
		text.WriteString(" ÷ " + quantity(p.Size))
		return
	}
	text.WriteString(" ÷ (" + strconv.Itoa(p.Count) + " × " + quantity(p.Size) + ")")
}

// batchOrigin writes "12.345678 EUR a batch ÷ 930 mL".
func (l *ledger) batchOrigin(text *strings.Builder, r recipe.Ref, c *recipe.Component, dim measure.Dimension, by *route) {
	total, _ := l.batch(r, c)
	in := l.sheet.book.Contents(r)
	if by != nil {
		dim = by.from
	}
	left := float64(in.YieldML)
	if dim == measure.OfMass {
		left = float64(in.YieldG)
	}
	d, _ := money.RatioOf(left).Rounded(6)
	text.WriteString(total.Text() + " a batch ÷ " + d.String() + " " + per[dim].base)
}

// write appends " × 1.33 g/mL" and the like.
func (rt *route) write(text *strings.Builder, b *recipe.Book, r recipe.Ref) {
	put := func(sign string, list []fact) {
		for _, f := range list {
			if d, err := f.of(b, r).Rounded(19); err == nil {
				text.WriteString(sign + d.String() + " " + factUnits[f])
			}
		}
	}
	put(" × ", rt.times)
	put(" ÷ ", rt.over)
}
