package recipe

import (
	"servewright/domain"
	"servewright/domain/money"
)

// checkCurrency refuses a house currency that written prices are not in: a sum
// has one currency, and nobody may wake up to a menu without costs.
func (b *Book) checkCurrency(h *House) error {
	others := 0
	count := func(a *money.Amount) {
		if a != nil && a.Currency != h.Currency {
			others++
		}
	}
	for i := range b.comps {
		for j := range b.comps[i].Packs {
			p := &b.comps[i].Packs[j]
			count(&p.Price)
			count(p.Deposit)
		}
	}
	for i := range b.specs {
		if p := b.specs[i].Price; p != nil {
			count(&p.Amount)
		}
	}
	var bad domain.Faults
	if others > 0 {
		bad.Add("/currency", "CURRENCY_MIX", "%d prices are in another currency than %s; load the whole house with all its prices in %s at once, or take those prices out first",
			others, h.Currency, h.Currency)
	}
	return bad.Err()
}
