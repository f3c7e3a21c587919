package calc

import (
	"strconv"

	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// mostSteps bounds a working; what lies deeper can be asked for by its name.
const mostSteps = 500

// working shows how a value arose: itself, then each ingredient in turn, each
// once, down to the inputs or to a number of levels. Of the columns of one table
// it is the row that was asked for, of all others the first.
func (b *Book) working(d *check.Def, levels, row int) *Working {
	w := &Working{}
	seen := map[*check.Def]bool{}
	told := map[*check.Placement]bool{}
	at := rowOf{d.Type.Of, row}
	var visit func(d *check.Def, level int)
	visit = func(d *check.Def, level int) {
		if seen[d] || len(w.Steps) >= mostSteps || d.Role == check.Constant || d.Line < 0 {
			return
		}
		seen[d] = true
		step := b.step(d, level, at)
		if d.At != nil && !d.Set() {
			step.Sheet = d.At.Sheet.Name
			if !told[d.At] {
				told[d.At] = true
				step.Sources = d.At.Sources
			}
		}
		if d.Role != check.Cell || level == 1 {
			w.Steps = append(w.Steps, step)
		}
		if levels > 0 && level >= levels {
			return
		}
		for _, dep := range d.Deps {
			visit(dep, level+1)
		}
	}
	visit(d, 1)
	return w
}

// rowOf is the row of a table that a working is of.
type rowOf struct {
	of  *types.Table
	row int
}

func (r rowOf) in(of *types.Table) int {
	if of != nil && of == r.of {
		return r.row
	}
	return 0
}

func (b *Book) step(d *check.Def, level int, at rowOf) Step {
	s := Step{Name: d.Name, Answer: b.value(d), Level: level, Default: d.Default}
	if d.Src != nil {
		s.Meaning = d.Src.Note
	}
	if d.Role == check.Question && d.Name == "" {
		s.Name = "line " + strconv.Itoa(d.Line+1)
	}
	if d.Role == check.Cell {
		s.Name = b.cellName(d)
	}
	s.Input = len(d.Deps) == 0
	if s.Input || d.Expr == nil || d.Role == check.Column {
		return s
	}
	s.Formula = syntax.PrintExpr(d.Expr)
	if s.Answer != nil && s.Answer.Sound() && len(s.Answer.Numbers) > 0 {
		s.Filled = b.filled(d, s.Answer, at)
		if of := d.Type.Of; of != nil && s.Filled != "" {
			s.Row = of.Labels[at.in(of)]
		}
	}
	return s
}

// filled is a formula with the values put in. It has as many digits as it takes
// for it to give the answer that is shown when it is read again. Of a column it
// is one row. It is empty where there is nothing to put in.
func (b *Book) filled(d *check.Def, answer *Value, at rowOf) string {
	want := answer.Cell(at.in(d.Type.Of))
	best := ""
	for digits := 4; digits <= 15; digits++ {
		f := filling{b: b, digits: digits, refs: d.Refs(), at: at}
		e := f.expr(d.Expr, false)
		if !f.put {
			return ""
		}
		best = syntax.PrintExpr(e)
		if f.left { // names stand in it still, so it cannot be read alone
			return best
		}
		text := best
		if !answer.Unit.IsZero() {
			text += " as " + answer.Unit.String()
		}
		line, _ := syntax.ParseLine(text)
		v := Open([]*syntax.Line{line}, b.lib).Answer(0).Value
		if v != nil && len(v.Numbers) == 1 && v.Sound() && (v.Cell(0) == want || answer.Literal != "") {
			return best
		}
	}
	return best
}

// filling puts values in the place of names.
type filling struct {
	b      *Book
	digits int
	at     rowOf
	refs   map[syntax.Expr]check.Target
	put    bool // a value has been put in
	left   bool // a name was left standing
}

// expr fills an expression. In a tight place, such as the base of a power, a
// value with a unit gets parentheses.
func (f *filling) expr(e syntax.Expr, tight bool) syntax.Expr {
	switch e := e.(type) {
	case *syntax.Name:
		return f.name(e, tight)
	case *syntax.That:
		return f.name(e, tight)
	case *syntax.Group:
		x := f.expr(e.X, false)
		if g, ok := x.(*syntax.Group); ok {
			return g
		}
		return &syntax.Group{At: e.At, X: x}
	case *syntax.Unary:
		return &syntax.Unary{At: e.At, Op: e.Op, X: f.expr(e.X, true)}
	case *syntax.Binary:
		return &syntax.Binary{At: e.At, Op: e.Op, X: f.expr(e.X, e.Op == "^"), Y: f.expr(e.Y, e.Op == "^" || e.Op == "/" || e.Op == "-")}
	case *syntax.Compare:
		c := &syntax.Compare{At: e.At, Ops: e.Ops}
		for _, x := range e.X {
			c.X = append(c.X, f.expr(x, false))
		}
		return c
	case *syntax.Scaled:
		by := e.By
		if g, ok := by.(*syntax.Group); ok {
			by = f.expr(g, false)
		} else if n, ok := by.(*syntax.Name); ok {
			by = group(f.expr(n, false))
		} else if n, ok := by.(*syntax.ScaleName); ok && f.refs[n].Def != nil && f.refs[n].Def.Role != check.Constant {
			by = group(f.value(f.refs[n], n, false))
		}
		return &syntax.Scaled{At: e.At, X: f.expr(e.X, true), By: by}
	case *syntax.Call:
		return f.call(e)
	case *syntax.If:
		return &syntax.If{At: e.At, Cond: f.expr(e.Cond, false), Then: f.expr(e.Then, false), Else: f.expr(e.Else, false)}
	}
	return e
}

func group(e syntax.Expr) syntax.Expr {
	switch e.(type) {
	case *syntax.Group, *syntax.ScaleName:
		return e
	}
	return &syntax.Group{At: e.Pos(), X: e}
}

// call fills the arguments of a call, but for whole columns: those that are
// gathered or looked through stay names.
func (f *filling) call(e *syntax.Call) syntax.Expr {
	c := &syntax.Call{At: e.At, Name: e.Name}
	for i, a := range e.Args {
		if wholeArgument(e.Name, i) {
			c.Args = append(c.Args, a)
			f.left = true
			continue
		}
		c.Args = append(c.Args, f.expr(a, false))
	}
	return c
}

// wholeArgument reports whether an argument of a function is a whole column.
func wholeArgument(name string, i int) bool {
	fn := function.Find(name)
	switch {
	case fn == nil:
		return false
	case fn.Down != nil:
		return true
	case fn.Along != nil:
		return i == 0
	case fn.Seek != nil:
		return i != fn.Key
	}
	return false
}

func (f *filling) name(e syntax.Expr, tight bool) syntax.Expr {
	to := f.refs[e]
	if to.Def == nil || to.Def.Role == check.Constant {
		return e
	}
	return f.value(to, e, tight)
}

// value makes a literal of a Def's value, one row's of a column.
func (f *filling) value(to check.Target, e syntax.Expr, tight bool) syntax.Expr {
	v := f.b.value(to.Def)
	if v == nil || len(v.Numbers) == 0 {
		f.left = true
		return e
	}
	row := to.Row
	if row < 0 {
		row = f.at.in(to.Def.Type.Of)
	}
	if v.Faults != nil && v.Faults[row] != "" {
		f.left = true
		return e
	}
	f.put = true
	switch v.Type.Kind {
	case types.Text:
		return &syntax.Text{At: e.Pos(), Value: v.Texts[row]}
	case types.Truth:
		return &syntax.Truth{At: e.Pos(), Value: v.Numbers[row] != 0}
	}
	text := v.Literal
	x := v.Unit.FromSI(v.Numbers[row])
	if text == "" || v.Column() {
		text = spelled(x, f.digits)
		if !v.Unit.IsZero() {
			text += " " + v.Unit.String()
		}
	}
	lit := &syntax.Literal{At: e.Pos(), Text: text, Value: v.Numbers[row], Unit: v.Unit}
	if tight && (!v.Unit.IsZero() || x < 0) || x < 0 {
		return &syntax.Group{At: e.Pos(), X: lit}
	}
	return lit
}

// spelled writes a number with so many digits, without a power of ten where it
// reads well without.
func spelled(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'g', digits, 64)
	y, err := strconv.ParseFloat(s, 64)
	if err == nil {
		if a := max(y, -y); a == 0 || a >= 1e-6 && a < 1e15 {
			s = strconv.FormatFloat(y, 'f', -1, 64)
		}
	}
	return s
}
