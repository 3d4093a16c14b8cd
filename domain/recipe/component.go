package recipe

import (
	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/domain/money"
	"servewright/domain/safety"
)

// ID is the lower-case text of a UUIDv7. The zero ID is no id.
type ID string

// ExternalID is the name another system has for a thing.
type ExternalID struct {
	System, ID string
}

// Kind says where a component comes from.
type Kind string

// The kinds of component.
const (
	Bought    Kind = "bought"
	HouseMade Kind = "house_made"
)

// Status says whether a component is still offered.
type Status string

// The statuses.
const (
	Active   Status = "active"
	Delisted Status = "delisted" // kept where used, offered nowhere new
)

// Component is anything poured or laid on a drink, bought or house-made.
type Component struct {
	ID          ID
	Kind        Kind
	Code        string // the house's own unique code; may be empty
	Name        string
	Category    Category
	Status      Status
	Label       liquid.Label
	Packs       []Pack               // bought: what it is sold in
	WastePct    float64              // bought and then lost before it can be poured, % of what is bought, [0, 100)
	Allergens   safety.Declaration   // house-made: in addition to its parts'
	Piece       Piece                // what one piece holds
	Dash        measure.Volume       // mL of its own dash, 0 = the house's
	PouredC     *measure.Temperature // kept at; nil = the house's ingredient temperature
	Recipe      *Recipe              // house-made only
	ExternalIDs []ExternalID
	Notes       string
}

// Piece is what one piece of a component holds: the juice of one lime, the mass
// of one cube. Zero means not said.
type Piece struct {
	Juice measure.Volume // mL of liquid got from one piece
	Mass  measure.Mass   // g
}

// Pack is one way a component is sold, from one date on.
type Pack struct {
	ID        ID
	Size      measure.Quantity // of one item
	Count     int              // items for the price, ≥ 1
	Price     money.Amount     // for count × size
	Deposit   *money.Amount    // returnable, shown apart, never a cost
	Tax       TaxBasis
	TaxPct    *money.Decimal // of a tax-included price; nil = the house's
	ValidFrom measure.Date
	Supplier  string
	Preferred bool
	GTIN      string // 14 digits or empty
}

// TaxBasis says whether a price includes tax.
type TaxBasis string

// The bases.
const (
	TaxExcluded TaxBasis = "excluded"
	TaxIncluded TaxBasis = "included"
)

// Recipe is how a house-made component is made.
type Recipe struct {
	Lines         []Line
	Packaging     []Line // bottles, labels: full cost only
	Yield         Yield
	LabourMin     float64
	EnergyKWh     float64
	ShelfLifeDays int // 0 = not said
	Method        []string
}

// Yield is what a recipe gives. With neither figure it is computed without
// loss. At most one may be set.
type Yield struct {
	Measured *measure.Quantity // volume or mass
	LossPct  *float64          // [0, 100): less of the same composition
}

// Line is one line of a recipe or of a spec.
type Line struct {
	ID        ID
	Component ID
	Amount    measure.Quantity
	Stage     Stage                // specs only
	PouredC   *measure.Temperature // specs only; nil = the component's
	Note      string
}
