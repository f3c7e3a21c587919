package calc

import (
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
)

// Library, Sheet and Table are what the checker takes from a library.
type (
	Library = check.Library
	Sheet   = check.Sheet
	Table   = check.Table
)

// Answer is what the book has to say about one line.
type Answer struct {
	Line    *syntax.Line
	Name    string            // what the line names: "track", "north.length"; empty for a question
	Value   *answer.Value     // nil if the line has none or is in error
	Rule    *answer.Judged    // for must and should
	Study   answer.Study      // for a study, once it has been carried out
	Cards   []*answer.Card    // for use: one per name it is placed as
	Columns []answer.CardLine // for a table: its own columns
	Errors  []syntax.Diag
	Notices []syntax.Diag
	Waiting []string // names the line waits for, not defined yet
	Assumed bool
}
