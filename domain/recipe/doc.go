// Package recipe holds what a house writes down: components, bought or made,
// the specs that pour them, the house's defaults, and the [Book] of all three.
//
// A house-made component is made of lines that point at other components, so a
// Book is a directed graph without a cycle. The Book resolves what is in each
// component, through any depth of nesting, once.
package recipe
