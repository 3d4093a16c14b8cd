package api_test

import (
	"fmt"
	"strings"
	"testing"
)

func TestCreateReadReplaceDelete(t *testing.T) {
	c := open(t)
	made := c.must(201, "POST", "/v1/components", rum)
	id := made.at("id").(string)
	if got, want := made.header.Get("Location"), "/v1/components/"+id; got != want {
		t.Errorf("Location is %q, want %q", got, want)
	}
	if made.at("revision") != 1.0 || made.at("status") != "active" || made.at("changed_at") != "2026-03-01T09:30:00.123456Z" {
		t.Errorf("a new component answers %v %v %v, want revision 1, active, the moment it was written", made.at("revision"), made.at("status"), made.at("changed_at"))
	}
	if got := made.at("packs", 0, "gtin"); got != "05012345678900" {
		t.Errorf("gtin is %v, want it padded to 14 digits (GS1)", got)
	}
	read := c.must(200, "GET", "/v1/components/code:RUM-DARK", "")
	if read.text != made.text || read.etag() != made.etag() || read.etag() != read.at("etag") {
		t.Errorf("read by code differs from what was made:\n%s\n%s", read.text, made.text)
	}
	if same := c.must(304, "GET", "/v1/components/"+strings.ToUpper(id), "", "If-None-Match: W/"+read.etag()); same.text != "" || same.etag() != read.etag() {
		t.Errorf("304 carries %q and ETag %s, want no body and the ETag", same.text, same.etag())
	}

	// What was answered can be sent back as it is.
	back := c.must(200, "PUT", "/v1/components/"+id, read.text, "If-Match: "+read.etag())
	if back.at("revision") != 2.0 || fmt.Sprint(back.at("packs")) != fmt.Sprint(read.at("packs")) {
		t.Errorf("sending back what was read changed it:\n%s\n%s", read.text, back.text)
	}
	c.must(412, "PUT", "/v1/components/"+id, read.text, "If-Match: "+read.etag())
	c.must(204, "DELETE", "/v1/components/"+id, "", "If-Match: "+back.etag())
	c.must(404, "GET", "/v1/components/"+id, "")
	list := c.must(200, "GET", "/v1/components/"+id+"/revisions", "")
	if n := len(list.at("items").([]any)); n != 3 || list.at("items", 0, "deleted") != true {
		t.Errorf("a deleted component has %d readable revisions, the newest deleted=%v; want 3 and true", n, list.at("items", 0, "deleted"))
	}
	if first := c.must(200, "GET", "/v1/components/"+id+"/revisions/1", ""); first.at("revision") != 1.0 || first.at("name") != "Dark cane rum 42" {
		t.Errorf("revision 1 reads %s", first.text)
	}
	c.must(404, "GET", "/v1/components/"+id+"/revisions/9", "")
	c.must(404, "GET", "/v1/components/"+id+"/revisions/x", "")
	c.must(404, "GET", "/v1/components/"+string(newID())+"/revisions", "")
}

func TestFiguresComeBackAsTheyWereWritten(t *testing.T) {
	c := open(t)
	for _, abv := range []string{"57", "42.3", "14.4", "0.5", "8.7", "29.999999"} {
		body := fmt.Sprintf(`{"kind": "bought", "name": "Spirit %s", "category": "spirit", "label": {"abv_pct": %s}, "piece": {"mass_g": 12.3456789}}`, abv, abv)
		made := c.must(201, "POST", "/v1/components", body)
		if !strings.Contains(made.text, `"abv_pct":`+abv+`}`) || !strings.Contains(made.text, `"mass_g":12.3456789`) {
			t.Errorf("abv_pct %s came back in %s", abv, made.text)
		}
		id := made.at("id").(string)
		patched := c.must(200, "PATCH", "/v1/components/"+id, `{"notes": "x"}`, "If-Match: "+made.etag())
		if fmt.Sprint(patched.at("label")) != fmt.Sprint(made.at("label")) || fmt.Sprint(patched.at("piece")) != fmt.Sprint(made.at("piece")) {
			t.Errorf("a patch of the notes moved a figure: %s → %s", made.text, patched.text)
		}
	}
}

func TestPreconditions(t *testing.T) {
	c := stocked(t)
	for _, path := range []string{"/v1/components/code:RUM-DARK", "/v1/specs/code:C-104", "/v1/house"} {
		read := c.must(200, "GET", path, "")
		etag := read.etag()
		tests := []struct {
			header string
			status int
		}{
			{"", 428},
			{`"0-0"`, 412},
			{"W/" + etag, 412},
			{`"a", W/` + etag + `, "b"`, 412},
			{strings.Trim(etag, `"`), 400},
			{`"unfinished`, 400},
			{`"a" "b"`, 400},
			{`"a", "b"`, 412},
		}
		for _, method := range []string{"PUT", "PATCH", "DELETE"} {
			if method == "DELETE" && path == "/v1/house" {
				continue
			}
			for _, tt := range tests {
				var headers []string
				if tt.header != "" {
					headers = append(headers, "If-Match: "+tt.header)
				}
				r := c.must(tt.status, method, path, `{}`, headers...)
				if tt.status == 412 && r.etag() != etag {
					t.Errorf("412 of %s %s carries ETag %q, want the current %s", method, path, r.etag(), etag)
				}
			}
		}
		if after := c.must(200, "GET", path, ""); after.text != read.text {
			t.Errorf("%s changed under refused edits", path)
		}
		for _, header := range []string{`"a", ` + etag, "*"} {
			read := c.must(200, "GET", path, "")
			c.must(200, "PATCH", path, `{}`, "If-Match: "+strings.ReplaceAll(header, etag, read.etag()))
		}
	}
}

func TestMergePatch(t *testing.T) {
	c := stocked(t)
	read := c.must(200, "GET", "/v1/specs/code:C-104", "")
	lines := fmt.Sprint(read.at("lines"))
	patched := c.must(200, "PATCH", "/v1/specs/code:C-104", `{"glass": null, "price": {"amount": "14.00"}, "seconds": 12, "conditions": {"ice_c": -8}}`, "If-Match: "+read.etag())
	if patched.at("glass") != nil || patched.at("price", "amount") != "14.00" || patched.at("price", "tax_pct") != "20" || patched.at("seconds") != 12.0 || patched.at("conditions", "ice_c") != -8.0 {
		t.Errorf("patched spec is %s", patched.text)
	}
	if fmt.Sprint(patched.at("lines")) != lines {
		t.Errorf("lines changed though the patch has none")
	}
	shorter := c.must(200, "PATCH", "/v1/specs/code:C-104", `{"lines": [{"component_id": "code:LIME", "amount": 10, "unit": "mL"}]}`, "If-Match: "+patched.etag())
	if n := len(shorter.at("lines").([]any)); n != 1 {
		t.Errorf("an array of a patch replaces the whole: %d lines, want 1 (RFC 7396)", n)
	}
	bad := c.must(422, "PATCH", "/v1/specs/code:C-104", `{"revision": 9, "name": null, "colour": "red"}`, "If-Match: "+shorter.etag())
	want := []string{"/colour UNKNOWN_MEMBER", "/name REQUIRED", "/revision READ_ONLY"}
	if got := bad.faults(); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("faults are %q, want %q", got, want)
	}
	c.must(415, "PATCH", "/v1/specs/code:C-104", `{}`, "If-Match: "+shorter.etag(), "Content-Type: application/json")
	if r := c.do("PATCH", "/v1/specs/code:C-104", `{}`, "If-Match: "+shorter.etag(), "Content-Type: application/json-patch+json"); r.header.Get("Accept-Patch") != "application/merge-patch+json" {
		t.Errorf("415 of a PATCH says Accept-Patch %q", r.header.Get("Accept-Patch"))
	}
}

func TestLinesAndPacksKeepTheirIDs(t *testing.T) {
	c := stocked(t)
	read := c.must(200, "GET", "/v1/specs/code:C-104", "")
	first := read.at("lines", 0, "id").(string)
	body := fmt.Sprintf(`{"code": "C-104", "name": "Pier Lamp", "method": "shake", "lines": [
		{"component_id": "code:LIME", "amount": 1, "unit": "mL"}, {"id": %q, "component_id": "code:RUM-DARK", "amount": 50, "unit": "mL"}]}`, first)
	put := c.must(200, "PUT", "/v1/specs/code:C-104", body, "If-Match: "+read.etag())
	if put.at("lines", 1, "id") != first || put.at("lines", 0, "id") == first || put.at("lines", 0, "id") == "" {
		t.Errorf("line ids are %v and %v, want a new one and %s", put.at("lines", 0, "id"), put.at("lines", 1, "id"), first)
	}
	foreign := strings.Replace(body, first, string(newID()), 1)
	bad := c.must(422, "PUT", "/v1/specs/code:C-104", foreign, "If-Match: "+put.etag())
	if got := bad.faults(); fmt.Sprint(got) != "[/lines/1/id UNKNOWN_ID]" {
		t.Errorf("a line id from elsewhere is answered with %q", got)
	}
}

func TestDeleteInUseNamesTheUsers(t *testing.T) {
	c := stocked(t)
	before := c.everything()
	read := c.must(200, "GET", "/v1/components/code:RUM-DARK", "")
	r := c.must(409, "DELETE", "/v1/components/code:RUM-DARK", "", "If-Match: "+read.etag())
	users := fmt.Sprint(r.at("users", 0, "type"), r.at("users", 0, "code"), r.at("users", 1, "type"), r.at("users", 1, "code"))
	if users != "component H-QUINCE spec C-104" && users != "componentH-QUINCEspecC-104" {
		t.Errorf("users are %q, want the component H-QUINCE and the spec C-104: %s", users, r.text)
	}
	if c.everything() != before {
		t.Error("a refused delete changed something")
	}
	clash := c.must(409, "POST", "/v1/components", rum)
	if clash.at("code") != "CODE_TAKEN" || clash.at("users", 0, "name") != "Dark cane rum 42" {
		t.Errorf("a code that is taken is answered with %s", clash.text)
	}
}

func TestDelistedStaysWhereItIsUsed(t *testing.T) {
	c := stocked(t)
	read := c.must(200, "GET", "/v1/components/code:LIQ-7", "")
	c.must(200, "PATCH", "/v1/components/code:LIQ-7", `{"status": "delisted"}`, "If-Match: "+read.etag())
	spec := c.must(200, "GET", "/v1/specs/code:C-104", "")
	c.must(200, "PATCH", "/v1/specs/code:C-104", `{"notes": "still poured"}`, "If-Match: "+spec.etag())
	bad := c.must(422, "POST", "/v1/specs", strings.NewReplacer("C-104", "C-105", "Pier", "Jetty").Replace(lamp))
	if got := fmt.Sprint(bad.faults()); got != "[/lines/1/component_id DELISTED]" {
		t.Errorf("a new spec with a delisted component is answered with %s", got)
	}
}

func TestETagFollowsANameThatIsQuoted(t *testing.T) {
	c := stocked(t)
	before := c.must(200, "GET", "/v1/specs/code:C-104", "")
	if before.at("lines", 0, "component_name") != "Dark cane rum 42" || before.at("lines", 0, "component_code") != "RUM-DARK" {
		t.Fatalf("a line names its component as %v %v", before.at("lines", 0, "component_code"), before.at("lines", 0, "component_name"))
	}
	read := c.must(200, "GET", "/v1/components/code:RUM-DARK", "")
	c.must(200, "PATCH", "/v1/components/code:RUM-DARK", `{"name": "Darker cane rum"}`, "If-Match: "+read.etag())
	after := c.must(200, "GET", "/v1/specs/code:C-104", "", "If-None-Match: "+before.etag())
	if after.etag() == before.etag() || after.at("revision") != before.at("revision") {
		t.Errorf("ETag %s → %s, revision %v → %v; want another ETag and the same revision", before.etag(), after.etag(), before.at("revision"), after.at("revision"))
	}
}

func TestHouse(t *testing.T) {
	c := open(t)
	read := c.must(200, "GET", "/v1/house", "")
	if read.at("currency") != "EUR" || read.at("time_zone") != "UTC" || read.at("units", "oz") != "[foz_us]" || read.at("tax_pct") != "0" {
		t.Errorf("a new house is %s", read.text)
	}
	put := c.must(200, "PUT", "/v1/house", `{"name": "The Tin Lantern", "time_zone": "Europe/Lisbon", "currency": "EUR", "country": "PT",
		"units": {"oz": 30, "dash_ml": 0.8}, "tax_pct": "23", "labour_per_hour": {"amount": "14.50", "currency": "EUR"},
		"energy_per_kwh": {"amount": "0.21", "currency": "EUR"}, "room_c": 22, "ingredient_c": 20, "ice_c": -8, "ice_wet_pct": 2, "target_pour_cost_pct": "20"}`, "If-Match: "+read.etag())
	for path, want := range map[string]any{"name": "The Tin Lantern", "time_zone": "Europe/Lisbon", "country": "PT", "tax_pct": "23", "room_c": 22.0, "ice_wet_pct": 2.0, "target_pour_cost_pct": "20"} {
		if put.at(path) != want {
			t.Errorf("%s is %v, want %v", path, put.at(path), want)
		}
	}
	if put.at("units", "oz") != 30.0 || put.at("units", "dash_ml") != 0.8 || put.at("units", "drop_ml") != 0.05 {
		t.Errorf("units are %v, want oz 30, dash 0.8, drop as in a new house", put.at("units"))
	}
	patched := c.must(200, "PATCH", "/v1/house", `{"units": {"oz": "[foz_br]"}, "target_pour_cost_pct": null}`, "If-Match: "+put.etag())
	if patched.at("units", "oz") != "[foz_br]" || patched.at("target_pour_cost_pct") != nil || patched.at("units", "dash_ml") != 0.8 {
		t.Errorf("patched house is %s", patched.text)
	}
	bad := c.must(422, "PUT", "/v1/house", `{"time_zone": "Mars/Olympus", "currency": "EURO", "country": "Portugal", "units": {"oz": "[pint]", "drop_ml": -1},
		"tax_pct": "twenty", "labour_per_hour": {"amount": "1", "currency": "USD"}, "ice_c": 4}`, "If-Match: "+patched.etag())
	want := []string{"/units/oz UNKNOWN_VALUE", "/tax_pct BAD_DECIMAL", "/country UNKNOWN_COUNTRY", "/currency BAD_CURRENCY", "/ice_c", "/labour_per_hour/currency CURRENCY_MIX", "/time_zone UNKNOWN_TIME_ZONE", "/units/drop_ml OUT_OF_RANGE"}
	if got := bad.faults(); len(got) != len(want) {
		t.Errorf("faults are %q, want about %q", got, want)
	}
}

// TestCurrencyStaysWhilePricesAreInIt keeps a house from mixing currencies by a
// change of its own, also one by leaving the member out.
func TestCurrencyStaysWhilePricesAreInIt(t *testing.T) {
	c := open(t)
	read := c.must(200, "GET", "/v1/house", "")
	read = c.must(200, "PATCH", "/v1/house", `{"currency": "GBP"}`, "If-Match: "+read.etag())
	c.must(201, "POST", "/v1/components", strings.ReplaceAll(rum, "EUR", "GBP"))
	for _, body := range []string{`{"currency": "USD"}`, `{"name": "The Tin Lantern"}`} {
		if got := fmt.Sprint(c.must(422, "PUT", "/v1/house", body, "If-Match: "+read.etag()).faults()); got != "[/currency CURRENCY_MIX]" {
			t.Errorf("%s is answered with %s", body, got)
		}
	}
	c.must(200, "PUT", "/v1/house", `{"name": "The Tin Lantern", "currency": "GBP"}`, "If-Match: "+read.etag())
}

// TestEscapedCode: clients that escape the colon of code:X find the same thing.
func TestEscapedCode(t *testing.T) {
	c := stocked(t)
	for _, path := range []string{"/v1/components/code%3ALIQ-7", "/v1/components/code:LIQ%2D7"} {
		if got := c.must(200, "GET", path, "").at("code"); got != "LIQ-7" {
			t.Errorf("%s is %v, want LIQ-7", path, got)
		}
	}
	c.must(200, "GET", "/v1/specs/code%3AC-104/serve", "")
}

// TestShortLabelsStay: a label that gives only a bulk density, or states that
// there are no acids, is stored and answered as it was sent, and counts.
func TestShortLabelsStay(t *testing.T) {
	c := open(t)
	sugar := c.must(201, "POST", "/v1/components", `{"kind": "bought", "code": "CASTER", "name": "Caster sugar", "category": "sugar", "label": {"bulk_density_g_per_ml": 0.85}}`)
	if got := c.must(200, "GET", "/v1/components/code:CASTER", "").at("label", "bulk_density_g_per_ml"); got != 0.85 {
		t.Errorf("bulk density is %v (%s), want 0.85", got, sugar.text)
	}
	if got := c.must(200, "GET", "/v1/components/code:CASTER/profile", "").at("density_kg_per_l"); got != 0.85 {
		t.Errorf("the sugar's density is %v, want 0.85", got)
	}
	c.must(201, "POST", "/v1/components", `{"kind": "bought", "code": "PEAR", "name": "Pear juice", "category": "juice", "label": {"sugar_g_per_l": 90, "acids_g_per_l": {}}}`)
	juice := c.must(200, "GET", "/v1/components/code:PEAR", "")
	if acids, ok := juice.at("label", "acids_g_per_l").(map[string]any); !ok || len(acids) != 0 {
		t.Errorf("stated acids are %v, want none stated", juice.at("label"))
	}
	if got := c.must(200, "GET", "/v1/components/code:PEAR/profile", "").at("acid_g_per_l"); got != 0.0 {
		t.Errorf("a juice that has no acids has %v g/L", got)
	}
}
