package measure

import (
	"math"
	"strings"

	"servewright/domain"
)

// Dimension is what a unit counts.
type Dimension uint8

// The dimensions of an amount.
const (
	OfVolume Dimension = iota + 1
	OfMass
	OfPieces
)

// Unit is a unit as it is written in a document: a UCUM code, or one of the
// bar's own words oz, dash, drop, barspoon and piece.
type Unit string

// The units taken. oz, dash, drop and barspoon have no legal size: the house
// sets it.
const (
	ML         Unit = "mL"
	CL         Unit = "cL"
	DL         Unit = "dL"
	L          Unit = "L"
	G          Unit = "g"
	KG         Unit = "kg"
	FlOzUS     Unit = "[foz_us]"
	FlOzBR     Unit = "[foz_br]"
	OzAv       Unit = "[oz_av]"
	LbAv       Unit = "[lb_av]"
	TspUS      Unit = "[tsp_us]"
	TbsUS      Unit = "[tbs_us]"
	Oz         Unit = "oz"
	Dash       Unit = "dash"
	Drop       Unit = "drop"
	Barspoon   Unit = "barspoon"
	Piece      Unit = "piece"
	maxAmount       = 1e9 // no bar pours a thousand cubic metres
	unitsTaken      = "mL cL dL L g kg [foz_us] [foz_br] [oz_av] [lb_av] [tsp_us] [tbs_us] oz dash drop barspoon piece"
)

// size is what one unit holds, in mL, g or pieces. The values are exact; their
// shortest decimal is the definition (UCUM; US gallon 231 in³, imperial gallon
// 4.54609 L, pound 0.45359237 kg).
type size struct {
	dim  Dimension
	size float64
}

var sizes = map[Unit]size{
	ML: {OfVolume, 1}, CL: {OfVolume, 10}, DL: {OfVolume, 100}, L: {OfVolume, 1000},
	G: {OfMass, 1}, KG: {OfMass, 1000},
	FlOzUS: {OfVolume, 29.5735295625}, FlOzBR: {OfVolume, 28.4130625},
	OzAv: {OfMass, 28.349523125}, LbAv: {OfMass, 453.59237},
	TspUS: {OfVolume, 4.92892159375}, TbsUS: {OfVolume, 14.78676478125},
	Oz: {OfVolume, 0}, Dash: {OfVolume, 0}, Drop: {OfVolume, 0}, Barspoon: {OfVolume, 0},
	Piece: {OfPieces, 1},
}

// ParseUnit reads a unit. The error names the units taken.
func ParseUnit(s string) (Unit, error) {
	if _, ok := sizes[Unit(s)]; ok {
		return Unit(s), nil
	}
	e := domain.Errorf(domain.Invalid, "unknown unit %q; use one of %s", clip(s), unitsTaken)
	e.Code = "UNKNOWN_UNIT"
	return "", e
}

func clip(s string) string {
	s = strings.ToValidUTF8(s, "�")
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// Dimension returns what u counts, 0 for an unknown unit.
func (u Unit) Dimension() Dimension { return sizes[u].dim }

// BarUnits are the sizes of the bar's own units, in mL at 20 °C. Each must be
// above zero.
type BarUnits struct {
	Oz, Dash, Drop, Barspoon Volume
}

// Size returns what one u holds in the canonical unit of its dimension (mL, g
// or pieces), taking the bar's own units from b. The value is to be read as its
// shortest decimal when it has to be exact.
func (u Unit) Size(b BarUnits) float64 {
	switch u {
	case ML, G, Piece: // before the map: most amounts are in these
		return 1
	case Oz:
		return float64(b.Oz)
	case Dash:
		return float64(b.Dash)
	case Drop:
		return float64(b.Drop)
	case Barspoon:
		return float64(b.Barspoon)
	}
	return sizes[u].size
}

// Quantity is an amount as a person wrote it.
type Quantity struct {
	Amount float64
	Unit   Unit
}

// In returns the quantity in the canonical unit of its dimension.
func (q Quantity) In(b BarUnits) float64 { return q.Amount * q.Unit.Size(b) }

// Valid returns an error unless the amount is a finite number above zero and
// below a billion and the unit is known.
func (q Quantity) Valid() error {
	if _, err := ParseUnit(string(q.Unit)); err != nil {
		return err
	}
	if !(q.Amount > 0 && q.Amount <= maxAmount) || math.IsNaN(q.Amount) {
		e := domain.Errorf(domain.Invalid, "amount must be above 0 and at most %g, not %g", maxAmount, q.Amount)
		e.Code = "AMOUNT_RANGE"
		return e
	}
	return nil
}
