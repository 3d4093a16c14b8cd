package repo

import (
	"fmt"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/recipe"
	"servewright/domain/safety"
)

type quantityBody struct {
	Amount float64      `json:"amount"`
	Unit   measure.Unit `json:"unit"`
}

type amountBody struct {
	Amount   string         `json:"amount"` // exact decimal
	Currency money.Currency `json:"currency"`
}

func bodyOfAmount(a money.Amount) amountBody {
	return amountBody{Amount: a.Number.String(), Currency: a.Currency}
}

func bodyOfAmountPtr(a *money.Amount) *amountBody {
	if a == nil {
		return nil
	}
	b := bodyOfAmount(*a)
	return &b
}

// read does not ask whether the currency is one the program knows today.
func (b amountBody) read() (money.Amount, error) {
	d, err := money.ParseDecimal(b.Amount)
	return money.Amount{Number: d, Currency: b.Currency}, err
}

func (b *amountBody) readPtr() (*money.Amount, error) {
	if b == nil {
		return nil, nil
	}
	a, err := b.read()
	return &a, err
}

func bodyOfDecimal(d *money.Decimal) *string {
	if d == nil {
		return nil
	}
	s := d.String()
	return &s
}

func readDecimal(s *string) (*money.Decimal, error) {
	if s == nil {
		return nil, nil
	}
	d, err := money.ParseDecimal(*s)
	return &d, err
}

type externalBody struct {
	System text `json:"system"`
	ID     text `json:"id"`
}

func bodyOfExternal(ids []recipe.ExternalID) []externalBody {
	return each(ids, func(x recipe.ExternalID) externalBody { return externalBody{text(x.System), text(x.ID)} })
}

func readExternal(ids []externalBody) []recipe.ExternalID {
	return each(ids, func(x externalBody) recipe.ExternalID {
		return recipe.ExternalID{System: string(x.System), ID: string(x.ID)}
	})
}

type lineBody struct {
	ID        recipe.ID            `json:"id,omitempty"`
	Component recipe.ID            `json:"component_id"`
	Amount    quantityBody         `json:"amount"`
	Stage     recipe.Stage         `json:"stage,omitempty"`
	PouredC   *measure.Temperature `json:"poured_c,omitempty"`
	Note      text                 `json:"note,omitempty"`
}

func bodyOfLine(l recipe.Line) lineBody {
	return lineBody{l.ID, l.Component, quantityBody(l.Amount), l.Stage, l.PouredC, text(l.Note)}
}

func (b lineBody) read() recipe.Line {
	return recipe.Line{
		ID: b.ID, Component: b.Component, Amount: measure.Quantity(b.Amount), Stage: b.Stage, PouredC: b.PouredC, Note: string(b.Note),
	}
}

type chillBody struct {
	RoomC       *measure.Temperature `json:"room_c,omitempty"`
	IngredientC *measure.Temperature `json:"ingredient_c,omitempty"`
	IceC        *measure.Temperature `json:"ice_c,omitempty"`
	IceWetPct   *float64             `json:"ice_wet_pct,omitempty"` // % of the ice's mass
}

// allergensBody is there only when somebody declared.
type allergensBody struct {
	Contains   []string `json:"contains"`
	MayContain []string `json:"may_contain,omitempty"`
}

func bodyOfAllergens(d safety.Declaration) *allergensBody {
	if !d.Declared {
		return nil
	}
	return &allergensBody{d.Contains.Names(), d.MayContain.Names()}
}

func (b *allergensBody) read() (d safety.Declaration, err error) {
	if b == nil {
		return d, nil
	}
	d.Declared = true
	if d.Contains, err = readAllergens(b.Contains); err != nil {
		return d, err
	}
	d.MayContain, err = readAllergens(b.MayContain)
	return d, err
}

func readAllergens(names []string) (set safety.Set, err error) {
	for _, name := range names {
		a, ok := safety.ParseAllergen(name)
		if !ok {
			return 0, fmt.Errorf("unknown allergen %q in a stored body", name)
		}
		set |= safety.Of(a)
	}
	return set, nil
}

// substance is a key of a body's map.
type substance liquid.Substance

// substances are the stored names of what a label counts by kind.
var substances = map[substance]string{
	substance(liquid.Sucrose): "sucrose", substance(liquid.Glucose): "glucose", substance(liquid.Fructose): "fructose",
	substance(liquid.Lactose): "lactose", substance(liquid.Maltose): "maltose",
	substance(liquid.CitricAcid): "citric_acid", substance(liquid.MalicAcid): "malic_acid",
	substance(liquid.TartaricAcid): "tartaric_acid", substance(liquid.LacticAcid): "lactic_acid",
	substance(liquid.AceticAcid): "acetic_acid", substance(liquid.PhosphoricAcid): "phosphoric_acid",
	substance(liquid.AscorbicAcid): "ascorbic_acid", substance(liquid.SuccinicAcid): "succinic_acid",
}

// MarshalText refuses a substance that no label counts by kind.
func (s substance) MarshalText() ([]byte, error) {
	name, ok := substances[s]
	if !ok {
		return nil, fmt.Errorf("substance %d has no stored name", s)
	}
	return []byte(name), nil
}

// UnmarshalText reads a stored name.
func (s *substance) UnmarshalText(name []byte) error {
	for candidate, n := range substances {
		if n == string(name) {
			*s = candidate
			return nil
		}
	}
	return fmt.Errorf("unknown substance %q", name)
}

// rekey returns m with keys of another name for the same type; an empty m
// becomes nil.
func rekey[A, B ~uint8](m map[A]float64) map[B]float64 {
	if m == nil {
		return nil
	}
	out := make(map[B]float64, len(m))
	for k, v := range m {
		out[B(k)] = v
	}
	return out
}
