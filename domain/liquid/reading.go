package liquid

import "servewright/domain"

// origin says where a figure of a [reading] comes from.
type origin uint8

const (
	none      origin = iota // the kind of component does not have it
	given                   // on the label
	estimated               // nobody gave it: the usual value
	solved                  // follows from the density
)

// reading is a label with its gaps filled: what one litre holds and what is
// known by share of the whole, before the water is found.
type reading struct {
	abv     float64 // fraction
	sugar   float64 // g/L, of the kinds in `kinds`
	kinds   Mix     // shares of sugar, together 1
	sugarAt string  // where on the label the sugar stands
	acid    Mix     // g/L
	share   Mix     // mass fractions of the whole
	rest    Substance
	brix    float64 // mass fraction of soluble solids
	density float64 // g/mL, 0 = not given

	abvFrom, sugarFrom, acidFrom origin
	// fill is what takes up the soluble solids that sugar and acids leave of
	// the Brix; meaningful when hasBrix.
	fill    Substance
	hasBrix bool
}

// read fills the gaps of l from what is usual.
func read(l *Label, u *Usual) reading {
	r := reading{rest: Water, sugarAt: "/label/sugar_g_per_l"}
	r.kinds[Sucrose] = 1
	if l.Density != nil {
		r.density = float64(*l.Density)
	}
	r.readShares(l)
	r.readSugar(l)
	if l.ABV != nil {
		r.abv, r.abvFrom = float64(*l.ABV), given
	} else if r.share[Ethanol] > 0 {
		r.abvFrom = given
	}
	if l.Acids != nil {
		r.acidFrom = given
		for a, g := range l.Acids { // each its own place: order does not matter
			r.acid[a] = g
		}
	} else if r.share.AcidG() > 0 {
		r.acidFrom = given
	}
	if !l.complete() {
		r.assume(u)
	}
	return r
}

// complete reports whether the mass fractions leave nothing unsaid: they name
// the water, or add up to the whole.
func (l *Label) complete() bool {
	sum := 0.0
	for i := range fractions {
		sum += l.MassFraction[fractions[i].name]
	}
	_, water := l.MassFraction["water"]
	return water || sum > 1-1e-9
}

// readShares takes the mass fractions. A figure that is also given per litre
// counts per litre; the fraction is checked against it afterwards. Where water
// is named, what is left of the whole is other solids.
func (r *reading) readShares(l *Label) {
	for i := range fractions { // not over the map: sums must not depend on its order
		if f := l.MassFraction[fractions[i].name]; f > 0 && !l.outranks(fractions[i].name) {
			r.share.Add(&fractions[i].perG, f)
		}
	}
	if _, named := l.MassFraction["water"]; named {
		r.rest = OtherSolids
	}
}

// outranks reports whether a figure per litre says the same as mass fraction
// name.
func (l *Label) outranks(name string) bool {
	if name == Ethanol.Name() {
		return l.ABV != nil
	}
	if _, sugar := ParseSugar(name); sugar {
		return l.Sugar != nil || l.Sugars != nil
	}
	for a := range l.Acids {
		if a.Name() == name {
			return true
		}
	}
	return false
}

func (r *reading) readSugar(l *Label) {
	switch {
	case len(l.Sugars) > 0:
		r.sugarFrom, r.sugarAt = given, "/label/sugars_g_per_l"
		var kinds Mix
		for s, g := range l.Sugars {
			kinds[s] = g
		}
		if r.sugar = kinds.SugarG(); r.sugar > 0 {
			kinds.Scale(1 / r.sugar)
			r.kinds = kinds
		}
	case l.Sugar != nil:
		r.sugar, r.sugarFrom = *l.Sugar, given
	case l.Sugars != nil || r.share.SugarG() > 0:
		r.sugarFrom = given
	}
	if l.Brix == nil {
		return
	}
	r.brix = *l.Brix / 100
	if r.sugarFrom == none {
		r.hasBrix, r.fill, r.sugarFrom = true, Sucrose, given
	}
}

// assume takes the usual value of what is still open, and lets a density decide
// what it can: the sugar, or the strength where the sugar is known.
func (r *reading) assume(u *Usual) {
	byDensity := r.density > 0
	if r.abvFrom == none && u.ABV != nil {
		if byDensity && (r.sugarFrom != none || u.Sugar == nil) {
			r.abvFrom, byDensity = solved, false
		} else {
			r.abv, r.abvFrom = u.ABV.Usual, estimated
		}
	}
	if r.sugarFrom == none && byDensity {
		r.sugarFrom = solved
	}
	if r.sugarFrom == none && u.Sugar != nil {
		r.sugar, r.sugarFrom = u.Sugar.Usual, estimated
	}
	if r.acidFrom == none && u.Acid != nil {
		r.acid[CitricAcid], r.acidFrom = u.Acid.Usual, estimated
	}
}

// refuseBrix notes the fault of Brix on something with alcohol: it is read by
// density or refraction, and alcohol shifts both.
func (r *reading) refuseBrix(l *Label, bad *domain.Faults) {
	if l.Brix == nil || r.abvFrom == none || r.abv == 0 && r.share[Ethanol] == 0 && r.abvFrom != solved {
		return
	}
	way := "give sugar_g_per_l, or density_kg_per_l together with abv_pct"
	if l.ABV == nil && r.share[Ethanol] == 0 {
		way = "this kind of component has alcohol: " + way + ", or abv_pct 0 if it has none"
	}
	bad.Add("/label/brix_pct", "BRIX_WITH_ALCOHOL", "Brix says nothing of the sugar where there is alcohol; %s", way)
}
