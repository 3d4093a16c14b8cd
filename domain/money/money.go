// Package money holds exact amounts, currencies and the ratios that costing
// needs.
//
// An [Amount] is an exact decimal in one currency. A [Ratio] is an exact
// rational, used for prices per millilitre and the like, where a decimal would
// have to round. Nothing is rounded before it is printed, except cost lines,
// which are quantised once to a millionth, half to even.
package money
