package run

import (
	"math"

	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/syntax"
)

// A Machine holds what a checked notebook computes: a register for every Def,
// and the programs that fill them.
type Machine struct {
	*lane
	texts *texts
	sites []Site

	order []*cell
	cells map[*check.Def]*cell

	lanes   []*lane // further ones, for studies
	allowed int64   // work that studies may still do
	stopped func() bool
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
	program program
	like    *Col    // the register it repeats, if it is a bare name
	value   float64 // if it is a constant
	column  *column // if it is one
	deps    []int32
	site    uint32 // the first of its sites
	terms   int    // that its program computes
	dirty   bool
}

// column is what a column is put together from: its cells, or labels.
type column struct {
	cells  []*Col
	labels []float64
}

// cells is how many cells are put together in it.
func (k *cell) cells() int {
	if k.column == nil {
		return 0
	}
	return len(k.column.cells)
}

// New makes an empty machine. Functions of the trade read data.
func New(data function.Data) *Machine {
	m := &Machine{texts: newTexts(), cells: map[*check.Def]*cell{}, allowed: math.MaxInt64,
		stopped: func() bool { return false }}
	m.lane = newLane(function.World{Data: data, Interner: m.texts})
	return m
}

// StopWhen gives the machine a question to ask between lines and blocks; when
// it answers yes, the computation ends early and is incomplete.
func (m *Machine) StopWhen(stopped func() bool) { m.stopped = stopped }

// Load takes over a checked notebook: every Def of its order gets a register
// and a program. Nothing is computed yet. It reports false if it was stopped; then
// the machine is of no use.
func (m *Machine) Load(c *check.Checked) bool {
	m.order = m.order[:0]
	for i := range c.Order {
		if m.stopped() {
			return false
		}
		m.Extend(c.Order[i : i+1])
	}
	return true
}

// Extend adds Defs that come after all those loaded.
func (m *Machine) Extend(defs []*check.Def) {
	cells, outs := make([]cell, len(defs)), make([]Col, len(defs)) // all at once: there may be a hundred thousand
	for i, d := range defs {
		k := &cells[i]
		k.def, k.out = d, &outs[i]
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
		k.fill()
	}
}

// fill computes one register.
func (k *cell) fill() {
	switch {
	case k.column != nil && k.column.labels != nil:
		k.out.reshape(len(k.column.labels), 1)
		copy(k.out.V, k.column.labels)
	case k.program != nil:
		k.program.run()
	case k.like != nil:
		k.out.copyFrom(k.like)
	case k.column != nil:
		k.out.gather(k.column.cells)
	default:
		k.out.reshape(1, 1)
		k.out.V[0] = k.value
	}
}

// gather sets the cells of a column side by side.
func (c *Col) gather(cells []*Col) {
	_, width := shapeOf(cells)
	c.reshape(len(cells), width)
	for r, x := range cells {
		stretch(c.V[r*width:(r+1)*width], x.V, x, width)
		for w := range width {
			if _, m := x.At(0, w); m != 0 {
				c.set(r*width+w, m)
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
// keep is called with each, what it was and what it is.
func (m *Machine) Recompute(d *check.Def, keep func(d *check.Def, was, now *Col)) {
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
		k.fill()
		if k.dirty = !old.same(k.out); k.dirty {
			keep(k.def, &old, k.out)
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
