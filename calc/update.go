package calc

import (
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
)

// Update makes the book one of the given lines and reports what changed. Lines
// that are the same pointers count as unchanged. Where one line is replaced by
// another that names the same thing, only what depends on it is computed again;
// where a line is added at the end, only that line; any other edit checks the
// notebook anew.
func (b *Book) Update(lines []*syntax.Line) Change {
	b.studies, b.faults = nil, nil
	old := b.checked.Lines
	if i, ok := oneReplaced(old, lines); ok {
		if change, done := b.replace(i, lines[i]); done {
			return change
		}
	}
	if len(lines) == len(old)+1 && samePrefix(old, lines) {
		if from, ok := b.checked.Append(lines[len(old)]); ok {
			b.machine.Extend(b.checked.Order[from:])
			b.machine.Compute(from)
			return Change{}
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
func (b *Book) replace(i int, l *syntax.Line) (Change, bool) {
	d, ok := b.checked.Replace(i, l)
	if !ok {
		return Change{}, false
	}
	var change Change
	b.machine.Lower(d)
	b.machine.Recompute(d, func(d *check.Def, old *run.Col) {
		switch {
		case d.Role == check.Ruled && d.Listed:
			change.turn(d, verdict(d, old, 0), verdict(d, b.machine.Col(d), 0))
		case d.Name != "" && b.listed(d):
			change.Deltas = append(change.Deltas, Delta{Name: d.Name, Line: d.Line, Old: b.valueOf(d, old), New: b.value(d)})
		}
	})
	return change, true
}

func (c *Change) turn(d *check.Def, old, now Verdict) {
	if old != now {
		c.Turns = append(c.Turns, Turn{Name: placeName(d), Text: syntax.PrintExpr(d.Expr), Line: d.Line, Old: old, New: now})
	}
}

func placeName(d *check.Def) string {
	if d.At == nil {
		return ""
	}
	return d.At.Name
}

// listed reports whether a Def is one whose change is told: what the notebook
// names, and what the sheets it has placed give.
func (b *Book) listed(d *check.Def) bool {
	switch d.Role {
	case check.Named, check.Asked, check.Given, check.Column:
		return d.At == nil || d.At.Parent == nil && d.At.Name != "" && (d.Set() || d.Role == check.Given)
	}
	return false
}

// snapshot is what a change is measured against.
type snapshot struct {
	values map[string]*Value
	order  []string
	lines  map[string]int
	rules  []ruleState
	thats  map[*syntax.Line]*syntax.Line
}

type ruleState struct {
	name, text string
	line       int
	verdict    Verdict
}

func (b *Book) snapshot() *snapshot {
	s := &snapshot{values: map[string]*Value{}, lines: map[string]int{}, thats: map[*syntax.Line]*syntax.Line{}}
	for _, d := range b.checked.Order {
		switch {
		case d.Listed:
			s.rules = append(s.rules, ruleState{placeName(d), syntax.PrintExpr(d.Expr), d.Line, b.judge(d).Verdict})
		case d.Name != "" && d.Line >= 0 && b.listed(d):
			if _, twice := s.values[d.Name]; !twice {
				s.order = append(s.order, d.Name)
			}
			s.values[d.Name] = b.value(d)
			s.lines[d.Name] = d.Line
		}
	}
	for i, d := range b.checked.Main {
		if d != nil && d.That() >= 0 {
			s.thats[b.checked.Lines[i]] = b.checked.Lines[d.That()]
		}
	}
	return s
}

// compare says what has changed since a snapshot: values that differ or are
// gone, verdicts that turned, and every "that" that means another line. What is
// new is no change: its own line shows it.
func (b *Book) compare(old *snapshot) Change {
	now := b.snapshot()
	var c Change
	for _, name := range now.order {
		if was, ok := old.values[name]; ok && !was.equal(now.values[name]) {
			c.Deltas = append(c.Deltas, Delta{Name: name, Line: now.lines[name], Old: was, New: now.values[name]})
		}
	}
	for _, name := range old.order {
		if _, ok := now.values[name]; !ok {
			c.Deltas = append(c.Deltas, Delta{Name: name, Line: -1, Old: old.values[name]})
		}
	}
	type key struct{ name, text string }
	was := map[key][]Verdict{}
	for _, r := range old.rules {
		k := key{r.name, r.text}
		was[k] = append(was[k], r.verdict)
	}
	for _, r := range now.rules {
		k := key{r.name, r.text}
		if len(was[k]) == 0 {
			continue
		}
		if v := was[k][0]; v != r.verdict {
			c.Turns = append(c.Turns, Turn{Name: r.name, Text: r.text, Line: r.line, Old: v, New: r.verdict})
		}
		was[k] = was[k][1:]
	}
	c.Moved = b.rebound(old, now)
	return c
}

func (b *Book) rebound(old, now *snapshot) []Rebound {
	index := make(map[*syntax.Line]int, len(b.checked.Lines))
	for i, l := range b.checked.Lines {
		index[l] = i
	}
	var moved []Rebound
	for i, l := range b.checked.Lines {
		was, is := old.thats[l], now.thats[l]
		if was == nil || is == nil || was == is {
			continue
		}
		r := Rebound{Line: i, Was: -1, Now: index[is]}
		if j, ok := index[was]; ok {
			r.Was = j
		}
		moved = append(moved, r)
	}
	return moved
}

// equal reports whether two values would be told apart.
func (v *Value) equal(w *Value) bool {
	if v == nil || w == nil {
		return v == w
	}
	if v.Type.Kind != w.Type.Kind || v.Type.Dim != w.Type.Dim || len(v.Numbers) != len(w.Numbers) || v.Sound() != w.Sound() {
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
