// Package study puts questions to a checked set of lines: what must an input
// be (find), what happens when it changes (vary), what if (suppose), how sure
// is an answer (spread), what would explain what the meter says (measured).
//
// The model: each study is the same compiled lines with some inputs replaced by
// columns; a search grid, a sweep, the corners of tolerances and random samples
// are rows of such columns. There is no second evaluator and not a word about
// any sheet.
//
// Goals: honest answers. A search finds every crossing it can see on its grid
// and says where it looked; a jump is told as a jump and a pole is no answer; a
// spread is searched and not only taken at corners, and says from what
// distribution its samples were drawn. Everything is seeded: the same notebook
// gives the same answer.
//
// A study has a file with its method of Asking, which answers in the types of
// package answer. Not its business: how a result looks.
package study
