// Package chill works out what ice does: how much of it melts into a drink and
// how cold the drink ends.
package chill

import "servewright/domain/measure"

// Method is how a drink is made.
type Method string

// The methods.
const (
	Shake      Method = "shake"
	DryShake   Method = "dry_shake" // shaken without ice, then with it
	ShortShake Method = "short_shake"
	Stir       Method = "stir"
	Build      Method = "build"
	Highball   Method = "highball"
	Roll       Method = "roll"
	Throw      Method = "throw"
	Swizzle    Method = "swizzle"
	Blend      Method = "blend"
	Carbonate  Method = "carbonate"
	None       Method = "none"
)

// Methods lists every method in the order shown to people.
var Methods = []Method{Shake, DryShake, ShortShake, Stir, Build, Highball, Roll, Throw, Swizzle, Blend, Carbonate, None}

// Ice is what the finished drink stands on.
type Ice string

// The serving ices.
const (
	NoIce     Ice = "none"
	Cubes     Ice = "cubes"
	LargeCube Ice = "large_cube"
	Crushed   Ice = "crushed"
)

// Ices lists every serving ice in the order shown to people.
var Ices = []Ice{NoIce, Cubes, LargeCube, Crushed}

// Model is how a dilution was found.
type Model string

// The models.
const (
	PublishedFit  Model = "published_fit"
	EnergyBalance Model = "energy_balance"
	AdjustedFit   Model = "adjusted_fit"
	Fixed         Model = "fixed"
	Measured      Model = "measured"
)

// Conditions are what is known about one making of a drink beyond its spec. A
// nil figure falls back to the house's, then to the reference (21 °C room,
// ingredients and vessel, 0 °C drained ice).
type Conditions struct {
	IngredientC *measure.Temperature // of everything poured that has none of its own
	IceC        *measure.Temperature // ≤ 0
	IceWetPct   *float64             // water clinging to the ice, % of its mass, 0–50
	IceG        *float64             // ice used by the method, g
	VesselC     *measure.Temperature
	VesselJPerK *float64             // heat capacity of the vessel's chilled part, J/K
	TargetC     *measure.Temperature // stop there
	Seconds     *float64             // stop then
}

// House are the house's own conditions. The zero value of a pointer means the
// reference.
type House struct {
	RoomC       *measure.Temperature
	IngredientC *measure.Temperature
	IceC        *measure.Temperature
	IceWetPct   *float64
}

// OverrideKind is which figure of the finished drink was measured.
type OverrideKind string

// What may be measured instead of modelled.
const (
	PctOfStart   OverrideKind = "measured_pct_of_start" // water added ÷ volume before ice, %
	ServedVolume OverrideKind = "served_volume_ml"
	ServedMass   OverrideKind = "served_mass_g"
)

// Override replaces the model by a measurement.
type Override struct {
	Kind  OverrideKind
	Value float64
}
