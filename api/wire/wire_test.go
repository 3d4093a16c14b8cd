package wire

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
	"servewright/testdata/demo"
	"servewright/testdata/reference"
)

func newID() recipe.ID { return recipe.ID(uuid.Must(uuid.NewV7()).String()) }

func TestNumberIsRoundedHalfToEven(t *testing.T) {
	tests := []struct {
		x    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {1, "1"}, {0.1 + 0.2, "0.3"},
		{123456, "123456"}, {1234567, "1234570"}, {1234565, "1234560"}, {1234575, "1234580"}, // ties to even
		{-1234565, "-1234560"}, {0.00012345649, "0.000123456"}, {99999.96, "100000"}, {1e-9, "1e-9"}, {15.0312499, "15.0312"},
		{1.000005, "1.00001"}, // the float64 lies 3e-17 above the tie
		{2.5, "2.5"},
	}
	for _, tt := range tests {
		got, err := json.Marshal(Number(tt.x))
		if err != nil || string(got) != tt.want {
			t.Errorf("Number(%v) is written %s (%v), want %s", tt.x, got, err, tt.want)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		if got, err := json.Marshal(Number(x)); err == nil {
			t.Errorf("Number(%v) is written %s, want it refused", x, got)
		}
	}
}

// TestGTIN runs the numbers of testdata/reference/gs1_check_digit.csv.
func TestGTIN(t *testing.T) {
	rows := reference.Rows(t, "gs1_check_digit.csv")
	for _, row := range rows {
		full, source := row["full"], row["source"]
		report := NewReport()
		if got := gtin(full, "/gtin", report); got != strings.Repeat("0", 14-len(full))+full || !report.Empty() {
			t.Errorf("gtin(%s) = %q, %v, want it taken (%s)", full, got, report.Err(), source)
		}
		for d := range 10 {
			other := full[:len(full)-1] + fmt.Sprint(d)
			report := NewReport()
			if gtin(other, "/gtin", report); report.Empty() != (other == full) {
				t.Errorf("gtin(%s): %v, want only %s taken (%s)", other, report.Err(), full, source)
			}
		}
	}
	for _, bad := range []string{"1", "123456789", "123456789012345", "50123456789O0", "-501234567890", " 5012345678900"} {
		report := NewReport()
		if gtin(bad, "/gtin", report); report.Empty() {
			t.Errorf("gtin(%q) was taken", bad)
		}
	}
}

// TestWordsAreTheDomains holds the words that bodies take against those that the
// domain knows.
func TestWordsAreTheDomains(t *testing.T) {
	var allergens []string
	for a := range safety.Allergens {
		allergens = append(allergens, a.String())
	}
	tests := []struct {
		body   any
		member string
		want   string
	}{
		{Component{}, "category", fmt.Sprint(recipe.Categories)},
		{Component{}, "kind", fmt.Sprint([]recipe.Kind{recipe.Bought, recipe.HouseMade})},
		{Component{}, "status", fmt.Sprint([]recipe.Status{recipe.Active, recipe.Delisted})},
		{Allergens{}, "declared", fmt.Sprint(allergens)},
		{Allergens{}, "may_contain", fmt.Sprint(allergens)},
		{Spec{}, "method", fmt.Sprint(chill.Methods)},
		{Spec{}, "serving_ice", fmt.Sprint(chill.Ices)},
		{SpecLine{}, "stage", fmt.Sprint([]recipe.Stage{recipe.Mix, recipe.Top, recipe.Rinse, recipe.Float, recipe.Garnish})},
	}
	for _, tt := range tests {
		typ := reflect.TypeOf(tt.body)
		if got := fmt.Sprint(fieldsOf(typ).byName[tt.member].oneOf); got != tt.want {
			t.Errorf("%s.%s takes %s, the domain knows %s", typ, tt.member, got, tt.want)
		}
	}
	for member, want := range map[string]int{"lines": recipe.MaxLines} {
		if got := fieldsOf(reflect.TypeFor[Spec]()).byName[member].max; got != want {
			t.Errorf("a spec takes %d %s, the domain %d", got, member, want)
		}
	}
	if got := fieldsOf(reflect.TypeFor[Component]()).byName["packs"].max; got != recipe.MaxPacks {
		t.Errorf("a component takes %d packs, the domain %d", got, recipe.MaxPacks)
	}
	for _, name := range sugarKeys {
		if _, ok := liquid.ParseSugar(name); !ok {
			t.Errorf("the domain knows no sugar %s", name)
		}
	}
	for _, name := range acidKeys {
		if _, ok := liquid.ParseAcid(name); !ok {
			t.Errorf("the domain knows no acid %s", name)
		}
	}
}

// TestWrittenAndReadIsTheSame is the law of this package: what is stored, written
// and read back is what was stored.
func TestWrittenAndReadIsTheSame(t *testing.T) {
	parts := twoComponents(t)
	find := InBook(parts)
	house := parts.House()
	rapid.Check(t, func(t *rapid.T) {
		c := drawComponent(t, parts)
		kept := recipe.Kept[recipe.Component]{Value: c, Revision: recipe.Revision{Number: 3, At: time.Unix(1772000000, 123000).UTC()}}
		body := FromComponent(kept, find)
		var in Component
		report := reread(t, body, &in)
		back, err := in.Translate(body.Stored, &Env{Find: find, NewID: newID, Keeps: Kept(ComponentIDs(&c)...)}, house, report)
		if err != nil || report.Err() != nil {
			t.Fatalf("%+v was not taken back: %v %v", body, err, report.Err())
		}
		if !reflect.DeepEqual(back, c) {
			t.Fatalf("component came back as\n%+v, was\n%+v", back, c)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		s := drawSpec(t, parts)
		body := FromSpec(recipe.Kept[recipe.Spec]{Value: s, Revision: recipe.Revision{Number: 1}}, find)
		var in Spec
		report := reread(t, body, &in)
		back, err := in.Translate(body.Stored, &Env{Find: find, NewID: newID, Keeps: Kept(LineIDs(s.Lines)...)}, house, report)
		if err != nil || report.Err() != nil {
			t.Fatalf("%+v was not taken back: %v %v", body, err, report.Err())
		}
		if !reflect.DeepEqual(back, s) {
			t.Fatalf("spec came back as\n%+v, was\n%+v", back, s)
		}
	})
}

func reread(t *rapid.T, body, into any) *Report {
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	report, err := Decode(text, into)
	if err != nil {
		t.Fatalf("%s cannot be read: %v", text, err)
	}
	return report
}

func twoComponents(t *testing.T) *recipe.Book {
	t.Helper()
	b, err := recipe.NewBook(recipe.DefaultHouse(), []recipe.Component{
		{ID: newID(), Kind: recipe.Bought, Code: "A", Name: "First", Category: recipe.Spirit, Status: recipe.Active},
		{ID: newID(), Kind: recipe.Bought, Name: "Second", Category: recipe.Sugar, Status: recipe.Active},
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// drawText draws printable text, accents and other scripts included.
var drawText = rapid.StringMatching(`[A-Za-zé漢 ]{1,12}[a-z]`)

// drawPct draws a percentage as a person writes it: at most six digits after the
// point.
var drawPct = rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(0, 99_000_000).Draw(t, "millionths")) / 1e6 })

func drawLines(t *rapid.T, b *recipe.Book, spec bool) []recipe.Line {
	lines := make([]recipe.Line, rapid.IntRange(1, 4).Draw(t, "lines"))
	for i := range lines {
		lines[i] = recipe.Line{
			ID: newID(), Component: rapid.SampledFrom(b.Components()).Draw(t, "component").ID, Note: rapid.SampledFrom([]string{"", "strained"}).Draw(t, "note"),
			Amount: measure.Quantity{Amount: rapid.Float64Range(1e-3, 1e4).Draw(t, "amount"), Unit: rapid.SampledFrom([]measure.Unit{measure.ML, measure.G, measure.Oz, measure.FlOzUS, measure.Piece}).Draw(t, "unit")},
		}
		if spec {
			lines[i].Stage = rapid.SampledFrom([]recipe.Stage{recipe.Mix, recipe.Top, recipe.Rinse, recipe.Float, recipe.Garnish}).Draw(t, "stage")
			lines[i].PouredC = drawOptional(t, "poured_c", func() measure.Temperature { return measure.Temperature(rapid.Float64Range(-5, 30).Draw(t, "c")) })
		}
	}
	return lines
}

func drawOptional[T any](t *rapid.T, name string, draw func() T) *T {
	if !rapid.Bool().Draw(t, name) {
		return nil
	}
	v := draw()
	return &v
}

func drawAmount(t *rapid.T) money.Amount {
	a, err := money.NewAmount(fmt.Sprintf("%d.%d", rapid.IntRange(0, 9999).Draw(t, "whole"), rapid.IntRange(0, 999999).Draw(t, "part")), "EUR")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func drawDecimal(t *rapid.T) *money.Decimal {
	return drawOptional(t, "tax_pct", func() money.Decimal {
		d, err := money.ParseDecimal(fmt.Sprintf("%d.%d", rapid.IntRange(0, 99).Draw(t, "pct"), rapid.IntRange(0, 99).Draw(t, "part")))
		if err != nil {
			t.Fatal(err)
		}
		return d
	})
}

func drawComponent(t *rapid.T, b *recipe.Book) recipe.Component {
	c := recipe.Component{
		ID: newID(), Kind: recipe.Bought, Code: rapid.StringMatching(`[A-Z]{0,4}`).Draw(t, "code"), Name: drawText.Draw(t, "name"),
		Category: recipe.Spirit, Status: rapid.SampledFrom([]recipe.Status{recipe.Active, recipe.Delisted}).Draw(t, "status"),
		WastePct: drawPct.Draw(t, "waste"), Dash: measure.Volume(rapid.Float64Range(0, 2).Draw(t, "dash")),
		Piece:   recipe.Piece{Juice: measure.Volume(rapid.Float64Range(0, 50).Draw(t, "juice")), Mass: measure.Mass(rapid.Float64Range(0, 50).Draw(t, "mass"))},
		PouredC: drawOptional(t, "poured_c", func() measure.Temperature { return 4 }),
		Notes:   rapid.SampledFrom([]string{"", "line one\nline two"}).Draw(t, "notes"),
	}
	if rapid.Bool().Draw(t, "declared") {
		c.Allergens = safety.Declaration{Declared: true, Contains: safety.Set(rapid.Uint16Range(0, 1<<14-1).Draw(t, "contains")), MayContain: safety.Set(rapid.Uint16Range(0, 1<<14-1).Draw(t, "may"))}
	}
	if rapid.Bool().Draw(t, "external") {
		c.ExternalIDs = []recipe.ExternalID{{System: "stock", ID: "000417"}}
	}
	if rapid.Bool().Draw(t, "made") {
		c.Kind = recipe.HouseMade
		c.Recipe = &recipe.Recipe{Lines: drawLines(t, b, false), Packaging: []recipe.Line{}, LabourMin: rapid.Float64Range(0, 90).Draw(t, "labour"), Method: []string{"Stir.", "Strain."},
			ShelfLifeDays: rapid.IntRange(0, 90).Draw(t, "days"), Yield: recipe.Yield{LossPct: drawOptional(t, "loss", func() float64 { return drawPct.Draw(t, "loss_pct") })}}
		return c
	}
	pct := measure.ABV(drawPct.Draw(t, "abv") / 100)
	c.Label = liquid.Label{ABV: &pct, Acids: map[liquid.Substance]float64{liquid.CitricAcid: rapid.Float64Range(0, 5).Draw(t, "citric")}}
	for range rapid.IntRange(0, 3).Draw(t, "packs") {
		c.Packs = append(c.Packs, recipe.Pack{ID: newID(), Size: measure.Quantity{Amount: rapid.Float64Range(1, 1e4).Draw(t, "size"), Unit: measure.ML}, Count: rapid.IntRange(1, 24).Draw(t, "count"),
			Price: drawAmount(t), Deposit: drawOptional(t, "deposit", func() money.Amount { return drawAmount(t) }), Tax: rapid.SampledFrom([]recipe.TaxBasis{recipe.TaxExcluded, recipe.TaxIncluded}).Draw(t, "tax"),
			TaxPct: drawDecimal(t), ValidFrom: "2026-03-01", Supplier: "Quay Wholesale", Preferred: rapid.Bool().Draw(t, "preferred"), GTIN: "05012345678900"})
	}
	return c
}

func drawSpec(t *rapid.T, b *recipe.Book) recipe.Spec {
	s := recipe.Spec{
		ID: newID(), Code: rapid.StringMatching(`[A-Z]{0,4}`).Draw(t, "code"), Name: drawText.Draw(t, "name"), Category: "sour",
		Method: rapid.SampledFrom(chill.Methods).Draw(t, "method"), ServingIce: rapid.SampledFrom(chill.Ices).Draw(t, "ice"),
		Glass: "coupe", GlassVolume: measure.Volume(rapid.Float64Range(0, 400).Draw(t, "glass")), Lines: drawLines(t, b, true),
	}
	s.Conditions.Seconds = drawOptional(t, "seconds", func() float64 { return 12 })
	s.Conditions.IceC = drawOptional(t, "ice_c", func() measure.Temperature { return -8 })
	s.Dilution = drawOptional(t, "dilution", func() chill.Override {
		return chill.Override{Kind: rapid.SampledFrom([]chill.OverrideKind{chill.PctOfStart, chill.ServedVolume, chill.ServedMass}).Draw(t, "kind"), Value: rapid.Float64Range(1, 200).Draw(t, "value")}
	})
	s.Price = drawOptional(t, "price", func() recipe.Price {
		return recipe.Price{Amount: drawAmount(t), Tax: recipe.TaxIncluded, TaxPct: drawDecimal(t)}
	})
	return s
}

// TestLoadTheDemonstration reads the demonstration house and reads it again over
// itself: every id stays.
func TestLoadTheDemonstration(t *testing.T) {
	empty, err := recipe.NewBook(recipe.DefaultHouse(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	first, err := Load(demo.House, empty, recipe.DefaultHouse(), newID)
	if err != nil {
		t.Fatal(err)
	}
	if len(first.Components) < 30 || len(first.Specs) < 14 || first.House == nil {
		t.Fatalf("loaded %d components, %d specs", len(first.Components), len(first.Specs))
	}
	book, err := recipe.NewBook(*first.House, first.Components, first.Specs)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Load(demo.House, book, recipe.DefaultHouse(), newID)
	if err != nil {
		t.Fatal(err)
	}
	for i := range first.Components {
		if !reflect.DeepEqual(again.Components[i], first.Components[i]) {
			t.Errorf("loaded twice, %s is\n%+v, was\n%+v", first.Components[i].Name, again.Components[i], first.Components[i])
		}
	}
	for i := range first.Specs {
		if !reflect.DeepEqual(again.Specs[i], first.Specs[i]) {
			t.Errorf("loaded twice, %s changed", first.Specs[i].Name)
		}
	}
}

// TestLoadFaults gathers the faults of a whole file, in any order of its lines.
func TestLoadFaults(t *testing.T) {
	empty, err := recipe.NewBook(recipe.DefaultHouse(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	const part = `{"kind": "bought", "code": "A", "name": "A", "category": "spirit"}`
	tests := []struct{ name, file, want string }{
		{"a line before its component", `{"specs": [{"name": "s", "method": "none", "lines": [{"component_id": "code:A", "amount": 1, "unit": "mL"}]}], "components": [
			{"kind": "house_made", "code": "B", "name": "B", "category": "syrup", "recipe": {"lines": [{"component_id": "code:A", "amount": 1, "unit": "mL"}]}}, ` + part + `]}`, "[]"},
		{"one code twice", `{"components": [` + part + `, ` + part + `]}`, "[/components/1/code CODE_TWICE]"},
		{"faults in many places", `{"house": {"currency": "X"}, "components": [{"kind": "bought", "name": "A", "category": "spirit", "id": "7"}, {"kind": "bought", "name": "B", "category": "spirit", "label": {"abv_pct": 101}}],
			"specs": [{"name": "s", "method": "none", "lines": [{"component_id": "code:Z", "amount": 1, "unit": "mL"}], "colour": 1}], "stock": []}`,
			"[/specs/0/colour UNKNOWN_MEMBER /stock UNKNOWN_MEMBER /house/currency BAD_CURRENCY /components/0/id BAD_ID /components/1/label/abv_pct ABV_RANGE /specs/0/lines/0/component_id UNKNOWN_COMPONENT]"},
		{"what is answered is not all taken", `{"components": [{"kind": "bought", "name": "A", "category": "spirit", "revision": 4}]}`, "[/components/0/revision READ_ONLY]"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Load([]byte(tt.file), empty, recipe.DefaultHouse(), newID)
			if got := fmt.Sprint(shapes(err)); got != tt.want {
				t.Errorf("faults are\n%s, want\n%s", got, tt.want)
			}
		})
	}
	if _, err := Load([]byte(`{"components": [`), empty, recipe.DefaultHouse(), newID); err == nil {
		t.Error("half a file was taken")
	}
}

func FuzzLoad(f *testing.F) {
	empty, err := recipe.NewBook(recipe.DefaultHouse(), nil, nil)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(demo.House)
	f.Add([]byte(`{"house": {"units": {"oz": "[foz_us]"}}, "components": [{"kind": "bought", "name": "A", "category": "acid", "label": {"mass_fraction": {"citric_acid": 1}}}]}`))
	f.Add([]byte(`{"specs": [{"name": "s", "method": "stir", "dilution": {"served_mass_g": 1e300}, "price": {"amount": "-0", "currency": "EUR", "tax": "included"}, "lines": [{"component_id": "code:A", "amount": 1, "unit": "mL", "poured_c": -300}]}]}`))
	f.Fuzz(func(t *testing.T, file []byte) {
		l, err := Load(file, empty, recipe.DefaultHouse(), newID)
		if err != nil {
			return
		}
		for i := range l.Components { // what is taken is valid
			if err := l.Components[i].Valid(houseOf(l)); err != nil {
				t.Errorf("a component was taken that breaks a rule: %v", err)
			}
		}
	})
}

func houseOf(l Loaded) *recipe.House {
	h := recipe.DefaultHouse()
	if l.House != nil {
		h = *l.House
	}
	return &h
}

func FuzzPatch(f *testing.F) {
	f.Add([]byte(`{"label": {"abv_pct": null}, "packs": null}`))
	f.Add([]byte(`{"recipe": {"lines": [1]}, "name": {"a": {"b": null}}}`))
	stored := Component{Kind: "bought", Name: "A", Category: "spirit", Label: &Label{}}
	f.Fuzz(func(t *testing.T, patch []byte) {
		var in Component
		if report, err := Patch(patch, stored, &in); err == nil && report.Empty() && in.Name == "" && !strings.Contains(string(patch), "name") {
			t.Errorf("Patch(%q) lost the name", patch)
		}
	})
}
