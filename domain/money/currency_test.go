package money_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"servewright/domain"
	"servewright/domain/money"
	"servewright/testdata/reference"
)

// TestISO4217 holds the table against ISO 4217 list one of 2024-06-25: every
// code with minor units is taken with just that many, every other is refused.
func TestISO4217(t *testing.T) {
	rows := reference.Rows(t, "iso4217_minor_units.csv")
	if len(rows) < 169 { // less its head
		t.Fatalf("the list has %d rows, too few to be whole", len(rows))
	}
	for _, row := range rows {
		c, err := money.ParseCurrency(row["code"])
		if row["minor_units"] == "" {
			if !errors.Is(err, domain.Invalid) {
				t.Errorf("ParseCurrency(%s) took a code without minor units", row["code"])
			}
			continue
		}
		if want, _ := strconv.Atoi(row["minor_units"]); err != nil || c.MinorUnits() != want {
			t.Errorf("ParseCurrency(%s) = %q, %v with %d minor units; want %d", row["code"], c, err, c.MinorUnits(), want)
		}
	}
}

func TestParseCurrencyRefuses(t *testing.T) {
	tests := []struct {
		in   string
		says string // what the error must name as the way out
	}{
		{in: "", says: "such as EUR"},
		{in: "eur", says: "did you mean EUR?"},
		{in: " EUR", says: "did you mean EUR?"},
		{in: "DEM", says: "EUR took its place"},
		{in: "HRK", says: "EUR took its place"},
		{in: "XAU", says: "such as EUR"},
		{in: "XXX", says: "such as EUR"},
		{in: "€", says: "such as EUR"},
		{in: strings.Repeat("E", 10_000), says: "…"},
		{in: "\xff\xfe", says: "�"},
	}
	for _, tt := range tests {
		_, err := money.ParseCurrency(tt.in)
		if !errors.Is(err, domain.Invalid) || code(err) != "BAD_CURRENCY" {
			t.Errorf("ParseCurrency(%.20q): %v, want Invalid BAD_CURRENCY", tt.in, err)
			continue
		}
		if !strings.Contains(err.Error(), tt.says) || len(err.Error()) > 300 {
			t.Errorf("ParseCurrency(%.20q) says %q, want %q in it", tt.in, err, tt.says)
		}
	}
}

func TestMinorUnitsOfUnknown(t *testing.T) {
	if got := money.Currency("???").MinorUnits(); got != 2 {
		t.Errorf("MinorUnits of an unknown code = %d, want 2", got)
	}
}

func FuzzParseCurrency(f *testing.F) {
	for _, s := range []string{"EUR", "eur", "JPY", "XAU", "", "EURO", "\xff", "E\x00R"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := money.ParseCurrency(s)
		if err != nil {
			if c != "" || code(err) != "BAD_CURRENCY" {
				t.Errorf("ParseCurrency(%q) = %q, %v", s, c, err)
			}
			return
		}
		if string(c) != s || len(s) != 3 || c.MinorUnits() < 0 || c.MinorUnits() > 4 {
			t.Errorf("ParseCurrency(%q) = %q with %d minor units", s, c, c.MinorUnits())
		}
	})
}
