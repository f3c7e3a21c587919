package check

import (
	"sync/atomic"

	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Library is where sheets and tables come from.
type Library interface {
	// Sheet gives a sheet: a shipped one by its name, or, with own set, one of
	// the user's by its file name ("coil.sums"). The same sheet is the same
	// pointer. The error's text is shown to the user.
	Sheet(name string, own bool) (*Sheet, error)

	// Table gives a shipped table, nil if there is none of that name.
	Table(name string) *Table

	// TableFile gives the table that a file of the user's beside the notebook
	// holds, or what is wrong with the file. Positions in the table are rows of
	// the file.
	TableFile(name string) (*syntax.Table, []words.Wrong)

	// SheetNames and TableNames list what is shipped, for suggestions.
	SheetNames() []string
	TableNames() []string

	// Data is what the functions of the trade read.
	function.Data
}

// Sheet is a sheet's text with what the library knows of it.
type Sheet struct {
	Name    string
	Own     bool
	Path    string   // of the user's own sheet, for messages
	Group   string   // "the heart of the job", "wiring", …; empty for own sheets
	Meaning string   // one line
	Edition int      // 0 for own sheets
	Words   []string // to find it by, besides its name and meaning
	File    *syntax.File

	facts atomic.Pointer[facts] // of a shipped sheet, once they are known
}

// Table is a shipped table: the node that a user's own table would have, and
// where its rows come from.
type Table struct {
	Name    string
	Meaning string
	Node    *syntax.Table
	Meant   []string // a meaning per column, may be empty
	Source  []string // per row
	Basis   []string // per row: published, practice, memory, computed
}

// Means reports whether a name stands for something: in the notebook, or as a
// constant or a table of the library.
func (c *Checked) Means(name string) bool { return c.Defines(name) || c.b.isPredefined(name) }

// Defines reports whether the notebook gives a name its meaning.
func (c *Checked) Defines(name string) bool { return c.Root.Names[name] != nil }
