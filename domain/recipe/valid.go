package recipe

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
)

// Limits on what is written down. They are far above what a bar writes and low
// enough that one document cannot burden a server.
const (
	MaxLines = 60   // of a spec or a recipe
	MaxPacks = 400  // of a component, all dates together
	maxName  = 120  // characters
	maxCode  = 64   // characters
	maxText  = 4000 // characters
)

// Valid returns every fault of the component by itself: names, figures, units,
// currency. What its lines point at is checked by [Book.WithComponent].
func (c *Component) Valid(h *House) error {
	var bad domain.Faults
	checkName(&bad, c.Name)
	checkCode(&bad, c.Code)
	checkText(&bad, "/notes", c.Notes, maxText)
	if !slices.Contains(Categories, c.Category) {
		bad.Add("/category", "UNKNOWN_CATEGORY", "category must be one of %s", join(Categories))
	}
	if c.Status != Active && c.Status != Delisted {
		bad.Add("/status", "UNKNOWN_STATUS", "status must be active or delisted")
	}
	inRange(&bad, "/waste_pct", c.WastePct, 0, 99.9)
	inRange(&bad, "/dash_ml", float64(c.Dash), 0, 10)
	inRange(&bad, "/piece/juice_ml", float64(c.Piece.Juice), 0, 1e5)
	inRange(&bad, "/piece/mass_g", float64(c.Piece.Mass), 0, 1e6)
	if c.PouredC != nil {
		inRange(&bad, "/poured_c", float64(*c.PouredC), -30, 100)
	}
	checkExternal(&bad, c.ExternalIDs)
	switch c.Kind {
	case Bought:
		c.validBought(&bad, h)
	case HouseMade:
		c.validMade(&bad)
	default:
		bad.Add("/kind", "UNKNOWN_KIND", "kind must be bought or house_made")
	}
	return bad.Err()
}

func (c *Component) validBought(bad *domain.Faults, h *House) {
	if c.Recipe != nil {
		bad.Add("/recipe", "RECIPE_ON_BOUGHT", "a bought component has no recipe; make its kind house_made, or leave the recipe out")
	}
	if len(c.Packs) > MaxPacks {
		bad.Add("/packs", "TOO_MANY", "at most %d packs", MaxPacks)
	}
	for i := range c.Packs {
		at := "/packs/" + strconv.Itoa(i)
		bad.Check(at, c.Packs[i].Valid(h))
	}
	label, _ := labelled(c)
	if u := c.Category.Usual(&label); !u.Opaque {
		_, err := liquid.Close(&label, u)
		bad.Check("", err)
	}
}

// Valid returns every fault of the pack.
func (p *Pack) Valid(h *House) error {
	var bad domain.Faults
	bad.Check("/size", p.Size.Valid())
	if p.Count < 1 || p.Count > 1e6 {
		bad.Add("/count", "OUT_OF_RANGE", "count must be at least 1 and at most a million")
	}
	checkAmount(&bad, "/price", p.Price, h)
	if p.Deposit != nil {
		checkAmount(&bad, "/deposit", *p.Deposit, h)
	}
	checkTax(&bad, "", p.Tax, p.TaxPct)
	if p.ValidFrom == "" {
		bad.Add("/valid_from", "REQUIRED", "a price needs the date it is in force from, such as \"2026-03-01\"")
	}
	checkText(&bad, "/supplier", p.Supplier, maxName)
	return bad.Err()
}

func (c *Component) validMade(bad *domain.Faults) {
	if !c.Label.Empty() {
		bad.Add("/label", "LABEL_ON_HOUSE_MADE", "what is in a house-made component follows from its recipe; leave the label out")
	}
	if len(c.Packs) > 0 {
		bad.Add("/packs", "PACKS_ON_HOUSE_MADE", "the cost of a house-made component follows from its recipe; leave the packs out")
	}
	if c.Recipe == nil || len(c.Recipe.Lines) == 0 {
		bad.Add("/recipe/lines", "REQUIRED", "a house-made component needs at least one line in its recipe")
		return
	}
	r := c.Recipe
	checkLineList(bad, "/recipe/lines", r.Lines)
	checkLineList(bad, "/recipe/packaging", r.Packaging)
	inRange(bad, "/recipe/labour_min", r.LabourMin, 0, 1e5)
	inRange(bad, "/recipe/energy_kwh", r.EnergyKWh, 0, 1e5)
	inRange(bad, "/recipe/shelf_life_days", float64(r.ShelfLifeDays), 0, 36500)
	for i, step := range r.Method {
		checkText(bad, "/recipe/method/"+strconv.Itoa(i), step, maxText)
	}
	if r.Yield.LossPct != nil {
		inRange(bad, "/recipe/yield/loss_pct", *r.Yield.LossPct, 0, 99.9)
	}
	if m := r.Yield.Measured; m != nil {
		bad.Check("/recipe/yield/measured", m.Valid())
		if m.Unit.Dimension() == measure.OfPieces || isBarUnit(m.Unit) {
			bad.Add("/recipe/yield/measured/unit", "YIELD_UNIT", "measure the yield in mL, L, g, kg or another unit of fixed size")
		}
		if r.Yield.LossPct != nil {
			bad.Add("/recipe/yield", "YIELD_TWICE", "give the yield as measured or as loss_pct, not both")
		}
	}
}

func isBarUnit(u measure.Unit) bool {
	return u == measure.Oz || u == measure.Dash || u == measure.Drop || u == measure.Barspoon
}

// Valid returns every fault of the spec by itself. What its lines point at is
// checked by [Book.WithSpec].
func (s *Spec) Valid(h *House) error {
	var bad domain.Faults
	checkName(&bad, s.Name)
	checkCode(&bad, s.Code)
	checkText(&bad, "/notes", s.Notes, maxText)
	checkText(&bad, "/category", s.Category, maxName)
	checkText(&bad, "/glass", s.Glass, maxName)
	inRange(&bad, "/glass_ml", float64(s.GlassVolume), 0, 1e5)
	checkExternal(&bad, s.ExternalIDs)
	s.validMaking(&bad)
	if len(s.Lines) == 0 {
		bad.Add("/lines", "REQUIRED", "a spec needs at least one line")
	}
	checkLineList(&bad, "/lines", s.Lines)
	if s.Price != nil {
		checkAmount(&bad, "/price", s.Price.Amount, h)
		checkTax(&bad, "/price", s.Price.Tax, s.Price.TaxPct)
	}
	return bad.Err()
}

// Valid returns every fault of the house's defaults. Whether the time zone's
// name is known is asked at the edge, where there are zone files to look into.
func (h *House) Valid() error {
	var bad domain.Faults
	checkText(&bad, "/name", h.Name, maxName)
	if h.TimeZone == "" {
		bad.Add("/time_zone", "REQUIRED", "a house needs an IANA time zone such as \"Europe/Lisbon\"")
	}
	checkText(&bad, "/time_zone", h.TimeZone, maxName)
	if _, err := money.ParseCurrency(string(h.Currency)); err != nil {
		bad.Check("/currency", err)
	}
	if h.Country != "" && !isCountry(h.Country) {
		bad.Add("/country", "UNKNOWN_COUNTRY", "country must be a two-letter ISO 3166-1 code such as \"GB\"")
	}
	inRange(&bad, "/units/oz", float64(h.Units.Oz), 20, 35)
	inRange(&bad, "/units/dash_ml", float64(h.Units.Dash), 0.01, 10)
	inRange(&bad, "/units/drop_ml", float64(h.Units.Drop), 0.001, 1)
	inRange(&bad, "/units/barspoon_ml", float64(h.Units.Barspoon), 0.5, 15)
	checkPct(&bad, "/tax_pct", &h.TaxPct)
	checkPct(&bad, "/target_pour_cost_pct", h.TargetPourPct)
	for at, a := range map[string]*money.Amount{"/labour_per_hour": h.LabourPerHour, "/energy_per_kwh": h.EnergyPerKWh} {
		if a != nil {
			checkAmount(&bad, at, *a, h)
		}
	}
	bad.Check("", h.Chill.Valid())
	slices.SortFunc(bad, func(a, b domain.Fault) int { return strings.Compare(a.Pointer, b.Pointer) })
	return bad.Err()
}

func isCountry(s string) bool {
	return len(s) == 2 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'A' && s[1] <= 'Z'
}

func checkAmount(bad *domain.Faults, at string, a money.Amount, h *House) {
	if a.Currency != h.Currency {
		bad.Add(at+"/currency", "CURRENCY_MIX", "this house counts in %s, not %s; give the price in %s", h.Currency, a.Currency, h.Currency)
	}
	if a.Sign() < 0 {
		bad.Add(at+"/amount", "OUT_OF_RANGE", "an amount of money must not be below 0")
	}
}

func checkTax(bad *domain.Faults, at string, basis TaxBasis, pct *money.Decimal) {
	if basis != TaxExcluded && basis != TaxIncluded {
		bad.Add(at+"/tax", "UNKNOWN_TAX_BASIS", "tax must be included or excluded")
	}
	checkPct(bad, at+"/tax_pct", pct)
}

func checkPct(bad *domain.Faults, at string, d *money.Decimal) {
	if d != nil && (d.Sign() < 0 || d.Float() > 100) {
		bad.Add(at, "OUT_OF_RANGE", "a percentage must be at least 0 and at most 100, not %s", d)
	}
}

func checkLineList(bad *domain.Faults, at string, lines []Line) {
	if len(lines) > MaxLines {
		bad.Add(at, "TOO_MANY", "at most %d lines, not %d; put a part of them into a house-made component", MaxLines, len(lines))
		return
	}
	seen := map[ID]bool{}
	for i := range lines {
		p := linePointer(at, i)
		if q := lines[i].Amount; q.Valid() != nil {
			pointer := p + "/amount"
			if q.Unit.Dimension() == 0 {
				pointer = p + "/unit"
			}
			bad.Check(pointer, q.Valid())
		}
		if t := lines[i].PouredC; t != nil {
			inRange(bad, p+"/poured_c", float64(*t), -30, 100)
		}
		checkText(bad, p+"/note", lines[i].Note, maxText)
		if id := lines[i].ID; id != "" && seen[id] {
			bad.Add(p+"/id", "ID_TWICE", "line id %s is there twice; leave the id of a new line out", id)
		} else {
			seen[id] = true
		}
	}
}

func linePointer(at string, i int) string { return at + "/" + strconv.Itoa(i) }

// inRange accepts by what the number must be, so that NaN is refused.
func inRange(bad *domain.Faults, at string, v, low, high float64) {
	if !(v >= low && v <= high) {
		bad.Add(at, "OUT_OF_RANGE", "must be at least %g and at most %g, not %g", low, high, v)
	}
}

func checkName(bad *domain.Faults, name string) {
	if strings.TrimSpace(name) == "" {
		bad.Add("/name", "REQUIRED", "a name is needed")
	}
	checkText(bad, "/name", name, maxName)
}

// checkCode takes what can stand in a URL path without escaping.
func checkCode(bad *domain.Faults, code string) {
	ok := len(code) <= maxCode
	for _, r := range code {
		ok = ok && (r < utf8.RuneSelf && (unicode.IsLetter(r) || unicode.IsDigit(r)) || strings.ContainsRune("-_.", r))
	}
	if !ok {
		bad.Add("/code", "BAD_CODE", "a code has at most %d of the characters A–Z, a–z, 0–9, '-', '_' and '.'", maxCode)
	}
}

// checkText refuses what no card could print: control characters, broken UTF-8.
func checkText(bad *domain.Faults, at, s string, most int) {
	if utf8.RuneCountInString(s) > most {
		bad.Add(at, "TOO_LONG", "at most %d characters", most)
	}
	if !utf8.ValidString(s) || strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }) {
		bad.Add(at, "BAD_TEXT", "must be UTF-8 text without control characters")
	}
}

func checkExternal(bad *domain.Faults, ids []ExternalID) {
	if len(ids) > 50 {
		bad.Add("/external_ids", "TOO_MANY", "at most 50 external ids")
	}
	for i, x := range ids {
		at := "/external_ids/" + strconv.Itoa(i)
		if x.System == "" || x.ID == "" {
			bad.Add(at, "REQUIRED", "an external id needs both system and id")
		}
		checkText(bad, at+"/system", x.System, maxName)
		checkText(bad, at+"/id", x.ID, maxName)
	}
}

func join[T ~string](list []T) string {
	words := make([]string, len(list))
	for i, w := range list {
		words[i] = string(w)
	}
	return strings.Join(words, ", ")
}
