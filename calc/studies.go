package calc

import (
	"context"
	"math"
	"slices"
	"strconv"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/study"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

// Lab gives the book's lines to put questions to.
func (b *Book) Lab() *study.Lab {
	return &study.Lab{C: b.checked, M: b.machine, Progress: b.progress}
}

// OnProgress sets what is told how far a long study is.
func (b *Book) OnProgress(f func(share float64)) { b.progress = f }

// Study answers the study of line i, nil if the line is none or is in error.
// What only its values show to be wrong comes as Diags. The answer is kept
// until the book changes.
func (b *Book) Study(ctx context.Context, i int) (answer.Study, []syntax.Diag, error) {
	s := b.checked.Studies[i]
	if s == nil || !s.OK {
		return nil, nil, nil
	}
	if kept, ok := b.studies[i]; ok {
		return kept.answer, kept.diags, nil
	}
	var kept studied
	a := &asking{Book: b, ctx: ctx, s: s, kept: &kept}
	if s.Node.Visit(a); a.err != nil {
		return nil, nil, a.err
	}
	if b.studies == nil {
		b.studies = map[int]studied{}
	}
	b.studies[i] = kept
	return kept.answer, kept.diags, nil
}

// asking answers a study. Each has its method in a file of its own.
type asking struct {
	*Book
	ctx  context.Context
	s    *check.Study
	kept *studied
	err  error
}

type studied struct {
	answer answer.Study
	diags  []syntax.Diag
}

func (b *Book) problem(k *studied, p *study.Problem) {
	switch {
	case p.Part == nil || p.Part.Expr == nil:
		k.diags = append(k.diags, problem(syntax.Pos{}, p.Wrong))
	case p.NoAnswer:
		k.diags = append(k.diags, b.noAnswer(p.Part.Expr.Pos(), p.Part))
	default:
		k.diags = append(k.diags, problem(p.Part.Expr.Pos(), p.Wrong))
	}
}

// noAnswer says why a part of a study has no answer: at the operation that has
// none, if it is written there; else the line that it is written on is in error,
// and this is but a notice.
func (b *Book) noAnswer(at syntax.Pos, part *check.Def) syntax.Diag {
	m := b.markOf(part)
	switch {
	case m == 0:
		return problem(at, words.Say("this has no answer"))
	case b.ownFault(part):
		return problem(b.machine.Site(m).At, m.Fault().Wrong())
	}
	return syntax.Diag{At: at, Notice: true, Wrong: words.Say("no answer here: %s", b.why(m))}
}

// ownFault reports whether a part of a study has no answer for a reason that is
// written in it, and so is told nowhere else.
func (b *Book) ownFault(part *check.Def) bool {
	m := b.markOf(part)
	return m != 0 && b.machine.Site(m).Def == part && b.ofStudy(part)
}

// ofStudy reports whether a Def is a part of a study, and of no other line.
func (b *Book) ofStudy(d *check.Def) bool {
	return d.At == nil && d.Line >= 0 && b.checked.Studies[d.Line] != nil
}

// markOf gives the first mark in a Def's column, 0 if every row is sound.
func (b *Book) markOf(d *check.Def) run.Mark {
	if col := b.machine.Col(d); col != nil {
		if i := firstMarked(col); i >= 0 {
			return col.Marks[i]
		}
	}
	return 0
}

// fits holds the values that a study gives an input to what the input takes, as
// a line that sets it is held. It reports false if there can be no answer.
func (b *Book) fits(k *studied, x, part *check.Def, values ...float64) bool {
	col := &run.Col{Rows: len(values), Width: 1, V: values}
	if why := b.noChoice(x, col); why != "" {
		k.diags = append(k.diags, problem(part.Expr.Pos(), words.Wrong{Message: why}))
		return false
	}
	if b.beyond(x, values) {
		if d := b.outsideRange(x, part.Expr.Pos()); !slices.Contains(k.diags, d) {
			k.diags = append(k.diags, d)
		}
	}
	return true
}

// like makes a value of a number in the type of a Def, shown as the Def is, or,
// with as, in that unit.
func (b *Book) like(d *check.Def, x float64, as *syntax.UnitRef) *answer.Value {
	v := &answer.Value{Type: d.Type.Scalar(), Numbers: []float64{x}}
	switch {
	case as != nil:
		v.Unit = as.Unit
	case d.Type.Kind == types.Text:
		v.Texts = []string{b.machine.Text(x)}
	default:
		v.Unit = b.unitFor(v, check.Display{Show: d.Show, Pinned: d.Pinned, AskUnit: d.AskUnit})
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

var kelvin, percent = units.Known("K"), units.Known("%")

// difference makes a value of a difference between two values of a Def.
func (b *Book) difference(d *check.Def, x float64) *answer.Value {
	t := d.Type.Scalar()
	if t.Kind == types.Point {
		return &answer.Value{Type: types.Type{Kind: types.Number, Dim: kelvin.Dim()}, Numbers: []float64{x}, Unit: kelvin}
	}
	v := &answer.Value{Type: t, Numbers: []float64{x}}
	v.Unit = b.unitFor(v, check.Display{Show: d.Show, Pinned: d.Pinned})
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
