package run

import (
	"slices"

	"railsum/calc/function"
)

// A Mark says why a row has no answer: the place of the operation and its
// fault. The zero Mark is a sound row. A row whose answer does not exist
// (function.None) is marked too, and travels likewise, but is no error.
type Mark uint32

const faultBits = 4

func mark(site uint32, f function.Fault) Mark { return Mark(site<<faultBits | uint32(f)) }

// Fault is what went wrong, function.None if nothing did and there is just no answer.
func (m Mark) Fault() function.Fault { return function.Fault(m & (1<<faultBits - 1)) }

func (m Mark) site() uint32 { return uint32(m) >> faultBits }

// outranks reports whether a mark is told rather than another of the same row:
// an error rather than an answer that does not exist, else the one that was
// there first.
func (m Mark) outranks(there Mark) bool {
	return m != 0 && (there == 0 || there.Fault() == function.None && m.Fault() != function.None)
}

// A Col is a column: Rows of a table by Width rows of a study, the latter
// innermost. Marks is nil where every row is sound, else as long as V; the
// value of a marked row means nothing.
type Col struct {
	Rows, Width int
	V           []float64
	Marks       []Mark
}

// At gives the value and mark of a row, for a row of the study.
func (c *Col) At(row, study int) (float64, Mark) {
	if c.Width == 1 {
		study = 0
	}
	i := row*c.Width + study
	return c.V[i], c.markAt(i)
}

func (c *Col) markAt(i int) Mark {
	if c.Marks == nil {
		return 0
	}
	return c.Marks[i]
}

// reshape makes the column the given size, every row sound. What it held is
// lost, but a slice of V taken before stays what it was if the size grows.
func (c *Col) reshape(rows, width int) {
	n := rows * width
	c.Rows, c.Width, c.Marks = rows, width, nil
	if cap(c.V) < n {
		c.V = make([]float64, n)
	}
	c.V = c.V[:n]
}

// copyFrom makes the column a copy of another.
func (c *Col) copyFrom(x *Col) {
	c.reshape(x.Rows, x.Width)
	copy(c.V, x.V)
	if x.Marks != nil {
		c.Marks = append([]Mark(nil), x.Marks...)
	}
}

// Copy gives a column of its own with the same answers.
func (c *Col) Copy() Col {
	var x Col
	x.copyFrom(c)
	return x
}

// same reports whether two columns hold the same answers.
func (c *Col) same(x *Col) bool {
	return c.Rows == x.Rows && c.Width == x.Width && slices.Equal(c.V, x.V) && slices.Equal(c.Marks, x.Marks)
}

// set marks one row, unless what marks it already is to be told rather: the
// first cause is, and what comes later, as from a value that was set to nothing
// here, is only its echo.
func (c *Col) set(i int, m Mark) {
	if c.Marks == nil {
		c.Marks = make([]Mark, len(c.V))
	}
	if m.outranks(c.Marks[i]) {
		c.Marks[i] = m
	}
	c.V[i] = 0
}

// mergeMarks gives the column the marks of operands of its own shape.
func (c *Col) mergeMarks(operands ...*Col) {
	for _, x := range operands {
		for i, m := range x.Marks {
			if m != 0 {
				c.set(i, m)
			}
		}
	}
}

// shapeOf is the shape that columns have together: a single row or a single
// study row stretches to the others'.
func shapeOf(cols []*Col) (rows, width int) {
	rows, width = 1, 1
	for _, c := range cols {
		if c.Rows != 1 {
			rows = c.Rows
		}
		if c.Width != 1 {
			width = c.Width
		}
	}
	return rows, width
}

// stretch makes the column another one stretched to a larger shape.
func (c *Col) stretch(x *Col, rows, width int) {
	c.reshape(rows, width)
	stretch(c.V, x.V, x, width)
	if x.Marks != nil {
		c.Marks = make([]Mark, len(c.V))
		stretch(c.Marks, x.Marks, x, width)
	}
}

// stretch is the walk over [rows][study]: it lays what a column of the shape of
// x holds out over rows of the given width. Everything else in this package
// goes along flat slices of one length.
func stretch[T any](dst, src []T, x *Col, width int) {
	for first := 0; first < len(dst); first += width {
		row := dst[first : first+width]
		for n := copy(row, src[:min(width, x.Width)]); n < width; n *= 2 {
			copy(row[n:], row[:n])
		}
		if x.Rows != 1 {
			src = src[x.Width:]
		}
	}
}
