package study

import (
	"context"
	"math"
	"slices"
	"strconv"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/calc/view"
	"railsum/units"
	"railsum/units/words"
)

// Asking answers a study: it has a method for each kind that takes no more than
// the lines, each in a file of its own.
type Asking struct {
	*Lab
	ctx  context.Context
	s    *check.Study
	kept studied
	err  error
}

// Ask makes a study ready to be answered by the method for its kind.
func (l *Lab) Ask(ctx context.Context, s *check.Study) *Asking {
	return &Asking{Lab: l, ctx: ctx, s: s}
}

// Study is the study that is answered.
func (a *Asking) Study() *check.Study { return a.s }

// Answer gives the answer. What only the study's values show to be wrong comes as
// Diags. The error is that of the context.
func (a *Asking) Answer() (answer.Study, []syntax.Diag, error) {
	return a.kept.answer, a.kept.diags, a.err
}

// studied is what becomes of a study.
type studied struct {
	answer answer.Study
	diags  []syntax.Diag
}

func (l *Lab) problem(k *studied, p *Problem) {
	switch {
	case p.Part == nil || p.Part.Expr == nil:
		k.diags = append(k.diags, problem(syntax.Pos{}, p.Wrong))
	case p.NoAnswer:
		k.diags = append(k.diags, l.noAnswer(p.Part.Expr.Pos(), p.Part))
	default:
		k.diags = append(k.diags, problem(p.Part.Expr.Pos(), p.Wrong))
	}
}

// noAnswer says why a part of a study has no answer: at the operation that has
// none, if it is written there; else the line that it is written on is in error,
// and this is but a notice.
func (l *Lab) noAnswer(at syntax.Pos, part *check.Def) syntax.Diag {
	m := l.markOf(part)
	switch {
	case m == 0:
		return problem(at, words.Say("this has no answer"))
	case l.ownFault(part):
		return problem(l.M.Site(m).At, m.Fault().Wrong())
	}
	return syntax.Diag{At: at, Notice: true, Wrong: words.Say("no answer here: %s", l.Why(m))}
}

// ownFault reports whether a part of a study has no answer for a reason that is
// written in it, and so is told nowhere else.
func (l *Lab) ownFault(part *check.Def) bool {
	m := l.markOf(part)
	return m != 0 && l.M.Site(m).Def == part && l.OfStudy(part)
}

// markOf gives the first mark in a Def's column, 0 if every row is sound.
func (l *Lab) markOf(d *check.Def) run.Mark {
	if col := l.M.Col(d); col != nil {
		if i := view.FirstMarked(col); i >= 0 {
			return col.Marks[i]
		}
	}
	return 0
}

// fits holds the values that a study gives an input to what the input takes, as
// a line that sets it is held. It reports false if there can be no answer.
func (l *Lab) fits(k *studied, a check.Axis, part *check.Def, values ...float64) bool {
	x := a.X
	col := &run.Col{Rows: len(values), Width: 1, V: values}
	if why := l.NoChoice(x, col); why != "" {
		k.diags = append(k.diags, problem(part.Expr.Pos(), words.Wrong{Message: why}))
		return false
	}
	if i := slices.IndexFunc(values, func(v float64) bool { return !function.IsWhole(v) }); a.Whole && i >= 0 {
		k.diags = append(k.diags, check.NotWhole(part.Expr.Pos(), a.Name.String(), values[i]))
		return false
	}
	if l.Beyond(x, values) {
		if d := l.OutsideRange(x, part.Expr.Pos()); !slices.Contains(k.diags, d) {
			k.diags = append(k.diags, d)
		}
	}
	return true
}

// like makes a value of a number in the type of a Def, shown as the Def is, or,
// with as, in that unit.
func (l *Lab) like(d *check.Def, x float64, as *syntax.UnitRef) *answer.Value {
	v := &answer.Value{Type: d.Type.Scalar(), Numbers: []float64{x}}
	switch {
	case as != nil:
		v.Unit = as.Unit
	case d.Type.Kind == types.Text:
		v.Texts = []string{l.M.Text(x)}
	default:
		v.Unit = l.UnitFor(v, check.Display{Show: d.Show, Pinned: d.Pinned, AskUnit: d.AskUnit})
	}
	if d.Type.Kind != types.Text {
		v.Numbers[0] = settled(x, v.Unit)
	}
	return v
}

// settled takes the rounding of a search out of a value: the 13th digit, and of
// a temperature what would be all that is left near the zero of its scale.
func settled(x float64, u units.Unit) float64 {
	y := u.FromSI(x)
	switch {
	case math.IsInf(y, 0) || math.IsNaN(y):
		return x
	case u.Point():
		return fromText(strconv.FormatFloat(y, 'f', 10, 64), u)
	}
	return fromText(strconv.FormatFloat(y, 'g', 12, 64), u)
}

var kelvin = units.Known("K")

// difference makes a value of a difference between two values of a Def.
func (l *Lab) difference(d *check.Def, x float64) *answer.Value {
	t := d.Type.Scalar()
	if t.Kind == types.Point {
		return &answer.Value{Type: types.Type{Kind: types.Number, Dim: kelvin.Dim()}, Numbers: []float64{x}, Unit: kelvin}
	}
	if t.Kind == types.Date {
		t = types.Type{Kind: types.Number, Dim: units.Known("s").Dim()}
	}
	v := &answer.Value{Type: t, Numbers: []float64{x}}
	v.Unit = l.UnitFor(v, check.Display{Show: d.Show, Pinned: d.Pinned})
	return v
}

// inPercent is a change as a share of what was; it means nothing of a
// temperature or of nothing, and a percentage of a percentage confuses.
func inPercent(d *check.Def, change, was float64) *float64 {
	if d.Type.Kind == types.Point || was == 0 || d.Show.Percent() {
		return nil
	}
	share := change / math.Abs(was) * 100
	return &share
}

// problem is a Diag of a study whose values do not make sense.
func problem(at syntax.Pos, wrong words.Wrong) syntax.Diag {
	return syntax.Diag{At: at, Wrong: wrong}
}
