package liquid_test

import (
	"strings"
	"testing"

	"servewright/domain/liquid"
	"servewright/testdata/reference"
)

// acidNamed finds the acid of a row such as "citric (anhydrous)" or "phosphoric
// (2 eq.)".
func acidNamed(name string) (liquid.Substance, bool) {
	return liquid.ParseAcid(strings.Fields(name)[0])
}

// TestEquivalents: one equivalent of each acid has its published mass.
func TestEquivalents(t *testing.T) {
	n := 0
	for _, r := range reference.Rows(t, "acid_constants.csv") {
		a, ok := acidNamed(r["acid"])
		if !ok {
			continue
		}
		n++
		near(t, r["acid"], liquid.AcidAs(1000, a), r.Num(t, "equivalent_mass_g"), half(3), r["source_note"])
		var m liquid.Mix
		m[a] = 1
		near(t, r["acid"]+" as citric", liquid.AcidAs(m.TitratableMeq(), liquid.CitricAcid), r.Num(t, "g_citric_per_g"), half(4), "acid_constants.csv")
	}
	if n != 8 {
		t.Errorf("%d acids, want all 8", n)
	}
}

func TestAcidConversion(t *testing.T) {
	as := map[string]liquid.Substance{
		"g_as_citric_per_g": liquid.CitricAcid, "g_as_tartaric_per_g": liquid.TartaricAcid, "g_as_malic_per_g": liquid.MalicAcid,
	}
	n := 0
	for _, r := range reference.Rows(t, "titratable_acidity_conversion.csv") {
		a, ok := acidNamed(r["acid"])
		if !ok { // sulfuric: a scale, not an acid of drinks
			continue
		}
		var m liquid.Mix
		m[a] = 1
		for col, other := range as {
			n++
			near(t, r["acid"]+" "+col, liquid.AcidAs(m.TitratableMeq(), other), r.Num(t, col), half(4), "titratable_acidity_conversion.csv")
		}
	}
	if n != 24 {
		t.Errorf("%d conversions, want 8 acids on 3 scales", n)
	}
}

// TestSalts: a salt's mass is the sum of its parts and its base cancels its
// acid.
func TestSalts(t *testing.T) {
	tests := []struct {
		name  string  // key of mass_fraction
		salt  string  // row
		acid  float64 // meq of its acid per g, counted apart
		net   float64 // meq per g
		tol   float64 // of the published meq per g, three decimals
		water float64 // g per g
	}{
		{name: "trisodium_citrate", salt: "trisodium citrate anhydrous", net: 0, tol: half(3)},
		{name: "trisodium_citrate_dihydrate", salt: "trisodium citrate dihydrate", net: 0, tol: half(3), water: 2 * 18.015 / 294.098},
		{name: "sodium_bicarbonate", salt: "sodium bicarbonate", net: -11.904, tol: half(3)},
		{name: "potassium_bitartrate", salt: "potassium bitartrate", net: 5.314, tol: half(3)},
	}
	base := map[string]float64{}
	for _, r := range reference.Rows(t, "acid_salts.csv") {
		base[r["salt"]] = r.Num(t, "base_meq_per_g")
	}
	for _, tt := range tests {
		m, ok := liquid.Fraction(tt.name)
		if !ok {
			t.Errorf("no fraction %s", tt.name)
			continue
		}
		near(t, tt.name+" weighs", float64(m.Mass()), 1, 1e-12, "a gram is a gram")
		near(t, tt.name+" net acid", m.TitratableMeq(), tt.net, 2*tt.tol, "acid_salts.csv")
		near(t, tt.name+" water", m[liquid.Water], tt.water, 1e-5, "molar masses")
		metal := m[liquid.Sodium]/(22.98977-1.008) + m[liquid.Potassium]/(39.0983-1.008)
		near(t, tt.name+" base", 1000*metal, base[tt.salt], tt.tol, "acid_salts.csv")
	}
}

// TestMonohydrate: 210.138 g of the monohydrate are 192.123 g of acid.
func TestMonohydrate(t *testing.T) {
	m, _ := liquid.Fraction("citric_acid_monohydrate")
	near(t, "citric acid in its monohydrate", m[liquid.CitricAcid], 192.123/210.138, 1e-6, "acid_constants.csv")
	near(t, "water in it", m[liquid.Water], 18.015/210.138, 1e-6, "same")
}

// TestNeutralised: each gram of bicarbonate neutralises 0.762 g of citric acid.
func TestNeutralised(t *testing.T) {
	m, _ := liquid.Fraction("sodium_bicarbonate")
	m[liquid.CitricAcid] = 0.762
	near(t, "acid left", m.TitratableMeq(), 0, 0.01, "acid_salts.csv")
	if liquid.AcidAs(10, liquid.Sucrose) != 0 {
		t.Error("sugar counts as an acid")
	}
}

func TestInvert(t *testing.T) {
	m := liquid.Mix{liquid.Sucrose: 95, liquid.Glucose: 10}
	near(t, "95 g of sucrose and 10 g of glucose as invert", m.SugarAsInvertG(), 110, half(1), "Regulation (EU) 2019/787: 100 g/L invert = 95.0 g/L sucrose")
}
