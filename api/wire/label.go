package wire

import (
	"slices"
	"strings"

	"servewright/domain/liquid"
	"servewright/domain/measure"
)

// Label is what is printed on a component or measured in it. A figure that is
// left out is unknown, not zero, where the category normally has it.
type Label struct {
	// AbvPct is the strength in percent by volume at 20 °C.
	AbvPct *float64 `json:"abv_pct,omitempty" example:"42"`
	// SugarGPerL is all sugar, counted as sucrose unless SugarsGPerL is given.
	SugarGPerL *float64 `json:"sugar_g_per_l,omitempty" example:"4"`
	// SugarsGPerL is sugar by kind: sucrose, glucose, fructose, lactose, maltose.
	SugarsGPerL map[string]float64 `json:"sugars_g_per_l,omitzero"`
	// BrixPct is the mass % of soluble solids of an alcohol-free component, acids included.
	BrixPct *float64 `json:"brix_pct,omitempty" example:"50"`
	// DensityKgPerL is the density at 20 °C.
	DensityKgPerL *float64 `json:"density_kg_per_l,omitempty" example:"0.9473"`
	// AcidsGPerL is acid by kind: citric, malic, tartaric, lactic, acetic, phosphoric, ascorbic, succinic.
	AcidsGPerL map[string]float64 `json:"acids_g_per_l,omitzero"`
	// PH is the measured pH.
	PH *float64 `json:"ph,omitempty" example:"2.4"`
	// MassFraction is what one gram holds, by substance, such as {"sucrose": 1}.
	MassFraction map[string]float64 `json:"mass_fraction,omitzero"`
	// BulkDensityGPerML gives a poured solid a volume.
	BulkDensityGPerML *float64 `json:"bulk_density_g_per_ml,omitempty" example:"0.85"`
} // @name Label

// The keys of the two maps by kind, in the order shown to people.
var (
	sugarKeys = []string{"sucrose", "glucose", "fructose", "lactose", "maltose"}
	acidKeys  = []string{"citric", "malic", "tartaric", "lactic", "acetic", "phosphoric", "ascorbic", "succinic"}
)

func (l *Label) label(r *Report) liquid.Label {
	if l == nil {
		return liquid.Label{}
	}
	return liquid.Label{
		ABV:          fraction(l.AbvPct),
		Sugar:        l.SugarGPerL,
		Sugars:       byKind(l.SugarsGPerL, sugarKeys, liquid.ParseSugar, "/label/sugars_g_per_l", r),
		Brix:         l.BrixPct,
		Density:      typed[measure.Density](l.DensityKgPerL),
		Acids:        byKind(l.AcidsGPerL, acidKeys, liquid.ParseAcid, "/label/acids_g_per_l", r),
		PH:           l.PH,
		MassFraction: l.fractions(r),
		BulkDensity:  typed[measure.Density](l.BulkDensityGPerML),
	}
}

// byKind reads a map from the names of substances.
func byKind(in map[string]float64, keys []string, parse func(string) (liquid.Substance, bool), at string, r *Report) map[liquid.Substance]float64 {
	if in == nil {
		return nil
	}
	out := make(map[liquid.Substance]float64, len(in))
	for name, g := range in {
		s, ok := parse(name)
		if !ok {
			r.unknownKey(at, name, keys)
			continue
		}
		out[s] = g
	}
	return out
}

func (l *Label) fractions(r *Report) map[string]float64 {
	known := liquid.FractionNames()
	for name := range l.MassFraction {
		if !slices.Contains(known, name) {
			r.unknownKey("/label/mass_fraction", name, known)
		}
	}
	return l.MassFraction
}

func (r *Report) unknownKey(at, name string, known []string) {
	r.Add(at+"/"+escape(name), "UNKNOWN_MEMBER", "%q is not taken here; use %s", clip(name), strings.Join(known, ", "))
}

func fromLabel(l *liquid.Label) *Label {
	if l.Blank() {
		return nil
	}
	return &Label{
		AbvPct:            percent(l.ABV),
		SugarGPerL:        l.Sugar,
		SugarsGPerL:       fromKinds(l.Sugars, sugarKeys, liquid.ParseSugar),
		BrixPct:           l.Brix,
		DensityKgPerL:     plain(l.Density),
		AcidsGPerL:        fromKinds(l.Acids, acidKeys, liquid.ParseAcid),
		PH:                l.PH,
		MassFraction:      l.MassFraction,
		BulkDensityGPerML: plain(l.BulkDensity),
	}
}

func fromKinds(in map[liquid.Substance]float64, keys []string, parse func(string) (liquid.Substance, bool)) map[string]float64 {
	if in == nil {
		return nil
	}
	out := make(map[string]float64, len(in))
	for _, name := range keys {
		s, _ := parse(name)
		if g, ok := in[s]; ok {
			out[name] = g
		}
	}
	return out
}
