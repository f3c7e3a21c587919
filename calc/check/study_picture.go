package check

import (
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units/words"
)

// Picture checks a picture: its cells, row by row, or the placed sheet it is of.
// The cells of a row are single values, or columns of one table, of which each
// row is drawn.
func (b *asking) Picture(node *syntax.Picture) {
	switch {
	case node.Of != nil:
		b.pictureOf(node)
	case node.Rows != nil:
		b.pictureRows(node)
	}
}

// pictureOf finds the placed sheet and whether it has a picture of that kind.
func (b *asking) pictureOf(node *syntax.Picture) {
	head := node.Of.Parts[0]
	sym := b.d.In.Names[head.Text]
	switch {
	case sym == nil:
		b.d.Waits = append(b.d.Waits, head.Text)
		b.refuse(b.unknownName(b.d.In, head))
	case sym.Broken:
		b.st.OK = false
	case sym.Place == nil || len(node.Of.Parts) > 1:
		b.refuse(say(head.At, "%s is not a sheet in use", node.Of).With("name one, as in `picture north`"))
	case sym.Place.broken || sym.Place.Scope == nil:
		b.st.OK = false
	default:
		b.st.Place = sym.Place
		if sheet := sym.Place.Sheet; node.Kind.Text != "" && sheet.Picture(node.Kind.Text) == nil &&
			node.Kind.Text != "limits" {
			b.refuse(hasNoPicture(node.Kind, sheet))
		}
	}
}

// Pictures lists the lines of a sheet that draw.
func (s *Sheet) Pictures() []*syntax.Line {
	var all []*syntax.Line
	for _, l := range s.File.Lines {
		if p, ok := l.Node.(*syntax.Picture); ok && p.Of == nil {
			all = append(all, l)
		}
	}
	return all
}

// Picture is the first line of the sheet that draws so, or, for no kind, that
// draws at all; nil if there is none.
func (s *Sheet) Picture(kind string) *syntax.Line {
	for _, l := range s.Pictures() {
		if kind == "" || l.Node.(*syntax.Picture).Kind.Text == kind {
			return l
		}
	}
	return nil
}

func hasNoPicture(kind syntax.Part, sheet *Sheet) syntax.Diag {
	var has []string
	for _, l := range sheet.Pictures() {
		if k := "a " + l.Node.(*syntax.Picture).Kind.Text; !slices.Contains(has, k) && k != "a limits" {
			has = append(has, k)
		}
	}
	return say(kind.At, "%s has no %s", sheet.Name, kind.Text).With("it has " + words.And(append(has, "limits")))
}

// pictureRows checks a block cell by cell.
func (b *asking) pictureRows(node *syntax.Picture) {
	kind := node.Kind.Text
	along := types.Type{}
	for _, row := range node.Rows.Rows {
		var of *types.Table
		for i, c := range row.Cells {
			v := b.value(c.Expr)
			b.st.Show = append(b.st.Show, v)
			if v == nil || !v.OK() {
				continue
			}
			of = b.alongside(of, v)
			head := node.Rows.Heads[i].Name.Text
			if known := syntax.PictureWords(kind, head); known != nil {
				b.wordCell(head, known, v)
				continue
			}
			if kind == "circuit" || isZero(v.Node) {
				continue
			}
			switch t := v.Type.Scalar(); {
			case t.Kind != types.Number && t.Kind != types.Point:
				b.refuse(say(c.Expr.Pos(), "%s is a quantity, and this is %s", head, t.Words()))
			case along.Kind == types.Unknown:
				along = t
			case along != t:
				b.refuse(say(c.Expr.Pos(), "one cell of this %s is %s, and this is %s", kind, along.Words(), t.Words()))
			}
		}
	}
}

// wordCell holds a cell that says how or where something is drawn to the words
// there are.
func (b *asking) wordCell(head string, known []string, v *Def) {
	text, literal := v.Expr.(*syntax.Text)
	switch {
	case v.Type.Scalar().Kind != types.Text:
		b.refuse(say(v.Expr.Pos(), "%s is a text, and this is %s", head, v.Type.Words()).With("as in `\"" + known[0] + "\"`"))
	case literal && !slices.Contains(known, text.Value):
		b.refuse(say(v.Expr.Pos(), "there is no %s called %s", head, text.Value).With("there are " + words.And(known)))
	}
}
