package syntax

import (
	"railsum/units"
	"railsum/units/words"
)

// Pos is a place in a source text: a row and a column, both counted from one.
// Columns are counted in characters (runes), a tab being one. The zero Pos is
// "nowhere".
type Pos struct{ Row, Col int }

// A Diag is one thing to tell the writer of a line: what is wrong at a place
// and what to do about it.
type Diag struct {
	At Pos
	words.Wrong
	Notice bool // worth saying, but the line still counts

	// Other is a second place that belongs to the message, as in a clash of
	// two lines; OtherIn names the sheet it lies in, empty for the same text.
	Other   Pos
	OtherIn string
}

// With gives it a cure.
func (d Diag) With(cure string) Diag {
	d.Cure = cure
	return d
}

// A File is a whole text: its lines in order. Joining what the lines keep
// gives back the bytes that were read.
type File struct {
	Lines   []*Line
	BOM     bool // began with a byte order mark
	NoFinal bool // the last row had no newline
}

// A Line is one entry of a notebook: a row of text, or the several rows of a
// table. It is immutable once parsed.
type Line struct {
	Row    int    // its first row, from one
	Raw    string // its rows as read, joined by "\n"; a carriage return before a newline is kept
	Node   Node   // never nil; *Broken if it could not be parsed
	Note   string // the text after a trailing "# ", its meaning
	Errors []Diag // positions are rows of the whole text
}

// Rows is how many rows of text the line takes.
func (l *Line) Rows() int {
	n := 1
	for i := 0; i < len(l.Raw); i++ {
		if l.Raw[i] == '\n' {
			n++
		}
	}
	return n
}

// Node is what a line is.
type Node interface {
	// exprs calls do with the expressions that stand on the line, nil among them.
	exprs(do func(...Expr))
}

type (
	// Blank is an empty row.
	Blank struct{}

	// Remark is a row that holds nothing but a note.
	Remark struct{ Text string }

	// Header is the first row of a saved notebook, "railsum 1".
	Header struct{ Version int }

	// Define is "name = expr": a named value, a setting of a placed sheet
	// ("north.length = 9.5 m") or a computed column ("fleet.power = …").
	// Assumed marks "assume name = expr", a guess to be settled later.
	Define struct {
		Target  *Name
		Expr    Expr
		Tail    Tail
		Assumed bool
	}

	// Question is a bare expression.
	Question struct {
		Expr Expr
		Tail Tail
	}

	// Ask is an input of a sheet with its default. Taken is one that the sheet
	// takes for granted, "take joints = 4". Words are the other words in
	// brackets by which it is known to those who use the sheet.
	Ask struct {
		Taken bool
		Name  Part
		Words []Part
		Expr  Expr
		Tail  Tail
	}

	// Tell is an answer of a sheet. Expr is nil in the short form "tell NAME",
	// which tells a value named on another line, and in "tell table NAME".
	Tell struct {
		Table bool
		Name  Part
		Expr  Expr
		Tail  Tail
	}

	// Rule is "must cond" or "should cond".
	Rule struct {
		At   Pos
		Must bool
		Cond Expr
	}

	// Use puts a sheet to work. Names is empty for a question answered with a
	// card. Own marks a quoted sheet, a file of the user's. From is what tells
	// some of its inputs: a placed sheet, a table, or a table of a placed sheet.
	// Show are the answers that are wanted alone.
	Use struct {
		At    Pos // of the sheet's name
		Sheet string
		Own   bool
		Names []Part
		Like  *Part // the placed sheet whose settings are taken over, nil if none
		From  *Name // nil if none
		With  []Setting
		Show  []Part
	}

	// Table is "table NAME | head | head … end", or, in a sheet, "ask table …"
	// or "take table …", of which both are Ask. From is of "table NAME from "FILE"".
	Table struct {
		Name  Part
		From  *Text // the file that heads and rows are read from, nil if they stand below
		Ask   bool
		Taken bool
		Heads []Head
		Rows  []Row

		// Remarks are the rows between them that hold nothing but a note.
		Remarks []Between
	}

	// Source says where a formula or value comes from.
	Source struct{ Text string }

	// Hazard says what can hurt; If is nil for one that always applies.
	Hazard struct {
		Text string
		If   Expr
	}

	// Prefer lists the units that answers take where the line does not say, each
	// for all sizes or for those below one: "mm below 1 m, m". Gauge
	// is which gauge of wire is meant where none is said: AWG or SWG, empty for none.
	Prefer struct {
		Units []Preferred
		Gauge string
	}

	// Broken is a row that could not be parsed; the line's Errors say why.
	// Targets are the names that it would have given a meaning, as far as they
	// could be read, so that their users need not be reported too.
	Broken struct{ Targets []*Name }
)

// Setting is one "input = expr" after "with".
type Setting struct {
	Name Part
	Expr Expr
}

// Head is a column's name and, optionally, what its empty cells hold and the unit
// its bare numbers are in. Whole is a column of whole numbers, Date one of dates.
type Head struct {
	Name    Part
	Default Cell // its Expr is nil if there is none
	As      *UnitRef
	Whole   bool
	Date    bool
}

// Row is one row of a table: its label as typed, and its cells.
type Row struct {
	At    Pos
	Label string
	Cells []Cell
	Note  string
}

// Between is a note that stands on a row of its own in a table, before the
// row of that number, counted from zero.
type Between struct {
	Before int
	Text   string
}

// Cell is an expression in a table, with its tolerance if it has one. The Expr
// of an empty cell is nil: it holds what its head says.
type Cell struct {
	Expr Expr
	Tol  *Tol
}

// Tail is what may follow an expression at the end of a line.
type Tail struct {
	Tol   *Tol
	As    *UnitRef
	Whole bool // it is a whole number
	Range
	Usual *Name // of an input: the column of a table that has its usual values
}

// Range is "from a to b" or "among a, b, c", or neither.
type Range struct {
	From, To Expr // both or neither
	Among    []Expr
}

// Tol is "+- 5 %" or "+- 0.5 mm": a literal.
type Tol struct {
	At Pos
	By *Literal
}

// UnitRef is a unit written on its own, as after "as". Exactly marks one of a sheet
// that no preference of a notebook goes before, "as exactly mm".
type UnitRef struct {
	At      Pos
	Unit    units.Unit
	Exactly bool
}

// Preferred is a unit that answers take. Below is the size below which it is meant,
// nil for all sizes.
type Preferred struct {
	UnitRef
	Below *Literal
}

// Expr is an expression. Pos is the place a message about it points at: the
// first character of a leaf, the operator of an operation.
type Expr interface{ Pos() Pos }

// Form is how a literal was written.
type Form uint8

const (
	Plain    Form = iota // 3, 0.5, 2e3
	Quantity             // 15 V, 5 %, 20 degC
	Code                 // 3k3, 100n: IEC 60062
	Fraction             // 3/8 in, 2 3/8 in
	Mixed                // 2 ft 6 in
	Ratio                // 1:87
	Bits                 // 0x1F, 0b1010
)

type (
	// Literal is a number with everything that belongs to it. Value is in SI
	// (kelvin for a temperature point, a fraction for a percentage, a quotient
	// for a ratio) and correctly rounded from the text.
	Literal struct {
		At    Pos
		Text  string // canonical spelling
		Form  Form
		Value float64
		Unit  units.Unit // what to show it in; the zero Unit for a plain number
	}

	// Date is a bare date: behind "on", or in a column of dates. Value is as of
	// units.ParseDate.
	Date struct {
		At    Pos
		Value float64
	}

	// Text is a text in double quotes.
	Text struct {
		At    Pos
		Value string
	}

	// Truth is "yes" or "no".
	Truth struct {
		At    Pos
		Value bool
	}

	// None is "none": that there is no such value.
	None struct{ At Pos }

	// Name is a name, dotted or not: track, north.lost, fleet."dock shunter".draw.
	Name struct{ Parts []Part }

	// That is the nearest question above.
	That struct{ At Pos }

	// Group is an expression in parentheses.
	Group struct {
		At Pos
		X  Expr
	}

	// Unary is "-x" or "not x".
	Unary struct {
		At Pos
		Op string
		X  Expr
	}

	// Binary is an operation of two: + - * / ^ of and or. At is the operator's
	// place.
	Binary struct {
		At   Pos
		Op   string
		X, Y Expr
	}

	// Compare is a chain of comparisons: = != < <= > >=. It has one operator
	// fewer than it has operands.
	Compare struct {
		At  []Pos
		Ops []string
		X   []Expr
	}

	// Scaled is "x at H0". By is a *ScaleName, a ratio *Literal, a *Name or a
	// *Group.
	Scaled struct {
		At Pos
		X  Expr
		By Expr
	}

	// ScaleName is a scale's symbol after "at".
	ScaleName struct {
		At     Pos
		Symbol string
	}

	// Call is a function's name directly followed by its arguments.
	Call struct {
		At   Pos
		Name string
		Args []Expr
	}

	// If is "if cond then a else b".
	If struct {
		At               Pos
		Cond, Then, Else Expr
	}
)

// Part is one part of a dotted name; a quoted part is a row's label.
type Part struct {
	At     Pos
	Text   string
	Quoted bool
}

func (x *Literal) Pos() Pos   { return x.At }
func (x *Date) Pos() Pos      { return x.At }
func (x *Text) Pos() Pos      { return x.At }
func (x *Truth) Pos() Pos     { return x.At }
func (x *None) Pos() Pos      { return x.At }
func (x *Name) Pos() Pos      { return x.Parts[0].At }
func (x *That) Pos() Pos      { return x.At }
func (x *Group) Pos() Pos     { return x.At }
func (x *Unary) Pos() Pos     { return x.At }
func (x *Binary) Pos() Pos    { return x.At }
func (x *Compare) Pos() Pos   { return x.At[0] }
func (x *Scaled) Pos() Pos    { return x.At }
func (x *ScaleName) Pos() Pos { return x.At }
func (x *Call) Pos() Pos      { return x.At }
func (x *If) Pos() Pos        { return x.At }
