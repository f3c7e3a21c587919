// Package types holds what is known of a value before anything runs: its kind,
// its dimension and its shape.
//
// A shape is static: one value, or a column of a certain table. It is a tag,
// not a length: a column of a table with one row is still a column. The second
// axis, the rows of a study, is no part of a type; every value can have it.
package types

import "railsum/units"

// Kind says what may be done with a value.
type Kind uint8

const (
	Unknown Kind = iota // its line is in error; poisons silently
	Number              // a quantity, or a plain number if its dimension is plain
	Point               // a temperature on a scale: differences may be added to it
	Truth               // yes or no
	Text
	Date // seconds, as of units.ParseDate
)

// Table is the identity of a table and its rows' labels. Two tables are the
// same only if they are the same *Table.
type Table struct {
	Name   string
	Labels []string
}

// Type is a kind, a dimension (for a Number) and a shape: Of is nil for one
// value, else the table whose rows the column has.
type Type struct {
	Kind Kind
	Dim  units.Dim
	Of   *Table
}

// Plain is a plain number.
var Plain = Type{Kind: Number}

// Scalar is the type without its shape.
func (t Type) Scalar() Type { t.Of = nil; return t }

// Words names the type for a message: "a voltage (V)", "a text".
func (t Type) Words() string {
	switch t.Kind {
	case Number:
		return t.Dim.Words()
	case Point:
		return "a temperature (degC)"
	case Truth:
		return "yes or no"
	case Text:
		return "a text"
	case Date:
		return "a date"
	}
	return "a value that is not known"
}
