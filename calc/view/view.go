// Package view makes what is told of the columns that a machine has computed:
// values with the unit to show them in, and the verdicts of rules.
//
// Not its business: which lines there are (package view), and what becomes of
// them with other inputs (package study).
package view

import (
	"railsum/calc/check"
	"railsum/calc/run"
)

// A View is of checked lines and the machine that holds their columns.
type View struct {
	C *check.Checked
	M *run.Machine
}
