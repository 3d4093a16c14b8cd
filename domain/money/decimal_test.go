package money_test

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"servewright/domain"
	"servewright/domain/money"
)

func TestParseDecimal(t *testing.T) {
	tests := []struct{ in, want string }{
		{"0", "0"}, {"-0", "0"}, {"0.000", "0"}, {"12.50", "12.5"}, {"-3", "-3"}, {"0.1", "0.1"},
		{"100", "100"}, {"999999999999999", "999999999999999"},
		{"999999999999999.9999999999999999999", "999999999999999.9999999999999999999"},
		{"-0.0000000000000000001", "-0.0000000000000000001"},
	}
	for _, tt := range tests {
		d, err := money.ParseDecimal(tt.in)
		if err != nil || d.String() != tt.want {
			t.Errorf("ParseDecimal(%q) = %s, %v; want %s", tt.in, d, err, tt.want)
		}
	}
}

func TestParseDecimalRefuses(t *testing.T) {
	for _, in := range []string{
		"", "-", ".", "-.5", ".5", "5.", "+1", "1e5", "1E5", "NaN", "Inf", "-Inf", "infinity", " 1", "1 ", "1\n",
		"1,5", "1.000,00", "1_000", "0x10", "01", "00", "--1", "1.2.3", "１２", "½", "\x00", "1\x00",
		"1000000000000000", "0.00000000000000000001", strings.Repeat("9", 1000), "0." + strings.Repeat("0", 1000) + "1",
	} {
		d, err := money.ParseDecimal(in)
		if !errors.Is(err, domain.Invalid) || code(err) != "BAD_DECIMAL" || !d.IsZero() {
			t.Errorf("ParseDecimal(%.30q) = %s, %v; want Invalid BAD_DECIMAL", in, d, err)
		}
		if err != nil && len(err.Error()) > 250 {
			t.Errorf("ParseDecimal(%.30q) answers with %d bytes", in, len(err.Error()))
		}
	}
}

// TestRounding: the tie rules of rounding_rules (half even: ISO 80000-1 Annex B
// rule A, examples from memory; half up: HMRC VATREC12030, half a penny up).
func TestRounding(t *testing.T) {
	tests := []struct {
		in     string
		places int
		even   string
		up     string
	}{
		{in: "0.125", places: 2, even: "0.12", up: "0.13"},
		{in: "0.135", places: 2, even: "0.14", up: "0.14"},
		{in: "0.12499999999", places: 2, even: "0.12", up: "0.12"},
		{in: "0.12500000001", places: 2, even: "0.13", up: "0.13"},
		{in: "-0.125", places: 2, even: "-0.12", up: "-0.13"},
		{in: "2.5", places: 0, even: "2", up: "3"},
		{in: "0.5", places: 0, even: "0", up: "1"},
		{in: "-0.5", places: 0, even: "0", up: "-1"},
		{in: "12.3", places: 19, even: "12.3", up: "12.3"},
		{in: "12.3", places: 99, even: "12.3", up: "12.3"},
		{in: "12.6", places: -1, even: "13", up: "13"},
		{in: "999999999999999.9999999999999999999", places: 0, even: "1000000000000000", up: "1000000000000000"},
	}
	for _, tt := range tests {
		d := dec(t, tt.in)
		if got := d.Rounded(tt.places).String(); got != tt.even {
			t.Errorf("%s.Rounded(%d) = %s, want %s", tt.in, tt.places, got, tt.even)
		}
		if got := d.RoundedHalfUp(tt.places).String(); got != tt.up {
			t.Errorf("%s.RoundedHalfUp(%d) = %s, want %s", tt.in, tt.places, got, tt.up)
		}
	}
}

func TestStringFixed(t *testing.T) {
	tests := []struct {
		in     string
		places int
		want   string
	}{
		{"2.134217", 2, "2.13"}, {"2.135", 2, "2.14"}, {"2", 2, "2.00"}, {"2", 0, "2"}, {"-0.004", 2, "0.00"}, {"0", 3, "0.000"},
	}
	for _, tt := range tests {
		if got := dec(t, tt.in).StringFixed(tt.places); got != tt.want {
			t.Errorf("%s.StringFixed(%d) = %s, want %s", tt.in, tt.places, got, tt.want)
		}
	}
}

// TestDecimalLaws: a decimal reads back what it prints, has one form, is worth
// what it spells, and is ordered and rounded as exact arithmetic says.
func TestDecimalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, u := decimals().Draw(t, "s"), decimals().Draw(t, "u")
		d, err1 := money.ParseDecimal(s)
		e, err2 := money.ParseDecimal(u)
		if err1 != nil || err2 != nil {
			t.Fatalf("ParseDecimal(%q), ParseDecimal(%q): %v, %v", s, u, err1, err2)
		}
		x, _ := new(big.Rat).SetString(s)
		y, _ := new(big.Rat).SetString(u)
		if back, err := money.ParseDecimal(d.String()); err != nil || back != d {
			t.Fatalf("%q prints %q and reads back %s, %v", s, d, back, err)
		}
		if d.Ratio().Rat().Cmp(x) != 0 {
			t.Fatalf("%q is worth %s", s, d.Ratio())
		}
		if d.Cmp(e) != x.Cmp(y) || (d == e) != (x.Cmp(y) == 0) || d.Sign() != x.Sign() || d.IsZero() != (x.Sign() == 0) {
			t.Fatalf("%q against %q: Cmp %d, == %t, Sign %d", s, u, d.Cmp(e), d == e, d.Sign())
		}
		if d.Neg().Ratio().Rat().Cmp(new(big.Rat).Neg(x)) != 0 {
			t.Fatalf("−%q = %s", s, d.Neg())
		}
		if f, _ := x.Float64(); d.Float() != f {
			t.Fatalf("%q as a float is %v, want %v", s, d.Float(), f)
		}
		places := rapid.IntRange(0, 19).Draw(t, "places")
		if got := d.Rounded(places).Ratio().Rat(); got.Cmp(rounded(x, places, true)) != 0 {
			t.Fatalf("%q.Rounded(%d) = %s", s, places, got)
		}
		if got := d.RoundedHalfUp(places).Ratio().Rat(); got.Cmp(rounded(x, places, false)) != 0 {
			t.Fatalf("%q.RoundedHalfUp(%d) = %s", s, places, got)
		}
	})
}

func FuzzParseDecimal(f *testing.F) {
	for _, s := range []string{"12.50", "-3", "0", "-0", "1e5", "NaN", "Inf", "+1", " 1", "1_0", "999999999999999.9999999999999999999", ".", "0.0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := money.ParseDecimal(s)
		if err != nil {
			if code(err) != "BAD_DECIMAL" || d != (money.Decimal{}) {
				t.Errorf("ParseDecimal(%q) = %s, %v", s, d, err)
			}
			return
		}
		want, ok := new(big.Rat).SetString(s)
		if !ok || d.Ratio().Rat().Cmp(want) != 0 {
			t.Errorf("ParseDecimal(%q) = %s", s, d)
		}
		if back, err := money.ParseDecimal(d.String()); err != nil || back != d {
			t.Errorf("ParseDecimal(%q) prints %q, which reads %s, %v", s, d, back, err)
		}
	})
}
