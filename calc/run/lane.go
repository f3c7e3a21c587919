package run

import (
	"slices"

	"railsum/calc/function"
)

// A lane is what it takes to run programs beside others: an engine that knows
// the operations, and the memory for what lies between.
type lane struct {
	engine
	world     function.World
	registers []*Col // by depth, shared by all programs of the lane

	in, wide []*Col // an operation's operands, and those that were stretched
	bufs     [][]float64
	columns  [][]float64
	free     []Col // registers of a study that nobody will read again
}

// step is one operation of a program: the registers it reads and the one it
// writes, and what else it needs to know.
type step struct {
	in   []*Col
	out  *Col
	site uint32
	fn   *function.Function
	row  int
}

// A kernel computes the register of a step, which has the shape that its
// operands have together; they are stretched to it.
type kernel func(st *step, in []*Col)

func newLane(world function.World) *lane {
	l := &lane{world: world}
	l.engine = newEngine(map[string]operation{
		"add": l.strict(arithmetic(add)), "sub": l.strict(arithmetic(sub)),
		"mul": l.strict(arithmetic(mul)), "div": l.strict(arithmetic(div)),
		"power": l.strict(power), "negate": l.strict(negate), "not": l.strict(not),
		"eq": l.strict(equal(true)), "ne": l.strict(equal(false)),
		"le": l.strict(atMost(0, true)), "gt": l.strict(atMost(0, false)),
		"ge": l.strict(atMost(1, true)), "lt": l.strict(atMost(1, false)),
		"one": l.strict(l.one), "two": l.strict(l.two), "many": l.strict(l.many),
		"and": l.aligned(both(0)), "or": l.aligned(both(1)), "if": l.aligned(choose),
		"either": l.aligned(either), "none": l.aligned(isNone), "missed": l.aligned(missed), "there": l.aligned(there),
		"down": l.down, "along": l.along, "seek": l.seek, "row": row, "spread": spread, "override": l.aligned(override),
	})
	return l
}

// aligned is the operation of a kernel that sees to the marks itself.
func (l *lane) aligned(k kernel) operation {
	return func(st *step) { k(st, l.align(st)) }
}

// strict is the operation of a kernel whose answer has every mark of its
// operands.
func (l *lane) strict(k kernel) operation {
	return func(st *step) {
		in := l.align(st)
		st.out.mergeMarks(in...)
		k(st, in)
		for i, m := range st.out.Marks {
			if m != 0 {
				st.out.V[i] = 0
			}
		}
	}
}

// align gives the register of a step the shape that its operands have together,
// and them stretched to it.
func (l *lane) align(st *step) []*Col {
	rows, width := shapeOf(st.in)
	st.out.reshape(rows, width)
	l.in = l.in[:0]
	for i, c := range st.in {
		if c.Rows != rows || c.Width != width {
			for len(l.wide) <= i {
				l.wide = append(l.wide, &Col{})
			}
			l.wide[i].stretch(c, rows, width)
			c = l.wide[i]
		}
		l.in = append(l.in, c)
	}
	return l.in
}

// lend gives a register the memory of one that nobody will read again, which is
// still in the processor's cache.
func (l *lane) lend(c *Col) {
	if last := len(l.free) - 1; last >= 0 && c.V == nil {
		*c, l.free = l.free[last], l.free[:last]
	}
}

// giveBack takes the memory of a register.
func (l *lane) giveBack(c *Col) {
	if c.V != nil {
		l.free = append(l.free, *c)
		*c = Col{}
	}
}

// register gives the shared register of a depth.
func (l *lane) register(depth int) *Col {
	for len(l.registers) <= depth {
		l.registers = append(l.registers, &Col{})
	}
	return l.registers[depth]
}

// forget lets go of what large columns have left.
func (l *lane) forget() {
	for _, cols := range [][]*Col{l.registers, l.wide} {
		for _, c := range cols {
			if cap(c.V) > 64*Block {
				*c = Col{}
			}
		}
	}
	l.free = slices.DeleteFunc(l.free, func(c Col) bool { return cap(c.V) > 64*Block })
	for i := range l.bufs {
		if cap(l.bufs[i]) > 64*Block {
			l.bufs[i] = nil
		}
	}
}
