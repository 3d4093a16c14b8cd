package api_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"
)

func TestLinesHaveAddresses(t *testing.T) {
	c := stocked(t)
	spec := c.must(200, "GET", "/v1/specs/code:C-104", "")
	path := "/v1/specs/code:C-104/lines/" + spec.at("lines", 0, "id").(string)
	line := c.must(200, "GET", path, "")
	if fmt.Sprint(line.json) != fmt.Sprint(spec.at("lines", 0)) {
		t.Errorf("the line by itself is %v, in its spec %v", line.json, spec.at("lines", 0))
	}
	c.must(304, "GET", path, "", "If-None-Match: "+line.etag())
	patched := c.must(200, "PATCH", path, `{"amount": 50, "note": "overproof"}`, "If-Match: "+line.etag())
	if patched.at("amount") != 50.0 || patched.at("note") != "overproof" || patched.at("id") != line.at("id") || patched.at("component_code") != "RUM-DARK" {
		t.Errorf("patched line is %s", patched.text)
	}
	after := c.must(200, "GET", "/v1/specs/code:C-104", "")
	if fmt.Sprint(after.at("lines", 1), after.at("lines", 2)) != fmt.Sprint(spec.at("lines", 1), spec.at("lines", 2)) || after.at("revision") != 2.0 {
		t.Errorf("a patch of one line makes of the spec %s", after.text)
	}
	put := c.must(200, "PUT", path, `{"component_id": "code:LIQ-7", "amount": 1, "unit": "oz", "stage": "float"}`, "If-Match: "+patched.etag())
	if put.at("note") != nil || put.at("stage") != "float" || put.at("id") != line.at("id") {
		t.Errorf("replaced line is %s", put.text)
	}
	added := c.must(201, "POST", "/v1/specs/code:C-104/lines", `{"component_id": "code:WATER", "amount": 30, "unit": "mL", "stage": "top"}`)
	where := added.header.Get("Location")
	if got := c.must(200, "GET", where, ""); got.text != added.text || got.etag() != added.etag() || !strings.HasSuffix(where, added.at("id").(string)) {
		t.Errorf("the new line at %s reads %s, was answered as %s", where, got.text, added.text)
	}
	c.must(204, "DELETE", where, "", "If-Match: "+added.etag())
	c.must(404, "GET", where, "")
	c.must(404, "GET", "/v1/specs/code:C-104/lines/x", "")
	c.must(428, "PUT", path, `{"component_id": "code:LIQ-7", "amount": 1, "unit": "oz"}`)
	stale := c.must(412, "DELETE", path, "", "If-Match: "+line.etag())
	if stale.etag() != put.etag() {
		t.Errorf("412 carries ETag %s, want %s", stale.etag(), put.etag())
	}
	bad := c.must(422, "PATCH", path, `{"amount": -1, "unit": "cup", "component_id": "code:NO", "colour": "red", "id": "01a21232-e356-7f0c-89fa-6e1b89a13cc0"}`, "If-Match: "+put.etag())
	if got := fmt.Sprint(bad.faults()); got != "[/colour UNKNOWN_MEMBER /id UNKNOWN_ID /component_id UNKNOWN_COMPONENT /unit UNKNOWN_UNIT]" {
		t.Errorf("faults are %s, want pointers into the line", got)
	}
	if got := fmt.Sprint(c.must(422, "PATCH", path, `{"amount": 1e12}`, "If-Match: "+put.etag()).faults()); got != "[/amount AMOUNT_RANGE]" {
		t.Errorf("faults are %s, want a pointer into the line", got)
	}
}

func TestALastLineStays(t *testing.T) {
	c := stocked(t)
	made := c.must(201, "POST", "/v1/specs", `{"name": "Neat rum", "method": "none", "lines": [{"component_id": "code:RUM-DARK", "amount": 50, "unit": "mL"}]}`)
	path := made.header.Get("Location") + "/lines/" + made.at("lines", 0, "id").(string)
	line := c.must(200, "GET", path, "")
	if got := fmt.Sprint(c.must(422, "DELETE", path, "", "If-Match: "+line.etag()).faults()); got != "[ REQUIRED]" {
		t.Errorf("faults are %s", got)
	}
}

func TestPacksHaveAddresses(t *testing.T) {
	c := stocked(t)
	added := c.must(201, "POST", "/v1/components/code:RUM-DARK/packs", `{"size": {"amount": 1, "unit": "L"}, "price": {"amount": "30.00", "currency": "EUR"}, "valid_from": "2026-04-01", "preferred": true}`)
	path := added.header.Get("Location")
	if r := c.must(200, "GET", "/v1/components/code:RUM-DARK/profile?as_of=2026-04-01", ""); r.at("cost_per_l", "amount") != "30.00" || r.at("pack", "id") != added.at("id") {
		t.Errorf("the new price is not in force: %v, pack %v", r.at("cost_per_l"), r.at("pack"))
	}
	patched := c.must(200, "PATCH", path, `{"price": {"amount": "31.50"}}`, "If-Match: "+added.etag())
	if patched.at("price", "amount") != "31.50" || patched.at("price", "currency") != "EUR" || patched.at("id") != added.at("id") {
		t.Errorf("patched pack is %s", patched.text)
	}
	bad := c.must(422, "PUT", path, `{"size": {"amount": 0, "unit": "L"}, "price": {"amount": "1", "currency": "USD"}, "valid_from": "soon", "count": 0}`, "If-Match: "+patched.etag())
	if got := fmt.Sprint(bad.faults()); got != "[/valid_from BAD_DATE /size AMOUNT_RANGE /count OUT_OF_RANGE /price/currency CURRENCY_MIX]" {
		t.Errorf("faults are %s", got)
	}
	c.must(204, "DELETE", path, "", "If-Match: "+patched.etag())
	if got := fmt.Sprint(c.must(422, "POST", "/v1/components/code:H-QUINCE/packs", `{"size": {"amount": 1, "unit": "L"}, "price": {"amount": "1", "currency": "EUR"}, "valid_from": "2026-04-01"}`).faults()); got != "[ PACKS_ON_HOUSE_MADE]" {
		t.Errorf("a pack of a house-made component is answered with %s", got)
	}
}

// TestTwoEditorsOfTwoLines edit at once: none is refused and nothing is lost.
func TestTwoEditorsOfTwoLines(t *testing.T) {
	c := stocked(t)
	spec := c.must(200, "GET", "/v1/specs/code:C-104", "")
	var wait sync.WaitGroup
	for i := range 3 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			path := "/v1/specs/code:C-104/lines/" + spec.at("lines", i, "id").(string)
			etag := c.do("GET", path, "").etag()
			for n := range 5 {
				r := c.do("PATCH", path, fmt.Sprintf(`{"amount": %d}`, 10*(i+1)+n), "If-Match: "+etag)
				for r.status == 503 {
					r = c.do("PATCH", path, fmt.Sprintf(`{"amount": %d}`, 10*(i+1)+n), "If-Match: "+etag)
				}
				if r.status != 200 {
					t.Errorf("edit %d of line %d is answered %d %s", n, i, r.status, r.text)
					return
				}
				etag = r.etag()
			}
		}()
	}
	wait.Wait()
	after := c.must(200, "GET", "/v1/specs/code:C-104", "")
	for i := range 3 {
		if got, want := after.at("lines", i, "amount"), float64(10*(i+1)+4); got != want {
			t.Errorf("line %d ends at %v, want %v", i, got, want)
		}
	}
	if after.at("revision") != 16.0 {
		t.Errorf("15 edits make revision %v, want 16", after.at("revision"))
	}
}
