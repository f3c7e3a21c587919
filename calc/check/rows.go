package check

import (
	"fmt"
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Rows of a placed sheet that has been given columns: "runs."six, branch".lost"
// is a row of an answer, and the same with an input and "=" gives that row a value
// of its own beside the one that all rows have.

// namesRow reports whether a name of a placed sheet, an answer or an input of it,
// says which row of it is meant.
func (b *builder) namesRow(p *Placement, parts []syntax.Part) bool {
	if len(parts) != 3 || parts[2].Quoted {
		return false
	}
	if parts[1].Quoted {
		return true
	}
	sheet, err := b.lib.Sheet(p.use.Sheet, p.use.Own)
	return err == nil && !sheet.named(parts[1].Text)
}

// named reports whether a sheet has a line of that name, or an input that is known
// by it.
func (s *Sheet) named(name string) bool {
	for _, l := range s.File.Lines {
		for _, d := range syntax.Defines(l.Node) {
			if d.Parts[0].Text == name {
				return true
			}
		}
		if a, is := l.Node.(*syntax.Ask); is {
			for _, w := range a.Words {
				if w.Text == name {
					return true
				}
			}
		}
	}
	return false
}

// setRow records a setting of one row; a second one for the same is in error.
func (b *builder) setRow(p *Placement, set *setting) {
	for _, old := range p.rows {
		if old.key == set.key && old.row.Text == set.row.Text {
			b.sheetLine(set.in, set.line, say(set.row.At, "%s of %q is already set on line %d", set.key, set.row.Text,
				old.src.Row).
				With("strike one of them"))
			return
		}
	}
	p.rows = append(p.rows, set)
}

// ownRows makes the values that single rows of an input have.
func (b *builder) ownRows(d *Def, node *syntax.Ask) {
	p := d.At
	for _, set := range p.rows {
		if set.key != node.Name.Text {
			continue
		}
		set.used = true
		x := Origin{In: set.in, Line: set.line, Src: set.src, At: p}.def(Asked, set.expr)
		x.Name = (&syntax.Name{Parts: []syntax.Part{{Text: p.Name}, {Text: set.row.Text, Quoted: true},
			{Text: node.Name.Text}}}).String()
		x.Whole, x.Assumed, x.input().set, set.def = node.Tail.Whole || set.tail.Whole, set.assumed, set, x
		tail := set.tail
		tail.Range = node.Tail.Range
		x.Tail, x.Input.Bounds, x.Input.Choice = &tail, d.Bounds, d.Choice
		d.input().rows = append(d.rows, b.add(x))
		if p.Parent == nil && set.line < len(b.Main) && b.trial == 0 && !set.like {
			b.Main[set.line] = x
		}
	}
}

// overridden puts the values that single rows have into an input's column.
func (b *builder) overridden(d *Def, n *Node, t types.Type) (*Node, types.Type) {
	of := t.Of
	if of == nil {
		of = b.rowsOf(d)
	}
	for _, x := range d.rows {
		b.infer(x)
		row, ok := b.rowFor(d, x, of)
		if !ok || !x.OK() {
			continue
		}
		if t.Of == nil {
			t.Of = of
			n = &Node{Op: Spread, Type: t, At: n.At, Kids: []*Node{n}}
		}
		d.Deps = append(d.Deps, x)
		n = &Node{Op: Override, Type: t, At: n.At, Row: row, Kids: []*Node{n, {Op: Ref, Type: x.Type, At: n.At, Def: x}}}
	}
	return n, t
}

// rowFor finds the row that a value is for, and says so where there is none.
func (b *builder) rowFor(d, x *Def, of *types.Table) (row int, ok bool) {
	set := x.set
	refuse := func(diag syntax.Diag) (int, bool) {
		if !set.like { // what another placing has said need not go for this one
			x.Diags = append(x.Diags, diag)
		}
		if x.broken = true; d.At.Parent == nil && b.trial == 0 && b.Main[set.line] == x {
			b.Main[set.line] = nil // it has a value, which counts for nothing
		}
		return 0, false
	}
	switch row, n := rowIn(of, set.row.Text); {
	case of == nil:
		return refuse(say(set.row.At, "%s has no rows: none of its inputs is a column", d.At.Name).
			With(fmt.Sprintf("write `%s.%s = %s`", d.At.Name, set.key, spell(set.expr))))
	case n == 0:
		return refuse(b.noRow(*set.row, &Tab{Table: of}))
	case n > 1:
		return refuse(rowsAlike(*set.row, n))
	case x.Type.Of != nil:
		return refuse(say(x.Expr.Pos(), "one row takes one value, and this has one for each of %s", x.Type.Of.Name).
			With("gather it with sum, mean, least or most"))
	case d.Tail.Tol != nil:
		return refuse(say(set.at, "%s has a tolerance that goes for all rows", d.Name).
			With("give each row its own value, in a column of the table"))
	default:
		return row, true
	}
}

// rowsOf is the table whose rows a placed sheet has been given with other inputs,
// nil if with none.
func (b *builder) rowsOf(d *Def) *types.Table {
	for _, x := range d.At.Asks {
		if x == d || x.state == open {
			continue
		}
		if b.infer(x); x.Type.Of != nil {
			return x.Type.Of
		}
	}
	return nil
}

// rowOfPlace refers to one row of an answer or input of a placed sheet.
func (b *builder) rowOfPlace(d *Def, e *syntax.Name, p *Placement) *Node {
	n := b.placeName(d, &syntax.Name{Parts: []syntax.Part{e.Parts[0], e.Parts[2]}}, p)
	if unknown(n) || n.Op != Ref {
		return n
	}
	label := e.Parts[1]
	if n.Type.Of == nil {
		b.report(d, say(label.At, "%s.%s is one value and has no rows", p.Name, e.Parts[2].Text).
			With(fmt.Sprintf("write `%s.%s`", p.Name, e.Parts[2].Text)))
		return bad(e)
	}
	row, found := rowIn(n.Type.Of, label.Text)
	switch {
	case found == 0:
		b.report(d, b.noRow(label, &Tab{Table: n.Type.Of}))
		return bad(e)
	case found > 1:
		b.report(d, rowsAlike(label, found))
		return bad(e)
	}
	for _, x := range n.Def.rows {
		if x.set.row.Text == label.Text && x.OK() && !x.broken {
			return b.ref(d, x, e.Pos(), e)
		}
	}
	n.expr = e
	return &Node{Op: RowOf, Type: n.Type.Scalar(), At: n.At, Kids: []*Node{n}, Row: row, expr: e}
}

// rowIn finds a row by its label and says how many have it.
func rowIn(of *types.Table, label string) (row, n int) {
	if of == nil {
		return 0, 0
	}
	for i, l := range of.Labels {
		if l == label {
			row = i
			n++
		}
	}
	return row, n
}

// Rows are the rows of an input that have a value of their own, in the order of
// the notebook.
func (d *Def) Rows() []*Def {
	return slices.DeleteFunc(slices.Clone(d.rows), func(x *Def) bool { return x.broken || !x.OK() })
}

// Row is the label of the one row that a setting is for, empty if it is for all.
func (d *Def) Row() string {
	if d.set == nil || d.set.row == nil {
		return ""
	}
	return d.set.row.Text
}
