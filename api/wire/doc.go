// Package wire speaks JSON: the bodies of the API and their translation to and
// from the domain.
//
// Every member that is a quantity carries its unit in its name. Bodies are read
// strictly: JSON that cannot be read is refused at its first fault, and JSON
// that can be read is answered with all its faults at once, those of shape
// (unknown members, wrong types) and those of rule (a strength above 100 %)
// together. What people wrote is answered as they wrote it; what was computed is
// rounded here, and only here, to 6 significant digits, half to even.
package wire
