// Package domain is the root of the drink-math tower: the kinds of failure
// and the cautions that every floor above it speaks of.
//
// The floors, lowest first; a package imports only from floors below it:
//
//	8  swap                      one component for another, across a menu
//	6  serve, cost               a spec worked out in the glass; what it costs
//	5  recipe                    components, specs, the house, the Book of all three
//	4  chill, nutrition          ice and dilution; energy and units of alcohol
//	3  liquid, safety            a liquid is masses; allergens as facts
//	2  measure, money            quantities in one unit each; exact amounts
//	1  domain                    kinds of failure, cautions
//
// Everything here is a function of its arguments: no clock, no randomness, no
// file, no network, no database.
package domain
