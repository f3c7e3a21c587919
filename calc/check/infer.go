package check

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// infer checks a Def and all that it depends on, and appends it to the order.
// A Def that is in error is of unknown type, which poisons what depends on it
// without another word: one cause, one error.
func (b *builder) infer(d *Def) {
	if d.state != fresh {
		return
	}
	d.state = open
	b.path = append(b.path, d)
	switch {
	case d.labels:
	case d.Role == Asking:
		b.later[d]()
	case d.Role == Column:
		b.inferColumn(d)
	default:
		b.inferExpr(d)
	}
	b.path = b.path[:len(b.path)-1]
	d.state = done
	if d.OK() {
		d.Order = len(b.Order)
		b.Order = append(b.Order, d)
	}
}

func (b *builder) inferExpr(d *Def) {
	if d.Expr == nil {
		return // a missing cell: the parser has said so
	}
	if d.Role == Cell && d.Head != nil {
		if v, ok := headNumber(d.Expr, d.Head.Unit); ok {
			n := &Node{Op: Const, Type: unitType(d.Head.Unit), At: d.Expr.Pos(), Value: v}
			if d.Whole && b.whole(d, n) == nil {
				return
			}
			d.Node, d.Type, d.Show = n, n.Type, d.Head.Unit
			b.tolerance(d)
			return
		}
	}
	if b.overfull(d) {
		return
	}
	terms := b.terms
	n := b.expr(d, d.Expr)
	if isNothing(n) && !b.nothing(d, n) {
		return
	}
	t := n.Type
	if t.Kind == types.Unknown {
		return
	}
	if t.Of != nil {
		b.cells += len(t.Of.Labels) * (b.terms - terms)
		b.steps += len(t.Of.Labels) * (b.terms - terms)
	}
	if b.overfull(d) {
		return
	}
	if d.Role == Cell && t.Of != nil {
		b.report(d, wholeColumn(d.Expr, t.Of))
		return
	}
	if (d.Role == Ruled || d.Role == When) && t.Kind != types.Truth {
		b.report(d, ruleWantsTruth(d, t))
		return
	}
	if d.set != nil && d.set.from != nil && t.Scalar() != d.wanted().typ.Scalar() {
		b.leave(d, t)
		b.inferExpr(d)
		return
	}
	if d.set != nil && !b.fits(d, n) {
		return
	}
	if d.Of != nil && d.Role == Named { // a computed column
		switch {
		case t.Of == nil:
			t.Of = d.Of
			n = &Node{Op: Spread, Type: t, At: n.At, Kids: []*Node{n}}
		case t.Of != d.Of:
			b.report(d, columnOfOther(d, t.Of))
			return
		}
	}
	if d.Role == Asked && d.set == nil && !b.inRange(d, n) {
		return
	}
	if n = b.present(d, n); n == nil {
		return
	}
	if d.Whole && !isNothing(n) {
		if n = b.whole(d, n); n == nil {
			return
		}
	}
	if d.rows != nil {
		n, t = b.overridden(d, n, t)
	}
	d.MayBeNone = mayBeNone(n)
	n.Type = t
	if !b.shown(d, n, t) {
		return
	}
	d.Node, d.Type = n, t
	b.tolerance(d)
	for _, dep := range d.Deps {
		d.Loose = d.Loose || dep.Loose || dep.Tol > 0
	}
}

// shown settles the unit a Def is shown in: the one asked for with "as", that
// of a literal as typed, or that of the bare name it repeats.
func (b *builder) shown(d *Def, n *Node, t types.Type) bool {
	if as := d.Tail.As; as != nil {
		want := unitType(as.Unit)
		if t.Kind != want.Kind || t.Kind == types.Number && t.Dim != want.Dim {
			b.report(d, cannotShow(as, t))
			return false
		}
		d.Show, d.Pinned, d.Yields = as.Unit, true, d.At != nil && d.set == nil && !as.Exactly
		return b.unlike(d, as) && b.gradeOrAngle(d, n, as)
	}
	switch e := bare(d.Expr).(type) {
	case *syntax.Literal:
		d.Typed = true
		switch e.Form {
		case syntax.Code: // 3k3 reads better as 3.3 kΩ than as 3300 Ω
			d.Typed = false
		case syntax.Mixed, syntax.Fraction, syntax.Ratio, syntax.Bits:
			d.Literal = syntax.PrintExpr(d.Expr)
			d.Show = e.Unit
		case syntax.Plain:
			if e == d.Expr && e.Value >= 1e15 && !strings.Contains(e.Text, "e") { // every digit was typed
				d.Show = units.AllDigits()
			}
		default:
			d.Show = e.Unit
		}
	case *syntax.Name:
		if len(d.Deps) == 1 && (d.Deps[0].Typed || d.Deps[0].Pinned) {
			d.Show, d.Yields = d.Deps[0].Show, d.Deps[0].Yields
		}
	}
	for _, keeps := range []func(*Node) units.Unit{angleOf, shareOf, gathered, digitsOf, daysOf} {
		if d.Show.IsZero() && t.Kind == types.Number {
			d.Show = keeps(n)
		}
	}
	return true
}

// daysOf is the unit of the time between two dates.
func daysOf(n *Node) units.Unit {
	if n.Op == Sub && n.Kids[0].Type.Kind == types.Date {
		return units.Known("day")
	}
	return units.Unit{}
}

// bare is a literal's expression without its sign.
func bare(e syntax.Expr) syntax.Expr {
	if u, ok := e.(*syntax.Unary); ok && u.Op == "-" {
		return u.X
	}
	return e
}

// tolerance settles what "+- 5 %" at the end of a line means, or what a part's
// marking says of itself.
func (b *builder) tolerance(d *Def) {
	tol := d.Tail.Tol
	if tol == nil {
		if c, ok := d.Expr.(*syntax.Call); ok && d.Node != nil && d.Node.Fn != nil {
			if f, has := d.Node.Fn.ToleranceOf(b.lib, b.args(d.Node, c)); has && f > 0 {
				d.Tol, d.TolShare, d.TolText = f, true, units.Format(f*100)+" %"
			}
		}
		return
	}
	by := tol.By
	switch {
	case d.Whole:
		b.report(d, wholeIsExact(tol, d))
	case d.Type.Kind == types.Text || d.Type.Kind == types.Truth || d.Type.Kind == types.Date:
		b.report(d, say(tol.At, "%s has no tolerance", d.Type.Words()))
	case by.Unit.Percent():
		if d.Type.Kind == types.Point {
			b.report(d, say(tol.At, "a share of a temperature depends on where its scale begins").
				With("write it in kelvin, as in `20 degC +- 2 K`"))
			break
		}
		if d.Show.Percent() && d.Node.Op == Const {
			b.report(d, tolOfShare(tol, d))
			break
		}
		d.Tol, d.TolShare, d.TolText = math.Abs(by.Value), true, by.Text
		return
	case by.Unit.IsZero() && !d.Type.Dim.IsPlain():
		b.report(d, tolWithoutUnit(tol, d))
	case by.Unit.IsZero() && d.Show.Percent() && by.Value >= 1:
		b.report(d, say(tol.By.At, "a tolerance of %s is %s times the whole", by.Text, by.Text).
			With(fmt.Sprintf("write `+- %s`", units.Format(by.Value/100))))
	case by.Unit.Point():
		b.report(d, tolOnScale(tol))
	case d.Type.Kind == types.Point && by.Unit.Dim() == kelvin(),
		d.Type.Kind == types.Number && by.Unit.Dim() == d.Type.Dim:
		d.Tol, d.TolText = math.Abs(by.Value), by.Text
		return
	default:
		b.report(d, say(tol.By.At, "the tolerance of %s cannot be %s", d.Type.Words(), typeOf(tol.By).Words()))
	}
	d.Type, d.Node = types.Type{}, nil
}

// fits holds a setting to the type of the sheet's own default.
func (b *builder) fits(d *Def, n *Node) bool {
	own := d.wanted()
	want := own.typ
	if want.Kind == types.Unknown {
		return true
	}
	if own.show.Percent() && isBareNumber(n) && n.Value != 0 && n.Value != 1 {
		b.report(d, wantsPercent(n, n))
		return false
	}
	if n.Type.Scalar() != want.Scalar() {
		b.report(d, wrongSetting(d, own, n))
		return false
	}
	d.AskUnit = own.show
	return true
}

// inRange holds the range and the choices of an ask to its default's type.
func (b *builder) inRange(d *Def, n *Node) bool {
	check := func(x *Def) bool {
		b.infer(x)
		if !x.OK() {
			d.Diags = append(d.Diags, x.Diags...)
			d.Waits = append(d.Waits, x.Waits...)
			x.Diags, x.Waits = nil, nil
			return false
		}
		if x.Type.Scalar() == n.Type.Scalar() || isZero(x.Node) && n.Type.Kind == types.Number {
			return true
		}
		b.report(d, rangeOfOther(x, n.Type))
		return false
	}
	for _, x := range d.Bounds {
		if x != nil && !check(x) {
			return false
		}
	}
	for _, x := range d.Choice {
		if !check(x) {
			return false
		}
	}
	if d.Usual == nil {
		return true
	}
	if check(d.Usual) && d.Usual.Type.Of == nil {
		b.report(d, say(d.Usual.Expr.Pos(), "%s is not a column of a table", spell(d.Usual.Expr)).With("as in `usual conductors.area`"))
		return false
	}
	return d.Usual.OK()
}

// report puts a Diag on a Def. What is wrong inside a placed sheet has been
// said of the sheet on its own, so there only a clash of shapes is news, and
// it is reported at the setting that caused it.
func (b *builder) report(d *Def, diag syntax.Diag) {
	if d.At != nil && d.set == nil && b.trial == 0 {
		return
	}
	d.Diags = append(d.Diags, diag)
}

// clash reports two columns of different tables in one operation.
func (b *builder) clash(d *Def, at syntax.Pos, x, y *types.Table) {
	if d.At == nil || d.set != nil || b.trial > 0 {
		d.Diags = append(d.Diags, say(at, "one side has a row for each of %s, the other for each of %s", x.Name, y.Name).
			With("look values up with `lookup(key, …)`, or gather one of them with sum, mean, least or most"))
		return
	}
	for p := d.At; p != nil; p = p.Parent {
		if p.Parent != nil {
			continue
		}
		var to []*setting // those that are columns of one of the two tables
		for _, set := range p.Settings {
			if set.def != nil && set.def.Of == nil && set.def.Type.Of != nil && (set.def.Type.Of == x || set.def.Type.Of == y) {
				to = append(to, set)
			}
		}
		sort.Slice(to, func(i, j int) bool {
			return to[i].line < to[j].line || to[i].line == to[j].line && to[i].at.Col < to[j].at.Col
		})
		if len(to) == 0 || p.clashed {
			return
		}
		p.clashed = true
		first, last := to[0].def, to[len(to)-1].def
		if first.Type.Of != last.Type.Of {
			last.Diags = append(last.Diags, say(last.Expr.Pos(), "%s has a row for each of %s, and %s one for each of %s",
				last.Name, last.Type.Of.Name, first.Name, first.Type.Of.Name).
				With("give both inputs columns of one table, or gather one of them with sum, mean, least or most"))
			return
		}
		own := x
		if first.Type.Of == x {
			own = y
		}
		first.Diags = append(first.Diags, throughOwnTable(to[0], p, own, d.Src, at))
	}
}

// ref makes a node that refers to another Def, checking that one first.
func (b *builder) ref(d *Def, target *Def, at syntax.Pos, e syntax.Expr) *Node {
	if target.state == open {
		b.reportCircle(d, target, at)
		return bad(e)
	}
	b.infer(target)
	if target.emptyNoUnit {
		b.report(d, emptyColumn(at, target))
		return bad(e)
	}
	if !target.OK() {
		return bad(e)
	}
	d.Deps = append(d.Deps, target)
	return &Node{Op: Ref, Type: target.Type, At: at, Def: target, expr: e}
}

// leftmost is where an expression begins.
func leftmost(e syntax.Expr) syntax.Pos {
	switch e := e.(type) {
	case *syntax.Binary:
		return leftmost(e.X)
	case *syntax.Compare:
		return leftmost(e.X[0])
	case *syntax.Scaled:
		return leftmost(e.X)
	}
	return e.Pos()
}

// reportCircle reports a circle where the writer can break it: at the reference
// that closes it, or, if that lies inside a placed sheet, at a setting that the
// circle passes through.
func (b *builder) reportCircle(d, to *Def, at syntax.Pos) {
	ring := b.path
	for i := len(ring) - 1; i > 0; i-- {
		if ring[i] == to {
			ring = ring[i:]
			break
		}
	}
	for i := len(ring) - 1; i >= 0 && d.At != nil && d.set == nil && b.trial == 0; i-- {
		if r := ring[i]; r.At == nil || r.set != nil {
			r.Diags = append(r.Diags, circle(leftmost(r.Expr), ring, to))
			return
		}
	}
	b.report(d, circle(at, ring, to))
}

func bad(e syntax.Expr) *Node { return &Node{At: e.Pos(), expr: e} }

func kelvin() units.Dim { return units.Known("K").Dim() }
func second() units.Dim { return units.Known("s").Dim() }

// isZero is a literal 0 as written, which takes on its partner's dimension.
func isZero(n *Node) bool { return isBareNumber(n) && n.Value == 0 }

// isBareNumber is a number literal without a unit.
func isBareNumber(n *Node) bool {
	if n == nil || n.Op != Const {
		return false
	}
	lit, ok := bare(n.expr).(*syntax.Literal)
	return ok && lit.Form == syntax.Plain
}

// isPercent is something whose own unit is %, ‰ or ppm.
func isPercent(n *Node) bool {
	switch n.Op {
	case Ref:
		return n.Def.Show.Percent()
	case Const:
		return isPercentLiteral(n)
	}
	return false
}

func isPercentLiteral(n *Node) bool {
	lit, ok := bare(n.expr).(*syntax.Literal)
	return ok && n.Op == Const && lit.Unit.Percent()
}

// unlike says that two units of one dimension are not the same where one is
// shown as the other: VA and W, lumen and candela with a word, turns and angles
// with an error, since the number would be wrong.
func (b *builder) unlike(d *Def, as *syntax.UnitRef) bool {
	was := units.Unit{}
	switch e := bare(d.Expr).(type) {
	case *syntax.Literal:
		was = e.Unit
	case *syntax.Name:
		if len(d.Deps) == 1 {
			was = d.Deps[0].Show
		}
	}
	to := as.Unit
	if was.Turns() && to.Angle() || was.Angle() && to.Turns() {
		b.report(d, turnsAndAngles(as, was))
		return false
	}
	if why := was.Unlike(to); why != "" {
		b.report(d, notice(as.At, "%s", why))
	}
	return true
}
