package check

import (
	"fmt"
	"math"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// scalePrefix begins the constant of every scale: scale_H0.
const scalePrefix = "scale_"

// constant gives the predefined constant of that name, nil if there is none.
func (b *builder) constant(name string) *Def {
	if d, ok := b.constants[name]; ok {
		return d
	}
	var d *Def
	if name == "pi" {
		d = newConstant(name, math.Pi)
	} else if symbol, ok := strings.CutPrefix(name, scalePrefix); ok {
		if k := b.scaleRatio(symbol); k > 0 {
			d = newConstant(name, 1/k)
		}
	}
	b.constants[name] = d
	return d
}

func newConstant(name string, v float64) *Def {
	d := newDef(Constant)
	d.Name, d.Line, d.Type, d.state = name, -1, types.Plain, done
	d.Node = &Node{Op: Const, Type: types.Plain, Value: v}
	return &d
}

// scaleRatio is how many times larger than its model the full size is; 0 for a
// symbol that is no scale.
func (b *builder) scaleRatio(symbol string) float64 {
	labels := b.lib.Texts("scales", labelColumn)
	ratios := b.lib.Numbers("scales", "ratio")
	for i, l := range labels {
		if l == symbol && i < len(ratios) {
			return ratios[i]
		}
	}
	return 0
}

// name resolves a name, dotted or not.
func (b *builder) name(d *Def, e *syntax.Name) *Node {
	head := e.Parts[0]
	sym := d.In.Names[head.Text]
	if sym == nil {
		if len(e.Parts) == 1 {
			if c := b.constant(head.Text); c != nil {
				return b.ref(d, c, head.At, e)
			}
		}
		if t := b.shippedTable(head.Text); t != nil {
			return b.tableName(d, e, t, 1)
		}
		d.Waits = append(d.Waits, head.Text)
		unknown := b.unknownName(d.In, head)
		if d.set != nil && d.Expr == syntax.Expr(e) {
			if d.wanted().typ.Kind == types.Text {
				unknown.Cure = fmt.Sprintf("a text stands in quotes, `%q`", head.Text)
			}
		}
		b.report(d, unknown)
		return bad(e)
	}
	switch {
	case sym.Broken:
	case sym.Def != nil && len(e.Parts) == 1:
		return b.ref(d, sym.Def, head.At, e)
	case sym.Def != nil:
		if b.infer(sym.Def); len(sym.Def.Waits) == 0 { // else it may be a table, once there is what it waits for
			b.report(d, notAPlace(head))
		}
	case sym.Tab != nil:
		return b.tableName(d, e, sym.Tab, 1)
	case sym.Case != nil:
		b.report(d, say(head.At, "%s is a case, and has no value", head.Text).With(fmt.Sprintf("ask what would be then: `suppose %s`", head.Text)))
	default:
		return b.placeName(d, e, sym.Place)
	}
	return bad(e)
}

// tableName resolves what follows a table's name: a column, or a row's label
// and a column.
func (b *builder) tableName(d *Def, e *syntax.Name, t *Tab, i int) *Node {
	rest := e.Parts[i:]
	switch len(rest) {
	case 0:
		b.report(d, say(e.Pos(), "%s is a whole table", e).
			With(fmt.Sprintf("name a column, as in `%s.%s`", e, firstColumn(t))))
	case 1:
		if rest[0].Quoted || t.Columns[rest[0].Text] == nil {
			b.report(d, b.noColumn(rest[0], t))
			break
		}
		return b.ref(d, t.Columns[rest[0].Text], e.Pos(), e)
	case 2:
		row, n := t.row(rest[0].Text)
		switch {
		case n == 0:
			b.report(d, b.noRow(rest[0], t))
		case n > 1:
			b.report(d, rowsAlike(rest[0], n))
		case t.Columns[rest[1].Text] == nil:
			b.report(d, b.noColumn(rest[1], t))
		default:
			return b.cell(d, e, t.Columns[rest[1].Text], row)
		}
	default:
		b.report(d, tooManyParts(rest[2]))
	}
	return bad(e)
}

// row finds a row by its label and says how many have it.
func (t *Tab) row(label string) (row, n int) { return rowIn(t.Table, label) }

// cell refers to one row of a column.
func (b *builder) cell(d *Def, e *syntax.Name, col *Def, row int) *Node {
	if col.Cells != nil {
		// Straight to the cell, so that one row of a column may use another;
		// only a literal 0 has to ask its column for a dimension.
		c := col.Cells[row]
		b.infer(c)
		if col.Head != nil || !isZero(c.Node) {
			return b.ref(d, c, e.Pos(), e)
		}
	}
	n := b.ref(d, col, e.Pos(), e)
	if n.Op != Ref {
		return n
	}
	return &Node{Op: RowOf, Type: n.Type.Scalar(), At: n.At, Kids: []*Node{n}, Row: row, expr: e}
}

// placeName resolves what follows a placed sheet's name: an input, an answer,
// or a table it asks for.
func (b *builder) placeName(d *Def, e *syntax.Name, p *Placement) *Node {
	if p.broken || p.Scope == nil || len(p.unused) > 0 {
		return bad(e)
	}
	if len(e.Parts) == 1 {
		b.report(d, placeAlone(e, p))
		return bad(e)
	}
	part := e.Parts[1]
	if b.namesRow(p, e.Parts) {
		return b.rowOfPlace(d, e, p)
	}
	if part.Quoted {
		b.report(d, rowAlone(part, e))
		return bad(e)
	}
	for _, x := range p.Gives {
		if x.Name == p.Scope.full(part.Text) {
			return b.inner(d, e, x)
		}
	}
	sym := p.Scope.Names[b.first(d.In, p, d.Line, part)]
	switch {
	case sym != nil && sym.Def != nil && sym.Def.Role == Asked:
		return b.inner(d, e, sym.Def)
	case sym != nil && sym.Tab != nil && (sym.Tab.Asked || p.tells(part.Text)):
		return b.tableName(d, e, sym.Tab, 2)
	}
	b.report(d, b.noAnswer(part, p))
	return bad(e)
}

func (b *builder) inner(d *Def, e *syntax.Name, x *Def) *Node {
	if len(e.Parts) > 2 {
		b.report(d, tooManyParts(e.Parts[2]))
		return bad(e)
	}
	return b.ref(d, x, e.Pos(), e)
}

// that resolves the nearest question above.
func (b *builder) that(d *Def, e *syntax.That) *Node {
	switch {
	case d.Role != Question && d.Role != Named && d.Role != Given || d.set != nil:
		b.report(d, say(e.At, "`that` may stand in questions and named values only").
			With("give the question a name and use that"))
	case d.that == nil:
		b.report(d, say(e.At, "there is no question above for `that` to mean"))
	default:
		return b.ref(d, d.that, e.At, e)
	}
	return bad(e)
}
