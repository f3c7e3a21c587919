package check

import (
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Role is what a Def is in its notebook or sheet.
type Role uint8

const (
	Named    Role = iota // name = expr, and settings of placed sheets
	Asked                // ask or take name = expr
	Given                // tell name = expr
	Question             // a bare expression
	Ruled                // the condition of must or should
	Side                 // one side of a rule's comparison
	When                 // the condition of a hazard
	Cell                 // one cell of a table
	Column               // a column gathered from its cells
	Bound                // one end of the range of an ask, or one of its choices
	Constant             // pi, scale_H0: predefined
	Asking               // a study: it has no value, but something to say
)

// Origin is where something is written.
type Origin struct {
	In   *Scope       // where its names are looked up
	Line int          // the notebook's line it belongs to; for the insides of a placed sheet, the use line
	Src  *syntax.Line // the line it is written on, of the notebook or the sheet
	At   *Placement   // the placed sheet it lies in, nil for the notebook
}

// Display is how a value asks to be shown.
type Display struct {
	Show    units.Unit // the unit to show it in, zero to choose
	Pinned  bool       // Show was asked for with "as"
	Typed   bool       // it is a literal, and Show the unit it was typed in
	Literal string     // its spelling, if it is shown as typed: 2 ft 6 in, 1:87
	Yields  bool       // Show is a sheet's choice, and a preference of the notebook goes before
	AskUnit units.Unit // of a setting: the unit of the sheet's own default
}

// Tolerance is what "+- 5 %" at the end of a line says, or a part's marking.
type Tolerance struct {
	Tol      float64 // in SI, or a share of the value if TolShare; 0 if exact
	TolShare bool
	TolText  string // as written
}

// A Def is one thing that has a value. It is what names resolve to, what is
// checked, and what is computed.
type Def struct {
	Name string // in full: "north.lost"; empty where nothing names it
	Role Role
	Origin
	Expr   syntax.Expr  // nil for a Column and a Constant
	Tail   *syntax.Tail // never nil, and shared: another one takes its place
	Must   bool         // of a Ruled
	OfLine bool         // of a Ruled: it is a rule of a line, and not the comparison of a study
	Head   *syntax.UnitRef

	Cells []*Def // of a Column
	Of    *types.Table

	*Input
	*Compared

	// Found by checking.
	Type types.Type
	Node *Node // nil if the Def is in error, and for a Column
	Deps []*Def
	Display
	Tolerance
	Loose bool // a tolerance lies upstream
	Whole bool // it is held to be a whole number

	// MayBeNone says that there may be no such value.
	MayBeNone bool
	Diags     []syntax.Diag
	Waits     []string // names it waits for
	Default   bool     // an Asked that nobody has set
	Taken     bool     // an Asked that its sheet takes for granted
	Assumed   bool

	// Order is its place in an order in which everything comes after what it
	// depends on.
	Order int

	state       state
	that        *Def         // the nearest question above it
	file        *syntax.Text // of a Column that a file holds: its name
	labels      bool         // of a Column of labels
	dates       bool         // of a Column or a Cell: the head says so
	broken      bool         // of a Column with a cell in error, of a row's own value that there is no row for
	emptyNoUnit bool         // of a Column without rows or unit: nothing is known of it
}

// Input is what only an Asked has. All others share an empty one: there may be a hundred
// thousand of them.
type Input struct {
	Bounds [2]*Def    // "from" and "to"
	Choice []*Def     // "among"
	Usual  *Def       // a column of usual values; in a placed sheet nobody looks at it
	Agreed *Agreement // of what its sheet takes for granted, nil if no line agrees to it

	set  *setting // by somebody
	rows []*Def   // that have a value of their own
}

// Compared is what only a Ruled has that compares.
type Compared struct {
	Sides []*Def // of two

	operands []*Def // of three, once asked for
}

var (
	noTail     syntax.Tail
	noInput    Input
	noCompared Compared
)

// input is the Def's own Input, to be written to.
func (d *Def) input() *Input {
	if d.Input == &noInput {
		d.Input = &Input{}
	}
	return d.Input
}

// compared is likewise its Compared.
func (d *Def) compared() *Compared {
	if d.Compared == &noCompared {
		d.Compared = &Compared{}
	}
	return d.Compared
}

type state uint8

const (
	fresh state = iota
	open        // being checked: meeting it again closes a circle
	done
)

// Same is the Def that this one only hands on, itself if it is computed.
func (d *Def) Same() *Def {
	for d.Node != nil && d.Node.Op == Ref {
		d = d.Node.Def
	}
	return d
}

// OK reports whether the Def can be computed.
func (d *Def) OK() bool { return d.Type.Kind != types.Unknown }

// Op is an operation of the checked tree.
type Op uint8

const (
	Const    Op = iota // Value, or Text for a text
	Ref                // of another Def
	RowOf              // one row of a column: Row
	Spread             // one value into every row of a table
	Override           // a column with one value in the place of another: Row
	Neg                //
	Not                //
	Add                //
	Sub                //
	Mul                //
	Div                //
	Pow                // Kids[0] to the power of Kids[1], both any
	Eq                 //
	Ne                 //
	Lt                 //
	Le                 //
	Gt                 //
	Ge                 //
	And                //
	Or                 //
	If                 // Kids: condition, then, else
	Call               // Fn
	Either             // the first of Kids that is not none
	IsNone             //
	OrNone             // none where a look-up has found nothing
	NotNone            // an error where it is none
)

// Node is a node of the checked tree: every name resolved, every type known.
type Node struct {
	Op    Op
	Type  types.Type
	At    syntax.Pos
	Kids  []*Node
	Value float64
	Text  string
	Row   int
	Def   *Def
	Fn    *function.Function

	// What messages want to know of how it was written.
	expr syntax.Expr
}

// Agreement is what an agree line says of an input.
type Agreement struct {
	Value   *Def // the value agreed to
	Current bool // it was agreed to for the sheet's present edition
	Line    *syntax.Line
}

// A Tab is a table in a scope: its identity and its columns.
type Tab struct {
	Alias   string // what the notebook calls a table that a placed sheet tells
	Table   *types.Table
	Columns map[string]*Def
	Order   []string // the columns' names as they stand
	Line    int
	Row     int // of its first row of text
	Node    *syntax.Table
	Asked   bool
	Diags   []syntax.Diag

	of *syntax.Name // of an alias that has not got its columns yet: what it is of
}

// A Placement is a sheet put to work.
type Placement struct {
	Name     string // in full, empty for a card asked for without a name
	Sheet    *Sheet
	Line     int
	Scope    *Scope
	Asks     []*Def
	AskTabs  []*Tab
	Gives    []*Def
	GiveTabs []GivenTab
	Rules    []*Def
	Hazards  []Hazard
	Sources  []string
	Settings map[string]*setting
	Parent   *Placement
	inner    []*Placement
	use      *syntax.Use
	src      *syntax.Line // the use line
	filled   uint8        // 1 while the settings of another are taken over, 2 when done
	told     int          // how many inputs are taken from what the use line names
	facts    *facts
	depth    int
	rows     []*setting              // of single rows
	begun    bool                    // it is put to work, or has been
	worked   map[*syntax.Line]*Study // lines that somebody has asked for
	broken   bool
	unused   []int // rows of setting lines that no input has taken
	clashed  bool  // a clash of shapes has been told
}

// GivenTab is a table that a placed sheet tells, on a line of the sheet.
type GivenTab struct {
	Name syntax.Part
	Src  *syntax.Line
}

// Hazard is a hazard line of a placed sheet, with its condition if it has one.
type Hazard struct {
	Text string
	If   *Def
}

// setting is a value given to an input of a placed sheet, from "with" or from
// a line "north.length = …".
type setting struct {
	key     string
	row     *syntax.Part // the row it is for, nil for all
	at      syntax.Pos
	expr    syntax.Expr
	tail    syntax.Tail
	in      *Scope
	line    int
	src     *syntax.Line
	assumed bool
	used    bool
	with    bool // on the use line
	like    bool // taken over from another placement
	from    *own // told by what the use line names, and what the input is without it; nil if set by somebody
	taken   bool // another placement has taken it over
	def     *Def
}

// Symbol is what a name at the head of a dotted name stands for.
type Symbol struct {
	Def   *Def
	Tab   *Tab
	Place *Placement
	Case  *Study
	Row   int // the row of text that defines it

	Broken bool // by a line that could not be read: whatever it is, it has no value
}

// Scope is where names are looked up: the notebook's own lines, or those of a
// placed sheet.
type Scope struct {
	Names map[string]*Symbol
	In    *Placement // nil for the notebook

	trialDiags *[]syntax.Diag // where errors go while a sheet is checked on its own
}
