package api

import (
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"mime"
	"net"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"servewright/domain"
)

// Media types of bodies.
const (
	mediaJSON  = "application/json"
	mediaMerge = "application/merge-patch+json"
)

// strictBinder takes the place of Echo's binder, which would mix query, path and
// body, match names in any case and drop what it does not know. Nothing is bound
// behind a handler's back: bodies are read with readBody.
type strictBinder struct{}

// Bind refuses, so that a handler that forgets to read its body strictly fails
// its first test.
func (strictBinder) Bind(any, echo.Context) error {
	return errors.New("api: bodies are read with readBody, not bound")
}

// readBody returns a whole body of the given media type, inflated if it came
// compressed. What is larger than the limit after inflating is refused with at
// most the limit in memory.
func readBody(c echo.Context, media string) ([]byte, error) {
	req := c.Request()
	if err := checkMedia(c, media); err != nil {
		return nil, err
	}
	var body io.Reader = http.MaxBytesReader(c.Response(), req.Body, maxBody)
	switch encoding := strings.ToLower(strings.TrimSpace(req.Header.Get(echo.HeaderContentEncoding))); encoding {
	case "", "identity":
	case "gzip", "x-gzip":
		unzipped, err := gzip.NewReader(body)
		if err != nil {
			return nil, bodyError(err)
		}
		body = unzipped
	default:
		c.Response().Header().Set(echo.HeaderAcceptEncoding, "gzip, identity")
		return nil, unsupported("ENCODING", "Content-Encoding %q is not taken; send the body plain or as gzip", clip(encoding))
	}
	data, err := io.ReadAll(io.LimitReader(body, maxBody+1))
	if err != nil {
		return nil, bodyError(err)
	}
	if len(data) > maxBody {
		return nil, tooLarge()
	}
	return data, nil
}

func checkMedia(c echo.Context, want string) error {
	sent := c.Request().Header.Get(echo.HeaderContentType)
	media, params, err := mime.ParseMediaType(sent)
	charset := params["charset"]
	if err == nil && media == want && (charset == "" || strings.EqualFold(charset, "utf-8")) {
		return nil
	}
	if want == mediaMerge {
		c.Response().Header().Set("Accept-Patch", mediaMerge)
	}
	return unsupported("MEDIA_TYPE", "Content-Type %q is not taken here; send %s in UTF-8", clip(sent), want)
}

func unsupported(code, format string, args ...any) error {
	e := domain.Errorf(domain.Unsupported, format, args...)
	e.Code = code
	return e
}

func tooLarge() error {
	e := domain.Errorf(domain.TooLarge, "the body is larger than %d bytes after decompression; send less at once", maxBody)
	e.Code = "BODY_SIZE"
	return e
}

// bodyError says what kept a body from being read.
func bodyError(err error) error {
	var size *http.MaxBytesError
	var slow net.Error
	switch {
	case errors.As(err, &size):
		return tooLarge()
	case errors.As(err, &slow) && slow.Timeout():
		return &echo.HTTPError{Code: http.StatusRequestTimeout, Message: "the body came too slowly"}
	case errors.Is(err, gzip.ErrHeader), errors.Is(err, gzip.ErrChecksum), strings.HasPrefix(err.Error(), "flate: corrupt"):
		return domain.Errorf(domain.Malformed, "the body is not gzip though Content-Encoding says so")
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return domain.Errorf(domain.Malformed, "the body ends too early")
	}
	return fmt.Errorf("read body: %w", err)
}

// clip shortens what a client sent before it is quoted back.
func clip(s string) string {
	s = strings.ToValidUTF8(s, "�")
	if r := []rune(s); len(r) > 80 {
		return string(r[:80]) + "…"
	}
	return s
}
