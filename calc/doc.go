// Package calc is the language of railsum, from the text of a notebook to its
// answers, one way through: text, tokens, tree (syntax), checked tree (check),
// program and columns (run). A Book holds a notebook that has gone that way and
// gives the answer of every line.
//
// The model: a notebook is a list of lines; each names a value, asks a question,
// states a rule or puts a sheet to work. What is wrong with a line is told with
// its answer, and never hides the answers of the other lines. An Update
// computes again only what depends on a change, and says what became of it.
//
// Goals: dimensions and shapes are settled before anything runs; every value is
// a column, so that one compiled form serves the single answer and the study of
// a million rows; a rule without an answer is never clear.
//
// Not its business: files, undo and journals (package sessions), where sheets
// and tables come from (package library), and how an answer looks on a screen
// (cmd/railsum).
package calc
