package api

import (
	"encoding/json"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain"
	"servewright/domain/recipe"
)

// part is one kind of item inside a stored thing that has an address of its own,
// so that two people can edit two of them at once: the lines of a spec, the
// packs of a component. T is the thing with the body B, I the item with the body
// W.
type part[T, B any, P body[T, B], I, W any] struct {
	sh    *shelf[T, B, P]
	word  string // "line", for sentences
	steps string // "/lines": pointer of the list in its thing, and its path
	list  func(v *T) *[]I
	id    func(i *I) *recipe.ID
	valid func(v *T, h *recipe.House) error
	write func(i *I, find wire.Lookup) W
	read  func(w *W, env *wire.Env, r *wire.Report) I
}

// attempts is how often an edit of an item is tried when somebody else edits
// other items of the same thing meanwhile.
const attempts = 8

// place is an item as it stands now, or where a new one will stand.
type place[T, B, W any] struct {
	head[T, B]
	index int
	isNew bool
	body  W
	etag  string
}

// existing finds the item that the path names.
func (p *part[T, B, P, I, W]) existing(c echo.Context) (pl place[T, B, W], err error) {
	if pl.head, err = p.sh.load(c); err != nil {
		return pl, err
	}
	id, ok := wire.ParseID(c.Param(p.word + "_id"))
	pl.index = slices.IndexFunc(*p.list(&pl.kept.Value), func(i I) bool { return ok && *p.id(&i) == id })
	if pl.index < 0 {
		return pl, domain.Errorf(domain.NotFound, "this %s has no %s %q", p.sh.kind, p.word, clip(c.Param(p.word+"_id")))
	}
	return pl, p.show(&pl)
}

// mine finds the item that the path names and holds it against If-Match.
func (p *part[T, B, P, I, W]) mine(c echo.Context) (place[T, B, W], error) {
	pl, err := p.existing(c)
	if err != nil {
		return pl, err
	}
	return pl, mayEdit(c, pl.etag)
}

// end is the place behind the last item.
func (p *part[T, B, P, I, W]) end(c echo.Context) (pl place[T, B, W], err error) {
	pl.head, err = p.sh.load(c)
	pl.isNew, pl.index = true, len(*p.list(&pl.kept.Value))
	return pl, err
}

// show writes the item in its place, with an ETag that only its own content
// changes.
func (p *part[T, B, P, I, W]) show(pl *place[T, B, W]) error {
	pl.body = p.write(&(*p.list(&pl.kept.Value))[pl.index], wire.InBook(pl.book))
	text, err := json.Marshal(pl.body)
	pl.etag = `"` + p.word + "-" + shortHash(text) + `"`
	return err
}

// change finds a place, lets alter make the new list, and stores it. Only an
// edit of the same item is a conflict; after one of another item it starts over.
func (p *part[T, B, P, I, W]) change(c echo.Context, find func(echo.Context) (place[T, B, W], error), alter func(*place[T, B, W]) ([]I, *wire.Report, error)) (place[T, B, W], error) {
	for range attempts {
		pl, err := find(c)
		if err != nil {
			return pl, err
		}
		items, report, err := alter(&pl)
		if err != nil {
			return pl, err
		}
		err = p.store(c, &pl, items, report)
		if !errors.Is(err, domain.Stale) {
			return pl, err
		}
	}
	return place[T, B, W]{}, domain.Errorf(domain.Busy, "others keep editing this %s; try again", p.sh.kind)
}

// store checks and writes the thing with a new list of items.
func (p *part[T, B, P, I, W]) store(c echo.Context, pl *place[T, B, W], items []I, report *wire.Report) error {
	v := pl.kept.Value
	*p.list(&v) = items
	if err := report.Rules("", p.relocate(p.valid(&v, pl.book.House()), pl.index)); err != nil {
		return err
	}
	if err := report.Err(); err != nil {
		return err
	}
	kept, err := p.sh.edit(c.Request().Context(), *p.sh.id(&v), pl.kept.Number, func(T) (T, error) { return v, nil }, p.sh.s.now())
	if err != nil {
		return p.relocate(err, pl.index)
	}
	pl.kept = kept
	return nil
}

// relocate turns pointers into the thing into pointers into its item, which is
// all that was sent; a fault elsewhere is one of the whole item.
func (p *part[T, B, P, I, W]) relocate(err error, index int) error {
	var e *domain.Error
	if !errors.As(err, &e) || len(e.Faults) == 0 {
		return err
	}
	moved := *e
	moved.Faults = slices.Clone(e.Faults)
	for i := range moved.Faults {
		f := &moved.Faults[i]
		rest, ok := strings.CutPrefix(f.Pointer, p.steps+"/"+strconv.Itoa(index))
		if !ok || rest != "" && rest[0] != '/' {
			rest = ""
		}
		f.Pointer = rest
	}
	return &moved
}

// replace reads a body as the item in its place and returns the list with it.
func (p *part[T, B, P, I, W]) replace(pl *place[T, B, W], in *W, report *wire.Report) []I {
	items := slices.Clone(*p.list(&pl.kept.Value))
	env := &wire.Env{Find: wire.InBook(pl.book), NewID: p.sh.s.newID, Keeps: wire.Kept()}
	if pl.isNew {
		return append(items, p.read(in, env, report))
	}
	had := *p.id(&items[pl.index])
	env.NewID, env.Keeps = func() recipe.ID { return had }, wire.Kept(had)
	items[pl.index] = p.read(in, env, report)
	return items
}

func (p *part[T, B, P, I, W]) answerGet(c echo.Context) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	pl, err := p.existing(c)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Accept-Patch", mediaMerge)
	return answerStored(c, pl.etag, pl.body)
}

// answerAdd appends the item in the body.
func (p *part[T, B, P, I, W]) answerAdd(c echo.Context) error {
	return p.answerWrite(c, http.StatusCreated, mediaJSON, p.end, func(text []byte, _ W, in *W) (*wire.Report, error) { return wire.Decode(text, in) })
}

// answerPut puts the body in the place of the item that the path names.
func (p *part[T, B, P, I, W]) answerPut(c echo.Context) error {
	return p.answerWrite(c, http.StatusOK, mediaJSON, p.mine, func(text []byte, _ W, in *W) (*wire.Report, error) { return wire.Decode(text, in) })
}

// answerPatch merges the body into the item that the path names.
func (p *part[T, B, P, I, W]) answerPatch(c echo.Context) error {
	return p.answerWrite(c, http.StatusOK, mediaMerge, p.mine, func(text []byte, had W, in *W) (*wire.Report, error) { return wire.Patch(text, had, in) })
}

func (p *part[T, B, P, I, W]) answerWrite(c echo.Context, status int, media string, find func(echo.Context) (place[T, B, W], error), read func([]byte, W, *W) (*wire.Report, error)) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	text, err := readBody(c, media)
	if err != nil {
		return err
	}
	pl, err := p.change(c, find, func(pl *place[T, B, W]) ([]I, *wire.Report, error) {
		var in W
		report, err := read(text, pl.body, &in)
		if err != nil {
			return nil, nil, err
		}
		return p.replace(pl, &in, report), report, nil
	})
	if err != nil {
		return err
	}
	if err := p.show(&pl); err != nil {
		return err
	}
	if item := &(*p.list(&pl.kept.Value))[pl.index]; pl.isNew {
		c.Response().Header().Set(echo.HeaderLocation, p.sh.path+string(*p.sh.id(&pl.kept.Value))+p.steps+"/"+string(*p.id(item)))
	}
	c.Response().Header().Set("ETag", pl.etag)
	return c.JSON(status, pl.body)
}

// answerDelete takes the item that the path names out.
func (p *part[T, B, P, I, W]) answerDelete(c echo.Context) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	_, err := p.change(c, p.mine, func(pl *place[T, B, W]) ([]I, *wire.Report, error) {
		items := slices.Clone(*p.list(&pl.kept.Value))
		return slices.Delete(items, pl.index, pl.index+1), wire.NewReport(), nil
	})
	if err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}
