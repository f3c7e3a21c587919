package check

import (
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Symbols that are written like another thing that may have been meant. Strict
// takes them at their word and names the twin.

// farad tells a large capacitance that a temperature is written otherwise.
func (b *builder) farad(d *Def, e *syntax.Literal) {
	if number, ok := strings.CutSuffix(e.Text, " F"); ok && e.Value >= 10 {
		b.report(d, notice(e.At, "%s farad; a temperature is `%s degF`", number, number))
	}
}

// twins looks at a product or quotient of two for units that are written like
// others, and for turns where an angle is needed.
func (b *builder) twins(d *Def, e *syntax.Binary, x, y *Node) {
	for _, pair := range [][2]*Node{{x, y}, {y, x}} {
		b.twin(d, pair[0], pair[1])
	}
	torque := func(n *Node) bool {
		u := unitOf(n).String()
		return n.Type.Dim == units.Known("J").Dim() && strings.Contains(u, "*") &&
			(strings.Contains(u, "N") || strings.Contains(u, "gf") || strings.Contains(u, "lbf"))
	}
	switch {
	case e.Op == "*" && (torque(x) && unitOf(y).Turns() || torque(y) && unitOf(x).Turns()):
		b.report(d, notice(e.At, "turns are counted: the power of a torque is `2 * pi * %s * %s`", spell(e.X), spell(e.Y)))
	case e.Op == "/" && x.Type.Dim == units.Known("W").Dim() && strings.Contains(unitOf(y).String(), "rpm"):
		b.report(d, notice(e.At, "turns are counted: the torque behind a power is `%s / (2 * pi * %s)`", spell(e.X), spell(e.Y)))
	}
}

// unitOf is the unit that a literal was typed in, or that a name is shown in.
func unitOf(n *Node) units.Unit {
	switch n.Op {
	case Const:
		if lit, ok := bare(n.expr).(*syntax.Literal); ok {
			return lit.Unit
		}
	case Ref:
		return n.Def.Show
	}
	return units.Unit{}
}

// twin looks at a literal beside another value.
func (b *builder) twin(d *Def, n, beside *Node) {
	lit, ok := n.expr.(*syntax.Literal)
	if !ok || n.Op != Const || lit.Form != syntax.Quantity || beside.Type.Kind != types.Number ||
		beside.Type.Dim.IsPlain() {
		return
	}
	unit := lit.Unit.String()
	number := strings.TrimSuffix(lit.Text, " "+unit)
	other := beside.Type.Dim
	electric := other.Holds("A")
	switch {
	case unit == "K" && electric && !other.Holds("K"):
		b.report(d, notice(lit.At, "%s kelvin; as kilohms it is `%sk`", number, number))
	case unit == "H":
		b.report(d, notice(lit.At, "%s henry; hours are `%s h`", number, number))
	case unit == "S" && !electric:
		b.report(d, notice(lit.At, "%s siemens; seconds are `%s s`", number, number))
	case unit == "nm" && (other.Holds("kg") || unitOf(beside).Turns()):
		b.report(d, notice(lit.At, "%s nanometre; a torque is `%s N*m`", number, number))
	}
}
