package repotest

import (
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
	"servewright/repo"
)

// noon is when the tests write. Its nanoseconds are finer than what is stored.
var noon = time.Date(2026, 3, 1, 12, 0, 0, 123456789, time.FixedZone("UTC+2", 2*3600))

func newID() recipe.ID { return recipe.ID(uuid.Must(uuid.NewV7()).String()) }

func ptr[T any](v T) *T { return &v }

// bottle is the plainest bought component there is.
func bottle(name string) recipe.Component {
	return recipe.Component{
		ID: newID(), Kind: recipe.Bought, Name: name, Category: recipe.Spirit, Status: recipe.Active,
		Label: liquid.Label{ABV: ptr(measure.ABV(0.4))},
	}
}

// batch is a house-made component of 100 mL of each part.
func batch(name string, parts ...recipe.ID) recipe.Component {
	return recipe.Component{
		ID: newID(), Kind: recipe.HouseMade, Name: name, Category: recipe.Liqueur, Status: recipe.Active,
		Recipe: &recipe.Recipe{Lines: pours(parts...)},
	}
}

// drink is a shaken spec of 100 mL of each part.
func drink(name string, parts ...recipe.ID) recipe.Spec {
	return recipe.Spec{ID: newID(), Name: name, Method: chill.Shake, ServingIce: chill.NoIce, Lines: staged(pours(parts...))}
}

func pours(parts ...recipe.ID) []recipe.Line {
	lines := make([]recipe.Line, len(parts))
	for i, id := range parts {
		lines[i] = recipe.Line{ID: newID(), Component: id, Amount: measure.Quantity{Amount: 100, Unit: measure.ML}}
	}
	return lines
}

func staged(lines []recipe.Line) []recipe.Line {
	for i := range lines {
		lines[i].Stage = recipe.Mix
	}
	return lines
}

func euros(t testing.TB, number string) money.Amount {
	t.Helper()
	d, err := money.ParseDecimal(number)
	if err != nil {
		t.Fatal(err)
	}
	return money.Amount{Number: d, Currency: "EUR"}
}

func decimal(t testing.TB, number string) *money.Decimal {
	t.Helper()
	a := euros(t, number)
	return &a.Number
}

// fullBottle says everything a bought component can say.
func fullBottle(t testing.TB) recipe.Component {
	c := bottle("Quay Orange Liqueur \"38\" <&>")
	c.Code, c.Category = "LIQ-7", recipe.Liqueur
	c.Label = liquid.Label{
		ABV: ptr(measure.ABV(0.38)), Sugars: map[liquid.Substance]float64{liquid.Sucrose: 180.25, liquid.Glucose: 20},
		Acids: map[liquid.Substance]float64{liquid.CitricAcid: 1.5, liquid.MalicAcid: 0.1}, PH: ptr(3.25),
	}
	c.Packs = []recipe.Pack{
		{
			ID: newID(), Size: measure.Quantity{Amount: 700, Unit: measure.ML}, Count: 6, Price: euros(t, "138.004567"), Deposit: ptr(euros(t, "0.25")),
			Tax: recipe.TaxIncluded, TaxPct: decimal(t, "13.5"), ValidFrom: "2026-03-01", Supplier: "Quay Wholesale", Preferred: true, GTIN: "04012345678901",
		},
		{ID: newID(), Size: measure.Quantity{Amount: 1, Unit: measure.L}, Count: 1, Price: euros(t, "29"), Tax: recipe.TaxExcluded, ValidFrom: "2026-04-01"},
	}
	c.WastePct, c.Dash, c.PouredC = 2.5, 0.75, ptr(measure.Temperature(0))
	c.Piece = recipe.Piece{Juice: 30, Mass: 31.5}
	c.Allergens = safety.Declaration{Declared: true, Contains: safety.Of(safety.Milk, safety.Nuts), MayContain: safety.Of(safety.Eggs)}
	c.ExternalIDs = []recipe.ExternalID{{System: "stock", ID: "000417"}, {System: "till", ID: "7"}}
	c.Notes = "kept cold\nopened: 14 days"
	return c
}

// fullBatch says everything a house-made component can say.
func fullBatch(part recipe.ID) recipe.Component {
	c := batch("House quince liqueur", part, part)
	c.Code, c.Status = "H-QUINCE", recipe.Delisted
	c.Allergens = safety.Declaration{Declared: true}
	r := c.Recipe
	r.Lines[0].Amount, r.Lines[0].Note = measure.Quantity{Amount: 0.1 + 0.2, Unit: measure.Oz}, "toasted"
	r.Packaging = pours(part)
	r.Yield = recipe.Yield{LossPct: ptr(0.0)}
	r.LabourMin, r.EnergyKWh, r.ShelfLifeDays = 25, 0.9, 60
	r.Method = []string{"toast", "steep 24 h at 20 °C", "strain"}
	return c
}

// fullDrink says everything a spec can say.
func fullDrink(t testing.TB, part recipe.ID) recipe.Spec {
	s := drink("Pier Lamp", part, part)
	s.Code, s.Category, s.Method, s.ServingIce = "C-104", "sour", chill.Stir, chill.LargeCube
	s.Glass, s.GlassVolume = "coupe", 180
	s.Lines[0].PouredC, s.Lines[0].Note = ptr(measure.Temperature(-4)), "from the freezer"
	s.Lines[1].Stage, s.Lines[1].Amount = recipe.Rinse, measure.Quantity{Amount: 2, Unit: measure.Dash}
	s.Conditions = chill.Conditions{
		IngredientC: ptr(measure.Temperature(18)), IceC: ptr(measure.Temperature(-1)), IceWetPct: ptr(3.0), IceG: ptr(140.0),
		VesselC: ptr(measure.Temperature(5)), VesselJPerK: ptr(160.0), Seconds: ptr(12.0),
	}
	s.Dilution = &chill.Override{Kind: chill.PctOfStart, Value: 31.5}
	s.Price = &recipe.Price{Amount: euros(t, "13.5"), Tax: recipe.TaxIncluded, TaxPct: decimal(t, "20")}
	s.ExternalIDs = []recipe.ExternalID{{System: "pos", ID: "C-104"}}
	s.Notes = "serve at once"
	return s
}

// fullHouse says everything a house can say.
func fullHouse(t testing.TB) recipe.House {
	h := recipe.DefaultHouse()
	h.Name, h.TimeZone, h.Country = "The Invented Pier", "Europe/Lisbon", "PT"
	h.Units = measure.BarUnits{Oz: 30, Dash: 0.8, Drop: 0.04, Barspoon: 4}
	h.TaxPct, h.TargetPourPct = *decimal(t, "13"), decimal(t, "19.5")
	h.LabourPerHour, h.EnergyPerKWh = ptr(euros(t, "17.333333")), ptr(euros(t, "0.2345"))
	h.Chill = chill.House{RoomC: ptr(measure.Temperature(23)), IngredientC: ptr(measure.Temperature(20)), IceC: ptr(measure.Temperature(-2)), IceWetPct: ptr(1.0)}
	return h
}

// must is for calls that may not fail: must(s.Component(ctx, id))(t).
func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// book returns a store's newest Book and its counter.
func book(t testing.TB, s *repo.Store) (*recipe.Book, int64) {
	t.Helper()
	b, n, err := s.Book(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return b, n
}

// written is what a Book holds, for comparing.
type written struct {
	House      recipe.House
	Components []recipe.Component
	Specs      []recipe.Spec
}

func contents(b *recipe.Book) written {
	return written{*b.House(), slices.Clone(b.Components()), slices.Clone(b.Specs())}
}

// wantBook ends the test unless both stores have the same newest Book.
func wantBook(t testing.TB, a, b *repo.Store) {
	t.Helper()
	ba, na := book(t, a)
	bb, nb := book(t, b)
	if na != nb {
		t.Fatalf("one server is at change %d, the other at %d", na, nb)
	}
	wantSame(t, contents(bb), contents(ba), "the same Book on two servers")
}

// wantKind ends the test unless err is of the kind and says something.
func wantKind(t testing.TB, err error, k domain.Kind, doing string) {
	t.Helper()
	if !errors.Is(err, k) || err.Error() == "" {
		t.Fatalf("%s: got error %v, want %v", doing, err, k)
	}
}

// wantFault is wantKind for Invalid, and wants a fault at pointer.
func wantFault(t testing.TB, err error, pointer, doing string) {
	t.Helper()
	wantKind(t, err, domain.Invalid, doing)
	var e *domain.Error
	errors.As(err, &e)
	var all []string
	for _, f := range e.Faults {
		if f.Pointer == pointer {
			return
		}
		all = append(all, f.Pointer)
	}
	t.Fatalf("%s: faults at %s, want one at %s (%v)", doing, strings.Join(all, ", "), pointer, err)
}

func wantSame(t testing.TB, got, want any, what string) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Fatalf("%s:\n got %+v\nwant %+v", what, got, want)
	}
}
