// Package library is what ships with railsum and where a user's own sheets are
// found: the worksheets (sheets/*.sums), the tables of published values
// (tables/*.tsv), and the rule that keeps the two kinds of sheet apart.
//
// # Model
//
// A sheet is a text in the language; a table is a text of rows. Both are
// embedded. Nothing is parsed before somebody asks for it by name, and then
// once for the whole process, however many notebooks and goroutines ask: the
// same name is always the same pointer.
//
// A sheet's meaning is its first note row. Its group, its edition and the words
// to find it by stand in sheets/catalogue.tsv. The edition goes up whenever an
// answer of the sheet may change.
//
// An own sheet is a file of the user's, always named in quotes with its ending:
//
//	use "coil.sums" for west
//
// It is looked for beside the notebook, then in railsum/sheets under the XDG
// data home. A plain name is always a shipped sheet, a quoted one never is, so
// neither can take the other's place. Names are held to an allow-list and files
// are opened through [os.Root]: no name and no link reaches past the folder.
//
// # The form of a table
//
// Tab separated, UTF-8, one fact per row, in this order:
//
//	# what the table is, in one line or several
//	# area: what the column "area" means, where its head does not say it
//	size	area as mm2	colour as text	basis	source
//	1.5 mm2	1.5	black	published	IEC 60228:2004 Table 3
//
// The first column is the row's label. A head is a name, "name as unit", or
// "name as text" for a column of texts; numbers are written as they would be
// typed in a table of a notebook, and read in the unit of the head. The last
// two columns say how well a row is known and from where: published (the source
// is named), practice (common in the trade, no source), memory (recalled from
// the source, not looked up) or computed (by the rule the source gives). No
// cell is empty: a table that has to say "none" says how in its first lines.
//
// # Goals
//
//   - One piece of trade knowledge stands in one place, with its source.
//   - A table is to the checker what a typed table is: [Library.Table] parses
//     the very text that a user would have written.
//   - A sheet from a stranger is data: bounded, and unable to name a path
//     outside its folder.
//
// # Non-goals
//
// It does not check or compute sheets (package calc does), does not write
// files, and fetches nothing from anywhere.
package library
