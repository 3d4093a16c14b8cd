package wire

import (
	"strings"

	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// Pack is one way a component is sold, from one date on. Its price pays for
// count × size.
type Pack struct {
	// ID names the pack for edits; made by the server.
	ID   string   `json:"id,omitempty" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b23"`
	Size Quantity `json:"size" validate:"required"`
	// Count is how many of that size the price pays for.
	Count *int  `json:"count,omitempty" default:"1" example:"6"`
	Price Money `json:"price" validate:"required"`
	// Deposit is returnable: shown apart, never a cost.
	Deposit *Money `json:"deposit,omitempty"`
	// Tax says whether the price includes tax.
	Tax string `json:"tax,omitempty" validate:"oneof=excluded included" default:"excluded" example:"excluded"`
	// TaxPct is the rate inside a price that includes tax, when not the house's.
	TaxPct *string `json:"tax_pct,omitempty" format:"decimal" example:"20"`
	// ValidFrom is the first day the price is in force, in the house's time zone.
	ValidFrom string `json:"valid_from" validate:"required" format:"date" example:"2026-03-01"`
	Supplier  string `json:"supplier,omitempty" validate:"max=120" example:"Quay Wholesale"`
	// Preferred makes this the price that counts among those in force.
	Preferred bool `json:"preferred,omitempty" example:"true"`
	// GTIN is the trade item number (GTIN-8, -12, -13 or -14); its check digit is verified, and it is answered with 14 digits.
	GTIN string `json:"gtin,omitempty" example:"05012345678900"`
} // @name Pack

func (p *Pack) pack(env *Env, at string, r *Report) recipe.Pack {
	out := recipe.Pack{
		ID:        env.itemID(p.ID, at, r),
		Size:      p.Size.quantity(),
		Count:     1,
		Price:     p.Price.amount(at+"/price", r),
		Deposit:   p.Deposit.amountOrNil(at+"/deposit", r),
		Tax:       recipe.TaxBasis(p.Tax),
		TaxPct:    decimal(p.TaxPct, at+"/tax_pct", r),
		Supplier:  p.Supplier,
		Preferred: p.Preferred,
		GTIN:      gtin(p.GTIN, at+"/gtin", r),
	}
	if p.Count != nil {
		out.Count = *p.Count
	}
	if p.Tax == "" {
		out.Tax = recipe.TaxExcluded
	}
	if p.ValidFrom != "" {
		date, err := measure.ParseDate(p.ValidFrom)
		r.Check(at+"/valid_from", err)
		out.ValidFrom = date
	}
	return out
}

// Pack reads the body as one pack by itself.
func (p *Pack) Pack(env *Env, r *Report) recipe.Pack { return p.pack(env, "", r) }

// FromPack writes one pack.
func FromPack(p *recipe.Pack) Pack {
	count := p.Count
	return Pack{
		ID: string(p.ID), Size: fromQuantity(p.Size), Count: &count,
		Price: fromMoney(p.Price), Deposit: fromMoneyOrNil(p.Deposit),
		Tax: string(p.Tax), TaxPct: fromDecimal(p.TaxPct), ValidFrom: string(p.ValidFrom),
		Supplier: p.Supplier, Preferred: p.Preferred, GTIN: p.GTIN,
	}
}

// gtin reads a trade item number and verifies its check digit: from the right,
// the data digits weigh 3, 1, 3, 1 …, and
//
//	check = (10 − sum mod 10) mod 10
//
// (GS1, "How to calculate a check digit manually"). Shorter numbers are padded
// with zeros on the left to 14 digits, which leaves the check digit as it is.
func gtin(s, at string, r *Report) string {
	if s == "" {
		return ""
	}
	if strings.Trim(s, "0123456789") != "" || len(s) != 8 && len(s) != 12 && len(s) != 13 && len(s) != 14 {
		r.Add(at, "BAD_GTIN", "%q is not a GTIN; it has 8, 12, 13 or 14 digits and nothing else", clip(s))
		return ""
	}
	padded := strings.Repeat("0", 14-len(s)) + s
	sum := 0
	for i, c := range padded[:13] {
		digit := int(c - '0')
		if i%2 == 0 {
			digit *= 3
		}
		sum += digit
	}
	if want := (10 - sum%10) % 10; int(padded[13]-'0') != want {
		r.Add(at, "BAD_GTIN", "the check digit of %s should be %d; read the number again", s, want)
	}
	return padded
}
