package calc

import (
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/view"
)

// Update makes the book one of the given lines and reports what changed. Lines
// that are the same pointers count as unchanged. Where one line is replaced by
// another that names the same thing, only what depends on it is computed again;
// where a line is added at the end, only that line; any other edit checks the
// notebook anew.
func (b *Book) Update(lines []*syntax.Line) answer.Change {
	b.studies, b.faults = nil, nil
	old := b.C.Lines
	if i, ok := oneReplaced(old, lines); ok && !b.C.Cut {
		if change, done := b.replace(i, lines[i]); done {
			return change
		}
	}
	if len(lines) == len(old)+1 && !b.C.Cut && samePrefix(old, lines) {
		if from, ok := b.C.Append(lines[len(old)]); ok {
			b.M.Extend(b.C.Order[from:])
			b.M.Compute(from)
			return answer.Change{}
		}
	}
	before := b.snapshot()
	b.build(lines)
	return b.compare(before)
}

func oneReplaced(old, now []*syntax.Line) (int, bool) {
	if len(old) != len(now) {
		return 0, false
	}
	at := -1
	for i := range old {
		if old[i] != now[i] {
			if at >= 0 {
				return 0, false
			}
			at = i
		}
	}
	return at, at >= 0
}

func samePrefix(old, now []*syntax.Line) bool {
	for i := range old {
		if old[i] != now[i] {
			return false
		}
	}
	return true
}

// replace takes the short way for a line whose place in the order stays.
func (b *Book) replace(i int, l *syntax.Line) (answer.Change, bool) {
	typed := b.Value(b.C.Main[i]) // as it was spelt
	d, ok := b.C.Replace(i, l)
	if !ok {
		return answer.Change{}, false
	}
	var change answer.Change
	// As many as the last time: one input is often changed again and again.
	kept := &ripple{view: b.View, replaced: d, typed: typed,
		told: make([]rippled, 0, b.rippled), numbers: make([]float64, 0, 2*b.rippled)}
	b.M.Lower(d)
	b.M.Recompute(d, func(d *check.Def, was, now *run.Col) {
		switch {
		case d.Role == check.Ruled && d.OfLine:
			turned(&change, d, view.VerdictAt(d, was, 0), view.VerdictAt(d, now, 0))
		case d.Name != "" && b.reported(d):
			kept.keep(d, was, now)
		}
	})
	b.rippled = len(kept.told)
	change.Deltas = kept.deltas()
	return change, true
}

// ripple keeps what a change of one line has changed, as numbers.
type ripple struct {
	view     view.View
	replaced *check.Def
	typed    *answer.Value // what the replaced one was
	told     []rippled
	numbers  []float64
	marks    map[int][]run.Mark // where there are any, by where the numbers begin
}

// rippled is a Def with where its old numbers begin, and its new ones.
type rippled struct {
	d             *check.Def
	was, now, end int
}

func (r *ripple) keep(d *check.Def, was, now *run.Col) {
	t := rippled{d: d}
	t.was, t.now = r.add(was), r.add(now)
	t.end = len(r.numbers)
	r.told = append(r.told, t)
}

func (r *ripple) add(c *run.Col) int {
	at := len(r.numbers)
	r.numbers = append(r.numbers, c.V...)
	if c.Marks != nil {
		if r.marks == nil {
			r.marks = map[int][]run.Mark{}
		}
		r.marks[at] = slices.Clone(c.Marks)
	}
	return at
}

// deltas are the changes that are kept.
func (r *ripple) deltas() []answer.Delta {
	if len(r.told) == 0 {
		return nil
	}
	deltas := make([]answer.Delta, len(r.told))
	for i, t := range r.told {
		deltas[i] = answer.NewDelta(t.d.Name, t.d.Line, r, i)
	}
	return deltas
}

// Value implements answer.Kept.
func (r *ripple) Value(at int, now bool) *answer.Value {
	t := r.told[at]
	from, to := t.was, t.now
	switch {
	case !now && t.d == r.replaced:
		return r.typed
	case now:
		from, to = t.now, t.end
	}
	return r.view.ValueOf(t.d, &run.Col{Rows: to - from, Width: 1, V: r.numbers[from:to], Marks: r.marks[from]})
}

func turned(c *answer.Change, d *check.Def, old, now answer.Verdict) {
	if old != now {
		c.Turns = append(c.Turns, answer.Turn{Name: view.PlaceName(d), Cond: answer.Expr{Expr: d.Expr}, Line: d.Line,
			Was: old, Now: now})
	}
}

// reported says whether a Def is one whose change is told: what the notebook
// names, and what the sheets it has placed give.
func (b *Book) reported(d *check.Def) bool {
	switch d.Role {
	case check.Named, check.Asked, check.Given, check.Column:
		return d.At == nil || d.At.Parent == nil && d.At.Name != "" && (d.Set() || d.Role == check.Given || d.Told())
	}
	return false
}

// snapshot is what a change is measured against.
type snapshot struct {
	values map[string]*answer.Value
	order  []string
	lines  map[string]int
	rules  []ruleState
	thats  map[*syntax.Line]*syntax.Line
}

// ruleState is a rule as it is judged.
type ruleState struct {
	name    string // of the placed sheet it belongs to
	cond    answer.Expr
	line    int
	verdict answer.Verdict
	def     *check.Def
}

// ruleStates are the rules of the notebook and of its placed sheets.
func (b *Book) ruleStates() []ruleState {
	var rules []ruleState
	for _, d := range b.C.Order {
		if d.OfLine {
			rules = append(rules, ruleState{view.PlaceName(d), answer.Expr{Expr: d.Expr}, d.Line, b.RuleVerdict(d), d})
		}
	}
	return rules
}

// match calls f with the rules that are the same in two states of a notebook, by
// what they belong to and what they say; with nil for one that the other has not.
func match(old, now []ruleState, f func(was, is *ruleState)) {
	type key struct{ name, text string }
	was := map[key][]*ruleState{}
	for i := range old {
		k := key{old[i].name, old[i].cond.String()}
		was[k] = append(was[k], &old[i])
	}
	found := map[*ruleState]bool{}
	for i := range now {
		k := key{now[i].name, now[i].cond.String()}
		if len(was[k]) == 0 {
			f(nil, &now[i])
			continue
		}
		f(was[k][0], &now[i])
		found[was[k][0]] = true
		was[k] = was[k][1:]
	}
	for i := range old {
		if !found[&old[i]] {
			f(&old[i], nil)
		}
	}
}

func (b *Book) snapshot() *snapshot {
	s := &snapshot{values: map[string]*answer.Value{}, lines: map[string]int{}, rules: b.ruleStates(),
		thats: map[*syntax.Line]*syntax.Line{}}
	for _, d := range b.C.Order {
		if d.OfLine || d.Name == "" || d.Line < 0 || !b.reported(d) {
			continue
		}
		if _, twice := s.values[d.Name]; !twice {
			s.order = append(s.order, d.Name)
		}
		s.values[d.Name] = b.Value(d)
		s.lines[d.Name] = d.Line
	}
	for i, d := range b.C.Main {
		if d != nil && d.That() >= 0 {
			s.thats[b.C.Lines[i]] = b.C.Lines[d.That()]
		}
	}
	return s
}

// compare says what has changed since a snapshot: values that differ or are
// gone, verdicts that turned, and every "that" that means another line. What is
// new is no change: its own line shows it.
func (b *Book) compare(old *snapshot) answer.Change {
	now := b.snapshot()
	var c answer.Change
	for _, name := range now.order {
		if was, ok := old.values[name]; ok && !equal(was, now.values[name]) {
			c.Deltas = append(c.Deltas, answer.NewDelta(name, now.lines[name], answer.Pair{was, now.values[name]}, 0))
		}
	}
	for _, name := range old.order {
		root, _, _ := strings.Cut(name, ".")
		if _, ok := now.values[name]; !ok && !b.C.Shared(root) {
			c.Deltas = append(c.Deltas, answer.NewDelta(name, -1, answer.Pair{old.values[name]}, 0))
		}
	}
	match(old.rules, now.rules, func(was, is *ruleState) {
		if was != nil && is != nil && was.verdict != is.verdict {
			c.Turns = append(c.Turns, answer.Turn{Name: is.name, Cond: is.cond, Line: is.line, Was: was.verdict,
				Now: is.verdict})
		}
	})
	c.Moved = b.rebound(old, now)
	return c
}

func (b *Book) rebound(old, now *snapshot) []answer.Rebound {
	index := make(map[*syntax.Line]int, len(b.C.Lines))
	for i, l := range b.C.Lines {
		index[l] = i
	}
	var moved []answer.Rebound
	for i, l := range b.C.Lines {
		was, is := old.thats[l], now.thats[l]
		if was == nil || is == nil || was == is {
			continue
		}
		r := answer.Rebound{Line: i, Was: -1, Now: index[is]}
		if j, ok := index[was]; ok {
			r.Was = j
		}
		moved = append(moved, r)
	}
	return moved
}

// equal reports whether two values would be told apart.
func equal(v, w *answer.Value) bool {
	if v == nil || w == nil {
		return v == w
	}
	if v.Type.Kind != w.Type.Kind || v.Type.Dim != w.Type.Dim || len(v.Numbers) != len(w.Numbers) ||
		v.Sound() != w.Sound() {
		return false
	}
	for i := range v.Numbers {
		if v.Texts != nil && w.Texts != nil {
			if v.Texts[i] != w.Texts[i] {
				return false
			}
		} else if v.Numbers[i] != w.Numbers[i] {
			return false
		}
	}
	return true
}
