package api

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"servewright/api/problem"
	"servewright/api/wire"
	"servewright/domain/recipe"
	"servewright/domain/swap"
)

// defaultSwapLimit is how many specs a page of a swap has when it is not said.
const defaultSwapLimit = 100

// postSwap compares one component in another's place across the menu.
//
//	@Summary		Put one component in another's place
//	@Description	Exchanges from for to in every line of specs and recipes, amount and unit kept, and answers what that does to each spec: strength, dilution, sugar, cost, allergens. Stores nothing. A change beyond its band is more than measuring noise; whether a guest would notice is another question and stands beside it.
//	@ID				postSwap
//	@Tags			swaps
//	@Accept			json
//	@Param			as_of	query		string		false	"date that picks prices and rates; today in the house's time zone when left out"	format(date)	example(2026-03-01)
//	@Param			detail	query		string		false	"short leaves bands, cautions and line arithmetic out"	Enums(full, short)	default(full)
//	@Param			swap	body		wire.Swap	true	"what is exchanged, and where"
//	@Success		200		{object}	wire.SwapAnswer
//	@Router			/v1/swaps [post]
func (s *server) postSwap(c echo.Context) error {
	rd, err := s.read(c, readQuery(c, "as_of", "detail"))
	if err != nil {
		return err
	}
	text, err := readBody(c, mediaJSON)
	if err != nil {
		return err
	}
	var in wire.Swap
	report, err := wire.Decode(text, &in)
	if err != nil {
		return err
	}
	from, to, specs := in.Resolve(rd.book, report)
	if err := report.Err(); err != nil {
		return err
	}
	out, err := rd.swap(swap.Across(rd.book, rd.date, from, to, specs), &in)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, out)
}

// swap answers totals over all specs of a comparison and a page of them.
func (rd *reading) swap(cmp *swap.Comparison, in *wire.Swap) (out wire.SwapAnswer, err error) {
	start, end, err := swapPage(cmp.Specs, in)
	if err != nil {
		return out, err
	}
	totals, err := cmp.Totals()
	if err != nil {
		return out, err
	}
	out.Totals, out.Cautions = rd.view.SwapTotals(&totals), rd.view.Cautions(cmp.Cautions)
	if out.From, err = rd.profile(cmp.From); err != nil {
		return out, err
	}
	if out.To, err = rd.profile(cmp.To); err != nil {
		return out, err
	}
	out.Specs = make([]wire.SwapSpec, 0, end-start)
	for i := start; i < end; i++ {
		one, err := rd.swapSpec(cmp, i)
		if err != nil {
			return out, err
		}
		out.Specs = append(out.Specs, one)
	}
	if end < len(cmp.Specs) {
		next := cursor{List: swapHash(in), ID: string(cmp.Specs[end-1].ID)}.String()
		out.NextCursor = &next
	}
	return out, nil
}

// swapSpec writes the i-th spec of a comparison.
func (rd *reading) swapSpec(cmp *swap.Comparison, i int) (wire.SwapSpec, error) {
	d, err := cmp.Drink(i)
	if err != nil {
		return wire.SwapSpec{}, err
	}
	var before, after *wire.Made
	if d.Stands {
		if before, err = rd.made(&d.Before, d.Spec); err != nil {
			return wire.SwapSpec{}, err
		}
	}
	if d.Unmade == nil {
		if after, err = rd.made(&d.After, d.Spec); err != nil {
			return wire.SwapSpec{}, err
		}
	}
	return rd.view.SwapSpec(&d, before, after)
}

// swapPage finds the part of the specs that the limit and cursor of a request
// mean. A spec at which the last page ended and which is gone by now is passed
// over by its id, when the specs are in the order of their ids.
func swapPage(specs []*recipe.Spec, in *wire.Swap) (start, end int, err error) {
	limit := defaultSwapLimit
	if in.Limit != nil {
		limit = min(*in.Limit, maxLimit)
	}
	if in.Cursor != "" {
		if start, err = swapStart(specs, in); err != nil {
			return 0, 0, err
		}
	}
	return start, min(start+limit, len(specs)), nil
}

func swapStart(specs []*recipe.Spec, in *wire.Swap) (int, error) {
	cur, ok := parseCursor(in.Cursor)
	if !ok || cur.List != swapHash(in) {
		var bad problem.Misplaced
		bad.Pointer("/cursor", "BAD_CURSOR", "the cursor does not belong to this swap; start without it")
		return 0, bad.Err()
	}
	at := slices.IndexFunc(specs, func(sp *recipe.Spec) bool { return string(sp.ID) == cur.ID })
	if at < 0 && in.Specs == nil {
		at = slices.IndexFunc(specs, func(sp *recipe.Spec) bool { return strings.Compare(string(sp.ID), cur.ID) > 0 }) - 1
		if at < -1 {
			at = len(specs) - 1
		}
	}
	return at + 1, nil
}

// swapHash names the swap that a cursor belongs to: all that was asked but the
// page.
func swapHash(in *wire.Swap) string {
	asked := *in
	asked.Limit, asked.Cursor = nil, ""
	text, _ := json.Marshal(asked) // a struct of texts always marshals
	return shortHash([]byte("swap"), text)
}
