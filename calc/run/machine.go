package run

import (
	"fmt"

	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/vm"

	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/syntax"
)

// A Machine holds what a checked notebook computes: a register for every Def,
// and the programs that fill them.
type Machine struct {
	cfg   *conf.Config
	vm    vm.VM
	env   map[string]any
	world function.World
	texts *texts
	sites []Site

	order []*cell
	cells map[*check.Def]*cell

	registers []*Col // shared by all programs for what lies between
	bufs      [2][]float64
	strands   [][]float64
	stopped   func() bool
}

// Site is a place where a row can lose its answer.
type Site struct {
	Def *check.Def
	At  syntax.Pos
}

// cell is a Def with its register and program.
type cell struct {
	def     *check.Def
	out     *Col
	program *vm.Program
	like    *Col    // the register it repeats, if it is a bare name
	value   float64 // if it is a constant
	gather  []*Col  // of a column, its cells
	deps    []int32
	dirty   bool
}

// step is one operation of a program: where its answer goes and what it needs
// to know.
type step struct {
	out  *Col
	site uint32
	fn   *function.Function
	row  int
}

// New makes an empty machine. Functions of the trade read data.
func New(data function.Data) *Machine {
	m := &Machine{env: map[string]any{}, texts: newTexts(), cells: map[*check.Def]*cell{}, stopped: func() bool { return false }}
	m.world = function.World{Data: data, Interner: m.texts}
	m.cfg = m.config()
	return m
}

// StopWhen gives the machine a question to ask between lines and blocks; when
// it answers yes, the computation ends early and is incomplete.
func (m *Machine) StopWhen(stopped func() bool) { m.stopped = stopped }

// config is expr's configuration with the operations on columns and nothing
// else: no builtin, no operator of its own is ever emitted.
func (m *Machine) config() *conf.Config {
	c := &conf.Config{Functions: conf.FunctionsTable{}}
	c.WithEnv(m.env)
	for name, op := range m.operations() {
		c.Functions[name] = &builtin.Function{Name: name, Func: func(args ...any) (any, error) {
			st := args[0].(*step)
			op(st, args[1:])
			return st.out, nil
		}}
	}
	return c
}

func (m *Machine) operations() map[string]func(*step, []any) {
	two := func(f func(*step, *Col, *Col)) func(*step, []any) {
		return func(st *step, a []any) { f(st, a[0].(*Col), a[1].(*Col)) }
	}
	one := func(f func(*step, *Col)) func(*step, []any) {
		return func(st *step, a []any) { f(st, a[0].(*Col)) }
	}
	ops := map[string]func(*step, []any){
		"power":  two(m.power),
		"and":    two(func(st *step, a, b *Col) { m.both(st, 0, a, b) }),
		"or":     two(func(st *step, a, b *Col) { m.both(st, 1, a, b) }),
		"not":    one(m.not),
		"negate": one(m.negate),
		"row":    one(m.row),
		"spread": one(m.spread),
		"if":     func(st *step, a []any) { m.choose(st, a[0].(*Col), a[1].(*Col), a[2].(*Col)) },
		"one":    one(m.one),
		"two":    two(m.two),
		"many":   m.many,
		"down":   one(m.down),
		"along":  m.along,
		"seek":   m.seek,
	}
	for name, op := range map[string]arith{"add": add, "sub": sub, "mul": mul, "div": div} {
		ops[name] = two(func(st *step, a, b *Col) { m.arithmetic(st, op, a, b) })
	}
	for name, op := range map[string]comparison{"eq": eq, "ne": ne, "lt": lt, "le": le, "gt": gt, "ge": ge} {
		ops[name] = two(func(st *step, a, b *Col) { m.compare(st, op, a, b) })
	}
	return ops
}

// row picks one row of a column.
func (m *Machine) row(st *step, a *Col) {
	st.out.reshape(1, a.Width)
	for w := 0; w < a.Width; w++ {
		v, mk := a.At(st.row, w)
		st.out.V[w] = v
		if mk != 0 {
			st.out.set(w, mk)
		}
	}
}

// spread puts one value into every row of a table.
func (m *Machine) spread(st *step, a *Col) {
	st.out.reshape(st.row, a.Width)
	for r := 0; r < st.row; r++ {
		copy(st.out.V[r*a.Width:], a.V)
	}
	mergeMarks(st.out, a)
}

// Load takes over a checked notebook: every Def of its order gets a register
// and a program. Nothing is computed yet.
func (m *Machine) Load(c *check.Checked) {
	m.order = m.order[:0]
	m.Extend(c.Order)
}

// Extend adds Defs that come after all those loaded.
func (m *Machine) Extend(defs []*check.Def) {
	for _, d := range defs {
		k := &cell{def: d, out: &Col{}}
		m.cells[d] = k
		m.order = append(m.order, k)
		m.Lower(d)
	}
}

// Compute fills the registers of all Defs from the from-th of the order on.
func (m *Machine) Compute(from int) {
	for _, k := range m.order[from:] {
		if m.stopped() {
			return
		}
		m.fill(k)
	}
}

// fill computes one register.
func (m *Machine) fill(k *cell) {
	switch {
	case k.program != nil:
		if _, err := m.vm.Run(k.program, m.env); err != nil {
			panic(fmt.Sprintf("run: %v", err)) // an operation on columns never fails; it marks rows
		}
	case k.like != nil:
		k.out.copyFrom(k.like)
	case k.gather != nil:
		k.out.gather(k.gather)
	default:
		k.out.reshape(1, 1)
		k.out.V[0] = k.value
	}
}

// gather sets the cells of a column side by side.
func (c *Col) gather(cells []*Col) {
	_, width := shapeOf(cells...)
	c.reshape(len(cells), width)
	for r, x := range cells {
		for w := 0; w < width; w++ {
			v, mk := x.At(0, w)
			c.V[r*width+w] = v
			if mk != 0 {
				c.set(r*width+w, mk)
			}
		}
	}
}

// Col gives a Def's register, nil if the Def is not loaded. It must not be
// changed.
func (m *Machine) Col(d *check.Def) *Col {
	if k := m.cells[d]; k != nil {
		return k.out
	}
	return nil
}

// Recompute computes what depends on a Def whose program has changed, and the
// Def itself, and gives the Defs whose values are no longer what they were.
// keep is called with each before its value is overwritten.
func (m *Machine) Recompute(d *check.Def, keep func(*check.Def, *Col)) {
	from := d.Order
	var old Col
	for i := from; i < len(m.order); i++ {
		k := m.order[i]
		if i != from {
			k.dirty = false
			for _, j := range k.deps {
				if int(j) >= from && m.order[j].dirty {
					k.dirty = true
					break
				}
			}
			if !k.dirty {
				continue
			}
		}
		if m.stopped() {
			break
		}
		old.copyFrom(k.out)
		m.fill(k)
		if k.dirty = !old.same(k.out); k.dirty {
			keep(k.def, &old)
		}
	}
	for _, k := range m.order[from:] {
		k.dirty = false
	}
}

// Site says where a mark was made.
func (m *Machine) Site(mk Mark) Site {
	if i := int(mk.site()); i < len(m.sites) {
		return m.sites[i]
	}
	return Site{}
}

// Text gives the text that a number stands for.
func (m *Machine) Text(id float64) string { return m.texts.Text(id) }

// texts hands out numbers for texts.
type texts struct {
	ids  map[string]float64
	list []string
}

func newTexts() *texts { return &texts{ids: map[string]float64{}} }

func (t *texts) ID(s string) float64 {
	if id, ok := t.ids[s]; ok {
		return id
	}
	id := float64(len(t.list))
	t.ids[s] = id
	t.list = append(t.list, s)
	return id
}

func (t *texts) Text(id float64) string {
	if i := int(id); i >= 0 && i < len(t.list) {
		return t.list[i]
	}
	return ""
}
