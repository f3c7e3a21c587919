package calc

import (
	"cmp"
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/study"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// What is kept of a sweep to be shown. A sweep with one axis keeps keptRows of
// its rows; with the rows of columns, no more than keptNumbers in all, but of the
// sweep fewestKept at least; where even these are too many, none.
const (
	keptRows    = 10_000
	keptNumbers = 2_000_000
	fewestKept  = 1_000
	keptTurns   = 200
	keptLimits  = 200
)

// rowsOf is how many series a shown value makes.
func rowsOf(d *check.Def) int {
	if d.Type.Of == nil {
		return 1
	}
	return len(d.Type.Of.Labels)
}

// tooMuch says that a sweep shows more numbers than are kept, at the shown
// value that has most of them.
func tooMuch(sweep *study.Sweep, node *syntax.Vary) syntax.Diag {
	at := 0
	for i, d := range sweep.Show {
		if rowsOf(d) > rowsOf(sweep.Show[at]) {
			at = i
		}
	}
	return syntax.Diag{At: node.Show[at].Expr.Pos(), Notice: true, Wrong: words.Say("this shows %d rows of a column at %d values, and no more than %d numbers are kept to be shown", rowsOf(sweep.Show[at]), sweep.Rows, keptNumbers).
		With("name one row, or gather it with sum, most or least")}
}

// empty takes the numbers out of the series; names and units stay.
func empty(v *answer.Varied) {
	for _, all := range [][]answer.Series{v.Axes, v.Shown} {
		for i := range all {
			x := all[i].Value
			x.Numbers, x.Texts, x.Faults = nil, nil, nil
			all[i].Points = 0
		}
	}
	v.Turns, v.MoreTurns, v.Limits = nil, 0, nil
}

// turn is a row from which on a rule's verdict is another.
type turn struct {
	row      int
	rule     *check.Def
	was, now answer.Verdict
}

// turns keeps the first of many turns and counts the others.
type turns struct {
	kept []turn
	more int
}

// follow judges a rule in a block of rows and takes up where its verdict turns;
// last is that of the row before.
func (t *turns) follow(rule *check.Def, col *run.Col, first, n int, last *answer.Verdict) {
	for w := range n {
		now := verdict(rule, col, w)
		if now != *last && first+w > 0 {
			t.add(turn{first + w, rule, *last, now})
		}
		*last = now
	}
}

func (t *turns) add(x turn) {
	t.kept = append(t.kept, x)
	if len(t.kept) >= 8*keptTurns {
		t.cut()
	}
}

func (t *turns) cut() {
	slices.SortStableFunc(t.kept, func(a, b turn) int { return cmp.Or(cmp.Compare(a.row, b.row), cmp.Compare(a.rule.Order, b.rule.Order)) })
	if over := len(t.kept) - keptTurns; over > 0 {
		t.kept, t.more = t.kept[:keptTurns], t.more+over
	}
}

func (t *turns) told() (all []answer.TurnAt, more int) {
	t.cut()
	for _, x := range t.kept {
		all = append(all, answer.TurnAt{Row: x.row, Turn: answer.Turn{Name: placeName(x.rule), Cond: answer.Expr{Expr: x.rule.Expr}, Was: x.was, Now: x.now}})
	}
	return all, t.more
}
