package calc

import (
	"slices"
	"strings"

	"railsum/calc/check"
	"railsum/calc/syntax"
)

// Links are the lines that a name of the notebook hangs together with.
type Links struct {
	At    []*syntax.Line // that give it its meaning, or set something of it
	Uses  []Link         // that depend on it
	Needs []Link         // that it depends on
}

// Link is one of them, in the order of the notebook.
type Link struct {
	*syntax.Line
	Through bool // it does so through another line
}

// LinksOf finds what depends on a name and what it depends on, nil if the notebook
// has no such name. The name may be that of a value, a table, a column of it, a
// placed sheet, or an input or answer of that.
func (b *Book) LinksOf(name string) *Links {
	of := b.defsOf(name)
	if len(of) == 0 {
		return nil
	}
	own := map[int]bool{}
	for _, d := range of {
		own[lineOf(d)] = true
	}
	needs, uses := b.dependencies()
	l := &Links{Needs: b.links(of, own, needs), Uses: b.links(of, own, uses)}
	met := map[*syntax.Line]bool{}
	for _, use := range l.Uses {
		met[use.Line] = true
	}
	for i, line := range b.C.Lines {
		switch {
		case own[i]:
			l.At = append(l.At, line)
		case !met[line] && speaksOf(line, name): // a table under another name, or a line in error
			l.Uses = append(l.Uses, Link{Line: line})
		}
	}
	slices.SortStableFunc(l.Uses, func(a, b Link) int { return a.Row - b.Row })
	return l
}

// speaksOf reports whether a name, or a part of what it names, stands on a line.
func speaksOf(l *syntax.Line, name string) bool {
	found := false
	syntax.Walk(l.Node, func(e syntax.Expr) {
		if n, is := e.(*syntax.Name); is {
			found = found || n.String() == name || strings.HasPrefix(n.String(), name+".")
		}
	})
	return found
}

// defsOf are the Defs that a name stands for.
func (b *Book) defsOf(name string) []*check.Def {
	line, _ := syntax.ParseLine(name)
	q, is := line.Node.(*syntax.Question)
	if !is {
		return nil
	}
	n, is := q.Expr.(*syntax.Name)
	if !is {
		return nil
	}
	at := b.C.Root.Names[n.Parts[0].Text]
	switch {
	case at == nil:
		return nil
	case at.Tab != nil:
		return tableDefs(at.Tab, n.Parts[1:])
	case at.Place != nil:
		return placeDefs(at.Place, n.Parts[1:])
	case at.Def != nil && len(n.Parts) == 1:
		return []*check.Def{at.Def}
	}
	return nil
}

// tableDefs are the columns of a table, one column, or the cells of a row or of
// one of its columns.
func tableDefs(t *check.Tab, parts []syntax.Part) []*check.Def {
	var found []*check.Def
	row := -1
	if len(parts) > 0 && (parts[0].Quoted || t.Columns[parts[0].Text] == nil) {
		if row = slices.Index(t.Table.Labels, parts[0].Text); row < 0 {
			return nil
		}
		parts = parts[1:]
	}
	for _, head := range t.Order[1:] {
		col := t.Columns[head]
		switch {
		case len(parts) > 0 && parts[0].Text != head:
		case row < 0:
			found = append(append(found, col), col.Cells...)
		case row < len(col.Cells):
			found = append(found, col.Cells[row])
		}
	}
	return found
}

// placeDefs are the inputs and answers of a placed sheet, or the one of a name.
func placeDefs(p *check.Placement, parts []syntax.Part) []*check.Def {
	if p.Scope == nil || len(parts) > 1 {
		return nil
	}
	all := append(slices.Clone(p.Asks), p.Gives...)
	for _, t := range p.AskTabs {
		all = append(all, tableDefs(t, nil)...)
	}
	for _, told := range p.GiveTabs {
		if t := p.Told(told); t != nil {
			all = append(all, tableDefs(t, nil)...)
		}
	}
	if len(parts) == 0 {
		return all
	}
	word := parts[0].Text
	return slices.DeleteFunc(all, func(d *check.Def) bool {
		return d.Name != p.Name+"."+word && !strings.HasPrefix(d.Name, p.Name+"."+word+".") &&
			(d.Role != check.Asked || !p.Sheet.SameInput(word, shortOf(d, p)))
	})
}

func shortOf(d *check.Def, p *check.Placement) string {
	if len(d.Name) <= len(p.Name) {
		return d.Name
	}
	return d.Name[len(p.Name)+1:]
}

// node is a Def, or a line that is a study.
type node struct {
	*check.Def
	line int
}

// lineOf is the notebook's line that a Def belongs to, -1 for what is the
// library's.
func lineOf(d *check.Def) int {
	if d.Src == nil {
		return -1
	}
	return d.Line
}

// dependencies are the ways from each Def to what it needs, and back. A study
// needs what it changes and what it shows.
func (b *Book) dependencies() (needs, uses map[node][]node) {
	needs, uses = map[node][]node{}, map[node][]node{}
	add := func(from node, to *check.Def) {
		if to != nil {
			t := node{to, lineOf(to)}
			needs[from], uses[t] = append(needs[from], t), append(uses[t], from)
		}
	}
	for _, d := range b.C.Order {
		for _, of := range d.Deps {
			add(node{d, lineOf(d)}, of)
		}
		for _, cell := range d.Cells {
			add(node{d, lineOf(d)}, cell)
		}
	}
	for i, s := range b.C.Studies {
		if s == nil {
			continue
		}
		at := node{nil, i}
		for _, a := range s.Axes {
			for _, d := range []*check.Def{a.X, a.From, a.To, a.By, a.Value} {
				add(at, d)
			}
		}
		for _, d := range append(slices.Clone(s.Show), s.X) {
			add(at, d)
		}
		if p := s.Place; p != nil {
			for _, d := range append(slices.Clone(p.Asks), p.Gives...) {
				add(at, d)
			}
		}
	}
	return needs, uses
}

// links walks from some Defs the ways there are; what lies on one line is one step.
func (b *Book) links(from []*check.Def, own map[int]bool, ways map[node][]node) []Link {
	far := map[node]int{}
	first := map[int]int{} // how many lines away a line is
	var now, next []node
	for _, d := range from {
		n := node{d, lineOf(d)}
		far[n], now = 0, append(now, n)
	}
	for steps := 0; len(now) > 0; steps++ {
		for len(now) > 0 {
			n := now[len(now)-1]
			now = now[:len(now)-1]
			for _, to := range ways[n] {
				if _, seen := far[to]; seen {
					continue
				}
				far[to] = steps
				switch {
				case to.line == n.line || own[to.line] && steps == 0:
					now = append(now, to)
				default:
					if _, met := first[to.line]; !met && to.line >= 0 && !own[to.line] {
						first[to.line] = steps
					}
					next = append(next, to)
				}
			}
		}
		now, next = next, nil
	}
	var found []Link
	for i, line := range b.C.Lines {
		if steps, met := first[i]; met {
			found = append(found, Link{line, steps > 0})
		}
	}
	return found
}
