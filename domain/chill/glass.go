package chill

import (
	"strings"

	"servewright/domain/measure"
)

// Glass is how much glasses of one name hold, filled to the brim, in mL. Makers
// differ by a factor of two: these are the lowest, the usual and the highest
// found.
type Glass struct {
	Name               string
	Low, Typical, High measure.Volume
	Source             string
}

// Glasses are the glasses known by name (glassware_measures.csv; trade
// references read in secondary copies, sizes in US fl oz rounded to mL).
var Glasses = []Glass{
	{"coupe", 150, 180, 270, "trade references, secondary: 5–7 oz (several), saucer 9 oz"},
	{"nick and nora", 120, 150, 207, "trade references, secondary: 4–7 oz"},
	{"martini", 90, 150, 240, "trade references, secondary: 3–8 oz"},
	{"rocks", 180, 240, 300, "trade references, secondary: 6–10 oz"},
	{"double old fashioned", 350, 370, 420, "trade references, secondary: 12–14 oz"},
	{"highball", 240, 300, 400, "trade references, secondary: 8–14 oz"},
	{"collins", 300, 350, 410, "trade references, secondary: 10–14 oz"},
	{"flute", 180, 200, 300, "trade references, secondary: 6–10 oz"},
	{"julep", 350, 400, 470, "trade references, secondary: 12–16 oz"},
	{"hurricane", 300, 450, 590, "trade references, secondary: 10–20 oz"},
}

// alsoCalled gives other names of the same glasses, folded as [GlassOf] does.
var alsoCalled = map[string]string{
	"cocktail":      "martini",
	"old fashioned": "rocks", "lowball": "rocks", "tumbler": "rocks", "single old fashioned": "rocks",
	"double rocks": "double old fashioned", "dof": "double old fashioned",
	"champagne flute": "flute", "tall": "highball", "nick & nora": "nick and nora", "julep cup": "julep",
	"martini / cocktail": "martini", "rocks / old fashioned": "rocks",
	"saucer": "coupe", "champagne saucer": "coupe",
}

// GlassOf returns the glass of a name in any case, with hyphens or underscores
// for spaces and with or without "glass" behind it. It is false for a name that
// is not known.
func GlassOf(name string) (Glass, bool) {
	name = strings.NewReplacer("-", " ", "_", " ").Replace(strings.ToLower(name))
	name = strings.Join(strings.Fields(name), " ")
	name = strings.TrimSuffix(name, " glass")
	if known, ok := alsoCalled[name]; ok {
		name = known
	}
	for _, g := range Glasses {
		if g.Name == name {
			return g, true
		}
	}
	return Glass{}, false
}
