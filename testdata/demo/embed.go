// Package demo carries the demonstration house in the program: an invented bar
// with invented people, brands, suppliers and prices.
package demo

import _ "embed"

// House is the house, its components and its specs as one JSON document of the
// form that the load command reads.
//
//go:embed house.json
var House []byte
