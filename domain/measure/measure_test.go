package measure_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/measure"
	"servewright/testdata/reference"
)

var bar = measure.BarUnits{Oz: 30, Dash: 0.92, Drop: 0.05, Barspoon: 5}

// taken are the units of the documentation with what they count.
var taken = map[measure.Unit]measure.Dimension{
	"mL": measure.OfVolume, "cL": measure.OfVolume, "dL": measure.OfVolume, "L": measure.OfVolume,
	"g": measure.OfMass, "kg": measure.OfMass, "[oz_av]": measure.OfMass, "[lb_av]": measure.OfMass,
	"[foz_us]": measure.OfVolume, "[foz_br]": measure.OfVolume, "[tsp_us]": measure.OfVolume, "[tbs_us]": measure.OfVolume,
	"oz": measure.OfVolume, "dash": measure.OfVolume, "drop": measure.OfVolume, "barspoon": measure.OfVolume,
	"piece": measure.OfPieces,
}

// TestSizes compares with the exact definitions of UCUM.
func TestSizes(t *testing.T) {
	rows := reference.Rows(t, "units.csv")
	found := 0
	for _, rec := range rows {
		u := measure.Unit(rec["ucum"])
		if _, ok := taken[u]; !ok {
			continue
		}
		found++
		want := rec.Num(t, "size")
		if got := u.Size(bar); got != want { // exact by definition
			t.Errorf("1 %s = %v %s, want %v exactly (%s)", u, got, rec["base"], want, rec["note"])
		}
	}
	if found != 12 {
		t.Errorf("%d units found in the table, want 12", found)
	}
}

func TestUnits(t *testing.T) {
	for u, dim := range taken {
		got, err := measure.ParseUnit(string(u))
		if err != nil || got != u {
			t.Errorf("ParseUnit(%q) = %q, %v", u, got, err)
		}
		if u.Dimension() != dim {
			t.Errorf("%s counts %d, want %d", u, u.Dimension(), dim)
		}
		if !(u.Size(bar) > 0) {
			t.Errorf("1 %s holds %g", u, u.Size(bar))
		}
	}
	for u, want := range map[measure.Unit]float64{"oz": 30, "dash": 0.92, "drop": 0.05, "barspoon": 5, "piece": 1} {
		if got := u.Size(bar); got != want {
			t.Errorf("the house's %s = %g, want %g", u, got, want)
		}
	}
}

func TestUnitRefused(t *testing.T) {
	for _, s := range []string{"", "ml", "ML", "oz ", "cup", "[foz_m]", strings.Repeat("x", 5000), "\xff\xfe"} {
		_, err := measure.ParseUnit(s)
		var e *domain.Error
		if !errors.As(err, &e) || e.Kind != domain.Invalid || e.Code != "UNKNOWN_UNIT" {
			t.Errorf("ParseUnit(%.20q): %v, want Invalid", s, err)
			continue
		}
		if len(e.Text) > 400 || !utf8.ValidString(e.Text) || !strings.Contains(e.Text, "barspoon") {
			t.Errorf("ParseUnit(%.20q) answers %d bytes that should name the units: %q", s, len(e.Text), e.Text)
		}
		if measure.Unit(s).Dimension() != 0 || measure.Unit(s).Size(bar) != 0 {
			t.Errorf("unknown unit %.20q has a dimension or a size", s)
		}
	}
}

func TestQuantityValid(t *testing.T) {
	tests := []struct {
		amount float64
		unit   measure.Unit
		code   string // "" = taken
	}{
		{amount: 45, unit: measure.ML},
		{amount: 1e9, unit: measure.ML},
		{amount: math.SmallestNonzeroFloat64, unit: measure.G},
		{amount: 0, unit: measure.ML, code: "AMOUNT_RANGE"},
		{amount: math.Copysign(0, -1), unit: measure.ML, code: "AMOUNT_RANGE"},
		{amount: -1, unit: measure.ML, code: "AMOUNT_RANGE"},
		{amount: math.NaN(), unit: measure.ML, code: "AMOUNT_RANGE"},
		{amount: math.Inf(1), unit: measure.ML, code: "AMOUNT_RANGE"},
		{amount: math.Inf(-1), unit: measure.ML, code: "AMOUNT_RANGE"},
		{amount: math.Nextafter(1e9, 2e9), unit: measure.ML, code: "AMOUNT_RANGE"},
		{amount: 45, unit: "shot", code: "UNKNOWN_UNIT"},
	}
	for _, tt := range tests {
		err := measure.Quantity{Amount: tt.amount, Unit: tt.unit}.Valid()
		var e *domain.Error
		switch {
		case tt.code == "" && err != nil:
			t.Errorf("%g %s: %v, want it taken", tt.amount, tt.unit, err)
		case tt.code != "" && (!errors.As(err, &e) || e.Code != tt.code || !errors.Is(err, domain.Invalid)):
			t.Errorf("%g %s: %v, want %s", tt.amount, tt.unit, err, tt.code)
		}
	}
}

// TestQuantityLaw: an amount in a unit is so many of what the unit holds.
func TestQuantityLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := make([]measure.Unit, 0, len(taken))
		for _, s := range strings.Fields("mL cL dL L g kg [foz_us] [foz_br] [oz_av] [lb_av] [tsp_us] [tbs_us] oz dash drop barspoon piece") {
			units = append(units, measure.Unit(s))
		}
		u := rapid.SampledFrom(units).Draw(t, "unit")
		a := rapid.Float64Range(1e-6, 1e9).Draw(t, "amount")
		q := measure.Quantity{Amount: a, Unit: u}
		if err := q.Valid(); err != nil {
			t.Fatal(err)
		}
		if got, want := q.In(bar), a*u.Size(bar); got != want {
			t.Fatalf("%g %s = %g, want %g", a, u, got, want)
		}
	})
}

func TestPct(t *testing.T) {
	if got := measure.ABV(0.425).Pct(); got != 42.5 {
		t.Errorf("0.425 = %g %% vol, want 42.5", got)
	}
}

func TestDates(t *testing.T) {
	for _, s := range []string{"1900-01-01", "2024-02-29", "2026-03-01", "2999-12-31"} {
		if d, err := measure.ParseDate(s); err != nil || string(d) != s {
			t.Errorf("ParseDate(%q) = %q, %v", s, d, err)
		}
	}
	for _, s := range []string{"", "2026-3-1", "2026-02-30", "2023-02-29", "01.03.2026", "2026-03-01T00:00:00Z", "1899-12-31", "3000-01-01", "٢٠٢٦-٠٣-٠١", "\xff"} {
		_, err := measure.ParseDate(s)
		var e *domain.Error
		if !errors.As(err, &e) || e.Code != "BAD_DATE" || !errors.Is(err, domain.Invalid) || !utf8.ValidString(e.Text) {
			t.Errorf("ParseDate(%q): %v, want Invalid", s, err)
		}
	}
}

// TestDateIn: one instant is two dates on two sides of midnight.
func TestDateIn(t *testing.T) {
	at := time.Date(2026, 3, 1, 23, 30, 0, 0, time.UTC)
	for zone, want := range map[int]measure.Date{0: "2026-03-01", 1: "2026-03-02", -8: "2026-03-01"} {
		if got := measure.DateIn(at, time.FixedZone("", zone*3600)); got != want {
			t.Errorf("%v at %+d h is %s, want %s", at, zone, got, want)
		}
	}
}

// TestDateOrder: dates compare as text.
func TestDateOrder(t *testing.T) {
	first := time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(0, 401000).Draw(t, "a")
		b := rapid.IntRange(0, 401000).Draw(t, "b")
		x, y := measure.DateIn(first.AddDate(0, 0, a), time.UTC), measure.DateIn(first.AddDate(0, 0, b), time.UTC)
		if (x < y) != (a < b) {
			t.Fatalf("day %d is %s, day %d is %s", a, x, b, y)
		}
		if _, err := measure.ParseDate(string(x)); err != nil {
			t.Fatal(err)
		}
	})
}

func FuzzParseUnit(f *testing.F) {
	for u := range taken {
		f.Add(string(u))
	}
	f.Add("ml")
	f.Add("\xff[foz_us]")
	f.Fuzz(func(t *testing.T, s string) {
		u, err := measure.ParseUnit(s)
		if err == nil && (string(u) != s || u.Dimension() == 0 || !(u.Size(bar) > 0)) {
			t.Errorf("ParseUnit(%q) = %q", s, u)
		}
		if err != nil && (!errors.Is(err, domain.Invalid) || !utf8.ValidString(err.Error())) {
			t.Errorf("ParseUnit(%q): %v", s, err)
		}
	})
}

func FuzzParseDate(f *testing.F) {
	f.Add("2026-03-01")
	f.Add("2026-02-30")
	f.Add("\xff")
	f.Fuzz(func(t *testing.T, s string) {
		d, err := measure.ParseDate(s)
		if err != nil {
			if !errors.Is(err, domain.Invalid) || !utf8.ValidString(err.Error()) {
				t.Errorf("ParseDate(%q): %v", s, err)
			}
			return
		}
		day, err := time.Parse(time.DateOnly, s)
		if err != nil || string(d) != s || measure.DateIn(day, time.UTC) != d {
			t.Errorf("ParseDate(%q) = %q, which is not a day", s, d)
		}
	})
}
