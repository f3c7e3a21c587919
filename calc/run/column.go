package run

import "railsum/calc/function"

// A Mark says why a row has no answer: the place of the operation and its
// fault. The zero Mark is a sound row.
type Mark uint32

const faultBits = 4

func mark(site uint32, f function.Fault) Mark { return Mark(site<<faultBits | uint32(f)) }

// Fault is what went wrong.
func (m Mark) Fault() function.Fault { return function.Fault(m & (1<<faultBits - 1)) }

func (m Mark) site() uint32 { return uint32(m) >> faultBits }

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
	if c.Marks == nil {
		return c.V[i], 0
	}
	return c.V[i], c.Marks[i]
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
	if c.Rows != x.Rows || c.Width != x.Width || (c.Marks == nil) != (x.Marks == nil) {
		return false
	}
	for i, v := range c.V {
		if v != x.V[i] {
			return false
		}
	}
	for i, m := range c.Marks {
		if m != x.Marks[i] {
			return false
		}
	}
	return true
}

// marks gives the column's marks, made on first use.
func (c *Col) marks() []Mark {
	if c.Marks == nil {
		c.Marks = make([]Mark, len(c.V))
	}
	return c.Marks
}

// set marks one row, unless it has a mark already: the first cause is the one to
// tell, and what comes later, as from a value that was set to nothing here, is
// only its echo.
func (c *Col) set(i int, m Mark) {
	ms := c.marks()
	if ms[i] == 0 {
		ms[i] = m
	}
	c.V[i] = 0
}

// shapeOf is the shape that columns have together: a single row or a single
// study row stretches to the others'.
func shapeOf(cols ...*Col) (rows, width int) {
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

// cursor walks a column as if it had been stretched to a larger shape.
type cursor struct {
	c           *Col
	byRow, step int
}

func cursorOf(c *Col) cursor {
	k := cursor{c: c}
	if c.Rows != 1 {
		k.byRow = c.Width
	}
	if c.Width != 1 {
		k.step = 1
	}
	return k
}

func (k cursor) index(row, study int) int { return row*k.byRow + study*k.step }

// stretched gives the column's values in a larger shape, in its own slice if it
// has that shape already.
func (c *Col) stretched(rows, width int, buf *[]float64) []float64 {
	if c.Rows == rows && c.Width == width {
		return c.V
	}
	n := rows * width
	if cap(*buf) < n {
		*buf = make([]float64, n)
	}
	v := (*buf)[:n]
	k := cursorOf(c)
	for r, i := 0, 0; r < rows; r++ {
		for w := 0; w < width; w++ {
			v[i] = c.V[k.index(r, w)]
			i++
		}
	}
	return v
}

// mergeMarks gives out the marks of its operands, stretched.
func mergeMarks(out *Col, operands ...*Col) {
	for _, c := range operands {
		if c.Marks == nil {
			continue
		}
		k := cursorOf(c)
		i := 0
		for r := 0; r < out.Rows; r++ {
			for w := 0; w < out.Width; w++ {
				if m := c.Marks[k.index(r, w)]; m != 0 {
					out.set(i, m)
				}
				i++
			}
		}
	}
}
