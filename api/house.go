package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"servewright/api/wire"
	"servewright/domain/recipe"
)

// showHouse writes the house defaults with their ETag.
func showHouse(k recipe.Kept[recipe.House]) (wire.House, error) {
	out := wire.FromHouse(k)
	etag, err := storedETag(k.Number, &out)
	out.ETag = etag
	return out, err
}

// getHouse answers the house's defaults.
//
//	@Summary		Read the house's defaults
//	@Description	Time zone, currency, country, sizes of the bar's own units, tax, labour, energy, and how cold things are kept.
//	@ID				getHouse
//	@Tags			house
//	@Success		200	{object}	wire.House
//	@Header			200	{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/house [get]
func (s *server) getHouse(c echo.Context) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	kept, err := s.store.House(c.Request().Context())
	if err != nil {
		return err
	}
	out, err := showHouse(kept)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Accept-Patch", mediaMerge)
	return answerStored(c, out.ETag, out)
}

// putHouse replaces the house's defaults.
//
//	@Summary		Replace the house's defaults
//	@Description	What is left out is as in a new house. Every computed answer follows the new defaults at once.
//	@ID				putHouse
//	@Tags			house
//	@Accept			json
//	@Param			If-Match	header		string		true	"ETag of what was read"
//	@Param			house		body		wire.House	true	"the whole of the defaults"
//	@Success		200			{object}	wire.House
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/house [put]
func (s *server) putHouse(c echo.Context) error {
	return s.editHouse(c, mediaJSON, func(text []byte, _ wire.House, in *wire.House) (*wire.Report, error) { return wire.Decode(text, in) })
}

// patchHouse merges into the house's defaults.
//
//	@Summary		Change part of the house's defaults
//	@Description	JSON Merge Patch (RFC 7396): null puts a default back to that of a new house.
//	@ID				patchHouse
//	@Tags			house
//	@Accept			application/merge-patch+json
//	@Param			If-Match	header		string	true	"ETag of what was read"
//	@Param			patch		body		object	true	"the members to change"
//	@Success		200			{object}	wire.House
//	@Header			200			{string}	ETag	"strong validator for If-Match"
//	@Router			/v1/house [patch]
func (s *server) patchHouse(c echo.Context) error {
	return s.editHouse(c, mediaMerge, func(text []byte, had wire.House, in *wire.House) (*wire.Report, error) {
		return wire.Patch(text, had, in)
	})
}

func (s *server) editHouse(c echo.Context, media string, read func(text []byte, had wire.House, in *wire.House) (*wire.Report, error)) error {
	if err := readQuery(c).err(); err != nil {
		return err
	}
	kept, err := s.store.House(c.Request().Context())
	if err != nil {
		return err
	}
	had, err := showHouse(kept)
	if err != nil {
		return err
	}
	if err := mayEdit(c, had.ETag); err != nil {
		return err
	}
	text, err := readBody(c, media)
	if err != nil {
		return err
	}
	var in wire.House
	report, err := read(text, had, &in)
	if err != nil {
		return err
	}
	return s.storeHouse(c, kept, had, &in, report)
}

func (s *server) storeHouse(c echo.Context, kept recipe.Kept[recipe.House], had wire.House, in *wire.House, report *wire.Report) error {
	h, err := in.Translate(had.Stored, recipe.DefaultHouse(), report)
	if err != nil {
		return err
	}
	if err := report.Err(); err != nil {
		return err
	}
	kept, err = s.store.EditHouse(c.Request().Context(), kept.Number, func(recipe.House) (recipe.House, error) { return h, nil }, s.now())
	if err != nil {
		return err
	}
	out, err := showHouse(kept)
	if err != nil {
		return err
	}
	c.Response().Header().Set("ETag", out.ETag)
	return c.JSON(http.StatusOK, out)
}
