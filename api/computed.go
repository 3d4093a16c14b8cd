package api

import (
	"context"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain"
	"servewright/domain/cost"
	"servewright/domain/measure"
	"servewright/domain/recipe"
	"servewright/domain/serve"
	"servewright/domain/swap"
)

// calculation is the version of the formulas and constants behind every
// computed answer. Raise it when one of them changes, so that no client keeps an
// answer of the old ones as current.
const calculation = 1

// reading is what a computed answer is made from: one Book and one date.
type reading struct {
	book  *recipe.Book
	stamp int64
	date  measure.Date
	view  wire.View
	sheet *cost.Sheet
}

// read takes as_of and detail from the query and the Book from the store. Every
// fault of the query is known only then, as today depends on the house.
func (s *server) read(c echo.Context, q *query) (*reading, error) {
	book, stamp, err := s.store.Book(c.Request().Context())
	if err != nil {
		return nil, err
	}
	rd := &reading{book: book, stamp: stamp, date: q.date("as_of", s.now(), book.House())}
	short := q.word("detail", "short", "full") == "short"
	if err := q.err(); err != nil {
		return nil, err
	}
	if rd.book, err = s.ratesOn(c.Request().Context(), book, rd.date); err != nil {
		return nil, err
	}
	rd.view = wire.View{Book: rd.book, Short: short}
	rd.sheet = cost.On(rd.book, rd.date)
	return rd, nil
}

// ratesOn returns the Book with the house's rates as they stood at the end of a
// past date; today's and tomorrow's are those of now.
func (s *server) ratesOn(ctx context.Context, book *recipe.Book, date measure.Date) (*recipe.Book, error) {
	h := book.House()
	if date >= today(s.now(), h) {
		return book, nil
	}
	then, err := s.store.HouseBefore(ctx, endOf(date, h))
	if err != nil {
		return nil, err
	}
	return book.WithRates(&then.Value), nil
}

// etag hashes everything that the answer depends on.
func (rd *reading) etag(c echo.Context, q *query) string {
	return `"c` + shortHash([]byte(strconv.FormatInt(rd.stamp, 10)), []byte(rd.date), []byte(strconv.Itoa(calculation)),
		[]byte(c.Request().URL.Path), []byte(q.values.Encode()), []byte(mediaJSON)) + `"`
}

// answerComputed answers with what compute makes, or 304 without computing it.
func (s *server) answerComputed(c echo.Context, q *query, compute func(rd *reading) (any, error)) error {
	rd, err := s.read(c, q)
	if err != nil {
		return err
	}
	if same, err := unchanged(c, rd.etag(c, q)); same || err != nil {
		return err
	}
	out, err := compute(rd)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, out)
}

// withComponent is the reading with another component in the place of the one
// with its id: an earlier revision of it.
func (rd *reading) withComponent(c recipe.Component) (*reading, error) {
	list := []recipe.Component{c}
	for _, have := range rd.book.Components() {
		if have.ID != c.ID && (c.Code == "" || have.Code != c.Code) {
			list = append(list, have)
		}
	}
	book, err := recipe.NewBook(*rd.book.House(), list, rd.book.Specs())
	if err != nil {
		return nil, err
	}
	out := &reading{book: book, stamp: rd.stamp, date: rd.date, sheet: cost.On(book, rd.date)}
	out.view = wire.View{Book: book, Short: rd.view.Short}
	return out, nil
}

func (rd *reading) profile(r recipe.Ref) (wire.Profile, error) {
	p := serve.ProfileOf(rd.book, r)
	return rd.view.Profile(r, &p, rd.sheet.Batch(r))
}

// serve works out and costs a spec.
func (rd *reading) serve(sp *recipe.Spec) (wire.Serve, error) {
	result, err := serve.Make(rd.book, sp)
	if err != nil {
		return wire.Serve{}, err
	}
	made := wire.Made{Result: result, Cost: rd.sheet.Spec(sp)}
	if err := rd.price(&made, sp); err != nil {
		return wire.Serve{}, err
	}
	return rd.view.Serve(&made), nil
}

// price adds what the spec's price leaves over, and the price for the house's
// target.
func (rd *reading) price(m *wire.Made, sp *recipe.Spec) error {
	h := rd.book.House()
	if sp.Price != nil {
		before, err := rd.sheet.BeforeTax(sp.Price)
		if err != nil {
			return err
		}
		m.BeforeTax = &before
		if m.Cost.Total != nil && m.Margin == nil {
			margin, err := rd.sheet.Margin(sp.Price, *m.Cost.Total)
			if err != nil {
				return err
			}
			m.Margin = &margin
		}
	}
	if h.TargetPourPct == nil || m.Cost.Total == nil || h.TargetPourPct.Sign() <= 0 {
		return nil
	}
	target, err := cost.PriceForTarget(*m.Cost.Total, *h.TargetPourPct, rd.sheet.TaxPct(sp.Price))
	m.Target = &target
	return err
}

// made brings one side of a swap to the shape that a serve is written from.
func (rd *reading) made(side *swap.Made, sp *recipe.Spec) (*wire.Made, error) {
	m := &wire.Made{Result: side.Result, Cost: side.Cost, Margin: side.Margin}
	return m, rd.price(m, sp)
}

// component finds the component that the path names.
func (rd *reading) component(ref string) (recipe.Ref, error) {
	r, ok := wire.FindComponent(rd.book, ref)
	if !ok {
		return 0, domain.Errorf(domain.NotFound, "there is no component %q; name it by its id or as code:X", clip(ref))
	}
	return r, nil
}

// spec finds the spec that the path names.
func (rd *reading) spec(ref string) (*recipe.Spec, error) {
	sp, ok := wire.FindSpec(rd.book, ref)
	if !ok {
		return nil, domain.Errorf(domain.NotFound, "there is no spec %q; name it by its id or as code:X", clip(ref))
	}
	return sp, nil
}
