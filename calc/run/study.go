package run

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"sync"

	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Block is how many rows of a study are computed at a time: few enough for what
// lies between to stay in the processor's cache. Of a column with many rows
// there are fewer, so that no register holds more than about mostHeld numbers and all of
// them together not more than about mostInAll.
const (
	Block     = 1024
	mostHeld  = 1_000_000
	mostInAll = 8_000_000

	// A core has at least so many blocks of a study to compute.
	fewBlocks = 8
)

// With puts other values in the place of some inputs while do runs, and what
// depends on them is computed anew: one value for each row that the input has.
// Afterwards all is as it was. What do asks may not replace these inputs again.
func (m *Machine) With(over map[*check.Def][]float64, do func() error) error {
	if len(over) == 0 {
		return do()
	}
	hit := make([]bool, len(m.order))
	var moved []*cell
	for i, k := range m.order {
		hit[i] = over[k.def] != nil
		for _, j := range k.deps {
			hit[i] = hit[i] || hit[j]
		}
		if hit[i] {
			moved = append(moved, k)
		}
	}
	saved := make([]Col, len(moved))
	for j, k := range moved {
		saved[j], *k.out = *k.out, Col{}
	}
	defer func() {
		for j, k := range moved {
			*k.out = saved[j]
		}
	}()
	for _, k := range moved {
		if v := over[k.def]; v != nil {
			k.out.reshape(k.rows(), 1)
			copy(k.out.V, v)
			continue
		}
		k.fill()
	}
	return do()
}

// rows is how many rows of a table an input has, 1 for a single value.
func (k *cell) rows() int {
	if of := k.def.Type.Of; of != nil {
		return len(of.Labels)
	}
	return 1
}

// ErrTooMuch ends a study that would take more work than Allow allows.
var ErrTooMuch = errors.New("the study takes too much work")

// fixed is how many rows an operation's own cost is worth.
const fixed = 30

// Allow bounds the work of the studies from now on: operations times rows, those of
// tables included. A core does about 3e8 in a second. Without it there is no bound.
func (m *Machine) Allow(work int64) { m.allowed = work }

// A Study is the same lines with some inputs replaced by columns. Over is
// called from several goroutines at once, Shift from one, the sink by one at a time.
type Study struct {
	Rows int
	Over map[*check.Def]func(first int, dst []float64)
	Want []*check.Def
	// Shift moves the values of a Def after they have been computed: it gets
	// them for the study rows from the first on, stretched to [rows][n], and
	// changes them in place, one block after the other. Tolerances are studied so.
	Shift map[*check.Def]func(first, n int, v []float64)
}

// Replace puts a column in the place of an input: fill gives the values of the
// study rows from the first on. Of an input that is a column of a table it gives
// those of all rows, laid out as [rows][study].
func (s *Study) Replace(d *check.Def, fill func(first int, dst []float64)) {
	if s.Over == nil {
		s.Over = map[*check.Def]func(int, []float64){}
	}
	s.Over[d] = fill
}

// Study computes a study block by block and hands each block of the wanted
// columns to sink, in the order of Want. The columns are the machine's own and
// are overwritten later; one of width 1 does not depend on what was replaced.
// The notebook's own answers are untouched when it returns. It ends early with
// ctx's error, or with sink's, or with ErrTooMuch.
//
// Where blocks know nothing of each other, as many are computed at once as there
// are cores, each in a lane of its own. The answers are the same.
func (m *Machine) Study(ctx context.Context, s Study, sink func(first, n int, cols []*Col) error) error {
	moved := m.downstream(s)
	block := m.blockOf(moved)
	saved := make([]Col, len(moved))
	for j, k := range moved {
		saved[j] = *k.out
		*k.out = Col{}
	}
	runners := m.runners(s, block, moved)
	effort := int64(1) // of a row, and of a block beside its rows
	for j, k := range moved {
		effort += int64(k.terms+1) * int64(max(1, saved[j].Rows, k.cells()))
	}
	defer func() {
		for _, r := range runners {
			for _, k := range r.moved {
				r.lane.giveBack(k.out)
			}
			r.lane.forget()
		}
		for j, k := range moved {
			*k.out = saved[j]
		}
	}()
	return m.relay(ctx, s, runners, block, effort, sink)
}

// relay has the runners compute a block each in turn. Each computes as soon as it is
// free, and hands its block to sink when the one before has handed over the last.
func (m *Machine) relay(ctx context.Context, s Study, runners []*runner, block int, effort int64,
	sink func(first, n int, cols []*Col) error) (err error) {
	turns := make([]chan bool, len(runners)) // true goes on, false ends it
	for i := range turns {
		turns[i] = make(chan bool, 1)
	}
	hand := func(r *runner) bool { // by one runner at a time
		if r.n == 0 {
			return false
		}
		if m.allowed -= effort * int64(r.n+fixed); m.allowed < 0 {
			err = ErrTooMuch
		} else if err = ctx.Err(); err == nil {
			err = sink(r.first, r.n, r.want)
		}
		return err == nil
	}
	run := func(i int) {
		r := runners[i]
		for b := i; ; b += len(runners) {
			r.first = min(b*block, s.Rows)
			r.n = min(block, s.Rows-r.first)
			r.compute(ctx, s)
			on := <-turns[i] && hand(r)
			turns[(i+1)%len(runners)] <- on
			if !on {
				return
			}
		}
	}
	turns[0] <- true
	var others sync.WaitGroup
	for i := 1; i < len(runners); i++ {
		others.Go(func() { run(i) })
	}
	run(0)
	others.Wait()
	return err
}

// A runner computes blocks in a lane.
type runner struct {
	lane     *lane
	moved    []*cell
	last     [][]int // of each of the moved: those that nothing after it reads
	want     []*Col
	own      map[*check.Def]*Col // nil: the machine's
	first, n int
}

// runners are the machine itself and, where it pays and may be, others that
// have registers of their own for what moves. It may not be where what one block
// does is to be told from the one before: tolerances may be drawn by chance, and
// a text is numbered when it is first met.
func (m *Machine) runners(s Study, block int, moved []*cell) []*runner {
	n := min(runtime.GOMAXPROCS(0), s.Rows/block/fewBlocks, mostInAll/block/max(1, len(moved)))
	if n > 1 && (len(s.Shift) > 0 || block < Block ||
		slices.ContainsFunc(moved, func(k *cell) bool { return makesText(k.def.Node) })) {
		n = 1
	}
	last := m.lastRead(s, moved)
	all := []*runner{{lane: m.lane, moved: moved, last: last}}
	for len(all) < n {
		if len(m.lanes) < len(all) {
			m.lanes = append(m.lanes, newLane(m.world))
		}
		twin := m.twin(m.lanes[len(all)-1], moved)
		twin.last = last
		all = append(all, twin)
	}
	for _, r := range all {
		for _, d := range s.Want {
			r.want = append(r.want, r.col(m, d))
		}
	}
	return all
}

// lastRead lists, for each of the moved cells, which of them it is the last to
// read. What is wanted is read at the end.
func (m *Machine) lastRead(s Study, moved []*cell) [][]int {
	last := make([][]int, len(moved))
	place := make([]int, len(m.order)) // from 1, of what is yet to be read for the last time
	for i, k := range moved {
		place[k.def.Order] = i + 1
	}
	for _, d := range s.Want {
		place[d.Order] = 0
	}
	reads := make([]int, 0, len(moved))
	for i := len(moved) - 1; i >= 0; i-- {
		first := len(reads)
		for _, j := range moved[i].deps {
			if at := place[j]; at > 0 {
				reads, place[j] = append(reads, at-1), 0
			}
		}
		last[i] = reads[first:]
	}
	return last
}

// makesText reports whether a tree has a call that gives a text.
func makesText(n *check.Node) bool {
	return n != nil && (n.Op == check.Call && n.Type.Kind == types.Text || slices.ContainsFunc(n.Kids, makesText))
}

// twin is a runner of the same programs on registers of its own.
func (m *Machine) twin(l *lane, moved []*cell) *runner {
	r := &runner{lane: l, moved: make([]*cell, len(moved)), own: make(map[*check.Def]*Col, len(moved))}
	for i, k := range moved {
		t := &cell{def: k.def, out: &Col{}, site: k.site}
		m.lower(l, t, func(d *check.Def) *Col { return r.col(m, d) }, func(syntax.Pos) {})
		r.moved[i], r.own[k.def] = t, t.out
	}
	return r
}

// col is the register of a Def that the runner reads.
func (r *runner) col(m *Machine, d *check.Def) *Col {
	if c := r.own[d]; c != nil {
		return c
	}
	return m.operand(d)
}

// compute computes the runner's block.
func (r *runner) compute(ctx context.Context, s Study) {
	for at, k := range r.moved {
		if r.n == 0 || at%Block == 0 && ctx.Err() != nil {
			return
		}
		r.lane.lend(k.out)
		if fill := s.Over[k.def]; fill != nil {
			k.out.reshape(k.rows(), r.n)
			fill(r.first, k.out.V)
			continue
		}
		k.fill()
		if shift := s.Shift[k.def]; shift != nil {
			if k.out.Width != r.n {
				narrow := *k.out
				*k.out = Col{}
				k.out.stretch(&narrow, narrow.Rows, r.n)
			}
			shift(r.first, r.n, k.out.V)
		}
		for _, i := range r.last[at] {
			r.lane.giveBack(r.moved[i].out)
		}
	}
}

// blockOf is how many rows of a study to compute at a time: as many as the
// largest of the columns allows that are computed or read.
func (m *Machine) blockOf(moved []*cell) int {
	rows, all := 1, 1
	for _, k := range moved {
		all += max(1, k.out.Rows)
		rows = max(rows, k.out.Rows, k.cells())
		for _, j := range k.deps {
			rows = max(rows, m.order[j].out.Rows)
		}
	}
	return max(1, min(mostHeld/rows, mostInAll/all, Block))
}

// downstream lists, in order, the cells of what a study replaces and of what
// the wanted Defs need of that which depends on it.
func (m *Machine) downstream(s Study) []*cell {
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
	var moved []*cell
	for i, k := range m.order {
		hit[i] = s.Over[k.def] != nil || s.Shift[k.def] != nil
		for _, j := range k.deps {
			hit[i] = hit[i] || hit[j]
		}
		if hit[i] && need[i] {
			moved = append(moved, k)
		}
	}
	return moved
}
