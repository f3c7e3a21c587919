package check

import (
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// What a value keeps of what it was made of: a share stays one in a sum of
// shares, an angle in half of it. Both are plain numbers by their dimension.

// handing are the functions that hand on what one of their arguments is, with
// its place.
var handing = map[string]int{
	"abs": 0, "min": 0, "max": 0, "mean": 0, "sum": 0, "least": 0, "most": 0, "first": 0, "last": 0, "running": 0,
	"mod":   0,
	"floor": 0, "ceil": 0, "round": 0, "trunc": 0, "choose": 1, "next_up": 0, "next_down": 0, "lookup": 2, "between": 2,
}

// kept gives the unit of a kind that a value keeps, the zero Unit if it is not
// of that kind. Scaling says that a multiple of one is one too.
func kept(n *Node, is func(units.Unit) bool, scaling bool) units.Unit {
	if n == nil || !n.Type.Dim.IsPlain() {
		return units.Unit{}
	}
	of := func(i int) units.Unit { return kept(n.Kids[i], is, scaling) }
	both := func(i, j int) units.Unit {
		if of(j).IsZero() {
			return units.Unit{}
		}
		return of(i)
	}
	switch n.Op {
	case Const:
		if lit, ok := bare(n.expr).(*syntax.Literal); ok && is(lit.Unit) {
			return lit.Unit
		}
	case Ref:
		if is(n.Def.Show) {
			return n.Def.Show
		}
	case Neg, RowOf, Spread, Override:
		return of(0)
	case If:
		return both(1, 2)
	case Add, Sub:
		return both(0, 1)
	case Mul:
		switch {
		case !scaling || !of(0).IsZero() && !of(1).IsZero():
		case of(0).IsZero():
			return of(1)
		default:
			return of(0)
		}
	case Div:
		if scaling && of(1).IsZero() {
			return of(0)
		}
	case Call:
		if slices.Contains([]string{"asin", "acos", "atan", "atan2"}, n.Fn.Name) {
			if deg := units.Known("deg"); is(deg) {
				return deg
			}
		}
		if i, ok := handing[n.Fn.Name]; ok && i < len(n.Kids) {
			return of(i)
		}
	}
	return units.Unit{}
}

func angleOf(n *Node) units.Unit { return kept(n, units.Unit.Angle, true) }

func shareOf(n *Node) units.Unit { return kept(n, units.Unit.Percent, false) }

// isGrade reports whether a value is a share or a ratio by its own unit.
func isGrade(n *Node) bool {
	if !shareOf(n).IsZero() {
		return true
	}
	for n.Op == Ref && n.Def.Node != nil && n.Def.Tail.As == nil {
		n = n.Def.Node
	}
	lit, ok := bare(n.expr).(*syntax.Literal)
	return ok && lit.Form == syntax.Ratio
}

// gathered is the unit of the column that a value is taken from.
func gathered(n *Node) units.Unit {
	if n.Op == Call && slices.Contains([]string{"mean", "least", "most", "first", "last"}, n.Fn.Name) && len(n.Kids) == 1 {
		if k := n.Kids[0]; k.Op == Ref && (k.Def.Pinned || k.Def.Head != nil) {
			return k.Def.Show
		}
	}
	return units.Unit{}
}

// digitsOf shows all digits of what a bit function gives: each of them stands for
// a bit or more.
func digitsOf(n *Node) units.Unit {
	if n.Op == Call && n.Fn.Group == "bits" && n.Type.Kind == types.Number {
		return units.AllDigits()
	}
	if n.Op == Ref && n.Def.Show.Base() != 0 {
		return n.Def.Show
	}
	return units.Unit{}
}

// gradeOrAngle holds "as" to what the value is: a grade is shown in per cent and
// an angle in degrees, and from one to the other goes atan or tan.
func (b *builder) gradeOrAngle(d *Def, n *Node, as *syntax.UnitRef) bool {
	if !n.Type.Dim.IsPlain() {
		return true
	}
	toAngle := as.Unit.Angle()
	angle := !angleOf(n).IsZero()
	switch what := spell(d.Expr); {
	case toAngle && isGrade(n):
		b.report(d, say(as.At, "%s is a grade and no angle", what).With("its angle is `atan("+what+") as "+as.Unit.String()+"`"))
		return false
	case as.Unit.Percent() && angle:
		b.report(d, say(as.At, "%s is an angle and no grade", what).With("its grade is `tan("+what+") as "+as.Unit.String()+"`"))
		return false
	case toAngle && !angle:
		b.report(d, notice(as.At, "taken as radians; the angle of a grade is atan of it"))
	}
	return true
}
