package view

import (
	"fmt"
	"math"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Judge gives a rule its verdict. A rule without an answer is never clear.
func (b View) Judge(d *check.Def) answer.Judged {
	j := answer.Judged{Must: answer.Must(d.Must), Cond: answer.Expr{Expr: d.Expr}, Nominal: d.Loose,
		Verdict: b.RuleVerdict(d)}
	j.Say(d.Src.Note)
	col := b.M.Col(d)
	if !computed(d, col) {
		j.Why, j.Follows = b.WhyNot(d), true
		return j
	}
	if marked := FirstMarked(col); j.Verdict == answer.NoVerdict && marked >= 0 {
		j.Why = b.Why(col.Marks[marked])
	}
	if d.Type.Of == nil {
		j.Compared = b.Compared(d, 0)
		return j
	}
	j.Rows = col.Rows
	for r, x := range col.V {
		if x == 0 || col.Marks != nil && col.Marks[r] != 0 {
			j.Fails = append(j.Fails, d.Type.Of.Labels[r])
		}
	}
	if r := b.worstRow(d, col); r >= 0 {
		if j.Compared = b.Compared(d, r); j.Compared != nil {
			j.Compared.Row = d.Type.Of.Labels[r]
		}
	}
	return j
}

// computed reports whether a Def has a column to look at.
func computed(d *check.Def, col *run.Col) bool {
	return d.OK() && col != nil && (len(col.V) > 0 || col.Rows == 0)
}

// RuleVerdict is a rule's verdict alone.
func (b View) RuleVerdict(d *check.Def) answer.Verdict {
	if col := b.M.Col(d); computed(d, col) {
		return VerdictAt(d, col, 0)
	}
	return answer.NoVerdict
}

// VerdictAt is what a rule's column says at a row of a study: the worst of its
// table's rows.
func VerdictAt(rule *check.Def, col *run.Col, study int) answer.Verdict {
	if col.Rows == 0 {
		return answer.NotJudged
	}
	worst := answer.Clear
	for r := range col.Rows {
		v, mk := col.At(r, study)
		switch {
		case mk != 0:
			worst = max(worst, answer.NoVerdict)
		case v == 0 && rule.Must:
			worst = max(worst, answer.Danger)
		case v == 0:
			worst = max(worst, answer.Caution)
		}
	}
	return worst
}

// FirstMarked finds the first row without an answer, -1 if there is none.
func FirstMarked(col *run.Col) int {
	for i, m := range col.Marks {
		if m != 0 {
			return i
		}
	}
	return -1
}

// Compared gives the two values that a rule compares in a row, nil where there
// are not two quantities to compare.
func (b View) Compared(d *check.Def, row int) *answer.Compared {
	cmp, ok := d.Expr.(*syntax.Compare)
	if !ok || len(d.Sides) != 2 {
		return nil
	}
	x, y := b.RowValue(d.Sides[0], row), b.RowValue(d.Sides[1], row)
	if x == nil || y == nil || !x.Quantity() || !y.Quantity() {
		return nil
	}
	return &answer.Compared{Left: x, Sign: cmp.Ops[0], Right: y}
}

// RowValue is the value of one row of a Def, which may be a single value.
func (b View) RowValue(d *check.Def, row int) *answer.Value {
	col := b.M.Col(d)
	if d.Type.Of == nil || col == nil || row >= len(col.V) {
		return b.Value(d)
	}
	one := &run.Col{Rows: 1, Width: 1, V: col.V[row : row+1]}
	if col.Marks != nil {
		one.Marks = col.Marks[row : row+1]
	}
	v := b.ValueOf(d, one)
	v.Type = v.Type.Scalar()
	return v
}

// worstRow is the row of a rule over a column in which the two sides lie worst
// to one another: of the rows that fail, if there are any, else the one that
// comes nearest to it; -1 where no row compares two quantities, or where two are
// to be the same and are in every row.
func (b View) worstRow(d *check.Def, col *run.Col) int {
	cmp, ok := d.Expr.(*syntax.Compare)
	if !ok || len(d.Sides) != 2 {
		return -1
	}
	x, y := b.M.Col(d.Sides[0]), b.M.Col(d.Sides[1])
	if x == nil || y == nil {
		return -1
	}
	worst, most, failing := -1, math.Inf(-1), false
	for r, v := range col.V {
		left, m1 := x.At(min(r, x.Rows-1), 0)
		right, m2 := y.At(min(r, y.Rows-1), 0)
		if m1 != 0 || m2 != 0 || failing && v != 0 {
			continue
		}
		if v != 0 && cmp.Ops[0] == "=" {
			continue
		}
		if over := excess(cmp.Ops[0], left, right); v == 0 && !failing || over > most {
			worst, most, failing = r, over, failing || v == 0
		}
	}
	return worst
}

// excess is how far a comparison is from holding, as a share of the larger side;
// below nothing it holds.
func excess(sign string, x, y float64) float64 {
	by := (x - y) / math.Max(math.Max(math.Abs(x), math.Abs(y)), math.SmallestNonzeroFloat64)
	switch sign {
	case "=":
		return math.Abs(by)
	case "!=":
		return -math.Abs(by)
	case ">", ">=":
		return -by
	}
	return by
}

// Why says where and how a row lost its answer.
func (b View) Why(m run.Mark) string {
	site := b.M.Site(m)
	where := ""
	switch {
	case site.Def == nil:
	case site.Def.Name != "":
		where = " in " + site.Def.Name
	case site.Def.At != nil:
		where = fmt.Sprintf(" in %s, line %d", site.Def.At.Sheet.Name, site.Def.Src.Row)
	case site.Def.Line >= 0:
		where = fmt.Sprintf(" on line %d", site.Def.Src.Row)
	}
	return m.Fault().Words() + where
}

// WhyNot says why a Def that could not be checked has no value.
func (b View) WhyNot(d *check.Def) string {
	switch {
	case d.At != nil && !d.Set(): // its own sheet is sound: the cause is a setting
	case len(d.Waits) > 0:
		return d.Waits[0] + " is not defined"
	case len(d.Diags) > 0:
		return d.Diags[0].Message
	}
	return "something it needs has no answer"
}

// CardVerdict is the worst of a placed sheet's rules, its inputs outside their
// range included.
func (b View) CardVerdict(p *check.Placement) answer.Verdict {
	if p.Scope == nil || len(p.Unfit()) > 0 {
		return answer.NoVerdict
	}
	worst := answer.NotJudged
	rules := 0
	for _, in := range p.Whole() {
		rules += len(in.Rules)
		for _, d := range in.Rules {
			worst = max(worst, b.RuleVerdict(d))
		}
		for _, d := range in.Asks {
			worst = max(worst, b.InputVerdict(d))
		}
	}
	for _, d := range p.Gives {
		if v := b.Value(d); v == nil || !v.Sound() {
			worst = max(worst, answer.NoVerdict)
		}
	}
	if worst == answer.NotJudged && rules == 0 {
		worst = answer.Clear
	}
	return worst
}

// InputVerdict is no verdict for an input without an answer or that is none of
// its choices, and caution for one outside its range.
func (b View) InputVerdict(d *check.Def) answer.Verdict {
	v := b.Value(d)
	switch {
	case v == nil || !v.Sound() || b.NotAmong(d) != "":
		return answer.NoVerdict
	case b.Outside(d):
		return answer.Caution
	}
	return answer.Clear
}

// Outside reports whether an input lies outside the range it is good for, in
// any row.
func (b View) Outside(d *check.Def) bool {
	col := b.M.Col(d)
	if col == nil || col.Marks == nil {
		return col != nil && b.Beyond(d, col.V)
	}
	var there []float64
	for i, x := range col.V {
		if col.Marks[i] == 0 {
			there = append(there, x)
		}
	}
	return b.Beyond(d, there)
}

// Beyond reports whether a value lies outside the range that an input is good
// for.
func (b View) Beyond(d *check.Def, values []float64) bool {
	if d.Bounds[0] == nil {
		return false
	}
	lo, hi := b.M.Col(d.Bounds[0]), b.M.Col(d.Bounds[1])
	if lo == nil || hi == nil || len(lo.V) != 1 || len(hi.V) != 1 {
		return false
	}
	for _, x := range values {
		if run.Less(x, lo.V[0]) || run.Less(hi.V[0], x) {
			return true
		}
	}
	return false
}

// NotAmong says that an input is none of the choices, empty if it is one.
func (b View) NotAmong(d *check.Def) string {
	col := b.M.Col(d)
	if len(d.Choice) == 0 || col == nil {
		return ""
	}
	return b.NoChoice(d, col)
}

// NoChoice says which of a column's values is none of an input's choices.
func (b View) NoChoice(d *check.Def, col *run.Col) string {
	for i, x := range col.V {
		found := len(d.Choice) == 0
		for _, c := range d.Choice {
			if cc := b.M.Col(c); cc != nil && len(cc.V) == 1 && run.Equal(cc.V[0], x) {
				found = true
			}
		}
		if !found {
			v := b.ValueOf(d, col)
			cell := v.Cell(i)
			if d.Type.Kind == types.Text {
				cell = fmt.Sprintf("%q", cell)
			}
			return fmt.Sprintf("%s is none of the choices of %s: %s", cell, ShortName(d), Choices(d))
		}
	}
	return ""
}
