package sessions

import (
	"slices"
	"strings"

	"railsum/calc/syntax"
)

// exprs calls f with every expression that stands on a line.
func exprs(n syntax.Node, f func(syntax.Expr)) {
	some := func(es ...syntax.Expr) {
		for _, e := range es {
			walk(e, f)
		}
	}
	tail := func(t syntax.Tail) {
		some(t.From, t.To)
		some(t.Among...)
	}
	switch n := n.(type) {
	case *syntax.Define:
		some(n.Expr)
		tail(n.Tail)
	case *syntax.Question:
		some(n.Expr)
		tail(n.Tail)
	case *syntax.Ask:
		some(n.Expr)
		tail(n.Tail)
	case *syntax.Give:
		some(n.Expr)
		tail(n.Tail)
	case *syntax.Rule:
		some(n.Cond)
	case *syntax.Hazard:
		some(n.If)
	case *syntax.Use:
		for _, s := range n.With {
			some(s.Expr)
		}
	case *syntax.Table:
		for _, r := range n.Rows {
			for _, c := range r.Cells {
				some(c.Expr)
			}
		}
	default:
		studied(n, some)
	}
}

// studied does the same for the lines that put a question to the others.
func studied(n syntax.Node, some func(...syntax.Expr)) {
	shown := func(show []syntax.Shown) {
		for _, s := range show {
			some(s.Expr)
		}
	}
	switch n := n.(type) {
	case *syntax.Find:
		some(n.X, n.From, n.To)
		some(n.Among...)
		some(n.So)
	case *syntax.Vary:
		for _, a := range n.Axes {
			some(a.X, a.From, a.To, a.By)
			some(a.Among...)
		}
		shown(n.Show)
	case *syntax.Suppose:
		for _, s := range n.Sets {
			some(s.X, s.Expr)
		}
		shown(n.Show)
	case *syntax.Spread:
		shown(n.Show)
	case *syntax.Working:
		some(n.X)
	case *syntax.Measured:
		some(n.X, n.Expr)
		some(n.Tail.From, n.Tail.To)
		some(n.Tail.Among...)
	}
}

// walk calls f with an expression and every one in it.
func walk(e syntax.Expr, f func(syntax.Expr)) {
	if e == nil {
		return
	}
	f(e)
	switch e := e.(type) {
	case *syntax.Group:
		walk(e.X, f)
	case *syntax.Unary:
		walk(e.X, f)
	case *syntax.Binary:
		walk(e.X, f)
		walk(e.Y, f)
	case *syntax.Compare:
		for _, x := range e.X {
			walk(x, f)
		}
	case *syntax.Scaled:
		walk(e.X, f)
		walk(e.By, f)
	case *syntax.Call:
		for _, x := range e.Args {
			walk(x, f)
		}
	case *syntax.If:
		walk(e.Cond, f)
		walk(e.Then, f)
		walk(e.Else, f)
	}
}

// kind is what a line makes of the names it gives a meaning. A line takes the
// place of an earlier one only if both make the same of them.
type kind string

const (
	value kind = "a value"
	table kind = "a table"
	sheet kind = "a sheet in use"
)

// definition is a name that a line gives a meaning.
type definition struct {
	parts []syntax.Part
	kind  kind
	at    syntax.Pos
}

// key is what names are compared by: quotes around a part make no difference.
func key(parts []syntax.Part) string {
	if len(parts) == 1 {
		return parts[0].Text
	}
	words := make([]string, len(parts))
	for i, p := range parts {
		words[i] = p.Text
	}
	return strings.Join(words, ".")
}

func (d definition) String() string { return key(d.parts) }

// defined lists the names that a line gives a meaning.
func defined(l *syntax.Line) []definition {
	one := func(k kind, parts ...syntax.Part) []definition {
		return []definition{{parts, k, parts[0].At}}
	}
	switch n := l.Node.(type) {
	case *syntax.Define:
		return one(value, n.Target.Parts...)
	case *syntax.Ask:
		return one(value, n.Name)
	case *syntax.Give:
		if n.Expr != nil {
			return one(value, n.Name)
		}
	case *syntax.Table:
		return one(table, n.Name)
	case *syntax.Use:
		var ds []definition
		for _, p := range n.Names {
			ds = append(ds, definition{[]syntax.Part{p}, sheet, p.At})
		}
		return ds
	}
	return nil
}

// definition finds the line that gives a name its meaning, -1 if none does.
func (s *Session) definition(d definition) int {
	return slices.IndexFunc(s.text.Lines, func(l *syntax.Line) bool {
		return slices.ContainsFunc(defined(l), func(o definition) bool {
			return len(o.parts) == len(d.parts) && o.String() == d.String()
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
	for _, d := range defined(l) {
		part(d.parts[0])
	}
	if g, ok := l.Node.(*syntax.Give); ok && g.Expr == nil {
		part(g.Name)
	}
	exprs(l.Node, func(e syntax.Expr) {
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
	exprs(l.Node, func(e syntax.Expr) {
		if n, ok := e.(*syntax.Name); ok {
			f(n)
		}
	})
}
