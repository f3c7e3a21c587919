package check

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// labelColumn is the head under which a table's labels can be read.
const labelColumn = "label"

// table declares a table of the scope, or binds the table that a placed sheet
// asks for to the one it is given.
func (b *builder) table(o Origin, node *syntax.Table) {
	t, bound := (*Tab)(nil), false
	if o.At != nil && node.Ask {
		t, bound = b.askedTable(o, node)
	}
	switch {
	case bound:
	case node.From != nil:
		if t = b.fileTab(o, node); t == nil {
			b.broken(o, node.Name)
			return
		}
	default:
		t = b.newTab(o, node)
	}
	switch {
	case t == nil || !b.bind(o, node.Name, &Symbol{Tab: t, Row: o.Src.Row}):
	case o.At == nil:
		b.Tabs[o.Line] = t
	case node.Ask:
		o.At.AskTabs = append(o.At.AskTabs, t)
	}
}

// fileTab makes a table of what a file holds. What is wrong with a cell is told on
// the line, with the cell's row in the file.
func (b *builder) fileTab(o Origin, node *syntax.Table) *Tab {
	held, faults := b.lib.TableFile(node.From.Value)
	for _, wrong := range faults {
		b.sheetLine(o.In, o.Line, syntax.Diag{At: node.From.At, Wrong: wrong})
	}
	if held == nil {
		return nil
	}
	of := *held
	of.Name = node.Name
	t := b.newTab(o, &of)
	t.Node = node
	for _, head := range t.Order[1:] {
		t.Columns[head].file = node.From
	}
	return t
}

// inFile moves what is wrong with cells of a file to the line that reads it.
func (d *Def) inFile() {
	for i := range d.Diags {
		diag := &d.Diags[i]
		diag.Message = fmt.Sprintf("%s: row %d, column %s: %s", d.file.Value, diag.At.Row,
			d.Name[strings.LastIndexByte(d.Name, '.')+1:], diag.Message)
		diag.At = d.file.At
	}
}

// newTab makes the columns and cells of a table as it stands.
func (b *builder) newTab(o Origin, node *syntax.Table) *Tab {
	labels := make([]string, len(node.Rows))
	for i, r := range node.Rows {
		labels[i] = r.Label
	}
	name := o.In.full(node.Name.Text)
	t := &Tab{
		Table: &types.Table{Name: name, Labels: labels}, Columns: make(map[string]*Def, len(node.Heads)+1),
		Line: o.Line, Row: o.Src.Row, Node: node, Asked: node.Ask,
	}
	b.addColumn(t, labelColumn, labelsOf(o, t.Table))
	for j, h := range node.Heads {
		if t.Columns[h.Name.Text] != nil {
			b.sheetLine(o.In, o.Line, say(h.Name.At, "the table already has a column %s", h.Name.Text))
			continue
		}
		col := o.column(t.Table, h.Name.Text)
		col.Head, col.Whole, col.dates, col.Cells = h.As, h.Whole, h.Date, make([]*Def, len(node.Rows))
		cells := make([]Def, len(node.Rows)) // all at once: there may be a hundred thousand
		for i, r := range node.Rows {
			cell := &cells[i]
			in := h.Default
			if j < len(r.Cells) && r.Cells[j].Expr != nil {
				in = r.Cells[j]
			}
			*cell = newDef(Cell)
			cell.Origin, cell.Expr, cell.Head, cell.Whole, cell.dates = o, in.Expr, h.As, h.Whole, h.Date
			if in.Tol != nil {
				cell.Tail = &syntax.Tail{Tol: in.Tol}
			}
			col.Cells[i] = b.add(cell)
		}
		b.addColumn(t, h.Name.Text, b.add(col))
	}
	return t
}

func (b *builder) addColumn(t *Tab, name string, d *Def) {
	t.Columns[name] = d
	t.Order = append(t.Order, name)
}

// column makes a column of a table, its cells still to come.
func (o Origin) column(t *types.Table, head string) *Def {
	d := o.def(Column, nil)
	d.Name, d.Of = t.Name+"."+head, t
	return d
}

// labelsOf makes the column of a table's labels. It has no cells: nothing is to be
// found of a label.
func labelsOf(o Origin, t *types.Table) *Def {
	col := o.column(t, labelColumn)
	col.labels = true
	col.Type = types.Type{Kind: types.Text, Of: t}
	return col
}

// Labels are those of a Column of labels, nil for any other Def.
func (d *Def) Labels() []string {
	if !d.labels {
		return nil
	}
	return d.Of.Labels
}

// computed adds a computed column, "fleet.power = …".
func (b *builder) computed(o Origin, t *Tab, node *syntax.Define) {
	head := node.Target.Parts[1]
	if old := t.Columns[head.Text]; old != nil {
		b.sheetLine(o.In, o.Line, columnTwice(head, t, old))
		return
	}
	d := o.def(Named, node.Expr).title(node.Target.String())
	d.Tail, d.Of, d.Whole, d.Assumed = &node.Tail, t.Table, node.Tail.Whole, node.Assumed
	b.addColumn(t, head.Text, b.main(b.add(d)))
}

// inferColumn settles a column's type from its cells: all alike, a literal 0
// taking the dimension of the others.
func (b *builder) inferColumn(d *Def) {
	if d.file != nil {
		defer d.inFile()
	}
	want := types.Type{}
	switch {
	case d.Head != nil:
		want = unitType(d.Head.Unit)
	case d.Whole:
		want = plainNumber
	case d.dates:
		want.Kind = types.Date
	}
	zeros := false
	for _, c := range d.Cells {
		b.infer(c)
		d.Deps = append(d.Deps, c)
		d.Loose = d.Loose || c.Loose || c.Tol > 0
		if c.Type.Kind == types.Unknown {
			d.Diags = append(d.Diags, c.Diags...)
			d.Waits = append(d.Waits, c.Waits...)
			c.Diags, c.Waits = nil, nil
			want.Kind = types.Unknown
			d.broken = true
			continue
		}
		d.MayBeNone = d.MayBeNone || c.MayBeNone
		if c.Node != nil && isNothing(c.Node) {
			continue
		}
		if isZero(c.Node) && c.Type == plainNumber {
			zeros = true
			continue
		}
		switch {
		case d.broken:
		case want.Kind == types.Unknown:
			want = c.Type
			d.Show = c.Show
		case want != c.Type:
			d.Diags = append(d.Diags, oddCell(c, want))
			d.broken = true
		}
	}
	if d.broken {
		return
	}
	if want.Kind == types.Unknown {
		if zeros {
			want = plainNumber
		} else {
			d.emptyNoUnit = len(d.Cells) == 0
			return
		}
	}
	if zeros && want.Kind != types.Number && want.Kind != types.Unknown {
		d.Diags = append(d.Diags, oddCell(firstZero(d.Cells), want))
		return
	}
	if d.Head != nil {
		d.Show = d.Head.Unit
	}
	want.Of = d.Of
	d.Type = want
}

func firstZero(cells []*Def) *Def {
	for _, c := range cells {
		if isZero(c.Node) {
			return c
		}
	}
	return cells[0]
}

// headNumber reads a bare number in a cell in the unit of its head.
func headNumber(e syntax.Expr, u units.Unit) (float64, bool) {
	neg := false
	if un, ok := e.(*syntax.Unary); ok && un.Op == "-" {
		neg, e = true, un.X
	}
	lit, ok := e.(*syntax.Literal)
	if !ok || lit.Form != syntax.Plain {
		return 0, false
	}
	r, ok := new(big.Rat).SetString(lit.Text)
	if !ok {
		return 0, false
	}
	if neg {
		r.Neg(r)
	}
	v := u.SI(r)
	return v, !math.IsInf(v, 0)
}

func unitType(u units.Unit) types.Type {
	if u.Point() {
		return types.Type{Kind: types.Point}
	}
	return types.Type{Kind: types.Number, Dim: u.Dim()}
}

// shippedTable gives the table of the library of that name, made when it is
// first asked for.
func (b *builder) shippedTable(name string) *Tab {
	if t, ok := b.shipped[name]; ok {
		return t
	}
	var tab *Tab
	if b.libraryHasTable(name) {
		if t := b.lib.Table(name); t != nil {
			tab = b.newTab(b.newScope(nil).origin(-1, &syntax.Line{Node: t.Node}), t.Node)
		}
	}
	b.shipped[name] = tab
	return tab
}
