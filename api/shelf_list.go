package api

import (
	"strconv"

	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain"
	"servewright/domain/recipe"
)

// answerList answers a page of the things that pass the filter.
func (sh *shelf[T, B, P]) answerList(c echo.Context, q *query, f recipe.Filter) error {
	list := listHash(c)
	at := q.cursor(list)
	f.After, f.Limit = recipe.Position{Key: at.Key, ID: recipe.ID(at.ID)}, q.limit()
	if err := q.err(); err != nil {
		return err
	}
	kept, next, err := sh.list(c.Request().Context(), f)
	if err != nil {
		return err
	}
	page, err := sh.page(c, kept)
	if err != nil {
		return err
	}
	if next != nil {
		page.NextCursor = linkNext(c, cursor{List: list, Key: next.Key, ID: string(next.ID)})
	}
	return answerPage(c, page)
}

// page writes stored things as the items of a page.
func (sh *shelf[T, B, P]) page(c echo.Context, kept []recipe.Kept[T]) (wire.Page[B], error) {
	out := wire.Page[B]{Items: make([]B, len(kept))}
	book, _, err := sh.s.store.Book(c.Request().Context())
	if err != nil {
		return out, err
	}
	find := wire.InBook(book)
	for i := range kept {
		item, err := sh.show(kept[i], find)
		if err != nil {
			return out, err
		}
		out.Items[i] = *item
	}
	return out, nil
}

// answerPage answers with an ETag over the page itself.
func answerPage(c echo.Context, page any) error {
	etag, err := storedETag(0, page)
	if err != nil {
		return err
	}
	return answerStored(c, etag, page)
}

// answerRevisions answers a page of the revisions of the thing that the path
// names, newest first. A deleted thing's stay readable by its id.
func (sh *shelf[T, B, P]) answerRevisions(c echo.Context) error {
	ctx := c.Request().Context()
	q, list := readQuery(c, "limit", "cursor"), listHash(c)
	at, limit := q.cursor(list), q.limit()
	if err := q.err(); err != nil {
		return err
	}
	id, err := sh.ref(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	kept, err := sh.revisions(ctx, id, at.Below, limit+1)
	if err != nil {
		return err
	}
	if len(kept) == 0 && at.Below == 0 {
		return domain.Errorf(domain.NotFound, "there is no %s %s", sh.kind, id)
	}
	more := len(kept) > limit
	page, err := sh.page(c, kept[:min(limit, len(kept))])
	if err != nil {
		return err
	}
	if more {
		page.NextCursor = linkNext(c, cursor{List: list, Below: kept[limit-1].Number})
	}
	return answerPage(c, page)
}

// answerRevision answers one revision of the thing that the path names.
func (sh *shelf[T, B, P]) answerRevision(c echo.Context) error {
	ctx := c.Request().Context()
	if err := readQuery(c).err(); err != nil {
		return err
	}
	id, err := sh.ref(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	number, err := strconv.Atoi(c.Param("number"))
	if err != nil || number < 1 {
		return domain.Errorf(domain.NotFound, "there is no revision %q; revisions are numbered 1, 2, 3 …", clip(c.Param("number")))
	}
	kept, err := sh.revision(ctx, id, number)
	if err != nil {
		return err
	}
	page, err := sh.page(c, []recipe.Kept[T]{kept})
	if err != nil {
		return err
	}
	return answerStored(c, P(&page.Items[0]).Head().ETag, page.Items[0])
}

// words turns a list of named words into plain text.
func words[W ~string](list []W) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}
