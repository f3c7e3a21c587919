package run

import "railsum/calc/function"

// one applies a function of one argument to every row.
func (m *Machine) one(st *step, a *Col) {
	out := st.out
	out.reshape(a.Rows, a.Width)
	for i, x := range a.V {
		v, f := st.fn.One(&m.world, x)
		out.V[i] = v
		if f != 0 {
			out.set(i, mark(st.site, f))
		}
	}
	m.inherit(out, a)
}

// two applies a function of two arguments to every row.
func (m *Machine) two(st *step, a, b *Col) {
	m.each(st, a, b, func(x, y float64) (float64, function.Fault) { return st.fn.Two(&m.world, x, y) })
}

// many applies a function of any number of arguments to every row.
func (m *Machine) many(st *step, args []any) {
	cols := make([]*Col, len(args))
	cursors := make([]cursor, len(args))
	for i, a := range args {
		cols[i] = a.(*Col)
		cursors[i] = cursorOf(cols[i])
	}
	rows, width := shapeOf(cols...)
	out := st.out
	out.reshape(rows, width)
	x := make([]float64, len(args))
	i := 0
	for r := 0; r < rows; r++ {
		for w := 0; w < width; w++ {
			for j, k := range cursors {
				x[j] = cols[j].V[k.index(r, w)]
			}
			v, f := st.fn.Many(&m.world, x)
			out.V[i] = v
			if f != 0 {
				out.set(i, mark(st.site, f))
			}
			i++
		}
	}
	m.inherit(out, cols...)
}

// down gathers a column into one value for every row of the study.
func (m *Machine) down(st *step, a *Col) {
	out := st.out
	out.reshape(1, a.Width)
	for w := 0; w < a.Width; w++ {
		if mk := firstMark(a, w); mk != 0 {
			out.set(w, mk)
			continue
		}
		v, f := st.fn.Down(&m.world, m.strand(a, w, 0))
		out.V[w] = v
		if f != 0 {
			out.set(w, mark(st.site, f))
		}
	}
}

// strand is a column's rows at one row of the study.
func (m *Machine) strand(c *Col, w, buf int) []float64 {
	if c.Width == 1 {
		return c.V
	}
	for len(m.strands) <= buf {
		m.strands = append(m.strands, nil)
	}
	s := m.strands[buf][:0]
	for r := 0; r < c.Rows; r++ {
		s = append(s, c.V[r*c.Width+w])
	}
	m.strands[buf] = s
	return s
}

func firstMark(c *Col, w int) Mark {
	if c.Marks == nil {
		return 0
	}
	if c.Width == 1 {
		w = 0
	}
	for i := w; i < len(c.Marks); i += c.Width {
		if c.Marks[i] != 0 {
			return c.Marks[i]
		}
	}
	return 0
}

// seek looks every key up in the columns of another table. The result has the
// shape of the key.
func (m *Machine) seek(st *step, args []any) {
	key := args[st.fn.Key].(*Col)
	var cols []*Col
	width := key.Width
	for i, a := range args {
		c := a.(*Col)
		if i == st.fn.Key {
			continue
		}
		cols = append(cols, c)
		if c.Width != 1 {
			width = c.Width
		}
	}
	k := cursorOf(key)
	out := st.out
	out.reshape(key.Rows, width)
	strands := make([][]float64, len(cols))
	for w := 0; w < width; w++ {
		var bad Mark
		for j, c := range cols {
			if mk := firstMark(c, w); mk != 0 && bad == 0 {
				bad = mk
			}
			if w == 0 || c.Width != 1 {
				strands[j] = m.strand(c, w, j)
			}
		}
		for r := 0; r < key.Rows; r++ {
			i := r*width + w
			x, mk := at(key, k.index(r, w))
			if mk == 0 {
				mk = bad
			}
			if mk != 0 {
				out.set(i, mk)
				continue
			}
			v, f := st.fn.Seek(&m.world, x, strands)
			out.V[i] = v
			if f != 0 {
				out.set(i, mark(st.site, f))
			}
		}
	}
}

// along goes down a column, for every row of the study on its own.
func (m *Machine) along(st *step, args []any) {
	cols := make([]*Col, len(args))
	for i, a := range args {
		cols[i] = a.(*Col)
	}
	_, width := shapeOf(cols...)
	rows := cols[0].Rows
	out := st.out
	out.reshape(rows, width)
	further := make([]float64, len(cols)-1)
	answer := make([]float64, rows)
	for w := range width {
		bad := firstMark(cols[0], w)
		for j, c := range cols[1:] {
			v, mk := c.At(0, w)
			further[j] = v
			if bad == 0 {
				bad = mk
			}
		}
		if bad == 0 {
			if f := st.fn.Along(&m.world, m.strand(cols[0], w, 0), further, answer); f != 0 {
				bad = mark(st.site, f)
			}
		}
		for r, v := range answer {
			out.V[r*width+w] = v
			if bad != 0 {
				out.set(r*width+w, bad)
			}
		}
	}
}
