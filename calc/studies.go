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
	var err error
	switch node := s.Node.(type) {
	case *syntax.Find:
		err = b.find(ctx, s, node, &kept)
	case *syntax.Vary:
		err = b.vary(ctx, s, node, &kept)
	case *syntax.Suppose:
		err = b.suppose(ctx, s, node, &kept)
	case *syntax.Spread:
		err = b.spread(ctx, s, node, &kept)
	case *syntax.Working:
		kept.answer = b.working(s.X, node.Levels, s.Row)
	case *syntax.Measured:
		err = b.measure(ctx, s, node, &kept)
	}
	if err != nil {
		return nil, nil, err
	}
	if b.studies == nil {
		b.studies = map[int]studied{}
	}
	b.studies[i] = kept
	return kept.answer, kept.diags, nil
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

var kelvin = units.Known("K")

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

func (b *Book) find(ctx context.Context, s *check.Study, node *syntax.Find, kept *studied) error {
	axis := s.Axes[0]
	found, p, err := b.Lab().Find(ctx, s)
	if p != nil {
		b.problem(kept, p)
	}
	if err != nil || p != nil {
		return err
	}
	f := &answer.Found{Name: node.X.String(), Cond: answer.Expr{Expr: node.So}, Places: []answer.Place{}, Grown: found.Grown,
		More: found.More, Holds: len(found.Spans) > 0 || found.All, All: found.All, Current: b.value(axis.X)}
	x := func(v float64) *answer.Value { return b.like(axis.X, v, node.As) }
	side := func(n study.Near) []*answer.Value {
		return []*answer.Value{b.like(s.Show[0], n.Left, nil), b.like(s.Show[1], n.Right, nil)}
	}
	if axis.Among == nil {
		f.Looked = []*answer.Value{x(found.From), x(found.To)}
	}
	for _, sp := range found.Spans {
		st := answer.Place{From: x(sp.From), To: x(sp.To), ToStart: sp.AtFrom, ToEnd: sp.AtTo, Touches: sp.Touches, Jump: sp.Jump, FromOut: sp.OutFrom, ToOut: sp.OutTo}
		if sp.Jump {
			st.Before, st.Behind = side(sp.Before), side(sp.Behind)
		}
		f.Places = append(f.Places, st)
	}
	for _, p := range found.Poles {
		f.Poles = append(f.Poles, x(p))
	}
	if found.Near != nil {
		two := side(*found.Near)
		f.Near = &answer.Near{X: x(found.Near.X), Left: two[0], Right: two[1]}
	}
	if axis.Among != nil {
		for _, d := range axis.Among {
			if col := b.machine.Col(d); col != nil {
				f.Tried += len(col.V)
			}
		}
		if found.Chosen >= 0 {
			f.Chosen = x(found.Spans[0].From)
			if of := axis.Among[0].Type.Of; of != nil && found.Chosen < len(of.Labels) {
				f.Label = of.Labels[found.Chosen]
			}
		}
	}
	kept.answer = f
	if f.Take, err = b.takeOver(ctx, s, found, f); err != nil {
		return err
	}
	return b.ends(ctx, s, f)
}

func (b *Book) suppose(ctx context.Context, s *check.Study, node *syntax.Suppose, kept *studied) error {
	got, p, err := b.Lab().Suppose(ctx, s)
	if p != nil {
		b.problem(kept, p)
	}
	if err != nil || p != nil {
		return err
	}
	for _, a := range s.Axes {
		if x := b.machine.Col(a.Value).V[0]; !b.fits(kept, a.X, a.Value, x) {
			return nil
		}
	}
	out := &answer.Supposed{Lines: []answer.Beside{}, Turns: []answer.Turn{}}
	for _, x := range node.Sets {
		out.Sets = append(out.Sets, x.X.String()+" = "+syntax.PrintExpr(x.Expr))
	}
	for i, d := range s.Show {
		l := answer.Beside{Name: syntax.PrintExpr(node.Show[i].Expr), Now: b.value(d), Then: b.valueOf(d, &got.Show[i])}
		if d.Quantity() && l.Now.Sound() && l.Then.Sound() {
			was, is := l.Now.Numbers[0], l.Then.Numbers[0]
			l.Change = b.difference(d, is-was)
			l.Percent = inPercent(d, is-was, was)
		}
		out.Lines = append(out.Lines, l)
	}
	for i, rule := range got.Rules {
		was, now := b.ruleVerdict(rule), verdict(rule, &got.Then[i], 0)
		if was != now {
			out.Turns = append(out.Turns, answer.Turn{Name: placeName(rule), Cond: answer.Expr{Expr: rule.Expr}, Line: rule.Line, Was: was, Now: now})
		}
	}
	kept.answer = out
	return nil
}

var percent, _ = units.Parse("%")

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
