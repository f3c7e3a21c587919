package check

import (
	"math"
	"math/big"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// labelColumn is the head under which a table's labels can be read.
const labelColumn = "label"

// table declares a table of the scope, or binds the table that a placed sheet
// asks for to the one it is given.
func (b *builder) table(s *Scope, l *syntax.Line, n int, node *syntax.Table) {
	if p := s.In; p != nil && node.Ask {
		if t, bound := b.askedTable(s, l, n, node); bound {
			if t != nil && b.bind(s, n, node.Name, &Symbol{Tab: t, Row: l.Row}) {
				p.AskTabs = append(p.AskTabs, t)
			}
			return
		}
	}
	t := b.newTab(s, l, n, node)
	if !b.bind(s, n, node.Name, &Symbol{Tab: t, Row: l.Row}) {
		return
	}
	if s.In == nil {
		b.Tabs[n] = t
	} else if node.Ask {
		s.In.AskTabs = append(s.In.AskTabs, t)
	}
}

// newTab makes the columns and cells of a table as it stands.
func (b *builder) newTab(s *Scope, l *syntax.Line, n int, node *syntax.Table) *Tab {
	labels := make([]string, len(node.Rows))
	for i, r := range node.Rows {
		labels[i] = r.Label
	}
	name := s.full(node.Name.Text)
	t := &Tab{
		Table: &types.Table{Name: name, Labels: labels}, Columns: make(map[string]*Def, len(node.Heads)+1),
		Line: n, Row: l.Row, Node: node, Asked: node.Ask,
	}
	b.addColumn(t, labelColumn, b.labels(s, l, n, t))
	for j, h := range node.Heads {
		if t.Columns[h.Name.Text] != nil {
			b.sheetLine(s, n, twoHeads(h.Name))
			continue
		}
		col := &Def{Name: name + "." + h.Name.Text, Role: Column, In: s, Line: n, Src: l, At: s.In, Of: t.Table, Head: h.As, Cells: make([]*Def, len(node.Rows))}
		for i, r := range node.Rows {
			cell := &Def{Role: Cell, In: s, Line: n, Src: l, At: s.In, Head: h.As}
			if j < len(r.Cells) {
				cell.Expr, cell.Tail.Tol = r.Cells[j].Expr, r.Cells[j].Tol
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

// labels makes the column of a table's labels.
func (b *builder) labels(s *Scope, l *syntax.Line, n int, t *Tab) *Def {
	col := &Def{Name: t.Table.Name + "." + labelColumn, Role: Column, In: s, Line: n, Src: l, At: s.In, Of: t.Table, Cells: make([]*Def, len(t.Table.Labels))}
	col.labels = true
	col.Type = types.Type{Kind: types.Text, Of: t.Table}
	for i, label := range t.Table.Labels {
		col.Cells[i] = &Def{Role: Cell, Text: label, state: done, Type: types.Type{Kind: types.Text}, Node: &Node{Op: Const, Text: label, Type: types.Type{Kind: types.Text}}}
	}
	return col
}

// computed adds a computed column, "fleet.power = …".
func (b *builder) computed(s *Scope, l *syntax.Line, n int, t *Tab, node *syntax.Define) {
	head := node.Target.Parts[1]
	if old := t.Columns[head.Text]; old != nil {
		b.sheetLine(s, n, columnTwice(head, t, old))
		return
	}
	d := &Def{Name: s.full(node.Target.String()), Role: Named, Expr: node.Expr, Tail: node.Tail, In: s, Line: n, Src: l, At: s.In, Of: t.Table, Assumed: node.Assumed}
	b.addColumn(t, head.Text, b.add(d))
	if s.In == nil {
		b.Main[n] = d
	}
}

// inferColumn settles a column's type from its cells: all alike, a literal 0
// taking the dimension of the others.
func (b *builder) inferColumn(d *Def) {
	want := types.Type{}
	if d.Head != nil {
		want = unitType(d.Head.Unit)
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
			s := b.newScope(nil)
			tab = b.newTab(s, &syntax.Line{Node: t.Node}, -1, t.Node)
			tab.Line = -1
		}
	}
	b.shipped[name] = tab
	return tab
}
