package run

import (
	"context"

	"railsum/calc/check"
)

// Block is how many rows of a study are computed at a time: few enough for what
// lies between to stay in the processor's cache. Of a column with many rows
// there are fewer, so that no register holds more than about mostHeld numbers and all of
// them together not more than about mostInAll.
const (
	Block     = 1024
	mostHeld  = 1_000_000
	mostInAll = 8_000_000
)

// A Study is the same lines with some inputs replaced by columns.
type Study struct {
	Rows int
	Over map[*check.Def]func(first int, dst []float64)
	Want []*check.Def
	// Shift moves the values of a Def after they have been computed: it gets
	// them for the study rows from the first on, stretched to [rows][n], and
	// changes them in place. Tolerances are studied so.
	Shift map[*check.Def]func(first, n int, v []float64)
}

// Replace puts a column in the place of an input: fill gives the values of the
// study rows from the first on.
func (s *Study) Replace(d *check.Def, fill func(first int, dst []float64)) {
	if s.Over == nil {
		s.Over = map[*check.Def]func(int, []float64){}
	}
	s.Over[d] = fill
}

// Study computes a study block by block and hands each block of the wanted
// columns to sink, in the order of Want. The columns are the machine's own and
// are overwritten by the next block; one of width 1 does not depend on what was
// replaced. The notebook's own answers are untouched when it returns. It ends
// early with ctx's error, or with sink's.
func (m *Machine) Study(ctx context.Context, s Study, sink func(first, n int, cols []*Col) error) error {
	moved := m.downstream(s)
	block := m.blockOf(moved)
	saved := make([]Col, len(moved))
	for j, i := range moved {
		k := m.order[i]
		saved[j] = *k.out
		*k.out = Col{}
	}
	defer func() {
		for j, i := range moved {
			*m.order[i].out = saved[j]
		}
		m.forget()
	}()
	cols := make([]*Col, len(s.Want))
	for i, d := range s.Want {
		cols[i] = m.Col(d)
	}
	for first := 0; first < s.Rows; first += block {
		if err := ctx.Err(); err != nil {
			return err
		}
		n := min(block, s.Rows-first)
		for at, i := range moved {
			if at%Block == Block-1 && ctx.Err() != nil {
				return ctx.Err()
			}
			k := m.order[i]
			if fill := s.Over[k.def]; fill != nil {
				k.out.reshape(1, n)
				fill(first, k.out.V)
				continue
			}
			m.fill(k)
			if shift := s.Shift[k.def]; shift != nil {
				k.out.widen(n)
				shift(first, n, k.out.V)
			}
		}
		if err := sink(first, n, cols); err != nil {
			return err
		}
	}
	return nil
}

// blockOf is how many rows of a study to compute at a time: as many as the
// largest of the columns allows that are computed or read.
func (m *Machine) blockOf(moved []int) int {
	rows, all := 1, 1
	for _, i := range moved {
		k := m.order[i]
		all += max(1, k.out.Rows)
		rows = max(rows, k.out.Rows, len(k.gather))
		for _, j := range k.deps {
			rows = max(rows, m.order[j].out.Rows)
		}
	}
	return max(1, min(mostHeld/rows, mostInAll/all, Block))
}

// forget lets go of what large columns have left in the shared registers.
func (m *Machine) forget() {
	for _, c := range m.registers {
		if cap(c.V) > 64*Block {
			*c = Col{}
		}
	}
	for i := range m.strands {
		if cap(m.strands[i]) > 64*Block {
			m.strands[i] = nil
		}
	}
	for i := range m.bufs {
		if cap(m.bufs[i]) > 64*Block {
			m.bufs[i] = nil
		}
	}
}

// widen stretches a column to n rows of the study.
func (c *Col) widen(n int) {
	if c.Width == n {
		return
	}
	old := Col{Rows: c.Rows, Width: c.Width, V: append([]float64(nil), c.V...), Marks: c.Marks}
	c.reshape(old.Rows, n)
	for r := range old.Rows {
		for w := range n {
			v, mk := old.At(r, w)
			c.V[r*n+w] = v
			if mk != 0 {
				c.set(r*n+w, mk)
			}
		}
	}
}

// downstream lists the places in the order of what a study replaces and of what
// the wanted Defs need of that which depends on it.
func (m *Machine) downstream(s Study) []int {
	hit := make([]bool, len(m.order))
	need := make([]bool, len(m.order))
	for _, d := range s.Want {
		need[d.Order] = true
	}
	for i := len(m.order) - 1; i >= 0; i-- {
		if need[i] && s.Over[m.order[i].def] == nil {
			for _, j := range m.order[i].deps {
				need[j] = true
			}
		}
	}
	var moved []int
	for i, k := range m.order {
		hit[i] = s.Over[k.def] != nil || s.Shift[k.def] != nil
		for _, j := range k.deps {
			hit[i] = hit[i] || hit[j]
		}
		if hit[i] && need[i] {
			moved = append(moved, i)
		}
	}
	return moved
}
