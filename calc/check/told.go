package check

import (
	"fmt"
	"slices"

	"railsum/calc/syntax"
)

// Tables that a sheet tells: "tell table fleet" in the sheet, and in the notebook
// "house.fleet.draw", or "engines = house.fleet" and from there on engines.

// tellsTable reports whether a sheet tells a table of that name.
func (s *Sheet) tellsTable(name string) bool {
	return slices.ContainsFunc(s.File.Lines, func(l *syntax.Line) bool {
		t, is := l.Node.(*syntax.Tell)
		return is && t.Table && t.Name.Text == name
	})
}

// aliases finds the lines that give a table a name which a placed sheet tells.
// It has to be known before anything is made of them, so the sheets' own lines
// are asked.
func (b *builder) aliases(s *Scope, lines []*syntax.Line) map[*syntax.Define]bool {
	var found map[*syntax.Define]bool
	var placed map[string]*syntax.Use
	for _, l := range lines {
		node, is := l.Node.(*syntax.Define)
		if !is || len(node.Target.Parts) > 1 {
			continue
		}
		name, is := node.Expr.(*syntax.Name)
		if !is || len(name.Parts) != 2 || name.Parts[1].Quoted {
			continue
		}
		if placed == nil {
			placed = placedAs(lines)
		}
		use := placed[name.Parts[0].Text]
		if sym := s.Names[name.Parts[0].Text]; use == nil && sym != nil && sym.Place != nil {
			use = sym.Place.use
		}
		if use == nil {
			continue
		}
		if sheet, err := b.lib.Sheet(use.Sheet, use.Own); err != nil || sheet.tellsTable(name.Parts[1].Text) {
			if found == nil {
				found = map[*syntax.Define]bool{}
			}
			found[node] = true
		}
	}
	return found
}

// placedAs gives the use lines by the names of what they place.
func placedAs(lines []*syntax.Line) map[string]*syntax.Use {
	placed := map[string]*syntax.Use{}
	for _, l := range lines {
		use, is := l.Node.(*syntax.Use)
		if !is {
			continue
		}
		for _, name := range use.Names {
			placed[name.Text] = use
		}
		if len(use.Names) == 0 && placed[use.PlacedAs()] == nil {
			placed[use.PlacedAs()] = use
		}
	}
	return placed
}

// alias gives a table that is told a name of the notebook's. Its columns come
// when somebody asks for them, or when all sheets are put to work.
func (b *builder) alias(o Origin, node *syntax.Define) {
	name := node.Expr.(*syntax.Name)
	if t := node.Tail; t.As != nil || t.Tol != nil || t.Whole {
		b.sheetLine(o.In, o.Line, say(name.Pos(), "%s is a whole table, with a unit for each of its columns", name).
			With(fmt.Sprintf("write `%s = %s`", node.Target, name)))
	}
	t := &Tab{Alias: node.Target.Parts[0].Text, Columns: map[string]*Def{}, Order: []string{labelColumn}, Line: o.Line,
		Row: o.Src.Row, of: name}
	if b.bind(o, node.Target.Parts[0], &Symbol{Tab: t, Row: o.Src.Row}) && o.At == nil {
		b.Tabs[o.Line] = t
	}
}

// toldTables gives aliases their columns, and holds lines that tell a table to
// that there is one.
func (b *builder) toldTables(s *Scope, lines []*syntax.Line, at func(int) int) {
	for i, l := range lines {
		switch node := l.Node.(type) {
		case *syntax.Define:
			if sym := s.Names[node.Target.Parts[0].Text]; sym != nil && sym.Tab != nil && sym.Row == l.Row {
				b.filled(s, sym)
			}
		case *syntax.Tell:
			if sym := s.Names[node.Name.Text]; node.Table && (sym == nil || sym.Tab == nil) {
				b.sheetLine(s, at(i), b.noTable(s, node.Name))
			}
		}
	}
}

func (b *builder) noTable(s *Scope, name syntax.Part) syntax.Diag {
	if s.Names[name.Text] == nil {
		return b.unknownName(s, name)
	}
	return say(name.At, "%s is no table", name.Text).With(fmt.Sprintf("write `tell %s`", name.Text))
}

// filled gives an alias the columns of its table, those worked out below it
// behind them. It reports false where there is no such table; the symbol then
// means nothing, and the use line has said why.
func (b *builder) filled(s *Scope, sym *Symbol) bool {
	t := sym.Tab
	if t.of == nil {
		return true
	}
	name := t.of
	t.of = nil // now, for a sheet may want the table on its way to be put to work
	var from *Tab
	if place := s.Names[name.Parts[0].Text]; place != nil && place.Place != nil {
		from = b.toldBy(s, place.Place, name.Parts[1].Text)
	}
	if from == nil {
		d := newDef(Named)
		d.state = done
		sym.Tab, sym.Broken, sym.Def = nil, true, &d
		if s.In == nil {
			b.Tabs[t.Line] = nil
			if len(b.Diags[t.Line]) == 0 {
				b.line(t.Line, notice(name.Pos(), "%s has no value, for a line it needs is in error; mend that first", name))
			}
		}
		return false
	}
	own := t.Order[1:]
	t.Table, t.Node = from.Table, from.Node
	t.Order = slices.Clone(from.Order)
	for _, head := range from.Order {
		if old := t.Columns[head]; old != nil {
			target := old.Src.Node.(*syntax.Define).Target
			b.sheetLine(s, old.Line, say(target.Parts[1].At, "%s already has a column %s, which %s tells", t.Alias, head,
				name.Parts[0].Text).
				With(fmt.Sprintf("choose another name, as in `%s.own_%s = %s`", t.Alias, head, spell(old.Expr))))
			own = slices.DeleteFunc(own, func(h string) bool { return h == head })
		}
		t.Columns[head] = from.Columns[head]
	}
	for _, head := range own {
		t.Columns[head].Of = from.Table
	}
	t.Order = append(t.Order, own...)
	return true
}

// toldBy gives a table that a placed sheet tells or asks for, nil if it has none
// of that name. The sheet is put to work first, where that is still to be done.
func (b *builder) toldBy(s *Scope, p *Placement, name string) *Tab {
	if p.Scope == nil && !p.broken && !p.begun {
		b.instantiate(s, p.Line, p.use)
	}
	if p.Scope == nil {
		return nil
	}
	sym := p.Scope.Names[name]
	if sym == nil || sym.Tab == nil || !b.filled(p.Scope, sym) {
		return nil
	}
	if sym.Tab.Asked || p.tells(name) {
		return sym.Tab
	}
	return nil
}

// tells reports whether a placed sheet tells a table of that name.
func (p *Placement) tells(name string) bool {
	return slices.ContainsFunc(p.GiveTabs, func(t GivenTab) bool { return t.Name.Text == name })
}

// Told gives the table that a placed sheet tells on a line, nil if it is in error.
func (p *Placement) Told(t GivenTab) *Tab {
	if sym := p.Scope.Names[t.Name.Text]; sym != nil {
		return sym.Tab
	}
	return nil
}

// Told reports whether a Def is a column of a table that its sheet tells.
func (d *Def) Told() bool {
	return d.Of != nil && d.At != nil && slices.ContainsFunc(d.At.GiveTabs, func(given GivenTab) bool {
		t := d.At.Told(given)
		return t != nil && t.Table == d.Of
	})
}

// TableNote is the meaning that the sheet gives a table that it tells.
func (p *Placement) TableNote(t GivenTab) string {
	for _, l := range p.Sheet.File.Lines {
		if node, is := l.Node.(*syntax.Table); is && node.Name.Text == t.Name.Text {
			return l.Note
		}
	}
	return ""
}

// Tables reports whether a name of the notebook means a table.
func (c *Checked) Tables(name string) bool {
	sym := c.Root.Names[name]
	return sym != nil && sym.Tab != nil
}

// OverRows gives the names of the notebook that have the rows of a table: its own,
// and those of sheets that have been given columns of it.
func (c *Checked) OverRows(t *Tab) map[string]bool {
	over := map[string]bool{}
	for name, sym := range c.Root.Names {
		switch {
		case t == nil:
		case sym.Tab != nil:
			over[name] = sym.Tab.Table == t.Table
		case sym.Place != nil:
			over[name] = slices.ContainsFunc(sym.Place.Asks, func(d *Def) bool { return d.Type.Of == t.Table })
		}
	}
	return over
}

// Called is what the notebook calls the table.
func (t *Tab) Called() string {
	if t.Alias != "" {
		return t.Alias
	}
	return t.Table.Name
}
