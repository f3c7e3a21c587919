package calc

import (
	"railsum/calc/syntax"
	"railsum/units/words"
)

// StudyAnswer is what a study line has to say. One of the fields is set.
type StudyAnswer struct {
	Find     *Found
	Vary     *Varied
	Suppose  *Supposed
	Spread   []*Spreading
	Working  *Working
	Measured *Metered
}

// Found is the answer of a find line.
type Found struct {
	Name    string // of the input
	Cond    string // the comparison as written
	Equal   bool   // it is an "="
	Holds   bool   // anywhere
	All     bool   // everywhere it looked
	Places  []Stretch
	More    bool // there are more places than these
	Looked  [2]*Value
	Grown   bool     // nobody said where to look
	Poles   []*Value // where the sides pass one another at infinity
	Near    *Nearby  // if it holds nowhere
	Label   string   // of the row chosen from a table's column
	Chosen  *Value   // of a list: the first value that holds
	Tried   int      // of a list: how many there are
	TakeIt  string   // the line that would take the value over, empty if there is no one value
	Current *Value
}

// Stretch is where a comparison holds: From to To, the same for a single place.
// The ends of a stretch are spelled with so many digits, and rounded inward, that
// what is printed makes the comparison hold; their Numbers are the ends as found.
type Stretch struct {
	From, To     *Value
	FromOut      bool // the comparison holds right after From, but not at it
	ToOut        bool // it holds right up to To, but not at it
	Up, Down     bool // it reaches the lower, the upper end of where was looked
	Touches      bool
	Jump         bool
	Before, Next [2]*Value // of a jump: the two sides before and behind it
}

// Nearby is how near a comparison comes to holding.
type Nearby struct{ X, Left, Right *Value }

// Varied is the answer of a vary line: a row per value of the input, or of the
// two inputs. Series that come from a column have one entry per row of it.
type Varied struct {
	Axes   []Series
	Shown  []Series
	Limits []LimitLine
	Turns  []TurnAt
	// MoreTurns is how many turns there are besides those that are told.
	MoreTurns int
	Rows      int // of the whole sweep
	Every     int // 1, or of a long sweep: each how many of an axis's values are kept here
	// TooMuch is true where so many rows of columns are shown at so many values
	// that none are kept: the series have but their names and units, and only a
	// stream has the numbers.
	TooMuch bool
}

// Series is the values of an axis or of a shown expression, one per row.
type Series struct {
	Name   string // the expression as written, and the row's label: "bus.lost: quay"
	Value  *Value // Numbers one per row of the sweep
	Of     int    // which shown expression it is
	Points int    // of an axis: how many of its values are kept

	row int // of a column, which row
}

// LimitLine is a limit that a rule sets to a shown value and that the sweep
// does not move.
type LimitLine struct {
	Shown int // which of Shown
	Rule  string
	Must  bool
	At    *Value
}

// TurnAt is a row from which on a rule's verdict is another.
type TurnAt struct {
	Row      int
	Rule     string
	Name     string // of the placed sheet the rule belongs to
	Was, Now Verdict
}

// Supposed is the answer of a suppose line.
type Supposed struct {
	Sets  []string // "north.load = 3 A"
	Lines []Beside
	Turns []Turn
}

// Beside is a value now and supposed.
type Beside struct {
	Name      string
	Now, Then *Value
	Change    *Value // the difference; nil for a text or a column
	Percent   string // empty for a temperature and for nothing
}

// Spreading is how sure an answer is.
type Spreading struct {
	Name            string
	Nominal         *Value
	Lowest, Highest *Value
	RSS             *Value // root sum square, either way
	Low95, High95   *Value
	Samples         int
	Parts           []SpreadPart
	Rules           []RuleSpread
	MoreRules       int     // rules that were not looked at, for there are too many
	Failed          float64 // share of the samples without an answer
	Exact           bool    // nothing it depends on has a tolerance
	Why             string  // why there is no answer
}

// SpreadPart is what one tolerance contributes.
type SpreadPart struct {
	Name  string
	Tol   string
	Moves *Value  // alone, either way
	Share float64 // of the variance
}

// RuleSpread is in what share of the samples a rule holds.
type RuleSpread struct {
	Name, Text string
	Must       bool
	Holds      float64
}

// Working shows how a value arose, ingredient by ingredient, each once.
type Working struct{ Steps []Step }

// Step is one value of a working.
type Step struct {
	Name    string
	Formula string // as written; empty for an input
	Filled  string // with the values put in; empty where that would say nothing
	Answer  *Value
	Meaning string
	Sources []string // of the sheet it lies in, told with the first of it
	Sheet   string
	Input   bool
	Default bool
	Row     string // the row that was filled in, of a column
	Level   int
}

// Metered is the answer of a measured line.
type Metered struct {
	Name       string
	Sum, Meter *Value
	Difference *Value
	Percent    string
	Inside     bool
	Low, High  *Value // of the sum in the worst case
	Exact      bool   // the sum has no tolerance
	Explains   []Explains
}

// Explains is an input that, changed alone, would explain what the meter says.
type Explains struct {
	Name        string
	Now, Wanted *Value
	Tolerant    bool // within its own tolerance
	Default     bool // the input is still the sheet's own default
	Assumed     bool // the input is assumed
}

// problem is a Diag of a study whose values do not make sense.
func problem(at syntax.Pos, wrong words.Wrong) syntax.Diag {
	return syntax.Diag{At: at, Wrong: wrong}
}
