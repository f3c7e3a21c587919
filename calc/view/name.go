package view

import (
	"strconv"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// OutsideRange is the notice of a value outside what an input is good for.
func (b View) OutsideRange(d *check.Def, at syntax.Pos) syntax.Diag {
	this, what := "this", "this"
	if d.At != nil {
		what = d.At.Sheet.Name
	}
	if d.FromOther() {
		this = syntax.PrintExpr(d.Expr)
	}
	return syntax.Diag{At: at, Notice: true,
		Wrong: words.Say("%s is outside what %s is good for, %s to %s", this, what, syntax.PrintExpr(d.Bounds[0].Expr),
			syntax.PrintExpr(d.Bounds[1].Expr))}
}

// ShortName is a Def's name without that of the placed sheet.
func ShortName(d *check.Def) string {
	if d.At == nil || d.At.Name == "" {
		return d.Name
	}
	return strings.TrimPrefix(d.Name, d.At.Name+".")
}

// Agreed reports whether an input is what an agree line says that it is: value
// and edition are still those that were agreed to.
func (b View) Agreed(d *check.Def) bool {
	if d.Agreed == nil || !d.Agreed.Current || !d.Default {
		return false
	}
	return b.Alike(d, d.Agreed.Value)
}

// Alike reports whether two Defs have the same single value, none among them.
func (b View) Alike(d, e *check.Def) bool {
	if !d.OK() || !e.OK() {
		return false
	}
	x, y := b.M.Col(d), b.M.Col(e)
	if x == nil || y == nil || len(x.V) != 1 || len(y.V) != 1 {
		return false
	}
	v, m := x.At(0, 0)
	w, n := y.At(0, 0)
	if m != 0 || n != 0 {
		return m != 0 && n != 0 && m.Fault() == n.Fault() && m.Fault() == function.None
	}
	return run.Equal(v, w)
}

// StateOf says where an input's value comes from.
func (b View) StateOf(d *check.Def) answer.State {
	switch {
	case b.Agreed(d):
		return answer.Agreed
	case d.Default:
		return answer.Default
	case d.Assumed:
		return answer.Assumed
	case d.FromOther():
		return answer.From
	}
	return answer.Set
}

func Choices(d *check.Def) string {
	var words []string
	for _, c := range d.Choice {
		words = append(words, syntax.PrintExpr(c.Expr))
	}
	return strings.Join(words, ", ")
}

func PlaceName(d *check.Def) string {
	if d.At == nil {
		return ""
	}
	return d.At.Name
}

// Spelled writes a number with so many digits, without a power of ten where it
// reads well without.
func Spelled(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'g', digits, 64)
	y, err := strconv.ParseFloat(s, 64)
	if err == nil {
		if a := max(y, -y); a == 0 || a >= 1e-6 && a < 1e15 {
			s = strconv.FormatFloat(y, 'f', -1, 64)
		}
	}
	return s
}

// OfStudy reports whether a Def is a part of a study, and of no other line.
func (b View) OfStudy(d *check.Def) bool {
	return d.At == nil && d.Line >= 0 && b.C.Studies[d.Line] != nil
}

// CellName finds a cell's address: fleet."dock shunter".draw.
func (b View) CellName(cell *check.Def) string {
	if cell.Line < 0 || cell.Line >= len(b.C.Tabs) || b.C.Tabs[cell.Line] == nil {
		return ""
	}
	t := b.C.Tabs[cell.Line]
	for _, head := range t.Order {
		for r, c := range t.Columns[head].Cells {
			if c == cell {
				n := syntax.Name{Parts: []syntax.Part{{Text: t.Table.Name}, {Text: t.Table.Labels[r], Quoted: true}, {Text: head}}}
				return n.String()
			}
		}
	}
	return ""
}
