package api_test

import (
	"encoding/base64"
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
)

// many returns a client of a server with 23 components, named out of order.
func many(t *testing.T) *client {
	c := open(t)
	for i := range 23 {
		category, kind := "spirit", "Rhum Agricole"
		if i%3 == 0 {
			category, kind = "juice", "Élan"
		}
		c.must(201, "POST", "/v1/components", fmt.Sprintf(`{"kind": "bought", "code": "C-%02d", "name": "%s %02d", "category": %q}`, i, kind, (i*7)%23, category))
	}
	return c
}

// walk follows next_cursor to the end and returns every name.
func (c *client) walk(path string) (names []string, pages int) {
	c.t.Helper()
	for path != "" {
		r := c.must(200, "GET", path, "")
		for _, item := range r.at("items").([]any) {
			m := item.(map[string]any)
			names = append(names, m["name"].(string))
			if m["etag"] == nil {
				c.t.Errorf("an item has no etag: %v", m)
			}
		}
		link := regexp.MustCompile(`^<(.*)>; rel="next"$`).FindStringSubmatch(r.header.Get("Link"))
		next, more := r.at("next_cursor").(string)
		if more != (link != nil) {
			c.t.Fatalf("next_cursor is %v and Link %q", r.at("next_cursor"), r.header.Get("Link"))
		}
		path = ""
		if more {
			path = link[1]
			if u, err := url.Parse(path); err != nil || u.Query().Get("cursor") != next {
				c.t.Fatalf("Link %q does not carry the cursor %q", path, next)
			}
		}
		pages++
	}
	return names, pages
}

func TestPages(t *testing.T) {
	c := many(t)
	whole, _ := c.walk("/v1/components?limit=200")
	if len(whole) != 23 || !slices.IsSorted(fold(whole)) {
		t.Fatalf("the whole list is %q, want 23 names in order", whole)
	}
	for _, limit := range []int{1, 7, 22, 23, 24, 500} {
		names, pages := c.walk(fmt.Sprintf("/v1/components?limit=%d", limit))
		if !slices.Equal(names, whole) {
			t.Errorf("pages of %d give %q, want %q", limit, names, whole)
		}
		if want := (23 + min(limit, 200) - 1) / min(limit, 200); pages != want {
			t.Errorf("pages of %d: %d, want %d", limit, pages, want)
		}
	}
}

// fold is enough for the names of this test.
func fold(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = strings.ToLower(strings.ReplaceAll(n, "É", "E"))
	}
	return out
}

func TestFilters(t *testing.T) {
	c := stocked(t)
	tests := []struct {
		path string
		want string // codes, in order of the names
	}{
		{"/v1/components", "[RUM-DARK H-QUINCE LIME LIQ-7 WATER SUGAR]"},
		{"/v1/components?kind=house_made", "[H-QUINCE]"},
		{"/v1/components?category=liqueur", "[H-QUINCE LIQ-7]"},
		{"/v1/components?category=liqueur&kind=bought", "[LIQ-7]"},
		{"/v1/components?name=QUINCE", "[H-QUINCE LIQ-7]"},
		{"/v1/components?name=qu%C3%ADnce", "[H-QUINCE LIQ-7]"},
		{"/v1/components?name=%25", "[]"},
		{"/v1/components?code=LIME", "[LIME]"},
		{"/v1/components?code=lime", "[]"},
		{"/v1/components?status=delisted", "[]"},
		{"/v1/components?status=active&limit=1", "[RUM-DARK]"},
		{"/v1/specs", "[C-104]"},
		{"/v1/specs?method=shake&name=lamp", "[C-104]"},
		{"/v1/specs?method=stir", "[]"},
		{"/v1/specs?category=sour", "[]"},
		{"/v1/specs?code=C-104", "[C-104]"},
	}
	for _, tt := range tests {
		r := c.must(200, "GET", tt.path, "")
		codes := []string{}
		for _, item := range r.at("items").([]any) {
			codes = append(codes, item.(map[string]any)["code"].(string))
		}
		if fmt.Sprint(codes) != tt.want {
			t.Errorf("%s lists %v, want %s", tt.path, codes, tt.want)
		}
		if same := c.must(304, "GET", tt.path, "", "If-None-Match: "+r.etag()); same.text != "" {
			t.Errorf("304 of %s has a body", tt.path)
		}
	}
}

// TestCursorThatWasAltered changes a cursor in every place, and uses it where it
// does not belong: each is refused.
func TestCursorThatWasAltered(t *testing.T) {
	c := many(t)
	first := c.must(200, "GET", "/v1/components?limit=5&category=spirit", "")
	cursor := first.at("next_cursor").(string)
	if url.QueryEscape(cursor) != cursor {
		t.Errorf("the cursor %q is not safe in a URL", cursor)
	}
	c.must(200, "GET", "/v1/components?limit=7&category=spirit&cursor="+cursor, "") // another size of page is the same list
	for i := range cursor {
		for _, other := range []byte("A9_") {
			if altered := cursor[:i] + string(other) + cursor[i+1:]; altered != cursor {
				r := c.must(400, "GET", "/v1/components?category=spirit&cursor="+altered, "")
				if got := fmt.Sprint(r.faults()); got != "[parameter cursor BAD_CURSOR]" {
					t.Fatalf("altered at %d, the cursor is answered with %s", i, got)
				}
			}
		}
	}
	text, _ := base64.RawURLEncoding.DecodeString(cursor)
	forged := base64.RawURLEncoding.EncodeToString([]byte(strings.Replace(string(text), `"k":"`, `"k":"a`, 1)))
	for _, path := range []string{
		"/v1/components?category=spirit&cursor=" + forged,
		"/v1/components?category=spirit&cursor=" + cursor + "A",
		"/v1/components?category=spirit&cursor=" + cursor[:len(cursor)-1],
		"/v1/components?category=juice&cursor=" + cursor,
		"/v1/components?cursor=" + cursor,
		"/v1/components?category=spirit&name=r&cursor=" + cursor,
		"/v1/specs?cursor=" + cursor,
		"/v1/components/code:C-01/revisions?cursor=" + cursor,
	} {
		checkProblem(t, c.must(400, "GET", path, ""))
	}
}

// TestPagesHoldStillUnderEdits deletes and adds between pages: what lived
// throughout is seen exactly once.
func TestPagesHoldStillUnderEdits(t *testing.T) {
	c := many(t)
	whole, _ := c.walk("/v1/components?limit=200")
	seen := map[string]int{}
	path := "/v1/components?limit=4"
	for i := 0; path != ""; i++ {
		r := c.must(200, "GET", path, "")
		for _, item := range r.at("items").([]any) {
			seen[item.(map[string]any)["name"].(string)]++
		}
		path = ""
		if next, ok := r.at("next_cursor").(string); ok {
			path = "/v1/components?limit=4&cursor=" + next
		}
		last := r.at("items", 0).(map[string]any)
		c.must(204, "DELETE", "/v1/components/"+last["id"].(string), "", "If-Match: "+last["etag"].(string))
		c.must(201, "POST", "/v1/components", fmt.Sprintf(`{"kind": "bought", "name": "Aaa %d", "category": "spirit"}`, i))
	}
	for _, name := range whole {
		if seen[name] != 1 {
			t.Errorf("%s was seen %d times", name, seen[name])
		}
	}
}

func TestRevisionPages(t *testing.T) {
	c := stocked(t)
	for i := range 6 {
		read := c.must(200, "GET", "/v1/specs/code:C-104", "")
		c.must(200, "PATCH", "/v1/specs/code:C-104", fmt.Sprintf(`{"notes": "edit %d"}`, i), "If-Match: "+read.etag())
	}
	var numbers []any
	for path := "/v1/specs/code:C-104/revisions?limit=3"; path != ""; {
		r := c.must(200, "GET", path, "")
		for _, item := range r.at("items").([]any) {
			numbers = append(numbers, item.(map[string]any)["revision"])
		}
		path = ""
		if next, ok := r.at("next_cursor").(string); ok {
			path = "/v1/specs/code:C-104/revisions?limit=3&cursor=" + next
		}
	}
	if fmt.Sprint(numbers) != "[7 6 5 4 3 2 1]" {
		t.Errorf("revisions are %v, want 7 to 1", numbers)
	}
}

// TestLostUpdate lets many clients edit one spec at once, each reading again
// when it is refused: no edit is lost.
func TestLostUpdate(t *testing.T) {
	c := stocked(t)
	const clients, edits = 8, 5
	var wait sync.WaitGroup
	for range clients {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for range edits {
				for {
					read := c.do("GET", "/v1/specs/code:C-104", "")
					ml, _ := read.at("glass_ml").(float64)
					if r := c.do("PATCH", "/v1/specs/code:C-104", fmt.Sprintf(`{"glass_ml": %v}`, ml+1), "If-Match: "+read.etag()); r.status == 200 {
						break
					} else if r.status != 412 && r.status != 503 {
						t.Errorf("an edit is answered %d: %s", r.status, r.text)
						return
					}
				}
			}
		}()
	}
	wait.Wait()
	if got := c.must(200, "GET", "/v1/specs/code:C-104", "").at("glass_ml"); got != float64(clients*edits) {
		t.Errorf("after %d edits that were accepted the figure is %v", clients*edits, got)
	}
}

// TestRaceToCloseALoop lets two requests at once make A of B and B of A: at most
// one may succeed.
func TestRaceToCloseALoop(t *testing.T) {
	c := stocked(t)
	for round := range 10 {
		a, b := fmt.Sprintf("A-%d", round), fmt.Sprintf("B-%d", round)
		for _, code := range []string{a, b} {
			c.must(201, "POST", "/v1/components", strings.ReplaceAll(house, "H-QUINCE", code))
		}
		var wait sync.WaitGroup
		results := make([]int, 2)
		for i, pair := range [][2]string{{a, b}, {b, a}} {
			wait.Add(1)
			go func() {
				defer wait.Done()
				read := c.do("GET", "/v1/components/code:"+pair[0], "")
				r := c.do("PATCH", "/v1/components/code:"+pair[0], fmt.Sprintf(`{"recipe": {"lines": [{"component_id": "code:%s", "amount": 1, "unit": "mL"}]}}`, pair[1]), "If-Match: "+read.etag())
				results[i] = r.status
			}()
		}
		wait.Wait()
		slices.Sort(results)
		if fmt.Sprint(results) != "[200 422]" && fmt.Sprint(results) != "[200 412]" {
			t.Errorf("two requests that close a loop are answered %v, want one taken and one refused", results)
		}
	}
}
