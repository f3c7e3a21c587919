package outline

import "railsum/calc/answer"

// Question is one thing to be worked out: of a sheet with inputs of its own, or as a
// notebook asks it.
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

// Given is something that a question tells.
type Given struct {
	Name    string // as a working calls it
	Meaning string
	Value   *answer.Value
}

// Set is the questions of one sheet, or the guesses of a notebook.
type Set struct {
	Title     string   // "drop, edition 4, set 7"
	Hazards   []string // of the sheet
	Questions []*Question
}
