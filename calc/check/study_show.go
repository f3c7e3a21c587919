package check

import (
	"fmt"
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Show checks the columns, all of one table, and what they are chosen and sorted
// by. The name of a table stands for its columns.
func (b *asking) Show(node *syntax.Show) {
	for _, x := range node.Show {
		if tab := b.wholeTable(x.Expr); tab != nil {
			b.face(tab, x)
		} else {
			b.alone(x)
		}
	}
	if b.st.Of != nil {
		b.st.Sort = b.overRows(node.Sort, "the rows are sorted by")
		b.st.Where = b.overRows(node.Where, "the rows are chosen by")
		if w := b.st.Where; w != nil && w.Type.Kind != types.Truth {
			b.refuse(say(w.Expr.Pos(), "`where` wants a condition, and this is %s", w.Type.Words()).
				With("compare it with something, as in `where " + spell(w.Expr) + " > …`"))
		}
	}
}

// wholeTable is the table that an expression names, nil if it names none.
func (b *asking) wholeTable(e syntax.Expr) *Tab {
	name, is := e.(*syntax.Name)
	if !is {
		return nil
	}
	return b.tabNamed(b.d.In, name.Parts)
}

// face shows all columns of a table but those that are shown already.
func (b *asking) face(tab *Tab, x syntax.Shown) {
	if x.As != nil {
		cure := "leave it out"
		for _, head := range tab.Order[1:] {
			d := tab.Columns[head]
			b.infer(d)
			if d.Type.Scalar() == unitType(x.As.Unit) {
				cure = fmt.Sprintf("write it behind a column: `show %s, %s.%s as %s`", spell(x.Expr), spell(x.Expr), head, x.As.Unit)
				break
			}
		}
		b.refuse(say(x.As.At, "a table has a unit for each of its columns").With(cure))
		return
	}
	if !b.beside(tab.Table, x.Expr) || len(tab.Table.Labels) == 0 {
		return
	}
	table := x.Expr.(*syntax.Name)
	for _, head := range tab.Order[1:] {
		b.alone(syntax.Shown{Expr: &syntax.Name{Parts: append(slices.Clone(table.Parts),
			syntax.Part{At: table.Pos(), Text: head})}})
	}
}

// alone shows one column.
func (b *asking) alone(x syntax.Shown) {
	if slices.ContainsFunc(b.st.Show, func(d *Def) bool { return x.As == nil && spell(d.Expr) == spell(x.Expr) }) {
		return
	}
	before := len(b.st.Show)
	b.shows([]syntax.Shown{x})
	if len(b.st.Show) == before {
		return
	}
	switch d := b.st.Show[before]; {
	case d.Type.Of == nil:
		b.refuse(say(x.Expr.Pos(), "%s is one value and has no rows", spell(x.Expr)).
			With("write it on a line of its own: `" + spell(x.Expr) + "`"))
	default:
		b.beside(d.Type.Of, x.Expr)
	}
}

// beside holds what is shown to one table.
func (b *asking) beside(of *types.Table, e syntax.Expr) bool {
	if b.st.Of == nil || b.st.Of == of {
		b.st.Of = of
		return true
	}
	b.refuse(say(e.Pos(), "%s has a row for each of %s, and what stands before it one for each of %s", spell(e), of.Name,
		b.st.Of.Name).
		With("show it on a line of its own: `show " + spell(e) + "`"))
	return false
}

// overRows checks what has to have a value for each row that is shown.
func (b *asking) overRows(e syntax.Expr, what string) *Def {
	if e == nil {
		return nil
	}
	d := b.value(e)
	if !d.OK() {
		return nil
	}
	if d.Type.Of != b.st.Of {
		has := "is one value"
		cure := "name a column of " + b.st.Of.Name
		if d.Type.Of != nil {
			has = "has a row for each of " + d.Type.Of.Name
		}
		if len(b.st.Show) > 0 {
			cure += ", such as `" + spell(b.st.Show[0].Expr) + "`"
		}
		b.refuse(say(leftmost(e), "%s a column of %s, and this %s", what, b.st.Of.Name, has).With(cure))
		return nil
	}
	return d
}
