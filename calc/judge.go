package calc

import (
	"fmt"
	"math"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// judge gives a rule its verdict. A rule without an answer is never clear.
func (b *Book) judge(d *check.Def) answer.Judged {
	j := answer.Judged{Must: answer.Must(d.Must), Cond: answer.Expr{Expr: d.Expr}, Meaning: d.Src.Note, Nominal: d.Loose, Verdict: b.ruleVerdict(d)}
	col := b.machine.Col(d)
	if !computed(d, col) {
		j.Why, j.Follows = b.whyNot(d), true
		return j
	}
	if marked := firstMarked(col); j.Verdict == answer.NoVerdict && marked >= 0 {
		j.Why = b.why(col.Marks[marked])
	}
	if d.Type.Of == nil {
		j.Compared = b.compared(d, 0)
		return j
	}
	j.Rows = col.Rows
	for r, x := range col.V {
		if x == 0 || col.Marks != nil && col.Marks[r] != 0 {
			j.Fails = append(j.Fails, d.Type.Of.Labels[r])
		}
	}
	if r := b.worstRow(d, col); r >= 0 {
		if j.Compared = b.compared(d, r); j.Compared != nil {
			j.Compared.Row = d.Type.Of.Labels[r]
		}
	}
	return j
}

// computed reports whether a Def has a column to look at.
func computed(d *check.Def, col *run.Col) bool {
	return d.OK() && col != nil && (len(col.V) > 0 || col.Rows == 0)
}

// ruleVerdict is a rule's verdict alone.
func (b *Book) ruleVerdict(d *check.Def) answer.Verdict {
	if col := b.machine.Col(d); computed(d, col) {
		return verdict(d, col, 0)
	}
	return answer.NoVerdict
}

// verdict is what a rule's column says at a row of a study: the worst of its
// table's rows.
func verdict(rule *check.Def, col *run.Col, study int) answer.Verdict {
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

// firstMarked finds the first row without an answer, -1 if there is none.
func firstMarked(col *run.Col) int {
	for i, m := range col.Marks {
		if m != 0 {
			return i
		}
	}
	return -1
}

// compared gives the two values that a rule compares in a row, nil where there
// are not two quantities to compare.
func (b *Book) compared(d *check.Def, row int) *answer.Compared {
	cmp, ok := d.Expr.(*syntax.Compare)
	if !ok || len(d.Sides) != 2 {
		return nil
	}
	x, y := b.rowValue(d.Sides[0], row), b.rowValue(d.Sides[1], row)
	if x == nil || y == nil || !x.Quantity() || !y.Quantity() {
		return nil
	}
	return &answer.Compared{Left: x, Sign: cmp.Ops[0], Right: y}
}

// rowValue is the value of one row of a Def, which may be a single value.
func (b *Book) rowValue(d *check.Def, row int) *answer.Value {
	col := b.machine.Col(d)
	if d.Type.Of == nil || col == nil || row >= len(col.V) {
		return b.value(d)
	}
	one := &run.Col{Rows: 1, Width: 1, V: col.V[row : row+1]}
	if col.Marks != nil {
		one.Marks = col.Marks[row : row+1]
	}
	v := b.valueOf(d, one)
	v.Type = v.Type.Scalar()
	return v
}

// worstRow is the row of a rule over a column in which the two sides lie worst
// to one another: of the rows that fail, if there are any, else the one that
// comes nearest to it; -1 where no row compares two quantities, or where two are
// to be the same and are in every row.
func (b *Book) worstRow(d *check.Def, col *run.Col) int {
	cmp, ok := d.Expr.(*syntax.Compare)
	if !ok || len(d.Sides) != 2 {
		return -1
	}
	x, y := b.machine.Col(d.Sides[0]), b.machine.Col(d.Sides[1])
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

// why says where and how a row lost its answer.
func (b *Book) why(m run.Mark) string {
	site := b.machine.Site(m)
	where := ""
	switch {
	case site.Def == nil:
	case site.Def.Name != "":
		where = " in " + site.Def.Name
	case site.Def.At != nil:
		where = fmt.Sprintf(" in %s, row %d", site.Def.At.Sheet.Name, site.Def.Src.Row)
	case site.Def.Line >= 0:
		where = fmt.Sprintf(" on line %d", site.Def.Src.Row)
	}
	return m.Fault().Words() + where
}

// whyNot says why a Def that could not be checked has no value.
func (b *Book) whyNot(d *check.Def) string {
	switch {
	case d.At != nil && !d.Set(): // its own sheet is sound: the cause is a setting
	case len(d.Waits) > 0:
		return d.Waits[0] + " is not defined"
	case len(d.Diags) > 0:
		return d.Diags[0].Message
	}
	return "something it needs has no answer"
}

// cardVerdict is the worst of a placed sheet's rules, its inputs outside their
// range included.
func (b *Book) cardVerdict(p *check.Placement) answer.Verdict {
	if p.Scope == nil {
		return answer.NoVerdict
	}
	worst := answer.NotJudged
	rules := 0
	for _, in := range p.Whole() {
		rules += len(in.Rules)
		for _, d := range in.Rules {
			worst = max(worst, b.ruleVerdict(d))
		}
		for _, d := range in.Asks {
			worst = max(worst, b.inputVerdict(d))
		}
	}
	for _, d := range p.Gives {
		if v := b.value(d); v == nil || !v.Sound() {
			worst = max(worst, answer.NoVerdict)
		}
	}
	if worst == answer.NotJudged && rules == 0 {
		worst = answer.Clear
	}
	return worst
}

// inputVerdict is no verdict for an input without an answer or that is none of
// its choices, and caution for one outside its range.
func (b *Book) inputVerdict(d *check.Def) answer.Verdict {
	v := b.value(d)
	switch {
	case v == nil || !v.Sound() || b.notAmong(d) != "":
		return answer.NoVerdict
	case b.outside(d):
		return answer.Caution
	}
	return answer.Clear
}

// outside reports whether an input lies outside the range it is good for, in
// any row.
func (b *Book) outside(d *check.Def) bool {
	col := b.machine.Col(d)
	return col != nil && b.beyond(d, col.V)
}

// beyond reports whether a value lies outside the range that an input is good
// for.
func (b *Book) beyond(d *check.Def, values []float64) bool {
	if d.Bounds[0] == nil {
		return false
	}
	lo, hi := b.machine.Col(d.Bounds[0]), b.machine.Col(d.Bounds[1])
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

// notAmong says that an input is none of the choices, empty if it is one.
func (b *Book) notAmong(d *check.Def) string {
	col := b.machine.Col(d)
	if len(d.Choice) == 0 || col == nil {
		return ""
	}
	return b.noChoice(d, col)
}

// noChoice says which of a column's values is none of an input's choices.
func (b *Book) noChoice(d *check.Def, col *run.Col) string {
	for i, x := range col.V {
		found := len(d.Choice) == 0
		for _, c := range d.Choice {
			if cc := b.machine.Col(c); cc != nil && len(cc.V) == 1 && run.Equal(cc.V[0], x) {
				found = true
			}
		}
		if !found {
			v := b.valueOf(d, col)
			cell := v.Cell(i)
			if d.Type.Kind == types.Text {
				cell = fmt.Sprintf("%q", cell)
			}
			return fmt.Sprintf("%s is none of the choices of %s: %s", cell, shortName(d), choices(d))
		}
	}
	return ""
}
