package api_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"servewright/api"
)

// TestSwapJourney goes the whole way of a swap over HTTP: components, a spec, a
// house-made liqueur nested in another, the swap across the menu.
func TestSwapJourney(t *testing.T) {
	c := stocked(t)
	c.must(201, "POST", "/v1/components", `{"kind": "house_made", "code": "H-CORDIAL", "name": "Quince cordial", "category": "syrup",
		"recipe": {"lines": [{"component_id": "code:LIQ-7", "amount": 300, "unit": "mL"}, {"component_id": "code:LIME", "amount": 200, "unit": "mL"}],
		"yield": {"measured": {"amount": 480, "unit": "mL"}}}}`)
	c.must(201, "POST", "/v1/specs", `{"code": "C-105", "name": "Cordial Highball", "method": "build", "serving_ice": "cubes", "glass": "highball",
		"lines": [{"component_id": "code:H-CORDIAL", "amount": 50, "unit": "mL"}, {"component_id": "code:WATER", "amount": 100, "unit": "mL", "stage": "top"}]}`)
	before := c.everything()
	r := c.must(200, "POST", "/v1/swaps", `{"from": "code:LIQ-7", "to": "code:H-QUINCE", "amounts": "same"}`)

	if r.at("totals", "specs") != 2.0 || r.at("specs", 0, "spec", "code") != "C-104" || r.at("specs", 1, "spec", "code") != "C-105" {
		t.Fatalf("the swap reaches %v specs: %v, %v; want C-104 and, through the cordial, C-105", r.at("totals", "specs"), r.at("specs", 0, "spec"), r.at("specs", 1, "spec"))
	}
	lamp, cordial := r.at("specs", 0), r.at("specs", 1).(map[string]any)
	if got := fmt.Sprint(cordial["lines"]); !strings.Contains(got, "remade:true") {
		t.Errorf("the line of the cordial is %s, want it remade", got)
	}
	if !strings.Contains(fmt.Sprint(r.at("cautions")), "YIELD_KEPT") {
		t.Errorf("cautions are %v, want the measured yield named", r.at("cautions"))
	}
	// By is after less before, in the unit of the name.
	served := func(side string) float64 { return r.at("specs", 0, side, "served", "abv_pct").(float64) }
	by := r.at("specs", 0, "change", "served.abv_pct", "by").(float64)
	if math.Abs(served("after")-served("before")-by) > 2e-4 { // half of the last printed digit of each of the three
		t.Errorf("abv_pct %v → %v changes by %v", served("before"), served("after"), by)
	}
	// 20 mL of a liqueur at 30.00 a litre against one at its goods cost: exact to the last digit.
	if got := r.at("specs", 0, "cost_change", "total", "amount"); got != "-0.21041" {
		t.Errorf("the cost changes by %v, want -0.21041 (0.60 → 0.38959): %v", got, lamp)
	}
	if c.everything() != before {
		t.Error("a swap stored something")
	}

	one := c.must(200, "POST", "/v1/swaps", `{"from": "code:LIQ-7", "to": "code:H-QUINCE", "limit": 1}`)
	next := one.at("next_cursor").(string)
	two := c.must(200, "POST", "/v1/swaps", fmt.Sprintf(`{"from": "code:LIQ-7", "to": "code:H-QUINCE", "limit": 1, "cursor": %q}`, next))
	if two.at("specs", 0, "spec", "code") != "C-105" || two.at("next_cursor") != nil || fmt.Sprint(two.at("totals")) != fmt.Sprint(r.at("totals")) {
		t.Errorf("the second page is %.300s", two.text)
	}
	other := c.must(400, "POST", "/v1/swaps", fmt.Sprintf(`{"from": "code:H-QUINCE", "to": "code:LIQ-7", "cursor": %q}`, next))
	if got := fmt.Sprint(other.faults()); got != "[/cursor BAD_CURSOR]" {
		t.Errorf("a cursor of another swap is answered with %s", got)
	}
	only := c.must(200, "POST", "/v1/swaps?detail=short", `{"from": "code:LIQ-7", "to": "code:H-QUINCE", "specs": ["code:C-105"]}`)
	if only.at("totals", "specs") != 1.0 || strings.Contains(strings.ReplaceAll(only.text, "beyond_band", ""), "band") || strings.Contains(only.text, `"cautions"`) || strings.Contains(only.text, `"cost_lines"`) {
		t.Errorf("a short swap of one spec is %.600s", only.text)
	}
}

func TestSwapForItselfChangesNothing(t *testing.T) {
	c := stocked(t)
	r := c.must(200, "POST", "/v1/swaps", `{"from": "code:LIQ-7", "to": "code:LIQ-7"}`)
	for name, change := range r.at("specs", 0, "change").(map[string]any) {
		if m := change.(map[string]any); m["by"] != 0.0 || m["beyond_band"] != false {
			t.Errorf("%s changes by %v", name, m["by"])
		}
	}
	if r.at("specs", 0, "cost_change", "total", "amount") != "0.00" {
		t.Errorf("the cost changes by %v", r.at("specs", 0, "cost_change"))
	}
}

// TestSwapOfWhatCannotBeMade keeps one spec that cannot be made, before the swap
// or after it, from holding up the menu.
func TestSwapOfWhatCannotBeMade(t *testing.T) {
	c := stocked(t)
	c.must(201, "POST", "/v1/specs", `{"code": "C-201", "name": "Only a mist", "method": "none", "lines": [{"component_id": "code:LIQ-7", "amount": 1, "unit": "mL", "stage": "garnish"}]}`)
	c.must(201, "POST", "/v1/specs", `{"code": "C-202", "name": "Two drops", "method": "none", "lines": [{"component_id": "code:RUM-DARK", "amount": 50, "unit": "mL"}, {"component_id": "code:LIQ-7", "amount": 2, "unit": "drop"}]}`)
	r := c.must(200, "POST", "/v1/swaps", `{"from": "code:LIQ-7", "to": "code:SUGAR"}`)
	if r.at("totals", "specs") != 3.0 || r.at("totals", "unmade") != 3.0 {
		t.Errorf("totals are %v, want 3 specs, none of which can be made with sugar by volume", r.at("totals"))
	}
	for i, before := range []bool{true, false, true} {
		if (r.at("specs", i, "before") != nil) != before || r.at("specs", i, "after") != nil || r.at("specs", i, "unmade") == nil {
			t.Errorf("%v: before %v, after %v, unmade %v", r.at("specs", i, "spec", "code"), r.at("specs", i, "before") != nil, r.at("specs", i, "after") != nil, r.at("specs", i, "unmade"))
		}
	}
	if other := c.must(200, "POST", "/v1/swaps", `{"from": "code:LIQ-7", "to": "code:H-QUINCE"}`); other.at("totals", "unmade") != 1.0 {
		t.Errorf("totals are %v, want one spec that pours nothing", other.at("totals"))
	}
}

func TestSwapFaults(t *testing.T) {
	c := stocked(t)
	r := c.must(422, "POST", "/v1/swaps", `{"from": "code:NONE", "specs": ["code:C-104", "code:X", "code:C-104"], "amounts": "rebalanced", "adjust": [], "limit": 0}`)
	want := []string{"/amounts UNKNOWN_VALUE", "/adjust UNKNOWN_MEMBER", "/to REQUIRED", "/from UNKNOWN_COMPONENT", "/limit OUT_OF_RANGE", "/specs/1 UNKNOWN_SPEC", "/specs/2 TWICE"}
	if got := r.faults(); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("faults are\n%q, want\n%q", got, want)
	}
}

// TestServeAnswersTheFixedShape holds the members that integrators rely on.
func TestServeAnswersTheFixedShape(t *testing.T) {
	c := stocked(t)
	house := c.must(200, "GET", "/v1/house", "")
	c.must(200, "PATCH", "/v1/house", `{"country": "GB", "target_pour_cost_pct": "20"}`, "If-Match: "+house.etag())
	r := c.must(200, "GET", "/v1/specs/code:C-104/serve", "")
	for group, names := range map[string]string{
		"mixed":         "volume_ml abv_pct sugar_g_per_l acid_g_per_l",
		"dilution":      "model pct_of_start pct_of_start_band pct_of_served water_ml",
		"served":        "volume_ml abv_pct abv_pct_band alcohol_g sugar_g sugar_g_per_l acid_g_per_l acid_as ph energy_kcal temperature_c serving_melt_ml",
		"cost":          "total priced_subtotal missing full lines",
		"price":         "before_tax pour_cost_pct gross_profit gross_profit_pct",
		"allergens":     "contains may_contain unconfirmed",
		"target_price":  "target_pour_cost_pct before_tax with_tax",
		"alcohol_units": "", "cautions": "", "estimated": "",
	} {
		v, ok := r.json[group]
		if !ok {
			t.Errorf("a serve has no %s", group)
		}
		for name := range strings.FieldsSeq(names) {
			if _, ok := v.(map[string]any)[name]; !ok {
				t.Errorf("a serve has no %s.%s", group, name)
			}
		}
	}
	for name := range strings.FieldsSeq("component_id name amount_ml price_per_l cost") {
		if _, ok := r.at("cost", "lines", 0).(map[string]any)[name]; !ok {
			t.Errorf("a cost line has no %s", name)
		}
	}
	if r.at("alcohol_units", 0, "country") != "GB" || r.at("dilution", "model") != "published_fit" || r.at("served", "acid_as") != "citric" {
		t.Errorf("units %v, model %v, acid as %v", r.at("alcohol_units"), r.at("dilution", "model"), r.at("served", "acid_as"))
	}
	// 45 mL × 138.00/4.2 L + 20 mL × 30.00 + 22.5 mL × 6.00, each line quantised to a millionth.
	if got := r.at("cost", "total", "amount"); got != "2.213571" {
		t.Errorf("the goods cost %v, want 2.213571 = 1.478571 + 0.60 + 0.135", got)
	}
	// 13.00 with 20 % tax in it.
	if got := r.at("price", "before_tax", "amount"); got != "10.833333" {
		t.Errorf("before tax %v, want 10.833333 = 13.00 ÷ 1.2", got)
	}
	short := c.must(200, "GET", "/v1/specs/code:C-104/serve?detail=short", "")
	if strings.Contains(short.text, "_band") || strings.Contains(short.text, "cautions") || short.at("cost", "lines") != nil {
		t.Errorf("detail=short answers %s", short.text)
	}
	if short.at("served", "abv_pct") != r.at("served", "abv_pct") {
		t.Error("detail=short changes a figure")
	}
}

func TestProfileAnswersTheFixedShape(t *testing.T) {
	c := stocked(t)
	r := c.must(200, "GET", "/v1/components/code:H-QUINCE/profile", "")
	for name := range strings.FieldsSeq("abv_pct sugar_g_per_l acid_g_per_l acid_as ph density_kg_per_l brix_pct energy_kcal_per_100ml yield_ml loss_ml goods_cost_per_l full_cost_per_l cost_per_l cost_per_batch cost_lines allergens cautions") {
		if _, ok := r.json[name]; !ok {
			t.Errorf("a profile has no %s", name)
		}
	}
	if fmt.Sprint(r.at("cost_per_l")) != fmt.Sprint(r.at("goods_cost_per_l")) {
		t.Errorf("cost_per_l %v is not the goods cost %v", r.at("cost_per_l"), r.at("goods_cost_per_l"))
	}
	solid := c.must(200, "GET", "/v1/components/code:SUGAR/profile", "")
	for _, name := range []string{"abv_pct", "sugar_g_per_l", "density_kg_per_l", "energy_kcal_per_100ml", "cost_per_l", "yield_ml"} {
		if v, ok := solid.json[name]; !ok || v != nil {
			t.Errorf("a solid's %s is %v, want null", name, v)
		}
	}
	if solid.at("cost_per_kg", "amount") != "1.20" {
		t.Errorf("sugar costs %v a kg, want 1.20", solid.at("cost_per_kg"))
	}
	uses := c.must(200, "GET", "/v1/components/code:SUGAR/uses", "")
	if uses.at("components", 0, "code") != "H-QUINCE" || len(uses.at("specs").([]any)) != 0 {
		t.Errorf("sugar is used by %s", uses.text)
	}
	rum := c.must(200, "GET", "/v1/components/code:RUM-DARK/uses", "")
	if rum.at("specs", 0, "code") != "C-104" || rum.at("reached_specs", 0, "code") != "C-104" {
		t.Errorf("rum is used by %s", rum.text)
	}
}

func TestDatePicksThePrice(t *testing.T) {
	c := stocked(t)
	early := c.must(200, "GET", "/v1/specs/code:C-104/serve?as_of=2026-02-28", "")
	if early.at("cost", "total") != nil || early.at("cost", "missing", 0, "path", 0) != "Dark cane rum 42" {
		t.Errorf("before the rum has a price, the cost is %v", early.at("cost"))
	}
	if early.at("cost", "priced_subtotal", "amount") != "0.735" || early.at("price", "before_tax", "amount") != "10.833333" || early.at("price", "pour_cost_pct") != nil {
		t.Errorf("what is priced stays: subtotal %v, price %v", early.at("cost", "priced_subtotal"), early.at("price"))
	}
	if late := c.must(200, "GET", "/v1/specs/code:C-104/serve?as_of=2026-03-01", ""); late.at("cost", "total", "amount") != "2.213571" {
		t.Errorf("on its first day the price is not in force: %v", late.at("cost", "total"))
	}
}

// TestTodayIsTheHouses asks at 23:30 UTC on the eve of a price: it is in force
// already where the house is an hour ahead.
func TestTodayIsTheHouses(t *testing.T) {
	store := openStore(t)
	eve := time.Date(2026, 2, 28, 23, 30, 0, 0, time.UTC)
	c := &client{t, api.New(store, quiet, func() time.Time { return eve }, newID)}
	c.must(201, "POST", "/v1/components", rum)
	if r := c.must(200, "GET", "/v1/components/code:RUM-DARK/profile", ""); r.at("cost_per_l") != nil {
		t.Errorf("in UTC it is still the eve: %v", r.at("cost_per_l"))
	}
	house := c.must(200, "GET", "/v1/house", "")
	c.must(200, "PATCH", "/v1/house", `{"time_zone": "Europe/Paris"}`, "If-Match: "+house.etag())
	if r := c.must(200, "GET", "/v1/components/code:RUM-DARK/profile", ""); r.at("cost_per_l", "amount") != "32.857143" {
		t.Errorf("in Paris the price is in force: %v, want 32.857143 = 138.00 ÷ 4.2 L", r.at("cost_per_l"))
	}
}

func TestComputedETag(t *testing.T) {
	c := stocked(t)
	paths := []string{"/v1/specs/code:C-104/serve", "/v1/specs/code:C-104/serve?detail=short", "/v1/specs/code:C-104/serve?as_of=2026-02-28",
		"/v1/components/code:RUM-DARK/profile", "/v1/components/code:LIQ-7/profile"}
	seen := map[string]string{}
	for _, path := range paths {
		r := c.must(200, "GET", path, "")
		if other, twice := seen[r.etag()]; twice || r.etag() == "" {
			t.Errorf("%s and %s have the ETag %s", path, other, r.etag())
		}
		seen[r.etag()] = path
		if same := c.must(304, "GET", path, "", "If-None-Match: "+r.etag()); same.text != "" {
			t.Errorf("304 of %s has a body", path)
		}
	}
	if today := c.must(200, "GET", paths[0]+"?as_of=2026-03-01", ""); seen[today.etag()] != "" {
		t.Error("another query has the same ETag") // a cache keys by address; the hash has the query in it
	}
	read := c.must(200, "GET", "/v1/components/code:WATER", "")
	c.must(200, "PATCH", "/v1/components/code:WATER", `{"notes": "filtered"}`, "If-Match: "+read.etag())
	for etag, path := range seen {
		if r := c.must(200, "GET", path, "", "If-None-Match: "+etag); r.etag() == etag {
			t.Errorf("the ETag of %s outlives a write", path)
		}
	}
}

func TestEarlierRevisions(t *testing.T) {
	c := stocked(t)
	first := c.must(200, "GET", "/v1/specs/code:C-104/serve", "")
	read := c.must(200, "GET", "/v1/specs/code:C-104", "")
	c.must(200, "PATCH", "/v1/specs/code:C-104", `{"method": "stir"}`, "If-Match: "+read.etag())
	head := c.must(200, "GET", "/v1/specs/code:C-104/serve", "")
	then := c.must(200, "GET", "/v1/specs/code:C-104/serve?revision=1", "")
	if fmt.Sprint(then.at("served")) != fmt.Sprint(first.at("served")) || fmt.Sprint(then.at("served")) == fmt.Sprint(head.at("served")) {
		t.Errorf("revision 1 serves %v, it served %v, the head serves %v", then.at("served"), first.at("served"), head.at("served"))
	}
	rum := c.must(200, "GET", "/v1/components/code:RUM-DARK", "")
	c.must(200, "PATCH", "/v1/components/code:RUM-DARK", `{"label": {"abv_pct": 60}, "code": "RUM-NAVY"}`, "If-Match: "+rum.etag())
	was := c.must(200, "GET", "/v1/components/code:RUM-NAVY/profile?revision=1", "")
	if was.at("abv_pct") != 42.0 {
		t.Errorf("revision 1 of the rum has %v %% vol, want 42", was.at("abv_pct"))
	}
	c.must(404, "GET", "/v1/specs/code:C-104/serve?revision=7", "")
	c.must(400, "GET", "/v1/specs/code:C-104/serve?revision=0", "")
}

func TestServeOfWhatIsNotStored(t *testing.T) {
	c := stocked(t)
	stored := c.must(200, "GET", "/v1/specs/code:C-104/serve", "")
	before := c.everything()
	for _, body := range []string{lamp, c.must(200, "GET", "/v1/specs/code:C-104", "").text} {
		r := c.must(200, "POST", "/v1/serves", body)
		if fmt.Sprint(r.json) != fmt.Sprint(stored.json) {
			t.Errorf("the same spec unsaved serves\n%s\nstored\n%s", r.text, stored.text)
		}
	}
	bad := c.must(422, "POST", "/v1/serves", `{"name": "x", "method": "shake", "lines": [{"component_id": "code:NO", "amount": -1, "unit": "cup"}]}`)
	if got := fmt.Sprint(bad.faults()); got != "[/lines/0/component_id UNKNOWN_COMPONENT /lines/0/unit UNKNOWN_UNIT]" && got != "[/lines/0/component_id UNKNOWN_COMPONENT /lines/0/amount AMOUNT_RANGE /lines/0/unit UNKNOWN_UNIT]" {
		t.Errorf("faults are %s", got)
	}
	if c.everything() != before {
		t.Error("an unsaved serve stored something")
	}
}

// TestEveryMethodServes makes one drink by every method on every ice.
func TestEveryMethodServes(t *testing.T) {
	c := stocked(t)
	for method := range strings.FieldsSeq("shake dry_shake short_shake stir build highball roll throw swizzle blend carbonate none") {
		for ice := range strings.FieldsSeq("none cubes large_cube crushed") {
			body := fmt.Sprintf(`{"name": "x", "method": %q, "serving_ice": %q, "lines": [{"component_id": "code:RUM-DARK", "amount": 45, "unit": "mL"},
				{"component_id": "code:LIME", "amount": 22.5, "unit": "mL"}, {"component_id": "code:WATER", "amount": 20, "unit": "mL", "stage": "top"}]}`, method, ice)
			r := c.must(200, "POST", "/v1/serves", body)
			if v, _ := r.at("served", "volume_ml").(float64); !(v > 80 && v < 400) {
				t.Errorf("%s on %s serves %v mL", method, ice, v)
			}
		}
	}
}

// TestRatesOfADate: as_of picks the tax and labour of that day in the house's
// zone, also for a house that has changed them since.
func TestRatesOfADate(t *testing.T) {
	now := today
	c := &client{t, api.New(openStore(t), quiet, func() time.Time { return now }, newID)}
	read := c.must(200, "GET", "/v1/house", "")
	read = c.must(200, "PUT", "/v1/house", `{"currency": "EUR", "time_zone": "Asia/Tokyo", "tax_pct": "20", "labour_per_hour": {"amount": "12", "currency": "EUR"}}`, "If-Match: "+read.etag())
	c.must(201, "POST", "/v1/components", rum)
	c.must(201, "POST", "/v1/components", `{"kind": "house_made", "code": "H-RUM", "name": "Rested rum", "category": "spirit", "recipe": {"lines": [{"component_id": "code:RUM-DARK", "amount": 1, "unit": "L"}], "labour_min": 60}}`)
	c.must(201, "POST", "/v1/specs", `{"code": "NEAT", "name": "Neat", "method": "none", "lines": [{"component_id": "code:H-RUM", "amount": 50, "unit": "mL"}], "price": {"amount": "12", "currency": "EUR", "tax": "included"}}`)
	now = today.AddDate(0, 0, 2) // 2026-03-03, 18:30 in Tokyo
	c.must(200, "PATCH", "/v1/house", `{"tax_pct": "0", "labour_per_hour": {"amount": "24", "currency": "EUR"}}`, "If-Match: "+read.etag())
	if got := c.must(200, "GET", "/v1/specs/code:NEAT/serve?as_of=2026-02-01", "").at("price", "before_tax", "amount"); got != "10.00" {
		t.Errorf("before the house was written the price before tax is %v, want that of its first rates, 10.00", got)
	}
	for date, want := range map[string][2]string{"2026-03-01": {"10.00", "12"}, "2026-03-02": {"10.00", "12"}, "2026-03-03": {"12.00", "24"}, "2026-03-09": {"12.00", "24"}} {
		r := c.must(200, "GET", "/v1/specs/code:NEAT/serve?as_of="+date, "")
		if got := r.at("price", "before_tax", "amount"); got != want[0] {
			t.Errorf("on %s the price before tax is %v, want %s", date, got, want[0])
		}
		p := c.must(200, "GET", "/v1/components/code:H-RUM/profile?as_of="+date, "")
		goods, full := p.at("goods_cost_per_l", "amount").(string), p.at("full_cost_per_l", "amount").(string)
		if diff := parse(t, full) - parse(t, goods); fmt.Sprintf("%.6g", diff) != want[1] {
			t.Errorf("on %s an hour of labour costs %v, want %s", date, diff, want[1])
		}
	}
}

func parse(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
