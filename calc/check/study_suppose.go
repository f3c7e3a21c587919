package check

import (
	"fmt"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Suppose checks the inputs and their other values, and what is shown.
func (b *asking) Suppose(node *syntax.Suppose) {
	b.supposed(&b.st.Axes, node.Sets)
	b.shows(node.Show)
}

// Case checks what a case puts in.
func (b *asking) Case(node *syntax.Case) { b.supposed(&b.st.Axes, node.Sets) }

// supposed checks what is put in, cases with all that they hold.
func (b *asking) supposed(axes *[]Axis, sets []syntax.Supposed) {
	for _, s := range sets {
		if s.Expr == nil {
			for _, x := range b.inCase(s.X) {
				b.putIn(axes, x, s.X)
			}
			continue
		}
		x := Axis{X: b.supposable(b.d, s.X), Name: s.X, Value: b.part(b.d, s.Expr, none)}
		if x.X == nil || !b.suits(s.X, x.X, x.Value) {
			b.st.OK = false
			continue
		}
		b.putIn(axes, x, s.X)
	}
}

// putIn adds what is put in; nothing is twice, a column and a cell of it being the
// same.
func (b *asking) putIn(axes *[]Axis, x Axis, at *syntax.Name) {
	for _, all := range [][]Axis{b.st.Axes, b.st.In} {
		for _, old := range all {
			if within(old.X, x.X) || within(x.X, old.X) {
				d := variedTwice(x.Name)
				d.At = at.Pos()
				b.refuse(d)
				return
			}
		}
	}
	x.Whole = x.X.Whole
	*axes = append(*axes, x)
}

// within reports whether a Def is another, or a cell of it.
func within(d, of *Def) bool {
	if d == of {
		return true
	}
	for _, c := range of.Cells {
		if c == d {
			return true
		}
	}
	return false
}

// inCase gives what a case puts in. What is wrong with it has been said there.
func (b *asking) inCase(name *syntax.Name) []Axis {
	part := name.Parts[0]
	sym := b.d.In.Names[part.Text]
	switch {
	case len(name.Parts) > 1:
	case sym == nil:
		b.d.Waits = append(b.d.Waits, part.Text)
		unknown := b.unknownName(b.d.In, part)
		unknown.Cure = fmt.Sprintf("keep it as a case, `case %s with …`, or give it a value here, `%s = …`", part.Text, part.Text)
		b.refuse(unknown)
		return nil
	case sym.Case != nil:
		st := sym.Case
		b.infer(st.line)
		if !st.OK {
			b.noValue(b.d, part.At, part.Text)
			b.st.OK = false
		}
		return st.Axes
	case sym.Broken:
		b.noValue(b.d, part.At, part.Text)
		b.st.OK = false
		return nil
	}
	b.refuse(say(part.At, "%s is no case", name).With(fmt.Sprintf("say what it is to be, `%s = …`", name)))
	return nil
}

// supposable resolves the name of what may be given another value for a while: an
// input of any kind, or a column of a table whose cells are written out.
func (b *asking) supposable(d *Def, name *syntax.Name) *Def {
	n := b.name(d, name)
	if unknown(n) {
		b.noValue(d, name.Pos(), name.String())
		return nil
	}
	x, at := n.Def, name.Pos()
	if n.Op == RowOf {
		switch x = n.Kids[0].Def; {
		case x.labels:
		case len(x.Cells) == 0:
			b.report(d, follows(at, name, x))
			return nil
		default:
			x = x.Cells[n.Row]
		}
	}
	switch {
	case x.Role == Constant || x.Line < 0:
		b.report(d, say(at, "%s is of the library and cannot be changed", name))
	case x.labels:
		b.report(d, labelsChanged(at))
	case x.Role == Column:
		return x
	default:
		return b.free(d, at, name, x)
	}
	return nil
}

// suits holds another value to the type of what it is for: one value, or for a
// column one for all of its rows or a column of the same table.
func (b *asking) suits(name *syntax.Name, x, v *Def) bool {
	if v == nil || !v.OK() {
		return false
	}
	if v.Type.Of != nil && v.Type.Of != x.Type.Of {
		b.report(b.d, valueIsColumn(v))
		return false
	}
	if v.Type.Scalar() == x.Type.Scalar() || isZero(v.Node) && x.Type.Kind == types.Number {
		return true
	}
	b.report(b.d, valueOfOther(name, x, v))
	return false
}
