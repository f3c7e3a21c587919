package sessions

import (
	"slices"

	"railsum/calc/syntax"
)

// definition finds the line that gives a name its meaning, -1 if none does.
func (s *Session) definition(d syntax.Defined) int {
	return slices.IndexFunc(s.text.Lines, func(l *syntax.Line) bool {
		return slices.ContainsFunc(syntax.Defines(l.Node), func(o syntax.Defined) bool {
			return len(o.Parts) == len(d.Parts) && o.String() == d.String()
		})
	})
}

// heads lists where a plain name stands on a line: as what the line defines, at
// the head of a dotted name, by itself, or behind "at", if no scale has that
// symbol.
func (s *Session) heads(l *syntax.Line, name string) []syntax.Pos {
	var at []syntax.Pos
	part := func(p syntax.Part) {
		if p.Text == name && !p.Quoted {
			at = append(at, p.At)
		}
	}
	for _, d := range syntax.Defines(l.Node) {
		part(d.Parts[0])
	}
	if g, ok := l.Node.(*syntax.Tell); ok && g.Expr == nil {
		part(g.Name)
	}
	syntax.Walk(l.Node, func(e syntax.Expr) {
		switch e := e.(type) {
		case *syntax.Name:
			part(e.Parts[0])
		case *syntax.ScaleName:
			if e.Symbol == name && !s.isScale(name) {
				at = append(at, e.At)
			}
		}
	})
	return at
}

func (s *Session) isScale(symbol string) bool {
	return slices.Contains(s.library.Texts("scales", "label"), symbol)
}

// columns lists where a column of a table stands on a line: in the table's
// head, where it is computed, in table.column and in table."row".column.
func columns(l *syntax.Line, table, column string) []syntax.Pos {
	var at []syntax.Pos
	part := func(ps []syntax.Part) {
		last := ps[len(ps)-1]
		if (len(ps) == 2 || len(ps) == 3) && ps[0].Text == table && last.Text == column {
			at = append(at, last.At)
		}
	}
	if t, ok := l.Node.(*syntax.Table); ok && t.Name.Text == table {
		for _, h := range t.Heads {
			if h.Name.Text == column {
				at = append(at, h.Name.At)
			}
		}
	}
	if d, ok := l.Node.(*syntax.Define); ok {
		part(d.Target.Parts)
	}
	names(l, func(n *syntax.Name) { part(n.Parts) })
	return at
}

// names calls f with every name in the expressions of a line.
func names(l *syntax.Line, f func(*syntax.Name)) {
	syntax.Walk(l.Node, func(e syntax.Expr) {
		if n, ok := e.(*syntax.Name); ok {
			f(n)
		}
	})
}
