package study

import (
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/calc/view"
)

// Picture tells what is to be drawn: of these rows, of the rules of these lines,
// or of a placed sheet.
func (a *Asking) Picture(node *syntax.Picture) {
	p := a.s.Place
	if p == nil {
		a.kept.answer = a.picture(a.s, nil)
		return
	}
	if l := p.Sheet.Picture(node.Kind.Text); l != nil {
		a.kept.answer = a.picture(a.Work(p, l), p)
		return
	}
	a.kept.answer = a.bounds(p)
}

// Work works out a line of a placed sheet that counts only when somebody asks
// for it.
func (l *Lab) Work(p *check.Placement, line *syntax.Line) *check.Study {
	from := len(l.C.Order)
	s := l.C.Work(p, line)
	l.compute(from)
	return s
}

// compute fills the registers of what has come at the end of the order.
func (l *Lab) compute(from int) {
	l.M.Extend(l.C.Order[from:])
	l.M.Compute(from)
}

// Drawn are the pictures of a placed sheet, in the order of its lines; of one
// that has none, its limits.
func (l *Lab) Drawn(p *check.Placement) []*answer.Picture {
	var all []*answer.Picture
	for _, line := range p.Sheet.Pictures() {
		all = append(all, l.picture(l.Work(p, line), p))
	}
	if len(all) == 0 {
		all = append(all, l.bounds(p))
	}
	return all
}

// Slips are what usual mistakes make of the answers of a placed sheet.
func (l *Lab) Slips(p *check.Placement) []*answer.Slip {
	var all []*answer.Slip
	for _, line := range p.Sheet.File.Lines {
		if node, ok := line.Node.(*syntax.Slip); ok {
			if s := l.Work(p, line); s.OK && len(s.Show) > 0 {
				all = append(all, l.slip(s, node))
			}
		}
	}
	return all
}

// picture is what a line draws, of the notebook or of a placed sheet.
func (l *Lab) picture(s *check.Study, p *check.Placement) *answer.Picture {
	node := s.Node.(*syntax.Picture)
	if node.Rows == nil {
		return l.bounds(p)
	}
	out := l.titled(p, node.Kind.Text)
	out.Caption = s.Line.Note
	if !s.OK {
		out.None = "an input that is drawn is in error"
		return out
	}
	for _, h := range node.Rows.Heads {
		out.Columns = append(out.Columns, h.Name.Text)
	}
	cells := s.Show
	for _, row := range node.Rows.Rows {
		l.drawn(out, row.Label, cells[:len(row.Cells)], p)
		cells = cells[len(row.Cells):]
	}
	if node.Kind.Text != "circuit" {
		l.along(out)
	}
	out.None = missing(out, s.Show)
	return out
}

func (l *Lab) titled(p *check.Placement, kind string) *answer.Picture {
	out := &answer.Picture{Kind: kind}
	if p != nil {
		out.Name, out.Sheet = p.Name, p.Sheet.Name
	}
	return out
}

// drawn adds a row: of columns, one for each row of their table; but of a table
// that a placed sheet has been put over, only for the worst.
func (l *Lab) drawn(out *answer.Picture, label string, cells []*check.Def, p *check.Placement) {
	var of *types.Table
	for _, d := range cells {
		if d.Type.Of != nil {
			of = d.Type.Of
		}
	}
	row := func(label string, r int) {
		values := make([]*answer.Value, len(cells))
		for i, d := range cells {
			values[i] = l.RowValue(d, r)
		}
		out.Rows = append(out.Rows, answer.PictureRow{Label: label, Cells: values})
	}
	switch {
	case of == nil:
		row(label, 0)
	case p != nil && l.C.PutOver(p, of):
		r := l.worstOf(p, of)
		if r < 0 {
			return
		}
		if name := of.Labels[r]; !slices.Contains(out.Worst, name) {
			out.Worst = append(out.Worst, name)
		}
		row(label, r)
	default:
		for r, name := range of.Labels {
			row(name, r)
		}
	}
}

// worstOf is the row of a table for which the rules of a placed sheet say the
// worst, the first of them; -1 if the table has no rows.
func (l *Lab) worstOf(p *check.Placement, of *types.Table) int {
	if len(of.Labels) == 0 {
		return -1
	}
	worst, at := answer.NotJudged, 0
	for r := range of.Labels {
		v := answer.NotJudged
		for _, in := range p.Whole() {
			for _, rule := range in.Rules {
				if col := l.M.Col(rule); rule.OK() && rule.Type.Of == of && col != nil && r < col.Rows {
					v = max(v, view.VerdictAt(rule, oneRow(col, r), 0))
				}
			}
		}
		if v > worst {
			worst, at = v, r
		}
	}
	return at
}

// oneRow is a row of a column as a column of its own.
func oneRow(col *run.Col, r int) *run.Col {
	one := &run.Col{Rows: 1, Width: 1, V: col.V[r : r+1]}
	if col.Marks != nil {
		one.Marks = col.Marks[r : r+1]
	}
	return one
}

// along gives all quantities of a picture the unit in which the largest reads
// well.
func (l *Lab) along(p *answer.Picture) {
	all := &answer.Value{}
	for _, row := range p.Rows {
		for _, v := range row.Cells {
			if v.Quantity() && (v.Sound() || len(all.Numbers) == 0) &&
				!(v.Type == types.Plain && all.Type.Kind != types.Unknown) {
				all.Type, all.Numbers = v.Type, append(all.Numbers, v.Numbers...)
			}
		}
	}
	p.Along = l.UnitFor(all, check.Display{})
	for _, row := range p.Rows {
		for _, v := range row.Cells {
			if v.Quantity() {
				v.Unit, v.Literal = p.Along, answer.Typed{}
			}
		}
	}
}

// missing says why there is no picture, empty if there is one: nothing of a
// circuit can be left out, of the others not all.
func missing(p *answer.Picture, cells []*check.Def) string {
	bad, rows := "", 0
	width := len(p.Columns)
	for i, row := range p.Rows {
		sound := true
		for k, v := range row.Cells {
			if v.Sound() {
				continue
			}
			sound = false
			if at := i*width + k; bad == "" && at < len(cells) && len(cells) == len(p.Rows)*width {
				bad = syntax.PrintExpr(cells[at].Expr) + " has no answer"
			} else if bad == "" {
				bad = row.Label + " has no answer"
			}
		}
		if sound {
			rows++
		}
	}
	switch {
	case bad != "" && (p.Kind == "circuit" || rows == 0):
		return bad
	case rows == 0:
		return "there are no rows"
	}
	return ""
}
