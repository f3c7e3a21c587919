package calc

import (
	"context"
	"fmt"
	"iter"
	"strings"

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

// Answer gives what line i has to say.
func (b *Book) Answer(i int) *Answer { return b.answer(i, b.faultLines()) }

// Answers gives what all lines have to say.
func (b *Book) Answers() []*Answer {
	all := make([]*Answer, len(b.C.Lines))
	for i, a := range b.All() {
		all[i] = a
	}
	return all
}

// All goes through what the lines have to say, each made when it is come to.
func (b *Book) All() iter.Seq2[int, *Answer] {
	return func(yield func(int, *Answer) bool) {
		faults := b.faultLines()
		for i := range b.C.Lines {
			if !yield(i, b.answer(i, faults)) {
				return
			}
		}
	}
}

// Waits names what line i waits for, none of it defined yet.
func (b *Book) Waits(i int) []string {
	_, names := b.C.Said(i)
	return names
}

func (b *Book) answer(i int, faults map[int][]syntax.Diag) *Answer {
	c := b.C
	a := &Answer{Line: c.Lines[i]}
	told, waits := c.Said(i)
	a.Waiting = waits
	diags := append(append([]syntax.Diag(nil), a.Line.Errors...), told...)
	if d := c.Main[i]; d != nil {
		a.Name, a.Assumed = d.Name, d.Assumed
		switch d.Role {
		case check.Ruled:
			j := b.Judge(d)
			a.Rule = &j
		case check.When:
		default:
			a.Value = b.Value(d)
			diags = append(diags, b.rangeDiags(d)...)
			diags = append(diags, b.severalRows(d.Node)...)
		}
		if len(faults[i]) == 0 && a.Value != nil && !a.Value.Sound() {
			diags = append(diags, b.elsewhere(d))
		}
	}
	if t := c.Tabs[i]; t != nil {
		a.Name = t.Called()
		for _, name := range t.Order[1:] {
			if col := t.Columns[name]; col.Line == i || t.Alias != "" && col.At != nil {
				a.Columns = append(a.Columns, answer.CardLine{Name: name, Value: b.Value(col), Why: b.WhyNot(col)})
			}
		}
	}
	for _, p := range c.Places[i] {
		if p.Scope != nil { // else the line's errors say why there is no card
			a.Cards = append(a.Cards, b.card(p))
		}
		for _, d := range p.SetHere(i) {
			diags = append(diags, b.rangeDiags(d)...)
		}
	}
	diags = append(diags, faults[i]...)
	a.add(diags)
	return a
}

func (a *Answer) add(diags []syntax.Diag) {
	for _, d := range diags {
		if d.Notice {
			a.Notices = append(a.Notices, d)
		} else {
			a.Errors = append(a.Errors, d)
		}
	}
}

// rangeDiags says that an input lies outside the range its sheet is good for,
// or is none of its choices.
func (b *Book) rangeDiags(d *check.Def) []syntax.Diag {
	if !d.OK() || d.Role != check.Asked {
		return nil
	}
	if why := b.NotAmong(d); why != "" {
		return []syntax.Diag{{At: d.Expr.Pos(), Wrong: words.Wrong{Message: why}}}
	}
	if !b.Outside(d) {
		return nil
	}
	return []syntax.Diag{b.OutsideRange(d, d.Expr.Pos())}
}

// severalRows says of a look-up by a number that several rows have which the others
// are: 9 mm is the gauge of more scales than one.
func (b *Book) severalRows(n *check.Node) (diags []syntax.Diag) {
	if n == nil {
		return nil
	}
	for _, k := range n.Kids {
		diags = append(diags, b.severalRows(k)...)
	}
	if n.Op != check.Call || n.Fn.Name != "lookup" || n.Kids[0].Type.Scalar().Kind == types.Text {
		return diags
	}
	key, column := b.valuesOf(n.Kids[0]), b.valuesOf(n.Kids[1])
	of := n.Kids[1].Type.Of
	if len(key) != 1 || of == nil || len(of.Labels) != len(column) {
		return diags
	}
	const most = 6 // that are named
	var rows []string
	more := 0
	for i, x := range column {
		switch {
		case !run.Equal(x, key[0]):
		case len(rows) < most:
			rows = append(rows, of.Labels[i])
		default:
			more++
		}
	}
	if more > 0 {
		rows = append(rows, fmt.Sprintf("%d more", more))
	}
	if len(rows) > 1 {
		diags = append(diags, syntax.Diag{At: n.At, Notice: true,
			Wrong: words.Say("several rows have this: %s; the answer is of the first", words.And(rows)).
				With("look it up by its label for another")})
	}
	return diags
}

// valuesOf are the values of a part of an expression that is a number or a name.
func (b *Book) valuesOf(n *check.Node) []float64 {
	switch n.Op {
	case check.Const:
		return []float64{n.Value}
	case check.Ref:
		if c := b.M.Col(n.Def); c != nil && c.Marks == nil {
			return c.V
		}
	}
	return nil
}

// elsewhere says where a value lost its answer, if not on its own line.
func (b *Book) elsewhere(d *check.Def) syntax.Diag {
	at := syntax.Pos{}
	if d.Expr != nil {
		at = d.Expr.Pos()
	}
	col := b.M.Col(d)
	why := function.Overflow.Words()
	if i := view.FirstMarked(col); i >= 0 {
		why = b.Why(col.Marks[i])
	}
	return syntax.Diag{At: at, Notice: true, Wrong: words.Say("no answer here: %s", why)}
}

// faultLines finds the operations that left a row without an answer, by the
// line they are written on. What happens inside a placed sheet is told at its
// use line, and only if one of its answers has suffered from it.
func (b *Book) faultLines() map[int][]syntax.Diag {
	if b.faults != nil {
		return b.faults
	}
	lines := map[int][]syntax.Diag{}
	said := map[run.Mark]bool{}
	for _, d := range b.C.Order {
		col := b.M.Col(d)
		if col == nil || !b.surfaces(d) {
			continue
		}
		if d.Pinned && d.At == nil && d.Line >= 0 && !holds(d.Show, col) {
			lines[d.Line] = append(lines[d.Line], syntax.Diag{At: d.Tail.As.At, Wrong: view.NotIn(d.Show)})
		}
		if col.Marks == nil {
			continue
		}
		for r, m := range col.Marks {
			if m == 0 || m.Fault() == function.None || said[m] {
				continue
			}
			said[m] = true
			site := b.M.Site(m)
			if site.Def == nil || site.Def.Line < 0 || b.badChoice(site.Def.At) {
				continue
			}
			lines[site.Def.Line] = append(lines[site.Def.Line], b.faultDiag(m, site, d, col, r))
		}
	}
	b.faults = lines
	return lines
}

// holds reports whether a value can be shown in the unit that it was asked for in.
func holds(u units.Unit, col *run.Col) bool {
	for i, x := range col.V {
		if !u.Holds(x) && (col.Marks == nil || col.Marks[i] == 0) {
			return false
		}
	}
	return true
}

// badChoice reports whether a placed sheet was given what is none of its
// choices: what comes of that is told there and nowhere else.
func (b *Book) badChoice(p *check.Placement) bool {
	for ; p != nil; p = p.Parent {
		for _, d := range p.Asks {
			if d.OK() && b.NotAmong(d) != "" {
				return true
			}
		}
	}
	return false
}

// surfaces reports whether a Def is an answer that somebody sees: on a line of
// the notebook, or given by a sheet that the notebook has placed. What belongs to
// a study is not: it has its say with other inputs than the present ones.
func (b *Book) surfaces(d *check.Def) bool {
	if b.OfStudy(d) {
		return false
	}
	if d.At == nil || d.Set() {
		return d.Role != check.Side && d.Role != check.Cell
	}
	return d.Role == check.Ruled || d.At.Parent == nil && d.Role == check.Given
}

func (b *Book) faultDiag(m run.Mark, site run.Site, d *check.Def, col *run.Col, row int) syntax.Diag {
	diag := syntax.Diag{At: site.At, Wrong: words.Wrong{Message: m.Fault().Words()}}
	if d.Type.Of != nil && d == site.Def {
		diag.Message += " in " + rowsMarked(d, col)
	}
	if site.Def.At != nil && !site.Def.Set() {
		diag.Message = fmt.Sprintf("in sheet %s, %s leaves %s without an answer", site.Def.At.Sheet.Name, m.Fault().Words(),
			orRule(view.ShortName(d)))
		diag.At = syntax.Pos{}
		if u, ok := b.C.Lines[site.Def.Line].Node.(*syntax.Use); ok {
			diag.At = u.At
		}
		diag.Other, diag.OtherIn = site.At, site.Def.At.Sheet.Name
	}
	diag.Cure = m.Fault().Wrong().Cure
	return diag
}

func orRule(name string) string {
	if name == "" {
		return "a rule"
	}
	return name
}

// rowsMarked names the rows without an answer, the first five of them.
func rowsMarked(d *check.Def, col *run.Col) string {
	var names []string
	n := 0
	for r, m := range col.Marks {
		if m == 0 || r >= len(d.Type.Of.Labels) {
			continue
		}
		if n++; n <= 5 {
			names = append(names, d.Type.Of.Labels[r])
		}
	}
	s := strings.Join(names, ", ")
	if n > 5 {
		s += fmt.Sprintf(" and %d more", n-5)
	}
	return s
}

// AnswerStudied is Answer with the study of the line carried out. The error is
// that of the context, or nil.
func (b *Book) AnswerStudied(ctx context.Context, i int) (*Answer, error) {
	a := b.Answer(i)
	if b.C.Studies[i] == nil {
		return a, nil
	}
	study, diags, err := b.Study(ctx, i)
	if err != nil {
		return a, err
	}
	a.Study = study
	a.add(diags)
	return a, nil
}
