// Package chill works out what ice does: how much of it melts into a drink and
// how cold the drink ends.
//
// A drink meets ice twice. The method's ice ([Dilute]) meets the mix stage; the
// serving ice ([Stand]) meets the finished drink, top included. The methods of
// the bar have a published fit of water against strength where there is one
// (shaken and stirred), a fixed share on one large cube, and an energy balance
// everywhere else and whenever something about the making is known: heat given
// by drink, vessel, room and dilution equals heat taken by warming and melting
// ice, until the drink is as cold as it is wanted, has been worked as long as
// it is worked, or is at its own freezing point. A measurement replaces all of
// them.
package chill

import (
	"servewright/domain"
	"servewright/domain/liquid"
	"servewright/domain/measure"
)

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

// ReferenceC is the temperature of room, ingredients and vessel that the
// published fits are taken to speak of, in °C. Bar-well ice is taken at 0 °C,
// drained (dilution_sensitivity.csv, its reference row).
const ReferenceC measure.Temperature = 21

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

// Input is a drink before ice.
type Input struct {
	Method     Method
	Mix        liquid.Mix          // the mix stage, g
	Later      liquid.Mix          // rinse, top and float, g: they share a highball's ice and count in a measured serve
	PouredC    measure.Temperature // of the mix stage, weighted by heat capacity
	Set        bool                // someone said a temperature of an ingredient: spec, line or component
	Conditions Conditions
	House      House
	Override   *Override
	ServingIce Ice // as the spec says; see [Input.Standing]
}

// Result is what ice did to a drink.
type Result struct {
	Model      Model
	WaterG     float64             // water added, g: melted and clinging
	BandWaterG float64             // ± one standard uncertainty of it, g
	FinalC     measure.Temperature // of the drink; an estimate by the energy balance under every model
	IceUsedG   float64             // ice melted, g
	IceLeftG   float64             // ice left in the drink, g; 0 for a strained one
	Cautions   []domain.Caution
}
