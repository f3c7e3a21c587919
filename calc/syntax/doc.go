// Package syntax reads the language of sums: a text becomes lines, a line
// becomes a tree, and a tree becomes the text again.
//
// # Model
//
// A File is a list of Lines. A line is one row of text, or the several rows
// from "table" to "end"; it keeps the very bytes it was read from in Raw, so
// that a file in which nothing was touched is written back unchanged, broken
// lines and all. What the line means stands in Node; what is wrong with it in
// Errors. A line with an error that is no notice has a *Broken node, and never
// keeps another line from being read.
//
// There is one way through: a scanner makes tokens of a row, a parser without
// backtracking makes a tree of them, and the printer gives the tree its one
// canonical spelling. Printing and parsing again gives the same tree, and
// printing that gives the same text. A number is one token with everything that
// belongs to it, its unit, its fraction or its code letter, and has its value
// in SI already, correctly rounded.
//
// What can be decided without knowing what the names mean is decided here, with
// a place, a message and a cure: above all the lines that read two ways. What
// needs a dimension or a definition is left to package check.
//
// The tree is immutable after parsing. Positions are rows of the whole text
// and columns in runes.
//
// # Goals
//
// Nothing typed is lost. No text, however odd or large, panics, recurses
// without bound or takes more than time in proportion to its length. Two
// spellings that look alike mean the same or are an error.
//
// # Non-goals
//
// It knows no names, no functions and no sheets, has no macros and no
// continuation rows, and does not repair what it cannot read.
package syntax
