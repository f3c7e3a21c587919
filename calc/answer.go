package calc

import (
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Library, Sheet and Table are what the checker takes from a library.
type (
	Library = check.Library
	Sheet   = check.Sheet
	Table   = check.Table
)

// Verdict is what a rule or a card says, ordered from best to worst.
type Verdict uint8

const (
	NotJudged Verdict = iota // not a rule, or nothing to judge
	Clear
	Caution
	NoVerdict // the rule has no answer
	Danger
)

func (v Verdict) String() string {
	return [...]string{"nothing to judge", "clear", "caution", "no verdict", "danger"}[v]
}

// State says where an input's value comes from.
type State uint8

const (
	Set     State = iota // given by the user
	Default              // still the sheet's own default
	Assumed              // set by an "assume" line, directly
)

// Value is an answer ready to be shown: one value, or a column with a label
// per row. Numbers are in SI.
type Value struct {
	Type    types.Type
	Numbers []float64  // one per row
	Texts   []string   // for a Text, one per row
	Faults  []string   // "" where sound; nil if all are
	Unit    units.Unit // what to show it in
	Literal string     // the spelling as typed, for an input that is shown so
	Tol     string     // "5 %" or "0.5 mm", empty if exact
}

// Answer is what the book has to say about one line.
type Answer struct {
	Line    *syntax.Line
	Name    string       // what the line names: "track", "north.length"; empty for a question
	Value   *Value       // nil if the line has none or is in error
	Rule    *Judged      // for must and should
	Study   *StudyAnswer // for a study, once it has been carried out
	Cards   []*Card      // for use: one per name it is placed as
	Columns []CardLine   // for a table: its own columns
	Errors  []syntax.Diag
	Notices []syntax.Diag
	Waiting []string // names the line waits for, not defined yet
	Assumed bool
}

// Judged is a rule with its verdict.
type Judged struct {
	Must      bool
	Text      string // the condition as written
	Meaning   string
	Piece     string // on a card: the name of the piece, a sheet within the sheet, that it belongs to
	Verdict   Verdict
	Fails     []string // labels of the rows where it does not hold, if over a column
	Rows      int      // how many rows were judged, 0 for one value
	Sides     string   // the values compared, "725 mV <= 750 mV"; empty over a column
	Why       string   // why there is no verdict
	Follows   bool     // there is no verdict because of an error that is told where it stands
	Tolerance bool     // an ingredient has a tolerance; the nominal was judged
}

// Card is a sheet in use.
type Card struct {
	Name    string // what it was placed as; empty for a question
	Sheet   *Sheet
	Asks    []CardLine
	Gives   []CardLine
	Rules   []Judged
	Hazards []string
	Sources []string
	Verdict Verdict
}

// Unsettled counts the inputs that are defaults or assumed.
func (c *Card) Unsettled() int {
	n := 0
	for _, a := range c.Asks {
		if a.State != Set {
			n++
		}
	}
	return n
}

// CardLine is an input or an answer on a card. A table that is asked for is
// one line with the value of each column under Columns.
type CardLine struct {
	Name    string // without the card's name: "length"
	Meaning string
	Value   *Value
	State   State  // inputs only
	From    string // the expression it was set by, if not a plain literal
	Range   string // "0.1 m to 100 m", "one of …"
	Outside bool   // outside the range it is good for
	Why     string // why there is no value
	Columns []CardLine
}

// Delta is a named answer that a change has changed.
type Delta struct {
	Name     string
	Line     int    // index of the line that names it
	Old, New *Value // nil: had none, has none
}

// Turn is a verdict that a change has turned.
type Turn struct {
	Name     string // "north" for a card's rule, empty for a rule of the notebook
	Text     string
	Line     int
	Old, New Verdict
}

// Change is what an edit has done to the answers.
type Change struct {
	Deltas []Delta
	Turns  []Turn
	Moved  []Rebound // a "that" that means another line now
}

// Rebound is a "that" that has come to mean another question.
type Rebound struct{ Line, Was, Now int }
