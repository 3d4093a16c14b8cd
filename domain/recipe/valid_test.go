package recipe

import (
	"errors"
	"math"
	"strings"
	"testing"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
)

func euros(s string) money.Amount {
	a, err := money.NewAmount(s, "EUR")
	if err != nil {
		panic(err)
	}
	return a
}

// TestComponentFaults breaks one rule at a time and expects its code at its
// place.
func TestComponentFaults(t *testing.T) {
	pack := Pack{Size: measure.Quantity{Amount: 700, Unit: measure.ML}, Count: 6, Price: euros("96.00"), Tax: TaxExcluded, ValidFrom: "2026-03-01"}
	tests := []struct {
		name    string
		break_  func(c *Component)
		pointer string
		code    string
	}{
		{"no name", func(c *Component) { c.Name = " " }, "/name", "REQUIRED"},
		{"control character", func(c *Component) { c.Name = "a\x00b" }, "/name", "BAD_TEXT"},
		{"long name", func(c *Component) { c.Name = strings.Repeat("é", 121) }, "/name", "TOO_LONG"},
		{"code with a slash", func(c *Component) { c.Code = "A/B" }, "/code", "BAD_CODE"},
		{"code with a letter outside ASCII", func(c *Component) { c.Code = "é" }, "/code", "BAD_CODE"},
		{"category", func(c *Component) { c.Category = "potion" }, "/category", "UNKNOWN_CATEGORY"},
		{"kind", func(c *Component) { c.Kind = "found" }, "/kind", "UNKNOWN_KIND"},
		{"waste", func(c *Component) { c.WastePct = 100 }, "/waste_pct", "OUT_OF_RANGE"},
		{"waste not a number", func(c *Component) { c.WastePct = math.NaN() }, "/waste_pct", "OUT_OF_RANGE"},
		{"pack of nothing", func(c *Component) { c.Packs[0].Size.Amount = 0 }, "/packs/0/size", "AMOUNT_RANGE"},
		{"pack without date", func(c *Component) { c.Packs[0].ValidFrom = "" }, "/packs/0/valid_from", "REQUIRED"},
		{"pack count", func(c *Component) { c.Packs[0].Count = 0 }, "/packs/0/count", "OUT_OF_RANGE"},
		{"other currency", func(c *Component) { c.Packs[0].Price.Currency = "GBP" }, "/packs/0/price/currency", "CURRENCY_MIX"},
		{"negative price", func(c *Component) { c.Packs[0].Price = euros("-1") }, "/packs/0/price/amount", "OUT_OF_RANGE"},
		{"tax basis", func(c *Component) { c.Packs[0].Tax = "some" }, "/packs/0/tax", "UNKNOWN_TAX_BASIS"},
		{"recipe on bought", func(c *Component) { c.Recipe = &Recipe{} }, "/recipe", "RECIPE_ON_BOUGHT"},
		{"external id", func(c *Component) { c.ExternalIDs = []ExternalID{{System: "till"}} }, "/external_ids/0", "REQUIRED"},
	}
	h := DefaultHouse()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := bought("x", "Harrow gin", Spirit, liquid.Label{ABV: pct(40)})
			c.Packs = []Pack{pack}
			if err := c.Valid(&h); err != nil {
				t.Fatalf("sound component: %v", err)
			}
			tt.break_(&c)
			wantFault(t, c.Valid(&h), tt.pointer, tt.code)
		})
	}
}

func wantFault(t *testing.T, err error, pointer, code string) {
	t.Helper()
	var e *domain.Error
	if !errors.As(err, &e) || !errors.Is(err, domain.Invalid) {
		t.Fatalf("got %v, want Invalid with %s at %s", err, code, pointer)
	}
	for _, f := range e.Faults {
		if f.Pointer == pointer && f.Code == code {
			return
		}
	}
	t.Errorf("faults %+v lack %s at %s", e.Faults, code, pointer)
}

func TestMadeFaults(t *testing.T) {
	litre := measure.Quantity{Amount: 1, Unit: measure.L}
	tests := []struct {
		name    string
		break_  func(c *Component)
		pointer string
		code    string
	}{
		{"no lines", func(c *Component) { c.Recipe.Lines = nil }, "/recipe/lines", "REQUIRED"},
		{"negative amount", func(c *Component) { c.Recipe.Lines[0].Amount.Amount = -1 }, "/recipe/lines/0/amount", "AMOUNT_RANGE"},
		{"zero amount", func(c *Component) { c.Recipe.Lines[0].Amount.Amount = 0 }, "/recipe/lines/0/amount", "AMOUNT_RANGE"},
		{"infinite amount", func(c *Component) { c.Recipe.Lines[0].Amount.Amount = math.Inf(1) }, "/recipe/lines/0/amount", "AMOUNT_RANGE"},
		{"absurd amount", func(c *Component) { c.Recipe.Lines[0].Amount.Amount = 2e9 }, "/recipe/lines/0/amount", "AMOUNT_RANGE"},
		{"unknown unit", func(c *Component) { c.Recipe.Lines[0].Amount.Unit = "glug" }, "/recipe/lines/0/unit", "UNKNOWN_UNIT"},
		{"too many lines", func(c *Component) { c.Recipe.Lines = make([]Line, 61) }, "/recipe/lines", "TOO_MANY"},
		{"yield twice", func(c *Component) { c.Recipe.Yield = Yield{Measured: &litre, LossPct: num(1)} }, "/recipe/yield", "YIELD_TWICE"},
		{"all lost", func(c *Component) { c.Recipe.Yield = Yield{LossPct: num(100)} }, "/recipe/yield/loss_pct", "OUT_OF_RANGE"},
		{"label", func(c *Component) { c.Label.ABV = pct(20) }, "/label", "LABEL_ON_HOUSE_MADE"},
		{"packs", func(c *Component) { c.Packs = make([]Pack, 1) }, "/packs", "PACKS_ON_HOUSE_MADE"},
		{"labour", func(c *Component) { c.Recipe.LabourMin = -1 }, "/recipe/labour_min", "OUT_OF_RANGE"},
	}
	h := DefaultHouse()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := made("x", "Syrup", grams("sugar", 1), ml("water", 1))
			if err := c.Valid(&h); err != nil {
				t.Fatalf("sound component: %v", err)
			}
			tt.break_(&c)
			wantFault(t, c.Valid(&h), tt.pointer, tt.code)
		})
	}
}

func TestSpecAndHouseFaults(t *testing.T) {
	h := DefaultHouse()
	sound := func() Spec { return spec("s", "Sour", ml("gin", 50)) }
	specs := []struct {
		break_        func(s *Spec)
		pointer, code string
	}{
		{func(s *Spec) { s.Method = "jiggle" }, "/method", "UNKNOWN_METHOD"},
		{func(s *Spec) { s.ServingIce = "cloud" }, "/serving_ice", "UNKNOWN_ICE"},
		{func(s *Spec) { s.Lines[0].Stage = "side" }, "/lines/0/stage", "UNKNOWN_STAGE"},
		{func(s *Spec) { s.Lines = nil }, "/lines", "REQUIRED"},
		{func(s *Spec) { s.Dilution = &chill.Override{Kind: chill.PctOfStart, Value: -1} }, "/dilution/measured_pct_of_start", "OUT_OF_RANGE"},
		{func(s *Spec) { s.Price = &Price{Amount: euros("-2"), Tax: TaxIncluded} }, "/price/amount", "OUT_OF_RANGE"},
	}
	for _, tt := range specs {
		s := sound()
		if err := s.Valid(&h); err != nil {
			t.Fatalf("sound spec: %v", err)
		}
		tt.break_(&s)
		wantFault(t, s.Valid(&h), tt.pointer, tt.code)
	}
	untaxed := sound()
	untaxed.Price = &Price{Amount: euros("2")}
	wantFault(t, untaxed.Valid(&h), "/price/tax", "UNKNOWN_TAX_BASIS")
	houses := []struct {
		break_        func(h *House)
		pointer, code string
	}{
		{func(h *House) { h.TimeZone = "" }, "/time_zone", "REQUIRED"},
		{func(h *House) { h.Country = "uk" }, "/country", "UNKNOWN_COUNTRY"},
		{func(h *House) { h.Units.Dash = 0 }, "/units/dash_ml", "OUT_OF_RANGE"},
		{func(h *House) { h.Units.Oz = measure.Volume(math.NaN()) }, "/units/oz", "OUT_OF_RANGE"},
	}
	for _, tt := range houses {
		h := DefaultHouse()
		if err := h.Valid(); err != nil {
			t.Fatalf("sound house: %v", err)
		}
		tt.break_(&h)
		wantFault(t, h.Valid(), tt.pointer, tt.code)
	}
}
