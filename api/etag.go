package api

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"servewright/api/problem"
	"servewright/domain"
)

// storedETag is the strong validator of a stored thing as it is answered: its
// revision and a hash of the answer, which also tells when a name that the
// answer quotes from elsewhere has changed.
func storedETag(revision int, body any) (string, error) {
	text, err := json.Marshal(body)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf(`"%d-%s"`, revision, shortHash(text)), nil
}

func shortHash(parts ...[]byte) string {
	h := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(h, "%d:", len(p)) // so that "ab","c" is not "a","bc"
		h.Write(p)
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// tagList is the value of If-Match or If-None-Match.
type tagList struct {
	any  bool // *
	tags []tag
}

type tag struct {
	weak   bool
	opaque string // with its quotes
}

// parseTags reads a list of entity tags (RFC 9110, section 8.8.3). Empty items
// are passed over, as its list syntax asks.
func parseTags(header string) (tagList, bool) {
	rest := strings.TrimSpace(header)
	if rest == "*" {
		return tagList{any: true}, true
	}
	var out tagList
	for rest != "" {
		if rest[0] == ',' || rest[0] == ' ' || rest[0] == '\t' {
			rest = rest[1:]
			continue
		}
		var t tag
		rest, t.weak = strings.CutPrefix(rest, "W/")
		end := strings.IndexByte(strings.TrimPrefix(rest, `"`), '"')
		if !strings.HasPrefix(rest, `"`) || end < 0 {
			return tagList{}, false
		}
		t.opaque, rest = rest[:end+2], strings.TrimLeft(rest[end+2:], " \t")
		if rest != "" && rest[0] != ',' {
			return tagList{}, false
		}
		out.tags = append(out.tags, t)
	}
	return out, len(out.tags) > 0
}

// strongly reports whether a tag of the list is current. A weak tag never is.
func (l tagList) strongly(current string) bool {
	for _, t := range l.tags {
		if !t.weak && t.opaque == current {
			return true
		}
	}
	return l.any
}

// weakly compares without regard to weakness, as If-None-Match does.
func (l tagList) weakly(current string) bool {
	for _, t := range l.tags {
		if t.opaque == current {
			return true
		}
	}
	return l.any
}

// headerTags reads a conditional header; given is false when it was not sent.
func headerTags(c echo.Context, name string) (list tagList, given bool, err error) {
	values := c.Request().Header.Values(name)
	if len(values) == 0 {
		return tagList{}, false, nil
	}
	list, ok := parseTags(strings.Join(values, ","))
	if !ok {
		var bad problem.Misplaced
		bad.Header(name, "BAD_ETAG", "%s is a list of ETags in double quotes, or *, not %q", name, clip(values[0]))
		return tagList{}, true, bad.Err()
	}
	return list, true, nil
}

// mayEdit returns nil when If-Match names the current ETag.
func mayEdit(c echo.Context, current string) error {
	list, given, err := headerTags(c, "If-Match")
	switch {
	case err != nil:
		return err
	case !given:
		return domain.Errorf(domain.Unconditional, "send If-Match with the ETag of what you read, so that nobody's edit is lost")
	case !list.strongly(current):
		c.Response().Header().Set("ETag", current)
		return domain.Errorf(domain.Stale, "If-Match does not name the current ETag, %s; read again and repeat the edit", current)
	}
	return nil
}

// unchanged reports whether the client has the current answer already; then a
// 304 has been sent and there is nothing left to do.
func unchanged(c echo.Context, current string) (bool, error) {
	c.Response().Header().Set("ETag", current)
	list, given, err := headerTags(c, "If-None-Match")
	if err != nil || !given || !list.weakly(current) {
		return false, err
	}
	return true, c.NoContent(http.StatusNotModified)
}
