package check

import (
	"math"

	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// expr checks an expression of a Def. What is in error becomes a node of
// unknown kind, reported once.
func (b *builder) expr(d *Def, e syntax.Expr) *Node {
	b.terms++
	switch e := e.(type) {
	case *syntax.Literal:
		b.farad(d, e)
		t := types.Plain
		if !e.Unit.IsZero() {
			t = unitType(e.Unit)
		}
		return &Node{Op: Const, Type: t, At: e.At, Value: e.Value, expr: e}
	case *syntax.Date:
		return &Node{Op: Const, Type: types.Type{Kind: types.Date}, At: e.At, Value: e.Value, expr: e}
	case *syntax.Text:
		return &Node{Op: Const, Type: types.Type{Kind: types.Text}, At: e.At, Text: e.Value, expr: e}
	case *syntax.Truth:
		n := &Node{Op: Const, Type: types.Type{Kind: types.Truth}, At: e.At, expr: e}
		if e.Value {
			n.Value = 1
		}
		return n
	case *syntax.None:
		return &Node{Op: Call, Fn: function.Nothing, Type: plainNumber, At: e.At, expr: e}
	case *syntax.Name:
		return b.name(d, e)
	case *syntax.That:
		return b.that(d, e)
	case *syntax.Group:
		n := *b.expr(d, e.X)
		n.expr = e
		return &n
	case *syntax.Unary:
		return b.unary(d, e)
	case *syntax.Binary:
		return b.binary(d, e)
	case *syntax.Compare:
		return b.compare(d, e)
	case *syntax.Scaled:
		return b.scaled(d, e)
	case *syntax.Call:
		return b.call(d, e)
	case *syntax.If:
		return b.ifThen(d, e)
	}
	panic("check: an expression of a kind the tree does not have")
}

// fail reports a Diag and gives the node that poisons.
func (b *builder) fail(d *Def, e syntax.Expr, diag syntax.Diag) *Node {
	b.report(d, diag)
	return bad(e)
}

func unknown(nodes ...*Node) bool {
	for _, n := range nodes {
		if n.Type.Kind == types.Unknown {
			return true
		}
	}
	return false
}

// join gives the shape of an operation of several: that of its columns, which
// must be of one table.
func (b *builder) join(d *Def, at syntax.Pos, nodes ...*Node) (*types.Table, bool) {
	var of *types.Table
	for _, n := range nodes {
		switch {
		case n.Type.Of == nil || n.Type.Of == of:
		case of == nil:
			of = n.Type.Of
		default:
			b.clash(d, at, of, n.Type.Of)
			return nil, false
		}
	}
	return of, true
}

// result makes the node of an operation, of the shape its operands join to.
func (b *builder) result(d *Def, e syntax.Expr, op Op, t types.Type, kids ...*Node) *Node {
	of, ok := b.join(d, e.Pos(), kids...)
	if !ok {
		return bad(e)
	}
	t.Of = of
	return &Node{Op: op, Type: t, At: e.Pos(), Kids: kids, expr: e}
}

func (b *builder) unary(d *Def, e *syntax.Unary) *Node {
	x := b.expr(d, e.X)
	if unknown(x) || b.strayNone(d, x) {
		return bad(e)
	}
	if e.Op == "not" {
		if x.Type.Kind != types.Truth {
			return b.fail(d, e, wantsTruth(e.X.Pos(), "not", x.Type))
		}
		return b.result(d, e, Not, x.Type, x)
	}
	if x.Type.Kind != types.Number {
		return b.fail(d, e, say(e.At, "%s has no negative", x.Type.Words()))
	}
	if x.Op == Const { // a negative literal is a literal
		n := *x
		n.Value, n.expr, n.At = -x.Value, e, e.At
		return &n
	}
	return b.result(d, e, Neg, x.Type, x)
}

func (b *builder) binary(d *Def, e *syntax.Binary) *Node {
	x, y := b.expr(d, e.X), b.expr(d, e.Y)
	if unknown(x, y) {
		return bad(e)
	}
	if b.strayNone(d, x, y) {
		return bad(e)
	}
	switch e.Op {
	case "+", "-":
		return b.sum(d, e, x, y)
	case "and", "or":
		op := And
		if e.Op == "or" {
			op = Or
		}
		for i, n := range []*Node{x, y} {
			if n.Type.Kind != types.Truth {
				return b.fail(d, e, wantsTruth([]syntax.Expr{e.X, e.Y}[i].Pos(), e.Op, n.Type))
			}
		}
		return b.result(d, e, op, types.Type{Kind: types.Truth}, x, y)
	}
	for i, n := range []*Node{x, y} {
		if n.Type.Kind != types.Number {
			return b.fail(d, e, cannotCompute([]syntax.Expr{e.X, e.Y}[i].Pos(), e.Op, n.Type, e))
		}
	}
	switch e.Op {
	case "*":
		b.twins(d, e, x, y)
		return b.product(d, e, Mul, x.Type.Dim.Mul(y.Type.Dim), x, y)
	case "/":
		b.twins(d, e, x, y)
		return b.product(d, e, Div, x.Type.Dim.Div(y.Type.Dim), x, y)
	case "of":
		if !x.Type.Dim.IsPlain() {
			return b.fail(d, e, ofWantsShare(e, x.Type))
		}
		return b.result(d, e, Mul, types.Type{Kind: types.Number, Dim: y.Type.Dim}, x, y)
	case "^":
		return b.power(d, e, x, y)
	}
	panic("check: an operator the tree does not have: " + e.Op)
}

func (b *builder) product(d *Def, e *syntax.Binary, op Op, dim units.Dim, x, y *Node) *Node {
	if dim.Beyond() {
		return b.fail(d, e, say(e.At, "the unit of this would have powers beyond what railsum keeps").
			With("check the powers"))
	}
	return b.result(d, e, op, types.Type{Kind: types.Number, Dim: dim}, x, y)
}

// sum checks an addition or subtraction.
func (b *builder) sum(d *Def, e *syntax.Binary, x, y *Node) *Node {
	op := Add
	if e.Op == "-" {
		op = Sub
	}
	xp, yp := isPercentLiteral(x), isPercentLiteral(y)
	if xp != yp && !percentSum(x) && !percentSum(y) && (yp || x.Type.Dim.IsPlain()) && x.Type.Kind == types.Number &&
		y.Type.Kind == types.Number {
		return b.fail(d, e, percentAdded(e, x, y))
	}
	// A number below one can only be meant as a fraction of the whole: it is what
	// the cure of `share + 5 %` offers.
	if isBareNumber(y) && isPercent(x) && math.Abs(y.Value) > 1 {
		return b.fail(d, e, wantsPercent(y, x))
	}
	if isBareNumber(x) && isPercent(y) && math.Abs(x.Value) > 1 {
		return b.fail(d, e, wantsPercent(x, y))
	}
	number := func(n *Node) bool { return n.Type.Kind == types.Number }
	point := func(n *Node) bool { return n.Type.Kind == types.Point }
	difference := types.Type{Kind: types.Number, Dim: kelvin()}
	date := func(n *Node) bool { return n.Type.Kind == types.Date }
	time := types.Type{Kind: types.Number, Dim: second()}
	switch {
	case number(x) && number(y):
		t := x.Type
		if isZero(x) {
			t = y.Type
		}
		if x.Type.Dim != y.Type.Dim && !isZero(x) && !isZero(y) {
			return b.fail(d, e, cannotAdd(e, x.Type, y.Type))
		}
		return b.result(d, e, op, t, x, y)
	case point(x) && point(y) && op == Sub:
		return b.result(d, e, op, difference, x, y)
	case point(x) && point(y):
		return b.fail(d, e, say(e.At, "two temperatures cannot be added").
			With("for the middle of two write `mean(a, b)`; a change is written in kelvin, `20 degC + 5 K`"))
	case point(x) && number(y) && y.Type.Dim == kelvin():
		return held(b.result(d, e, op, x.Type, x, y), function.Warm)
	case number(x) && point(y) && x.Type.Dim == kelvin() && op == Add:
		return held(b.result(d, e, op, y.Type, x, y), function.Warm)
	case date(x) && date(y) && op == Sub:
		return b.result(d, e, op, time, x, y)
	case date(x) && number(y) && y.Type.Dim == time.Dim:
		return held(b.result(d, e, op, x.Type, x, y), function.WholeDay)
	case number(x) && date(y) && x.Type.Dim == time.Dim && op == Add:
		return held(b.result(d, e, op, y.Type, x, y), function.WholeDay)
	}
	return b.fail(d, e, cannotAdd(e, x.Type, y.Type))
}

// held sees to it that a sum is a temperature or a date that there can be.
func held(n *Node, fn *function.Function) *Node {
	if unknown(n) {
		return n
	}
	return &Node{Op: Call, Type: n.Type, At: n.At, Kids: []*Node{n}, Fn: fn, expr: n.expr}
}

// percentSum is a sum or difference of nothing but percentages.
func percentSum(n *Node) bool {
	if (n.Op == Add || n.Op == Sub) && len(n.Kids) == 2 {
		return (isPercentLiteral(n.Kids[0]) || percentSum(n.Kids[0])) &&
			(isPercentLiteral(n.Kids[1]) || percentSum(n.Kids[1]))
	}
	return false
}

var comparisons = map[string]Op{"=": Eq, "!=": Ne, "<": Lt, "<=": Le, ">": Gt, ">=": Ge}

// compare checks a chain of comparisons, "2 m <= x <= 5 m" being two that must
// both hold.
func (b *builder) compare(d *Def, e *syntax.Compare) *Node {
	nodes := make([]*Node, len(e.X))
	for i, x := range e.X {
		if d.Sides != nil && e == d.Expr {
			nodes[i] = b.side(d, d.Sides[i], x)
		} else {
			nodes[i] = b.expr(d, x)
		}
	}
	if unknown(nodes...) {
		return bad(e)
	}
	var all *Node
	for i, op := range e.Ops {
		n := b.pair(d, e, e.At[i], comparisons[op], op, nodes[i], nodes[i+1])
		if unknown(n) {
			return n
		}
		if all == nil {
			all = n
			continue
		}
		if all = b.result(d, e, And, types.Type{Kind: types.Truth}, all, n); unknown(all) {
			return all
		}
	}
	return all
}

// side makes one side of a rule a value of its own, so that a card can show it;
// a literal stays where it is.
func (b *builder) side(d, s *Def, x syntax.Expr) *Node {
	b.infer(s)
	d.Diags = append(d.Diags, s.Diags...)
	d.Waits = append(d.Waits, s.Waits...)
	s.Diags, s.Waits = nil, nil
	if !s.OK() {
		return bad(x)
	}
	if s.Node.Op == Const {
		n := *s.Node
		return &n
	}
	n := b.ref(d, s, x.Pos(), x)
	if s.Node.Op == Ref {
		s.Show = s.Node.Def.Show
	}
	return n
}

func (b *builder) pair(d *Def, e *syntax.Compare, at syntax.Pos, op Op, word string, x, y *Node) *Node {
	if isNothing(x) || isNothing(y) {
		return b.isNone(d, e, at, op, x, y)
	}
	if isBareNumber(y) && isPercent(sideOf(x)) && y.Value != 0 && y.Value != 1 {
		return b.fail(d, e, wantsPercent(y, sideOf(x)))
	}
	if isBareNumber(x) && isPercent(sideOf(y)) && x.Value != 0 && x.Value != 1 {
		return b.fail(d, e, wantsPercent(x, sideOf(y)))
	}
	kx, ky := x.Type.Kind, y.Type.Kind
	zero := kx == types.Number && ky == types.Number && (isZero(x) || isZero(y))
	switch {
	case kx != ky || kx == types.Number && x.Type.Dim != y.Type.Dim && !zero:
		return b.fail(d, e, say(at, "%s and %s cannot be compared", x.Type.Words(), y.Type.Words()).
			With(otherwise(x.expr, y.Type)+otherwise(y.expr, x.Type)))
	case (kx == types.Text || kx == types.Truth) && op != Eq && op != Ne:
		return b.fail(d, e, say(at, "%s has no order, so `%s` means nothing", x.Type.Words(), word).With("use = or !="))
	}
	n := b.result(d, e, op, types.Type{Kind: types.Truth}, x, y)
	n.At = at
	return n
}

// sideOf looks through the side of a rule at the name it repeats.
func sideOf(n *Node) *Node {
	if n.Op == Ref && n.Def.Role == Side && n.Def.Node.Op == Ref {
		return n.Def.Node
	}
	return n
}

func (b *builder) ifThen(d *Def, e *syntax.If) *Node {
	c, x, y := b.expr(d, e.Cond), b.expr(d, e.Then), b.expr(d, e.Else)
	if unknown(c, x, y) {
		return bad(e)
	}
	if c.Type.Kind != types.Truth {
		return b.fail(d, e, wantsTruth(e.Cond.Pos(), "if", c.Type))
	}
	t := x.Type
	switch {
	case isNothing(x) && isNothing(y):
	case isNothing(y):
		y.Type = x.Type.Scalar()
	case isNothing(x):
		x.Type, t = y.Type.Scalar(), y.Type
	}
	if x.Type.Scalar() != y.Type.Scalar() {
		switch {
		case isZero(y) && x.Type.Kind == types.Number:
		case isZero(x) && y.Type.Kind == types.Number:
			t = y.Type
		default:
			return b.fail(d, e, branchesDiffer(e, x.Type, y.Type))
		}
	}
	return b.result(d, e, If, t, c, x, y)
}

// call checks a call by the function's own type rule.
func (b *builder) call(d *Def, e *syntax.Call) *Node {
	fn := function.Find(e.Name)
	if fn != nil && fn.Name == "either" {
		return b.either(d, e)
	}
	if fn != nil && fn.MayMiss() && len(e.Args) > 0 {
		if _, ok := inside(e.Args[len(e.Args)-1]).(*syntax.None); ok {
			short := *e
			short.Args = e.Args[:len(e.Args)-1]
			n := b.call(d, &short)
			if unknown(n) {
				return n
			}
			return &Node{Op: OrNone, Type: n.Type, At: e.At, Kids: []*Node{n}, expr: e}
		}
	}
	terms := b.terms
	kids := make([]*Node, len(e.Args))
	for i, a := range e.Args {
		if fn != nil {
			if v, ok := fn.Spelled(e.Args); ok {
				kids[i] = &Node{Op: Const, Type: plainNumber, At: a.Pos(), Value: v, expr: a}
				continue
			}
		}
		kids[i] = b.expr(d, a)
	}
	if fn == nil {
		return b.fail(d, e, unknownFunction(e))
	}
	if unknown(kids...) || b.strayNone(d, kids...) {
		return bad(e)
	}
	if diag, ok := modelInFull(e); ok {
		return b.fail(d, e, diag)
	}
	n := &Node{Op: Call, At: e.At, Kids: kids, Fn: fn, expr: e}
	args := b.args(n, e)
	t, terr := fn.Type(args)
	if terr != nil {
		at := e.At
		if terr.Arg >= 0 && terr.Arg < len(e.Args) {
			at = e.Args[terr.Arg].Pos()
		}
		return b.fail(d, e, syntax.Diag{At: at, Wrong: terr.Wrong})
	}
	if t.Kind == types.Unknown {
		return bad(e)
	}
	n.Fn = fn.For(args)
	switch {
	case n.Fn.Down != nil:
		t.Of = nil
		b.steps += rowsOf(kids[0]) * (b.terms - terms)
	case n.Fn.Along != nil:
		t.Of = kids[0].Type.Of
	case n.Fn.Seek != nil:
		key := kids[n.Fn.Key]
		t.Of = key.Type.Of
		for i, k := range kids {
			if i != n.Fn.Key {
				b.steps += rowsOf(key) * rowsOf(k)
			}
		}
	default:
		of, ok := b.join(d, e.At, kids...)
		if !ok {
			return bad(e)
		}
		t.Of = of
	}
	n.Type = t
	if n.Fn.OwnTolerance() && len(kids) == 1 {
		if share := b.ownTolerance(kids[0]); share > 0 {
			n.Kids = append(kids, &Node{Op: Const, Type: plainNumber, At: e.At, Value: share})
		}
	}
	return n
}

// rowsOf is how many values a part of an expression has.
func rowsOf(n *Node) int {
	if n.Type.Of == nil {
		return 1
	}
	return len(n.Type.Of.Labels)
}

// ownTolerance is the tolerance, as a share, that a value has by its line or by
// its marking; 0 if it has none.
func (b *builder) ownTolerance(n *Node) float64 {
	for n.Op == Ref {
		d := n.Def
		switch {
		case d.Tol > 0 && d.TolShare:
			return d.Tol
		case d.Tol > 0 && d.Node != nil && d.Node.Op == Const && d.Node.Value != 0:
			return math.Abs(d.Tol / d.Node.Value)
		case d.Node == nil:
			return 0
		}
		n = d.Node
	}
	if call, ok := inside(n.expr).(*syntax.Call); ok && n.Op == Call {
		if f, has := n.Fn.ToleranceOf(b.lib, b.args(n, call)); has {
			return f
		}
	}
	return 0
}

func (b *builder) args(n *Node, e *syntax.Call) []function.Arg {
	args := make([]function.Arg, len(e.Args))
	for i, k := range n.Kids[:len(e.Args)] {
		args[i] = function.Arg{Type: k.Type, Expr: e.Args[i]}
	}
	return args
}
