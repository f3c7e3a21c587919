// Package quiz makes exercises of any sheet and asks them.
//
// The model: a question is an answer of a sheet to be worked out from what the
// sheet's own working needs at the deepest level at which that is six things at
// most; the inputs among them are drawn, as a person would choose them, all others
// keep the sheet's defaults. What is asked and drawn follows from the number of the
// set, the sheet with its edition, the answer and the number of the question alone,
// by raw bits of one generator and our own division, so that a set is the same on
// every machine. A guess of a notebook is a question too, with the values as they are.
//
// Not its business: what is right (package marking), how a value looks (package
// show), and any knowledge of the trade: formulas, usual values and usual mistakes
// stand in the sheets.
package quiz

import "railsum/calc"

// Library is what questions are made from.
type Library interface {
	calc.Library
	Numbers(table, column string) []float64
}
