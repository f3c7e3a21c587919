package check

import (
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Part checks the fields: how many is a plain number and how long a length, and
// columns are of one table.
func (b *asking) Part(node *syntax.Needed) {
	if node.Of != nil {
		b.elsewhere(node)
		return
	}
	var of *types.Table
	for _, s := range node.With {
		v := b.value(s.Expr)
		b.st.Show = append(b.st.Show, v)
		if v == nil || !v.OK() {
			continue
		}
		switch {
		case s.Name.Text == "count" && v.Type.Scalar() != types.Plain:
			b.refuse(say(s.Expr.Pos(), "a count is a plain number, and this is %s", v.Type.Words()))
		case s.Name.Text == "spare" && (v.Type.Kind != types.Number || !v.Type.Dim.IsPlain()):
			b.refuse(say(s.Expr.Pos(), "the spare is a share, and this is %s", v.Type.Words()).With("as in `spare = 10 %`"))
		case s.Name.Text == "length" && v.Type.Scalar() != unitType(metre):
			b.refuse(say(s.Expr.Pos(), "this is %s, and not a length", v.Type.Words()).With("as in `length = 2 * run`"))
		}
		of = b.alongside(of, v)
	}
}

var metre = units.Known("m")

// alongside holds columns of one row or line to one table, and gives it.
func (b *asking) alongside(of *types.Table, v *Def) *types.Table {
	switch {
	case v.Type.Of == nil:
	case of == nil:
		return v.Type.Of
	case of != v.Type.Of:
		b.refuse(say(v.Expr.Pos(), "one side has a row for each of %s, the other for each of %s", of.Name, v.Type.Of.Name).
			With("look values up with `lookup(key, …)`, or gather one of them with sum, mean, least or most"))
	}
	return of
}

// elsewhere holds what is needed in two places to placed sheets that need it.
func (b *asking) elsewhere(node *syntax.Needed) {
	for _, part := range append(slices.Clone(node.Of), node.From) {
		p := b.placed(part)
		switch {
		case p == nil:
			return
		case !p.Sheet.needs(node.What.Text):
			b.refuse(say(part.At, "%s needs no %s, by the part lines of its sheet", part.Text, node.What.Text).
				With("leave it out"))
			return
		case part.At != node.From.At && part.Text == node.From.Text:
			b.refuse(say(part.At, "%s cannot be in itself", part.Text).With("name the placed sheet that has it"))
			return
		}
	}
}

// placed gives a placed sheet by its name, nil, having said why, if there is none.
func (b *asking) placed(part syntax.Part) *Placement {
	sym := b.d.In.Names[part.Text]
	switch {
	case sym == nil:
		b.d.Waits = append(b.d.Waits, part.Text)
		b.refuse(b.unknownPlace(b.d.In, part))
	case sym.Broken || sym.Place != nil && (sym.Place.broken || sym.Place.Scope == nil):
		b.noValue(b.d, part.At, part.Text)
		b.st.OK = false
	case sym.Place == nil:
		b.refuse(say(part.At, "%s is no placed sheet", part.Text).With("name a placed sheet"))
	default:
		return sym.Place
	}
	return nil
}

// needs reports whether a sheet has a part line of that word.
func (s *Sheet) needs(what string) bool {
	return slices.ContainsFunc(s.File.Lines, func(l *syntax.Line) bool {
		n, is := l.Node.(*syntax.Needed)
		return is && n.Of == nil && n.What.Text == what
	})
}
