package chill

import "servewright/domain/measure"

// bed is an ice that a drink is built on, or stands on when it is finished.
type bed struct {
	with  float64 // ice in a drink built on it, g per mL poured
	under float64 // ice under a finished drink, g per mL
	wet   float64 // see Practice.Wet
	share float64 // see Practice.Share
	end   End
	endC  measure.Temperature
}

// The beds. A drink on cubes is handed over at about 1 °C and one on a large
// cube at 6 °C (dilution_by_technique.csv: highball "served at 1 °C"; one large
// cube "24 when stopped at +6 °C"); crushed ice has so much surface that the
// drink gets as cold as it can. Shares: ice_types.csv. Crushed ice is 2 % wet,
// the driest row of dilution_by_technique.csv (own estimate, no measurement
// found). Amounts: 180 g of cubes to 200 mL, a rock of 120 g to 75 mL, 250 g of
// crushed ice to 90 mL (common practice, no source).
var (
	onCubes     = bed{0.9, 0.9, cubesWet, 0.88, ToTemperature, 1}
	onLargeCube = bed{1.6, 0.9, cubesWet, 0.66, ToTemperature, 6}
	onCrushed   = bed{2.8, 1.5, 0.02, 1, ToEquilibrium, 0}
)

// bedOf returns the bed of an ice, nil for none.
func bedOf(ice Ice) *bed {
	switch ice {
	case Cubes:
		return &onCubes
	case LargeCube:
		return &onLargeCube
	case Crushed:
		return &onCrushed
	}
	return nil
}

// on puts a method that works in the glass on an ice.
func (b *bed) on(ice Ice, p Practice) Practice {
	p.Ice, p.IceGML, p.Wet, p.Share, p.End, p.EndC = ice, b.with, b.wet, b.share, b.end, b.endC
	if ice == Crushed {
		p.Band, p.film = crushedBand, p.film*crushedArea
	}
	return p
}

// crushedBand is the band of everything made on crushed ice
// (dilution_by_technique.csv: 60–100 % of start, no measurement found).
// crushedArea is its surface against that of tray cubes, 7.16 to 2.17 cm²/g
// (ice_types.csv).
const (
	crushedBand = 0.15
	crushedArea = 7.16 / 2.17
)

// The methods that work in the glass. The glass is 0.9 J/K per mL of drink: 220 g
// chilled, at 0.8 J/(g K), to 200 mL.
var (
	built = Practice{
		Model: EnergyBalance, VesselML: 0.9, RoomML: standing, Seconds: 30, Band: 0.08, film: slow,
		Source: "no measurement found; " + energySource + " with its glass, to 1 °C on cubes, 6 °C on a large cube, equilibrium on crushed ice",
	}
	highball = Practice{
		Model: EnergyBalance, VesselML: 0.9, RoomML: standing, Seconds: 30, Band: 0.06, film: slow,
		Source: "no measurement found: 9–32 % of all the liquid; " + energySource + " with its glass, to 1 °C on cubes",
	}
	swizzle = Practice{
		Model: EnergyBalance, VesselML: 0.9, RoomML: standing, Seconds: 20, Band: crushedBand, film: brisk,
		Source: "no measurement found: 60–100 % of start; " + energySource + " with its glass, to equilibrium on crushed ice",
	}
	rock = Practice{
		Model: Fixed, VesselML: 0.9, RoomML: standing, Seconds: 30, Band: 0.05, film: slow, fixed: 0.24,
		Source: "D. Arnold, Liquid Intelligence, 2014, pp. 125–126, built on one large cube (from memory): 24 % of start; " + energySource + " of the making over that of the reference where something is known",
	}
	buildCubes, buildRock, buildCrushed       = onCubes.on(Cubes, built), onLargeCube.on(LargeCube, rock), onCrushed.on(Crushed, built)
	highCubes, highRock, highCrushed          = onCubes.on(Cubes, highball), onLargeCube.on(LargeCube, highball), onCrushed.on(Crushed, highball)
	swizzleCubes, swizzleRock, swizzleCrushed = onCubes.on(Cubes, swizzle), onLargeCube.on(LargeCube, swizzle), onCrushed.on(Crushed, swizzle)
)

// byIce picks one of three by the ice.
func byIce(ice Ice, cubes, rock, crushed *Practice) *Practice {
	switch ice {
	case Cubes:
		return cubes
	case LargeCube:
		return rock
	case Crushed:
		return crushed
	}
	return &none
}

// inGlass says whether the method works on the ice that the drink stands on.
func (m Method) inGlass() bool { return m == Build || m == Highball || m == Swizzle }

// Standing returns the ice that the finished drink stands on: the one the spec
// says, but a highball has cubes and a swizzle crushed ice when it says none. A
// build without ice has none.
func (in *Input) Standing() Ice {
	switch {
	case in.ServingIce != NoIce && in.ServingIce != "":
		return in.ServingIce
	case in.Method == Highball:
		return Cubes
	case in.Method == Swizzle:
		return Crushed
	}
	return NoIce
}

// practice returns how m is worked in a drink that stands on ice.
func (m Method) practice(ice Ice) *Practice {
	switch m {
	case Shake, DryShake:
		return &shake
	case Stir:
		return &stir
	case ShortShake:
		return &shortShake
	case Build:
		return byIce(ice, &buildCubes, &buildRock, &buildCrushed)
	case Highball:
		return byIce(ice, &highCubes, &highRock, &highCrushed)
	case Swizzle:
		return byIce(ice, &swizzleCubes, &swizzleRock, &swizzleCrushed)
	case Roll:
		return &roll
	case Throw:
		return &throw
	}
	return &none
}

// Practice returns how m is worked in a drink that stands on ice.
func (m Method) Practice(ice Ice) Practice {
	return *m.practice((&Input{Method: m, ServingIce: ice}).Standing())
}
