package api

import (
	"context"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain"
	"servewright/domain/recipe"
)

// body is a JSON body of a stored thing of type T.
type body[T, B any] interface {
	*B
	Head() *wire.Stored
	Translate(have wire.Stored, env *wire.Env, h *recipe.House, r *wire.Report) (T, error)
}

// shelf is one kind of stored thing: how the store keeps it and how it is
// written. Components and specs are read, edited and listed by the same code.
type shelf[T, B any, P body[T, B]] struct {
	s         *server
	kind      string // "component", for sentences
	path      string // "/v1/components/"
	byCode    func(ctx context.Context, code string) (recipe.ID, error)
	get       func(ctx context.Context, id recipe.ID) (recipe.Kept[T], error)
	list      func(ctx context.Context, f recipe.Filter) ([]recipe.Kept[T], *recipe.Position, error)
	revision  func(ctx context.Context, id recipe.ID, number int) (recipe.Kept[T], error)
	revisions func(ctx context.Context, id recipe.ID, before, limit int) ([]recipe.Kept[T], error)
	add       func(ctx context.Context, v T, now time.Time) (recipe.Kept[T], error)
	edit      func(ctx context.Context, id recipe.ID, revision int, edit func(T) (T, error), now time.Time) (recipe.Kept[T], error)
	remove    func(ctx context.Context, id recipe.ID, revision int, now time.Time) error
	write     func(k recipe.Kept[T], find wire.Lookup) B
	id        func(v *T) *recipe.ID
	items     func(v *T) []recipe.ID // ids of lines and packs
}

// ref finds the id that a path names: an id or code:X.
func (sh *shelf[T, B, P]) ref(ctx context.Context, ref string) (recipe.ID, error) {
	if code, ok := wire.ByCode(ref); ok {
		return sh.byCode(ctx, code)
	}
	if id, ok := wire.ParseID(ref); ok {
		return id, nil
	}
	return "", domain.Errorf(domain.NotFound, "there is no %s %q; name it by its id or as code:X", sh.kind, clip(ref))
}

// show writes a stored thing with its ETag.
func (sh *shelf[T, B, P]) show(k recipe.Kept[T], find wire.Lookup) (*B, error) {
	out := sh.write(k, find)
	head := P(&out).Head()
	etag, err := storedETag(k.Number, &out)
	head.ETag = etag
	return &out, err
}

// head is a stored thing as it stands now, with the Book it stands in.
type head[T, B any] struct {
	kept recipe.Kept[T]
	book *recipe.Book
	body *B
}

// load reads the thing that the path names.
func (sh *shelf[T, B, P]) load(c echo.Context) (h head[T, B], err error) {
	ctx := c.Request().Context()
	id, err := sh.ref(ctx, c.Param("id"))
	if err != nil {
		return h, err
	}
	if h.kept, err = sh.get(ctx, id); err != nil {
		return h, err
	}
	if h.book, _, err = sh.s.store.Book(ctx); err != nil {
		return h, err
	}
	h.body, err = sh.show(h.kept, wire.InBook(h.book))
	return h, err
}

// answerGet answers the thing that the path names.
func (sh *shelf[T, B, P]) answerGet(c echo.Context) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	h, err := sh.load(c)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Accept-Patch", mediaMerge)
	return answerStored(c, P(h.body).Head().ETag, h.body)
}

func answerStored(c echo.Context, etag string, body any) error {
	if same, err := unchanged(c, etag); same || err != nil {
		return err
	}
	return c.JSON(http.StatusOK, body)
}

// answerAdd stores the thing in the body.
func (sh *shelf[T, B, P]) answerAdd(c echo.Context) error {
	ctx := c.Request().Context()
	book, err := sh.prepare(c)
	if err != nil {
		return err
	}
	v, err := sh.readNew(c, book)
	if err != nil {
		return err
	}
	kept, err := sh.add(ctx, v, sh.s.now())
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, sh.path+string(*sh.id(&kept.Value)))
	return sh.answerWritten(c, http.StatusCreated, kept)
}

// prepare refuses query parameters and reads the Book.
func (sh *shelf[T, B, P]) prepare(c echo.Context) (*recipe.Book, error) {
	if err := readQuery(c).err(); err != nil {
		return nil, err
	}
	book, _, err := sh.s.store.Book(c.Request().Context())
	return book, err
}

func (sh *shelf[T, B, P]) readNew(c echo.Context, book *recipe.Book) (v T, err error) {
	text, err := readBody(c, mediaJSON)
	if err != nil {
		return v, err
	}
	var in B
	report, err := wire.Decode(text, &in)
	if err != nil {
		return v, err
	}
	env := &wire.Env{Find: wire.InBook(book), NewID: sh.s.newID, Keeps: wire.Kept()}
	if v, err = P(&in).Translate(wire.Stored{}, env, book.House(), report); err != nil {
		return v, err
	}
	*sh.id(&v) = sh.s.newID()
	return v, report.Err()
}

// answerWritten answers what has just been written, in the Book that has it.
func (sh *shelf[T, B, P]) answerWritten(c echo.Context, status int, kept recipe.Kept[T]) error {
	book, _, err := sh.s.store.Book(c.Request().Context())
	if err != nil {
		return err
	}
	out, err := sh.show(kept, wire.InBook(book))
	if err != nil {
		return err
	}
	c.Response().Header().Set("ETag", P(out).Head().ETag)
	return c.JSON(status, out)
}

// answerPut puts the body in the place of the thing that the path names.
func (sh *shelf[T, B, P]) answerPut(c echo.Context) error {
	return sh.answerEdit(c, mediaJSON, func(text []byte, _ *B, in *B) (*wire.Report, error) { return wire.Decode(text, in) })
}

// answerPatch merges the body into the thing that the path names.
func (sh *shelf[T, B, P]) answerPatch(c echo.Context) error {
	return sh.answerEdit(c, mediaMerge, func(text []byte, had *B, in *B) (*wire.Report, error) { return wire.Patch(text, had, in) })
}

func (sh *shelf[T, B, P]) answerEdit(c echo.Context, media string, read func(text []byte, had, in *B) (*wire.Report, error)) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	h, err := sh.load(c)
	if err != nil {
		return err
	}
	if err := mayEdit(c, P(h.body).Head().ETag); err != nil {
		return err
	}
	text, err := readBody(c, media)
	if err != nil {
		return err
	}
	var in B
	report, err := read(text, h.body, &in)
	if err != nil {
		return err
	}
	return sh.store(c, h, &in, report)
}

// store translates a whole body and writes it over the revision in h.
func (sh *shelf[T, B, P]) store(c echo.Context, h head[T, B], in *B, report *wire.Report) error {
	env := &wire.Env{Find: wire.InBook(h.book), NewID: sh.s.newID, Keeps: wire.Kept(sh.items(&h.kept.Value)...)}
	v, err := P(in).Translate(*P(h.body).Head(), env, h.book.House(), report)
	if err != nil {
		return err
	}
	if err := report.Err(); err != nil {
		return err
	}
	kept, err := sh.edit(c.Request().Context(), *sh.id(&h.kept.Value), h.kept.Number, func(T) (T, error) { return v, nil }, sh.s.now())
	if err != nil {
		return err
	}
	return sh.answerWritten(c, http.StatusOK, kept)
}

// answerDelete deletes the thing that the path names.
func (sh *shelf[T, B, P]) answerDelete(c echo.Context) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	h, err := sh.load(c)
	if err != nil {
		return err
	}
	if err := mayEdit(c, P(h.body).Head().ETag); err != nil {
		return err
	}
	if err := sh.remove(c.Request().Context(), *sh.id(&h.kept.Value), h.kept.Number, sh.s.now()); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}
