package wire

import (
	"servewright/domain/money"
)

// Money is an exact amount of money in one currency.
type Money struct {
	// Amount is a plain decimal in a string, so that no reader rounds it.
	Amount string `json:"amount" validate:"required" format:"decimal" example:"138.00"`
	// Currency is an ISO 4217 code. A house has one.
	Currency string `json:"currency" validate:"required" example:"EUR"`
} // @name Money

func fromMoney(a money.Amount) Money {
	return Money{Amount: a.String(), Currency: string(a.Currency)}
}

func fromMoneyOrNil(a *money.Amount) *Money {
	if a == nil {
		return nil
	}
	m := fromMoney(*a)
	return &m
}

// amount reads the money that stands at pointer.
func (m *Money) amount(at string, r *Report) money.Amount {
	a, err := money.NewAmount(m.Amount, money.Currency(m.Currency))
	if err != nil {
		r.Check(at, err)
		r.block(at)
	}
	return a
}

// amountOrNil reads money that may be left out.
func (m *Money) amountOrNil(at string, r *Report) *money.Amount {
	if m == nil {
		return nil
	}
	a := m.amount(at, r)
	return &a
}

// decimal reads an exact decimal that may be left out.
func decimal(s *string, at string, r *Report) *money.Decimal {
	if s == nil {
		return nil
	}
	d, err := money.ParseDecimal(*s)
	r.Check(at, err)
	return &d
}

func fromDecimal(d *money.Decimal) *string {
	if d == nil {
		return nil
	}
	s := d.String()
	return &s
}
