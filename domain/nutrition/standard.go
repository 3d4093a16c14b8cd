package nutrition

import (
	"slices"

	"servewright/domain/liquid"
)

// Standard is a country's unit of alcohol or standard drink. It is a quantity to
// count in, never a guide to how much to drink.
type Standard struct {
	Country   string  // ISO 3166-1 alpha-2
	Name      string  // what the country calls it
	EthanolML float64 // mL at 20 °C, where the definition is by volume, else 0
	EthanolG  float64 // g, where the definition is by mass, else 0
	Source    string  // with how well it was checked
}

const kalinowski = "Kalinowski and Humphreys 2016, Addiction 111:1293 (via trade press); medium confidence"

// usFlOz is the US fluid ounce in mL, exact (231 in³ ÷ 128).
const usFlOz = 29.5735295625

// standards are in the order of their countries. Each is defined by its own
// quantity.
var standards = []Standard{
	{"AT", "standard drink", 0, 20, kalinowski},
	{"AU", "standard drink", 0, 10, "Australian standard drinks guide, NHMRC 2009; high confidence"},
	{"CA", "standard drink", 17.05, 0, "CCSA and Health Canada via a secondary page (341 mL of 5 %); medium confidence"},
	{"CH", "standard drink", 0, 10, kalinowski + "; given as 10 to 12 g, the lower is used"},
	{"CL", "standard drink", 0, 14, kalinowski},
	{"CN", "standard drink", 0, 10, kalinowski},
	{"DE", "standard drink", 0, 10, kalinowski},
	{"DK", "standard drink", 0, 12, kalinowski},
	{"ES", "standard drink", 0, 10, "secondary (encyclopedia); low confidence"},
	{"FR", "standard drink", 0, 10, kalinowski},
	{"GB", "unit", 10, 0, "NHS, Alcohol units; high confidence"},
	{"IE", "standard drink", 0, 10, "HSE, drugs.ie; high confidence"},
	{"IN", "standard drink", 0, 10, kalinowski},
	{"IS", "standard drink", 0, 8, kalinowski},
	{"IT", "standard drink", 0, 10, "secondary; newer guidance says 12 g (from memory); low confidence"},
	{"JP", "drink", 0, 20, "newer guidance, from memory; older 25 mL = 19.75 g (encyclopedia); medium confidence"},
	{"LU", "standard drink", 0, 12.8, kalinowski},
	{"NZ", "standard drink", 0, 10, "alcohol.org.nz; high confidence"},
	{"PT", "standard drink", 0, 14, "secondary (encyclopedia, 2007-08); low confidence"},
	{"SG", "standard drink", 0, 10, kalinowski},
	{"US", "standard drink", 0.6 * usFlOz, 0, "NIAAA, Rethinking Drinking; high confidence"},
	{"VN", "standard drink", 0, 10, kalinowski},
}

// StandardFor returns the standard of a country by its ISO 3166-1 alpha-2 code
// in capitals; ok is false where none is known.
func StandardFor(country string) (Standard, bool) {
	i := slices.IndexFunc(standards, func(s Standard) bool { return s.Country == country })
	if i < 0 {
		return Standard{}, false
	}
	return standards[i], true
}

// Countries returns the codes [StandardFor] knows, in order.
func Countries() []string {
	codes := make([]string, len(standards))
	for i := range standards {
		codes[i] = standards[i].Country
	}
	return codes
}

// Units returns how many of s so many grams of ethanol are, unrounded. The zero
// Standard counts none.
func (s Standard) Units(ethanolG float64) float64 {
	switch {
	case s.EthanolML > 0:
		return ethanolG / float64(liquid.EthanolDensity) / s.EthanolML
	case s.EthanolG > 0:
		return ethanolG / s.EthanolG
	}
	return 0
}
