package outline

import (
	"slices"

	"railsum/calc/answer"
)

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

// Steps are the working down to what the question tells.
func (q *Question) Steps() []answer.Step {
	var steps []answer.Step
	below := 0 // the level of what is told, whose own working is left out
	for _, s := range q.Working() {
		if below > 0 && s.Level > below {
			continue
		}
		if below = 0; slices.ContainsFunc(q.Given, func(g Given) bool { return g.Name == s.Name }) {
			below = s.Level
			s.Formula, s.Filled = answer.Expr{}, answer.Expr{}
		}
		steps = append(steps, s)
	}
	return steps
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
