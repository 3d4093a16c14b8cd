// Package measure holds the quantities of the bar, one canonical unit each,
// and reads the units that bartenders write.
//
// Volumes are millilitres at 20 °C, masses grams, temperatures degrees Celsius,
// strengths a fraction of volume at 20 °C. Other units are brought to these at
// the door and never travel further in.
package measure

// Volume is a volume in mL at 20 °C.
type Volume float64

// Mass is a mass in g.
type Mass float64

// Temperature is a temperature in °C.
type Temperature float64

// ABV is alcoholic strength as a fraction of volume at 20 °C, in [0, 1].
type ABV float64

// Pct returns the strength in percent by volume.
func (a ABV) Pct() float64 { return float64(a) * 100 }

// Density is a density in g/mL (= kg/L) at 20 °C.
type Density float64
