package recipe

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// The bar of these tests is invented.

func pct(v float64) *measure.ABV { a := measure.ABV(v / 100); return &a }

func num(v float64) *float64 { return &v }

func bought(id, name string, cat Category, l liquid.Label) Component {
	return Component{ID: ID(id), Kind: Bought, Name: name, Category: cat, Status: Active, Label: l}
}

func made(id, name string, lines ...Line) Component {
	return Component{ID: ID(id), Kind: HouseMade, Name: name, Category: Syrup, Status: Active, Recipe: &Recipe{Lines: lines}}
}

func ml(id string, amount float64) Line {
	return Line{Component: ID(id), Amount: measure.Quantity{Amount: amount, Unit: measure.ML}, Stage: Mix}
}

func grams(id string, amount float64) Line {
	return Line{Component: ID(id), Amount: measure.Quantity{Amount: amount, Unit: measure.G}, Stage: Mix}
}

func spec(id, name string, lines ...Line) Spec {
	return Spec{ID: ID(id), Name: name, Method: chill.Shake, ServingIce: chill.NoIce, Lines: lines}
}

func book(t testing.TB, cs []Component, ss ...Spec) *Book {
	t.Helper()
	b, err := NewBook(DefaultHouse(), cs, ss)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func shelf() []Component {
	return []Component{
		bought("gin", "Harrow gin", Spirit, liquid.Label{ABV: pct(40)}),
		bought("rum", "Tidemark rum", Spirit, liquid.Label{ABV: pct(42)}),
		bought("water", "Filtered water", WaterCategory, liquid.Label{}),
		bought("sugar", "Caster sugar", Sugar, liquid.Label{}),
		bought("mint", "Mint", Botanical, liquid.Label{}),
		made("syrup", "House syrup", grams("sugar", 500), grams("water", 500)),
		made("cordial", "Mint cordial", ml("syrup", 400), ml("gin", 100), grams("mint", 20)),
		made("punch", "Cordial punch", ml("cordial", 300), ml("water", 200)),
	}
}

// TestCycleIsRefused closes a loop at each length; the way around is named.
func TestCycleIsRefused(t *testing.T) {
	for _, length := range []int{1, 2, 3, 32} {
		t.Run(fmt.Sprint(length), func(t *testing.T) {
			cs := []Component{bought("base", "Base", WaterCategory, liquid.Label{})}
			for i := range length {
				id, next := fmt.Sprintf("c%02d", i), fmt.Sprintf("c%02d", i+1)
				if i == length-1 {
					next = "base"
				}
				cs = append(cs, made(id, "Part "+id, ml(next, 10)))
			}
			b := book(t, cs)
			_, err := b.WithComponent(made(fmt.Sprintf("c%02d", length-1), "Last", ml("c00", 10)))
			if !errors.Is(err, domain.Invalid) {
				t.Fatalf("closing a loop of %d: %v, want Invalid", length, err)
			}
			if got := strings.Count(err.Error(), "→"); got != length {
				t.Errorf("the path has %d arrows, want %d: %v", got, length, err)
			}
		})
	}
}

func TestNestingLimit(t *testing.T) {
	chain := func(n int) []Component {
		cs := []Component{bought("c00", "Base", WaterCategory, liquid.Label{})}
		for i := 1; i <= n; i++ {
			cs = append(cs, made(fmt.Sprintf("c%02d", i), fmt.Sprintf("Level %d", i), ml(fmt.Sprintf("c%02d", i-1), 10)))
		}
		return cs
	}
	if _, err := NewBook(DefaultHouse(), chain(MaxNesting), nil); err != nil {
		t.Errorf("a chain of %d: %v, want it taken", MaxNesting, err)
	}
	_, err := NewBook(DefaultHouse(), chain(MaxNesting+1), nil)
	if !errors.Is(err, domain.Invalid) || !strings.Contains(err.Error(), "Level 33 → Level 32") {
		t.Errorf("a chain of %d: %v, want Invalid naming the path", MaxNesting+1, err)
	}
}

// TestResolve checks a nested component by hand: 400 mL of a 50 % sugar syrup
// weigh 400 × 1.2295 g (CRC Handbook, 102nd ed., sucrose 50 %), half of it
// sugar. ICUMSA SPS-4 and the CRC agree within 0.3 kg/m³ there, so within 0.12 g.
func TestResolve(t *testing.T) {
	b := book(t, shelf())
	r, _ := b.Find("cordial")
	c := b.Contents(r)
	syrupG := 400 * 1.2295
	ginG := 100 * 0.94805 // OIML R 22 table IVa, 40 % vol
	if got, want := float64(c.MadeG), syrupG+ginG; math.Abs(got-want) > 0.12 {
		t.Errorf("cordial weighs %.3f g, want %.3f ± 0.12", got, want)
	}
	if got, want := c.PerG[liquid.Sucrose]*float64(c.MadeG), syrupG/2; math.Abs(got-want) > 0.06 {
		t.Errorf("cordial holds %.3f g of sugar, want %.3f ± 0.06", got, want)
	}
	if len(c.Unconfirmed) != 4 {
		t.Errorf("unconfirmed = %v, want the four leaves of it", c.Unconfirmed)
	}
	if !hasCaution(c.Cautions, "COMPOSITION_UNKNOWN") {
		t.Errorf("cautions %v do not say that mint is not counted", c.Cautions)
	}
}

func hasCaution(list []domain.Caution, code string) bool {
	for _, c := range list {
		if c.Code == code {
			return true
		}
	}
	return false
}

func TestYield(t *testing.T) {
	litre := measure.Quantity{Amount: 0.5, Unit: measure.L}
	kilo := measure.Quantity{Amount: 1, Unit: measure.KG}
	tests := []struct {
		name   string
		yield  Yield
		wantML func(made, density float64) float64
	}{
		{"computed", Yield{}, func(made, _ float64) float64 { return made }},
		{"loss", Yield{LossPct: num(10)}, func(made, _ float64) float64 { return made * 0.9 }},
		{"measured volume", Yield{Measured: &litre}, func(_, _ float64) float64 { return 500 }},
		{"measured mass", Yield{Measured: &kilo}, func(_, d float64) float64 { return 1000 / d }},
	}
	var first *Contents
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cs := shelf()
			cs[5].Recipe.Yield = tt.yield
			b := book(t, cs)
			r, _ := b.Find("syrup")
			c := b.Contents(r)
			want := tt.wantML(float64(c.MadeML), float64(c.Density))
			if got := float64(c.YieldML); math.Abs(got-want) > 1e-9*want {
				t.Errorf("yield %.6f mL, want %.6f", got, want)
			}
			if got, want := float64(c.LossML), float64(c.MadeML-c.YieldML); got != want {
				t.Errorf("loss %.6f mL, want %.6f", got, want)
			}
			if first == nil {
				first = c
			}
			if c.PerG != first.PerG || c.Density != first.Density {
				t.Error("the yield changed what is in it; it may only change how much there is")
			}
		})
	}
}

func TestSwapped(t *testing.T) {
	b := book(t, shelf(), spec("s1", "Gin sour", ml("gin", 50)), spec("s2", "Punch", ml("punch", 90)), spec("s3", "Rum", ml("rum", 40)))
	gin, _ := b.Find("gin")
	rum, _ := b.Find("rum")
	punch, _ := b.Find("punch")
	if got := b.Reaching(gin); len(got) != 2 || got[0] != 0 || got[1] != 1 {
		t.Errorf("Reaching(gin) = %v, want the first two specs", got)
	}
	after := b.Swapped(gin, rum)
	if r, _ := after.Of(&b.Specs()[0].Lines[0]); r != rum {
		t.Errorf("the swapped book pours %d for gin, want rum %d", r, rum)
	}
	before, now := b.Contents(punch).PerG, after.Contents(punch).PerG
	if !(now[liquid.Ethanol] > before[liquid.Ethanol]) {
		t.Errorf("punch holds %.6f of ethanol with the stronger rum, %.6f with gin: want more", now[liquid.Ethanol], before[liquid.Ethanol])
	}
	if got := len(after.Remade()); got != 2 {
		t.Errorf("%d components are remade, want cordial and punch", got)
	}
}

// TestSwapSparesTheSubstitute: the house liqueur that is made of the bought one
// keeps it inside.
func TestSwapSparesTheSubstitute(t *testing.T) {
	b := book(t, shelf(), spec("s1", "Gin sour", ml("gin", 50)))
	gin, _ := b.Find("gin")
	cordial, _ := b.Find("cordial")
	after := b.Swapped(gin, cordial)
	if got, want := after.Contents(cordial).PerG, b.Contents(cordial).PerG; got != want {
		t.Errorf("the substitute changed: %v, want %v", got, want)
	}
	if after.IsRemade(cordial) {
		t.Error("the substitute counts as remade")
	}
}

func TestDeleteInUse(t *testing.T) {
	b := book(t, shelf(), spec("s1", "Gin sour", ml("gin", 50)))
	_, err := b.WithoutComponent("gin")
	var e *domain.Error
	if !errors.As(err, &e) || e.Kind != domain.Conflict || len(e.Refs) != 2 {
		t.Fatalf("deleting gin: %v, want Conflict naming the cordial and the spec", err)
	}
	if _, err := b.WithoutComponent("rum"); err != nil {
		t.Errorf("deleting unused rum: %v", err)
	}
	if _, err := b.WithoutComponent("nothing"); !errors.Is(err, domain.NotFound) {
		t.Errorf("deleting nothing: %v, want NotFound", err)
	}
}

func TestWith(t *testing.T) {
	b := book(t, shelf(), spec("s1", "Gin sour", ml("gin", 50)))
	delisted := bought("gin", "Harrow gin", Spirit, liquid.Label{ABV: pct(40)})
	delisted.Status = Delisted
	later, err := b.WithComponent(delisted)
	if err != nil {
		t.Fatal(err)
	}
	coded := spec("s2", "Coded", ml("rum", 10))
	coded.Code = "A"
	withCode, err := b.WithSpec(coded)
	if err != nil {
		t.Fatal(err)
	}
	clash := spec("s3", "Clash", ml("rum", 10))
	clash.Code = "A"
	tests := []struct {
		name string
		book *Book
		spec Spec
		kind domain.Kind // 0 = taken
		code string
	}{
		{"an old line may go on pouring a delisted component", later, spec("s1", "Gin sour", ml("gin", 45)), 0, ""},
		{"a new one may not", later, spec("s2", "New", ml("gin", 45)), domain.Invalid, "DELISTED"},
		{"missing component", b, spec("s2", "New", ml("none", 45)), domain.Invalid, "UNKNOWN_COMPONENT"},
		{"a volume of a solid", b, spec("s2", "New", ml("sugar", 5)), domain.Invalid, "NO_VOLUME"},
		{"a piece of unknown size", b, spec("s2", "New", Line{Component: "rum", Amount: measure.Quantity{Amount: 1, Unit: measure.Piece}, Stage: Mix}), domain.Invalid, "PIECE_SIZE_UNKNOWN"},
		{"code taken", withCode, clash, domain.Conflict, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := len(tt.book.Specs())
			_, err := tt.book.WithSpec(tt.spec)
			if tt.kind == 0 && err != nil || tt.kind != 0 && !errors.Is(err, tt.kind) {
				t.Fatalf("WithSpec: %v, want kind %v", err, tt.kind)
			}
			var e *domain.Error
			if tt.code != "" && (!errors.As(err, &e) || e.Faults[0].Code != tt.code) {
				t.Errorf("WithSpec: %+v, want code %s", err, tt.code)
			}
			if len(tt.book.Specs()) != before {
				t.Error("the old book changed")
			}
		})
	}
}

// TestAmounts reads one amount of a lime that weighs 70 g and gives 28 mL of
// juice, and of a sugar cube, in every unit.
func TestAmounts(t *testing.T) {
	lime := bought("lime", "Lime", Juice, liquid.Label{Density: density(1.03), Sugar: num(17), Acids: map[liquid.Substance]float64{liquid.CitricAcid: 46}})
	lime.Piece = Piece{Juice: 28, Mass: 70}
	cube := bought("cube", "Sugar cube", Sugar, liquid.Label{})
	cube.Piece = Piece{Mass: 4}
	b := book(t, []Component{lime, cube})
	r, _ := b.Find("lime")
	c, _ := b.Find("cube")
	d := float64(b.Contents(r).Density)
	tests := []struct {
		r      Ref
		amount float64
		unit   measure.Unit
		ml, g  float64 // 0 = cannot be read
	}{
		{r, 2, measure.Piece, 56, 56 * d},
		{r, 700, measure.G, 280, 280 * d},
		{r, 30, measure.ML, 30, 30 * d},
		{r, 1, measure.Dash, 0.92, 0.92 * d},
		{c, 2, measure.Piece, 0, 8},
		{c, 8, measure.G, 0, 8},
		{c, 5, measure.ML, 5, 0},
	}
	for _, tt := range tests {
		q := measure.Quantity{Amount: tt.amount, Unit: tt.unit}
		ml, okML := b.Millilitres(q, tt.r)
		g, okG := b.Grams(q, tt.r)
		if okML != (tt.ml > 0) || okML && math.Abs(ml-tt.ml) > 1e-9*tt.ml {
			t.Errorf("%v %s of %s: %v mL (%v), want %v", tt.amount, tt.unit, b.Component(tt.r).Name, ml, okML, tt.ml)
		}
		if okG != (tt.g > 0) || okG && math.Abs(g-tt.g) > 1e-9*tt.g {
			t.Errorf("%v %s of %s: %v g (%v), want %v", tt.amount, tt.unit, b.Component(tt.r).Name, g, okG, tt.g)
		}
	}
}

func TestPackagingIsBought(t *testing.T) {
	b := book(t, shelf())
	c := made("bottled", "Bottled syrup", ml("syrup", 100))
	c.Recipe.Packaging = []Line{{Component: "cordial", Amount: measure.Quantity{Amount: 1, Unit: measure.Piece}}}
	_, err := b.WithComponent(c)
	wantFault(t, err, "/recipe/packaging/0/component_id", "PACKAGING_HOUSE_MADE")
}

func density(d measure.Density) *measure.Density { return &d }
