package run

import "railsum/calc/function"

// one applies a function of one argument to every row.
func (l *lane) one(st *step, in []*Col) {
	for i, x := range in[0].V {
		v, f := st.fn.One(&l.world, x)
		st.put(i, v, f)
	}
}

// two applies a function of two arguments to every row.
func (l *lane) two(st *step, in []*Col) {
	b := in[1].V
	for i, x := range in[0].V {
		v, f := st.fn.Two(&l.world, x, b[i])
		st.put(i, v, f)
	}
}

// many applies a function of any number of arguments to every row.
func (l *lane) many(st *step, in []*Col) {
	x := l.numbers(0, len(in))
	for i := range st.out.V {
		for j, c := range in {
			x[j] = c.V[i]
		}
		v, f := st.fn.Many(&l.world, x)
		st.put(i, v, f)
	}
}

// down gathers a column into one value for every row of the study.
func (l *lane) down(st *step) {
	a := st.in[0]
	st.out.reshape(1, a.Width)
	for w := range a.Width {
		if m := firstMark(a, w); m != 0 {
			st.out.set(w, m)
			continue
		}
		v, f := st.fn.Down(&l.world, l.strand(a, w, 0))
		st.put(w, v, f)
	}
}

// along goes down a column, for every row of the study on its own.
func (l *lane) along(st *step) {
	args, out := st.in, st.out
	rows := args[0].Rows
	_, width := shapeOf(args)
	out.reshape(rows, width)
	further, answer := l.numbers(1, len(args)-1), l.numbers(2, rows)
	for w := range width {
		bad := firstMark(args[0], w)
		for j, c := range args[1:] {
			v, m := c.At(0, w)
			further[j] = v
			if m.outranks(bad) {
				bad = m
			}
		}
		if bad == 0 {
			if f := st.fn.Along(&l.world, l.strand(args[0], w, 0), further, answer); f != 0 {
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

// seek looks every key up in the columns of another table. The result has the
// shape of the key.
func (l *lane) seek(st *step) {
	args, out := st.in, st.out
	key := args[st.fn.Key]
	_, width := shapeOf(args)
	out.reshape(key.Rows, width)
	l.columns = l.columns[:0]
	for w := range width {
		var bad Mark
		j := 0
		for i, c := range args {
			if i == st.fn.Key {
				continue
			}
			if m := firstMark(c, w); m.outranks(bad) {
				bad = m
			}
			if w == 0 {
				l.columns = append(l.columns, l.strand(c, w, j))
			} else if c.Width != 1 {
				l.columns[j] = l.strand(c, w, j)
			}
			j++
		}
		for r := range key.Rows {
			i := r*width + w
			x, m := key.At(r, w)
			if m == 0 || bad.outranks(m) {
				m = bad
			}
			if m != 0 {
				out.set(i, m)
				continue
			}
			v, f := st.fn.Seek(&l.world, x, l.columns)
			st.put(i, v, f)
		}
	}
}

// put is a row's answer as a kernel has given it. A row that an operand has
// marked keeps that mark: what a kernel finds in it is only an echo.
func (st *step) put(i int, v float64, f function.Fault) {
	st.out.V[i] = v
	if f != 0 && st.out.markAt(i) == 0 {
		st.out.set(i, mark(st.site, f))
	}
}

// strand is a column's rows at one row of the study.
func (l *lane) strand(c *Col, w, buf int) []float64 {
	if c.Width == 1 {
		return c.V
	}
	s := l.numbers(3+buf, c.Rows)
	for r := range s {
		s[r] = c.V[r*c.Width+w]
	}
	return s
}

// numbers gives one of the lane's own slices.
func (l *lane) numbers(buf, n int) []float64 {
	for len(l.bufs) <= buf {
		l.bufs = append(l.bufs, nil)
	}
	if cap(l.bufs[buf]) < n {
		l.bufs[buf] = make([]float64, n)
	}
	return l.bufs[buf][:n]
}

// firstMark is the mark to tell of a column at one row of the study.
func firstMark(c *Col, w int) (first Mark) {
	if c.Width == 1 {
		w = 0
	}
	for i := w; i < len(c.Marks); i += c.Width {
		if c.Marks[i].outranks(first) {
			first = c.Marks[i]
		}
	}
	return first
}

// row picks one row of a column.
func row(st *step) {
	a, out := st.in[0], st.out
	out.reshape(1, a.Width)
	copy(out.V, a.V[st.row*a.Width:])
	if a.Marks != nil {
		for w := range a.Width {
			if _, m := a.At(st.row, w); m != 0 {
				out.set(w, m)
			}
		}
	}
}

// override is a column with the value of another in one of its rows.
func override(st *step, in []*Col) {
	from, to := st.row*st.out.Width, (st.row+1)*st.out.Width
	copy(st.out.V, in[0].V)
	copy(st.out.V[from:to], in[1].V[from:to])
	for i := range st.out.V {
		c := in[0]
		if i >= from && i < to {
			c = in[1]
		}
		if m := c.markAt(i); m != 0 {
			st.out.set(i, m)
		}
	}
}

// spread puts one value into every row of a table.
func spread(st *step) { st.out.stretch(st.in[0], st.row, st.in[0].Width) }
