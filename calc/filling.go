package calc

import (
	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/calc/view"
	"railsum/units"
)

// filling puts values in the place of names.
type filling struct {
	b      *Book
	digits int
	at     rowOf
	refs   map[syntax.Expr]check.Target
	taken  map[syntax.Expr]syntax.Expr // what is put in the place of an expression that decides
	put    bool                        // a value has been put in
	left   bool                        // a name was left standing
	filled map[*syntax.Literal]bool
}

// expr fills an expression. In a tight place, such as the base of a power, a
// value with a unit gets parentheses.
func (f *filling) expr(e syntax.Expr, tight bool) syntax.Expr {
	if of, is := f.taken[e]; is {
		f.put = true
		return grouped(f.expr(of, tight))
	}
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
		return f.binary(e)
	case *syntax.Compare:
		c := &syntax.Compare{At: e.At, Ops: e.Ops}
		for _, x := range e.X {
			c.X = append(c.X, f.expr(x, false))
		}
		f.level(c.X)
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
		return &syntax.Scaled{At: e.At, X: f.expr(e.X, false), By: f.ratio(by)}
	case *syntax.Call:
		return f.call(e)
	case *syntax.If:
		return &syntax.If{At: e.At, Cond: f.alone(e.Cond), Then: f.alone(e.Then), Else: f.alone(e.Else)}
	}
	return e
}

// ratio spells a scale that has been put in as one: 1:87 and not 0.01149, which
// at four figures is another.
func (f *filling) ratio(by syntax.Expr) syntax.Expr {
	g, ok := by.(*syntax.Group)
	if !ok {
		return by
	}
	lit, ok := g.X.(*syntax.Literal)
	if !ok || !f.filled[lit] || lit.Value <= 0 || lit.Value > 1 || !lit.Unit.IsZero() {
		return by
	}
	return &syntax.Group{At: g.At, X: f.literal(lit.At, "1:"+view.Spelled(1/lit.Value, f.digits), lit.Value, lit.Unit)}
}

// binary fills a sum, product or power. A quotient's divisor gets parentheses
// where a number over a number of inches could be taken for a fraction.
func (f *filling) binary(e *syntax.Binary) syntax.Expr {
	two := []syntax.Expr{f.expr(e.X, e.Op == "^"), f.expr(e.Y, e.Op == "^")}
	if e.Op == "+" || e.Op == "-" {
		f.level(two)
	}
	if lit, ok := two[1].(*syntax.Literal); ok && e.Op == "/" && two[1] != e.Y && lit.Unit.String() == "in" {
		two[1] = group(lit)
	}
	return &syntax.Binary{At: e.At, Op: e.Op, X: two[0], Y: two[1]}
}

// level makes percentages and plain numbers that stand beside one another all
// the one or the other, as the formula is written: `1 + 5 %` could be read in two
// ways.
func (f *filling) level(xs []syntax.Expr) {
	percents, written := 0, 0
	for _, x := range xs {
		if lit, ok := x.(*syntax.Literal); ok && lit.Unit.Percent() {
			if percents++; !f.filled[lit] {
				written++
			}
		}
	}
	if percents == 0 || percents == len(xs) {
		return
	}
	percent := units.Known("%")
	for i, x := range xs {
		lit, ok := x.(*syntax.Literal)
		switch {
		case !ok || !f.filled[lit]:
		case lit.Unit.Percent() && written == 0:
			xs[i] = f.literal(lit.At, view.Spelled(lit.Value, f.digits), lit.Value, units.Unit{})
		case lit.Unit.IsZero() && written > 0:
			xs[i] = f.literal(lit.At, view.Spelled(100*lit.Value, f.digits)+" %", lit.Value, percent)
		}
	}
}

// literal makes a literal that was no part of the formula as written.
func (f *filling) literal(at syntax.Pos, text string, x float64, u units.Unit) *syntax.Literal {
	lit := &syntax.Literal{At: at, Text: text, Value: x, Unit: u}
	if f.filled == nil {
		f.filled = map[*syntax.Literal]bool{}
	}
	f.filled[lit] = true
	return lit
}

// grouped puts an expression into parentheses that would read otherwise in the place of
// a call.
func grouped(e syntax.Expr) syntax.Expr {
	switch e.(type) {
	case *syntax.Unary, *syntax.Binary, *syntax.Compare, *syntax.Scaled, *syntax.If:
		return group(e)
	}
	return e
}

// alone takes the parentheses off that nothing around an expression asks for.
func (f *filling) alone(e syntax.Expr) syntax.Expr {
	x := f.expr(e, false)
	if g, is := x.(*syntax.Group); is && f.taken[e] != nil {
		return g.X
	}
	return x
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
		c.Args = append(c.Args, f.argument(e.Name, a))
	}
	if e.Name == "min" || e.Name == "max" {
		f.level(c.Args)
	}
	return c
}

// argument fills an argument. What is looked for and must be met exactly has all
// of its digits.
func (f *filling) argument(name string, a syntax.Expr) syntax.Expr {
	switch name {
	case "lookup", "total_for", "count_for":
		defer func(digits int) { f.digits = digits }(f.digits)
		f.digits = 15
	}
	return f.alone(a)
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
	v := f.b.Value(to.Def)
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
	if v.Type.Kind == types.Date {
		return syntax.DateCall(e.Pos(), v.Full(row))
	}
	text := v.Literal.String()
	x := v.Unit.FromSI(v.Numbers[row])
	if text == "" || v.Column() {
		text = view.Spelled(x, f.digits)
		if !v.Unit.IsZero() {
			text += " " + v.Unit.String()
		}
	}
	lit := f.literal(e.Pos(), text, v.Numbers[row], v.Unit)
	if tight && (!v.Unit.IsZero() || x < 0) || x < 0 {
		return &syntax.Group{At: e.Pos(), X: lit}
	}
	return lit
}
