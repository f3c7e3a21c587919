package calc

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/view"
)

// card makes the card of a placed sheet.
func (b *Book) card(p *check.Placement) *answer.Card {
	c := &answer.Card{Name: p.Name, Sheet: p.Sheet.Name, Edition: p.Sheet.Edition, Own: p.Sheet.Own,
		About:   p.Sheet.Meaning,
		Verdict: b.CardVerdict(p), Asks: []answer.CardLine{}, Gives: []answer.CardLine{}, Rules: []answer.Judged{},
		Hazards: []string{}, Sources: []string{}, InError: p.Unfit()}
	if len(c.InError) > 0 {
		b.rulesOf(p, c)
		c.Rules, c.Sources = []answer.Judged{}, []string{}
		return c
	}
	asked := map[*check.Tab]bool{}
	for _, l := range p.Sheet.File.Lines {
		switch node := l.Node.(type) {
		case *syntax.Ask:
			if sym := p.Scope.Names[node.Name.Text]; sym != nil && sym.Def != nil {
				c.Asks = append(c.Asks, b.askLine(sym.Def, l, node))
			}
		case *syntax.Table:
			if sym := p.Scope.Names[node.Name.Text]; node.Ask && sym != nil && sym.Tab != nil && !asked[sym.Tab] {
				asked[sym.Tab] = true
				c.Asks = append(c.Asks, b.tableLine(p, sym.Tab, l, node))
			}
		}
	}
	for _, d := range p.Gives {
		line := b.cardLine(d)
		line.Meaning = d.Src.Note
		if line.Meaning == "" { // the short form gives a value named on another line
			if sym := p.Scope.Names[line.Name]; sym != nil && sym.Def != nil {
				line.Meaning = sym.Def.Src.Note
			}
		}
		c.Gives = append(c.Gives, line)
	}
	for _, told := range p.GiveTabs {
		if t := p.Told(told); t != nil {
			line := answer.CardLine{Name: told.Name.Text, Meaning: told.Src.Note, Columns: b.columns(t)}
			if line.Meaning == "" {
				line.Meaning = p.TableNote(told)
			}
			c.Gives = append(c.Gives, line)
		}
	}
	for _, name := range p.Show() {
		c.Show = append(c.Show, name.Text)
	}
	b.rulesOf(p, c)
	c.Count()
	return c
}

// rulesOf puts the rules, hazards and sources of a sheet and of the sheets that
// it places on its card: what endangers a piece endangers the whole.
func (b *Book) rulesOf(p *check.Placement, c *answer.Card) {
	for _, in := range p.Whole() {
		for _, d := range in.Rules {
			j := b.Judge(d)
			j.Rests = b.restsOn(d, p, j.Verdict)
			if in != p {
				j.Piece = strings.TrimPrefix(in.Name, p.Name+".")
				if slices.ContainsFunc(c.Rules, func(k answer.Judged) bool {
					return k.Piece != "" && k.Cond.String() == j.Cond.String() && k.Figures() == j.Figures() &&
						k.Verdict == j.Verdict && k.Else == j.Else
				}) {
					continue // the same piece placed twice says the same
				}
			}
			c.Rules = append(c.Rules, j)
		}
		if in != p {
			c.Rules = append(c.Rules, b.pieceRanges(p, in)...)
		}
		for _, h := range in.Hazards {
			if (h.If == nil || b.mayHold(h.If)) && !slices.Contains(c.Hazards, h.Text) {
				c.Hazards = append(c.Hazards, h.Text)
			}
		}
		for _, s := range in.Sources {
			if !slices.Contains(c.Sources, s) {
				c.Sources = append(c.Sources, s)
			}
		}
	}
}

// restsOn names the inputs of a placed sheet, still at their defaults, that a
// rule's verdict rests on: those asked for that it is computed from, and of those
// taken for granted the ones that it compares where it does not hold.
func (b *Book) restsOn(rule *check.Def, p *check.Placement, v answer.Verdict) []string {
	rests, seen := map[*check.Def]bool{}, map[*check.Def]bool{}
	var walk func(d *check.Def)
	walk = func(d *check.Def) {
		if seen[d] || d.At == nil {
			return
		}
		seen[d] = true
		rests[d] = d.Default && !d.Taken
		if d.At == p && d.Set() {
			return // what it was set to is the user's own
		}
		for _, of := range d.Deps {
			walk(of)
		}
	}
	walk(rule)
	if v > answer.Clear {
		for _, side := range rule.Sides {
			d := side.Same()
			rests[d] = rests[d] || d.Default && !b.Agreed(d)
		}
	}
	var names []string
	for _, d := range p.Asks {
		if rests[d] {
			names = append(names, view.ShortName(d))
		}
	}
	for _, t := range p.AskTabs {
		if name := t.Node.Name.Text; t.Table.Name == p.Scope.FullName(name) &&
			slices.ContainsFunc(t.Order, func(head string) bool { return seen[t.Columns[head]] }) {
			names = append(names, name)
		}
	}
	return names
}

// pieceRanges tells, as rules that do not hold, what a sheet has handed on to a
// piece outside the range that the piece is good for.
func (b *Book) pieceRanges(p, in *check.Placement) []answer.Judged {
	var js []answer.Judged
	for _, d := range in.Asks {
		v := b.InputVerdict(d)
		if v == answer.Clear {
			continue
		}
		name := nameOf(view.ShortName(d))
		j := answer.Judged{Piece: strings.TrimPrefix(in.Name, p.Name+"."), Verdict: v, Cond: name}
		switch why := b.NotAmong(d); {
		case why != "":
			j.Why = why
		case v == answer.Caution:
			j.Cond.Expr = &syntax.Compare{Ops: []string{"<=", "<="},
				X: []syntax.Expr{d.Bounds[0].Expr, name.Expr, d.Bounds[1].Expr}}
			j.Else = fmt.Sprintf("%s lies outside %s to %s, what %s is good for", view.ShortName(d),
				syntax.PrintExpr(d.Bounds[0].Expr), syntax.PrintExpr(d.Bounds[1].Expr), in.Sheet.Name)
		default:
			j.Why, j.Follows = b.WhyNot(d), true
		}
		js = append(js, j)
	}
	return js
}

// mayHold reports whether a hazard's condition holds in any row, or could not
// be settled: a caution too many hurts nobody.
func (b *Book) mayHold(d *check.Def) bool {
	col := b.M.Col(d)
	if !d.OK() || col == nil || len(col.V) == 0 {
		return true
	}
	return view.FirstMarked(col) >= 0 || slices.ContainsFunc(col.V, func(x float64) bool { return x != 0 })
}

func (b *Book) cardLine(d *check.Def) answer.CardLine {
	line := answer.CardLine{Name: view.ShortName(d), Value: b.Value(d)}
	if line.Value == nil {
		line.Why = b.WhyNot(d)
	}
	return line
}

// nameOf is a dotted name as an expression.
func nameOf(dotted string) answer.Expr {
	n := &syntax.Name{}
	for part := range strings.SplitSeq(dotted, ".") {
		n.Parts = append(n.Parts, syntax.Part{Text: part})
	}
	return answer.Expr{Expr: n}
}

func (b *Book) askLine(d *check.Def, l *syntax.Line, node *syntax.Ask) answer.CardLine {
	line := b.cardLine(d)
	line.Meaning, line.State, line.Granted = l.Note, b.StateOf(d), node.Taken
	if !d.Default {
		if !syntax.Written(d.Expr) {
			line.From = answer.Expr{Expr: d.Expr}
		}
	}
	for _, x := range d.Rows() {
		if x.OK() {
			line.Rows = append(line.Rows, answer.CardLine{Name: x.Row(), Value: b.Value(x), State: b.StateOf(x)})
		}
	}
	switch {
	case node.Tail.From != nil:
		line.Range = &answer.Range{Range: node.Tail.Range}
		line.Outside = b.Outside(d)
	case len(node.Tail.Among) > 0:
		line.Range = &answer.Range{Range: node.Tail.Range}
		if why := b.NotAmong(d); why != "" {
			line.Why = why
		}
	}
	return line
}

// columns are those of a table.
func (b *Book) columns(t *check.Tab) []answer.CardLine {
	lines := make([]answer.CardLine, 0, len(t.Order))
	for _, head := range t.Order[1:] {
		line := b.cardLine(t.Columns[head])
		line.Name = head
		lines = append(lines, line)
	}
	return lines
}

// tableLine is the card's line of a table that the sheet asks for.
func (b *Book) tableLine(p *check.Placement, t *check.Tab, l *syntax.Line, node *syntax.Table) answer.CardLine {
	line := answer.CardLine{Name: node.Name.Text, Meaning: l.Note, State: answer.Default, Granted: node.Taken}
	for _, h := range node.Heads {
		col := t.Columns[h.Name.Text]
		if col == nil {
			continue
		}
		if t.Table.Name != p.Scope.FullName(node.Name.Text) {
			line.State = answer.Set
			line.From = nameOf(t.Table.Name)
		}
		sub := b.cardLine(col)
		sub.Name = h.Name.Text
		line.Columns = append(line.Columns, sub)
	}
	return line
}
