// Package function is the list of what can be called in an expression: the
// usual mathematics, what gathers a column, what looks up in a table, and the
// functions of the trade. Each is one entry with its meaning, its source, the
// rule for its type and its kernel; adding a function is adding an entry.
//
// Kernels see plain SI floats. Texts are floats too: numbers handed out by an
// Interner. A kernel never returns NaN or an infinity for finite arguments
// without a Fault.
//
// # Model
//
// A call goes three ways. Type says from the arguments' types, before anything
// runs, what the result is or what is wrong with the call, in the writer's
// terms and with a cure. For picks the kernel where it depends on a kind or a
// dimension. The kernel then sees one row at a time, a whole column (Down), or
// a key and the columns to look it up in (Seek). The entries stand in one file
// per subject; an index of them is made on first use.
//
// # Goals
//
// Answers that hold at the edges: what is whole or equal but for rounding counts
// as such, by the 1e-12 of the language's comparisons. What the trade knows
// comes from the tables of the library, with its source there.
//
// # Non-goals
//
// Functions see neither names nor lines, keep nothing between calls, and do not
// settle shapes. Users cannot define any: a sheet is the way to name a formula.
package function

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units/words"
)

// Fault is why a row has no answer. The zero Fault is that it has one.
type Fault uint8

const (
	Sound       Fault = iota
	ByNothing         // division by nothing
	EvenRoot          // root of a negative number
	BadLog            // logarithm of nothing or of a negative number
	Overflow          // larger than a number can be
	OutOfDomain       // a function given what it is not defined for
	NoMatch           // a look-up found no row
	NoRows            // least, most or mean of an empty column
	BadColours        // colours that are no resistor's
	NoColours         // a resistance that coloured bands cannot show
	None              // no error: there is no such answer
	NotWhole          // a fraction where a whole number must be
	TooCold           // a temperature below absolute zero
	IsNone            // none where there must be a value
	NoDate            // a date and a time that make none
)

// Words says what a fault is: "a division by nothing".
func (f Fault) Words() string { return faultWords[f] }

var faultWords = [...]string{
	Sound:       "",
	ByNothing:   "a division by nothing",
	EvenRoot:    "a root of a negative number",
	BadLog:      "a logarithm of nothing or of a negative number",
	Overflow:    "a number too large to hold",
	OutOfDomain: "a value the function is not defined for",
	NoMatch:     "no row of the table matches",
	NoRows:      "the column has no rows",
	BadColours:  "bands that no resistor has, in this order",
	NoColours:   "a resistance or tolerance that coloured bands cannot show",
	None:        "none",
	NotWhole:    "a value that must be a whole number and is not",
	IsNone:      "none, where there must be a value",
	NoDate:      "no whole day from 1583-01-01 to 9999-12-31",
	TooCold:     "a temperature colder than can be, -273.15 degC",
}

// Data is what kernels may ask of the library: the numeric or text column of a
// shipped table, by its name, in SI.
type Data interface {
	Numbers(table, column string) []float64
	Texts(table, column string) []string
}

// Interner turns texts into numbers and back.
type Interner interface {
	ID(text string) float64
	Text(id float64) string
}

// World is what a kernel may reach besides its arguments.
type World struct {
	Data
	Interner
}

// Arg is an argument as the type rule sees it.
type Arg struct {
	types.Type
	Expr syntax.Expr // for rules that want a literal
}

// TypeError is an argument that does not fit: which one (from zero; -1 for the
// call as a whole), what is wrong and the cure.
type TypeError struct {
	Arg int
	words.Wrong
}

// Function is one entry. Exactly one of One, Two, Many, Down, Along and Seek is
// set.
type Function struct {
	Name    string
	Args    string // as shown: "preferred(r, series)"
	Group   string // "mathematics", "columns", "look-ups", "the trade", "bits", "dates"
	Meaning string
	Source  string // empty for mathematics
	Example string // a line that can be typed, and below it in Answer what it gives
	Answer  string

	// Type is the rule: the type of the result from those of the arguments.
	// Shapes of One, Two and Many are settled by the caller (all columns must be
	// of one table); Type sees them as they are and need not set Of. Down gets
	// a column and gives one value. Seek's first argument is the key, whose
	// shape the result has; the others are columns of one other table.
	Type func(args []Arg) (types.Type, *TypeError)

	One  func(w *World, x float64) (float64, Fault)
	Two  func(w *World, x, y float64) (float64, Fault)
	Many func(w *World, x []float64) (float64, Fault)
	Down func(w *World, column []float64) (float64, Fault)
	Seek func(w *World, key float64, columns [][]float64) (float64, Fault)

	// Along goes down a column and gives one of the same table: what a row gets
	// may depend on the others, as in a running sum. The further arguments are
	// one value each. It fills out, one value per row.
	Along func(w *World, column, further, out []float64) Fault

	// Key is which argument of a Seek is the key, from zero. The others go to
	// the kernel in their order.
	Key int

	// Tolerance gives the tolerance that a call's result carries when the call
	// is a whole line, as a fraction; nil for most.
	Tolerance func(args []Arg) (float64, bool)

	takes    arity
	spelled  func(e syntax.Expr) (float64, bool) // for Spelled
	tolerant bool                                // for OwnTolerance
	// the argument that must be a whole number, counted from 1; all of them if negative
	whole       int
	rule        rule
	variant     func(f *Function, args []Arg)                        // for For
	toleranceIn func(data Data, args []Arg) (share float64, ok bool) // for ToleranceOf
}

// For gives the function with the kernel for these arguments, to be asked for
// once Type has accepted them. A kernel sees floats and nothing else, so where
// it depends on a kind or a dimension (an area goes back to full size by the
// square of the scale; of a column of yes and no, count counts the yes) there
// is one for each.
func (f *Function) For(args []Arg) *Function {
	if f.variant == nil {
		return f
	}
	g := *f
	f.variant(&g, args)
	return &g
}

// ToleranceOf is the tolerance that a call's result carries when the call is a
// whole line, as a fraction, whether Tolerance knows it or a table has to be
// asked; false for a call that says nothing of it.
func (f *Function) ToleranceOf(data Data, args []Arg) (float64, bool) {
	switch {
	case f.Tolerance != nil:
		return f.Tolerance(args)
	case f.toleranceIn != nil:
		return f.toleranceIn(data, args)
	}
	return 0, false
}

// Spelled gives the value of a sole argument that is written in the function's
// own way, as the gauge 2/0 is; false if it is an expression like any other.
func (f *Function) Spelled(args []syntax.Expr) (float64, bool) {
	if f.spelled == nil || len(args) != 1 {
		return 0, false
	}
	return f.spelled(args[0])
}

// OwnTolerance says that the tolerance of the first argument, if it has one of
// its own, is the second where none is written.
func (f *Function) OwnTolerance() bool { return f.tolerant }

// Chooses says that the answer is a part that is bought for the need of the
// moment: it stays what it is when the need turns out otherwise.
func (f *Function) Chooses() bool {
	return strings.HasPrefix(f.Name, "preferred") || strings.HasPrefix(f.Name, "pair_") || f.Name == "next_up" ||
		f.Name == "next_down"
}

// MayMiss says that the last argument is what stands in where nothing is found.
func (f *Function) MayMiss() bool {
	return f.Name == "next_up" || f.Name == "next_down" || f.Name == "lookup"
}

// WantsWhole reports whether the call has no answer unless argument i, counted
// from zero, is a whole number.
func (f *Function) WantsWhole(i int) bool { return f.whole < 0 || f.whole == i+1 }

// groups are the lists of entries, in the order in which All gives them.
var groups = [...]func() []*Function{mathematics, angles, rounding, columns, inOrder, lookups, totals, parts, joined,
	pairs, colours, markings, wires, scales, bits, dates}

// order is that of the groups' names.
var order = []string{"mathematics", "columns", "look-ups", "the trade", "bits", "dates"}

// index is made on first use, so that a program that calls no function does
// not pay for it.
var index = sync.OnceValue(func() (x struct {
	all    []*Function
	byName map[string]*Function
}) {
	x.byName = map[string]*Function{}
	for _, group := range groups {
		for _, f := range group() {
			f.Type = f.typeOf
			x.all = append(x.all, f)
			x.byName[f.Name] = f
		}
	}
	slices.SortFunc(x.all, func(f, g *Function) int {
		return cmp.Or(cmp.Compare(slices.Index(order, f.Group), slices.Index(order, g.Group)), cmp.Compare(f.Name, g.Name))
	})
	return x
})

// Find gives the function of a name, nil if there is none.
func Find(name string) *Function { return index().byName[name] }

// All gives every function, by group, then name.
func All() []*Function { return slices.Clone(index().all) }
