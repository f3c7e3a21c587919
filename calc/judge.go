package calc

import (
	"fmt"

	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// judge gives a rule its verdict. A rule without an answer is never clear.
func (b *Book) judge(d *check.Def) Judged {
	j := Judged{Must: d.Must, Text: syntax.PrintExpr(d.Expr), Meaning: d.Src.Note, Tolerance: d.Loose}
	col := b.machine.Col(d)
	if !d.OK() || col == nil || len(col.V) == 0 && col.Rows != 0 {
		j.Verdict, j.Why, j.Follows = NoVerdict, b.whyNot(d), true
		return j
	}
	if d.Type.Of != nil {
		j.Rows = col.Rows
	}
	j.Verdict = verdict(d, col, 0)
	if marked := firstMarked(col); j.Verdict == NoVerdict && marked >= 0 {
		j.Why = b.why(col.Marks[marked])
	}
	if d.Type.Of != nil {
		for r, x := range col.V {
			if (x == 0 || col.Marks != nil && col.Marks[r] != 0) && r < len(d.Type.Of.Labels) {
				j.Fails = append(j.Fails, d.Type.Of.Labels[r])
			}
		}
		return j
	}
	j.Sides = b.sides(d)
	return j
}

// verdict is what a rule's column says at a row of a study: the worst of its
// table's rows.
func verdict(rule *check.Def, col *run.Col, study int) Verdict {
	if col.Rows == 0 {
		return NotJudged
	}
	worst := Clear
	for r := range col.Rows {
		v, mk := col.At(r, study)
		switch {
		case mk != 0:
			worst = max(worst, NoVerdict)
		case v == 0 && rule.Must:
			worst = max(worst, Danger)
		case v == 0:
			worst = max(worst, Caution)
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

// sides spells the two values that a rule compares.
func (b *Book) sides(d *check.Def) string {
	cmp, ok := d.Expr.(*syntax.Compare)
	if !ok || len(d.Sides) != 2 {
		return ""
	}
	x, y := b.value(d.Sides[0]), b.value(d.Sides[1])
	if x == nil || y == nil || x.Column() || y.Column() || x.Type.Kind == types.Text || x.Type.Kind == types.Truth {
		return ""
	}
	return fmt.Sprintf("%s %s %s", x.Cell(0), cmp.Ops[0], y.Cell(0))
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
func (b *Book) cardVerdict(p *check.Placement) Verdict {
	if p.Scope == nil {
		return NoVerdict
	}
	worst := NotJudged
	rules := 0
	for _, in := range p.Whole() {
		rules += len(in.Rules)
		for _, d := range in.Rules {
			worst = max(worst, b.judge(d).Verdict)
		}
		for _, d := range in.Asks {
			worst = max(worst, b.inputVerdict(d))
		}
	}
	for _, d := range p.Gives {
		if v := b.value(d); v == nil || !v.Sound() {
			worst = max(worst, NoVerdict)
		}
	}
	if worst == NotJudged && rules == 0 {
		worst = Clear
	}
	return worst
}

// inputVerdict is no verdict for an input without an answer or that is none of
// its choices, and caution for one outside its range.
func (b *Book) inputVerdict(d *check.Def) Verdict {
	v := b.value(d)
	switch {
	case v == nil || !v.Sound() || b.notAmong(d) != "":
		return NoVerdict
	case b.outside(d):
		return Caution
	}
	return Clear
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
