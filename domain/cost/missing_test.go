package cost_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"servewright/domain/measure"
	"servewright/domain/recipe"
)

// TestMissingNamesThePath: an unpriced thing three levels down makes the line
// missing as a whole; the way down is named, the subtotal stands.
func TestMissingNamesThePath(t *testing.T) {
	b := newBar(t)
	nested(b)
	b.comps[2].Packs = nil // the lime
	total := b.spec(day, line("spirit", 50, measure.ML), line("liqueur", 30, measure.ML))
	if total.Total != nil || total.Full != nil {
		t.Errorf("total %v, full %v, want unknown", total.Total, total.Full)
	}
	want(t, "subtotal", &total.Subtotal, "1.642857")
	if len(total.Missing) != 1 {
		t.Fatalf("missing %+v", total.Missing)
	}
	m := total.Missing[0]
	if !slices.Equal(m.Path, []string{"liqueur", "cordial", "lime"}) || m.Component != "lime" || m.Reason != "it has no pack with a price; add one" {
		t.Errorf("missing %+v", m)
	}
	if l := total.Lines[1]; l.Cost != nil || l.PricePer != nil || l.Text != "no price: liqueur → cordial → lime: it has no pack with a price; add one" {
		t.Errorf("line %+v", l)
	}
	if got := b.batch(day, "liqueur"); got.Total.Total != nil || got.PerL != nil || !slices.Equal(got.Total.Missing[0].Path, m.Path) {
		t.Errorf("batch %+v", got)
	}
	want(t, "the batch's priced lines", &b.batch(day, "liqueur").Total.Subtotal, "23.00")
}

// TestMissingOnADate: the same drink is unknown the day before the last of its
// prices comes into force, and the reason names both dates.
func TestMissingOnADate(t *testing.T) {
	b := newBar(t)
	nested(b)
	total := b.spec(before, line("liqueur", 30, measure.ML))
	names := []string{}
	for _, m := range total.Missing {
		names = append(names, strings.Join(m.Path, "/"))
		if !strings.Contains(m.Reason, string(before)) || !strings.Contains(m.Reason, string(day)) {
			t.Errorf("reason %q names no dates", m.Reason)
		}
	}
	if want := []string{"liqueur/cordial/syrup/sugar", "liqueur/cordial/syrup/water", "liqueur/cordial/lime", "liqueur/spirit"}; !slices.Equal(names, want) {
		t.Errorf("missing %v, want %v", names, want)
	}
	if after := b.spec(later, line("liqueur", 30, measure.ML)); after.Total == nil {
		t.Errorf("missing after all prices are in force: %+v", after.Missing)
	}
}

// TestMissingIsNamedOnce: two lines per level through 30 levels are a thousand
// million ways down to one leaf; it is named once.
func TestMissingIsNamedOnce(t *testing.T) {
	b := newBar(t)
	b.buy("leaf").Category = recipe.Spirit
	below := "leaf"
	for i := range 30 {
		name := fmt.Sprintf("level %d", i+1)
		b.make(name, ml(200), line(below, 100, measure.ML), line(below, 100, measure.ML))
		below = name
	}
	total := b.spec(day, line(below, 30, measure.ML), line("level 1", 30, measure.ML))
	if len(total.Missing) != 1 || len(total.Missing[0].Path) != 31 || total.Missing[0].Component != "leaf" {
		t.Errorf("missing %d things, first by a path of %d", len(total.Missing), len(total.Missing[0].Path))
	}
}

// TestEveryCategoryNeedsAPrice: water and ice are not free unless somebody says
// so; garnish and ice cost as anything else.
func TestEveryCategoryNeedsAPrice(t *testing.T) {
	for _, c := range recipe.Categories {
		b := newBar(t)
		b.buy("unpriced").Category = c
		b.buy("priced", b.pack("0.30", 1, 1, measure.KG)).Category = c
		if total := b.spec(day, line("unpriced", 100, measure.G)); total.Total != nil || len(total.Missing) != 1 {
			t.Errorf("%s without a price costs %v", c, total.Total)
		}
		l := line("priced", 100, measure.G)
		l.Stage = recipe.Garnish
		want(t, string(c), b.spec(day, l).Total, "0.03")
	}
}

// TestLineToNowhere: an unsaved spec may name what does not exist.
func TestLineToNowhere(t *testing.T) {
	b := newBar(t)
	b.buy("x", b.pack("1.00", 1, 1, measure.L))
	total := b.spec(day, line("gone", 10, measure.ML), line("x", 10, measure.ML))
	if len(total.Missing) != 1 || total.Missing[0].Component != "gone" || !strings.Contains(total.Lines[0].Text, "no such component") {
		t.Errorf("missing %+v", total.Missing)
	}
	want(t, "subtotal", &total.Subtotal, "0.01")
}

func TestEmptySpec(t *testing.T) {
	total := newBar(t).spec(day)
	want(t, "nothing", total.Total, "0.00")
}
