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

import (
	"railsum/calc"
	"railsum/calc/answer"
)

// Library is what questions are made from.
type Library interface {
	calc.Library
	Numbers(table, column string) []float64
}

// Given is something that a question tells.
type Given struct {
	Meaning string
	Value   *answer.Value
}

// Question is one thing to be worked out.
type Question struct {
	Sheet   string // it was made of, empty for a guess of a notebook
	Name    string
	Meaning string
	Ask     string // the question in words
	Given   []Given
	Right   *answer.Value
	Slips   []*answer.Slip
	Verdict answer.Verdict
	Source  string               // the line that puts the sheet to work
	Working func() []answer.Step // the answer first
}
