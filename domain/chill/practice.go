package chill

import "servewright/domain/measure"

// Practice is how a method is worked when nothing more is known: its model, its
// kit and when it stops. Kit grows with the drink, so that two drinks made at
// once take twice the water of one.
type Practice struct {
	Model    Model
	From, To measure.ABV // strengths the published fit holds for; 0 without a fit
	Ice      Ice         // of the method; a drink built on ice takes its serving ice
	IceGML   float64     // ice, g per mL of drink
	Share    float64     // of the ice's heat that follows its surface in that time (ice_types.csv)
	Wet      float64     // water clinging to the drained ice, share of its mass
	VesselML float64     // heat capacity of the vessel's chilled part, J/K per mL of drink
	RoomML   float64     // heat let in from the room, W/K per mL of drink
	Seconds  float64     // how long it takes; room heat comes in for as long
	End      End
	EndC     measure.Temperature // for ToTemperature
	Band     float64             // ± one standard uncertainty, share of the volume before ice
	Excess   float64             // how far the energy balance lies above the fit on average, share of the volume before ice
	Source   string

	film  film
	fit   curve
	fixed float64 // water, share of the volume before ice
}

// End says when a method stops.
type End uint8

// The ends.
const (
	NoWater       End = iota // there is no ice
	AfterSeconds             // after so long
	ToTemperature            // when the drink is that cold
	ToEquilibrium            // when its freezing point meets its temperature
)

// curve is water added ÷ volume before ice, a₂ a² + a₁ a + a₀, a the strength.
type curve struct{ a2, a1, a0 float64 }

func (c curve) at(a float64) float64 { return (c.a2*a+c.a1)*a + c.a0 }

// Heat let in from the room, W/K per mL of drink: about 1 W/K for a drink of
// 100 mL in a held metal vessel (0.05 m² at 20 W/(m² K)), a fifth of that in a
// standing glass (own estimates, no measurement found).
const (
	inHand   = 0.010
	standing = 0.002
)

// The published fits: D. Arnold, Liquid Intelligence (W. W. Norton 2014), p. 123
// (coefficients from memory). Bands, ranges and defaults of all methods:
// dilution_by_technique.csv. Ice, share and vessel of shaking and stirring
// reproduce dilution_sensitivity.csv: 180 g and 153 g of cubes at 0 °C, about
// 125 and 85 J/K of metal.
var (
	shake = Practice{
		Model: PublishedFit, From: 0.14, To: 0.32, Ice: Cubes, IceGML: 1.7, Wet: cubesWet, Share: 0.68, VesselML: 1.2, RoomML: inHand,
		Seconds: 15, End: AfterSeconds, Band: 0.05, Excess: 0.031, film: shaken, fit: curve{-1.567, 1.742, 0.203},
		Source: "D. Arnold, Liquid Intelligence, 2014, p. 123, shaken 12–15 s (coefficients from memory), 14–32 % vol; " + energySource,
	}
	stir = Practice{
		Model: PublishedFit, From: 0.20, To: 0.45, Ice: Cubes, IceGML: 1.7, Wet: cubesWet, Share: 0.88, VesselML: 0.95, RoomML: inHand,
		Seconds: 45, End: AfterSeconds, Band: 0.07, Excess: 0.038, film: brisk, fit: curve{-1.21, 1.246, 0.145},
		Source: "D. Arnold, Liquid Intelligence, 2014, p. 123, stirred 30–60 s (coefficients from memory), 20–45 % vol; " + energySource,
	}
	shortShake = Practice{
		Model: EnergyBalance, Ice: Cubes, IceGML: 1.7, Wet: cubesWet, Share: 0.68, VesselML: 1.2, RoomML: inHand,
		Seconds: 6, End: ToTemperature, EndC: 0, Band: 0.07, film: shaken,
		Source: "common practice, no source: 25–40 % of start; energy balance stopped at 0 °C",
	}
	roll = Practice{
		Model: EnergyBalance, Ice: Cubes, IceGML: 1.7, Wet: cubesWet, Share: 0.68, VesselML: 1.9, RoomML: inHand,
		Seconds: 10, End: ToTemperature, EndC: 5, Band: 0.08, film: brisk,
		Source: "common practice, no source: 25–40 % of start; energy balance of two vessels, stopped at 5 °C",
	}
	throw = Practice{
		Model: EnergyBalance, Ice: Cubes, IceGML: 1.7, Wet: cubesWet, Share: 0.88, VesselML: 1.9, RoomML: inHand,
		Seconds: 30, End: ToTemperature, EndC: 0, Band: 0.08, film: brisk,
		Source: "no measurement found: 33–45 % of start; energy balance of two vessels, stopped at 0 °C",
	}
	none = Practice{Model: Fixed, End: NoWater, Source: "by definition: what water there is, is a line of the recipe"}
)

// cubesWet is the water clinging to drained bar-well cubes: 1 % as in
// dilution_sensitivity.csv (own estimate, no measurement found; a film of 0.1 mm
// would be 2 %).
const cubesWet = 0.01

// energySource stands behind every energy balance.
const energySource = "energy balance of drink, wet ice, vessel and room (own model)"
