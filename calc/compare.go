package calc

import (
	"cmp"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/view"
)

// Compare says what has changed from one book to another, by name. Studies put
// other values into the same lines and are not compared.
func Compare(old, now *Book) *answer.Comparison {
	was, is := old.named(), now.named()
	c := &answer.Comparison{Was: old.summary(), Now: now.summary(), Rules: []answer.Rejudged{}, Cards: []answer.Recarded{},
		Inputs:  []answer.Moved{},
		Answers: []answer.Moved{}, Sheets: []answer.SheetChange{}, New: was.without(is), Gone: is.without(was)}
	for _, name := range is.order {
		if w := was.of[name]; w != nil && !was.another(firstPart(name), is) {
			compared(c, name, w, is.of[name])
		}
	}
	turned := rejudged(c, old, now, func(name string) bool { return was.another(firstPart(name), is) })
	was.places(c, is, old, now, turned)
	return c
}

// compared adds what has become of something that both name.
func compared(c *answer.Comparison, name string, was, is *entry) {
	if was.hands != "" && was.hands == is.hands && was.state == is.state {
		return // told where it comes from
	}
	settled := was.state != is.state || was.hands != is.hands // otherwise than before
	input := was.input && is.input || settled
	share := answer.Slight
	if input {
		share = 0
	}
	moved, slight := answer.Between(name, was.value, is.value, share)
	c.Slight += slight
	if len(moved) == 0 && was.state != is.state {
		moved = []answer.Moved{{Name: name, Was: was.value, Now: is.value}}
	}
	if !input {
		c.Answers = append(c.Answers, moved...)
		return
	}
	for i := range moved {
		moved[i].WasState, moved[i].NowState = was.state, is.state
	}
	c.Inputs = append(c.Inputs, moved...)
}

// summary is what the book comes to.
func (b *Book) summary() answer.Summary {
	s := answer.Summary{Verdict: b.Verdict()}
	for _, a := range b.All() {
		if len(a.Errors)+len(a.Waiting) > 0 {
			s.Errors++
		}
	}
	return s
}

// entry is something with a name and a value.
type entry struct {
	value *answer.Value
	state answer.State
	input bool   // nothing of the notebook is in it
	hands string // of an input that only hands on another value: the name of that
}

// entries are all that a book names, in its order.
type entries struct {
	of    map[string]*entry
	order []string
	heads []string // names that stand by themselves: what can be new or gone,
	has   map[string]bool
	rows  map[string][]string // and the labels of those that are tables
	placed
}

// placed are the sheets in use, by what they are placed as, and by themselves.
type placed struct {
	by     map[string]*check.Placement
	sheets map[string]*check.Sheet
	names  []string // of both, in order
}

func (b *Book) named() *entries {
	n := &entries{of: map[string]*entry{}, has: map[string]bool{}, rows: map[string][]string{},
		placed: placed{map[string]*check.Placement{}, map[string]*check.Sheet{}, nil}}
	for i := range b.C.Lines {
		if d := b.C.Main[i]; d != nil && d.At == nil && !b.OfStudy(d) {
			switch d.Role {
			case check.Named:
				n.add(d.Name, b.entry(d))
				n.head(firstPart(d.Name))
			case check.Question:
				n.add(answer.Expr{Expr: d.Expr}.String(), b.entry(d))
			}
		}
		if t := b.C.Tabs[i]; t != nil {
			n.table(b, t)
		}
		for _, p := range b.C.Places[i] {
			n.place(b, p)
		}
	}
	return n
}

func (b *Book) entry(d *check.Def) *entry {
	return &entry{value: b.Value(d), input: len(d.Deps) == 0}
}

func (n *entries) add(name string, e *entry) {
	if n.of[name] == nil {
		n.of[name], n.order = e, append(n.order, name)
	}
}

func (n *entries) head(name string) {
	if !n.has[name] {
		n.has[name], n.heads = true, append(n.heads, name)
	}
}

func firstPart(name string) string {
	head, _, _ := strings.Cut(name, ".")
	return head
}

// table adds a table, its columns and its rows.
func (n *entries) table(b *Book, t *check.Tab) {
	if t.Alias != "" { // the sheet that tells it is compared
		n.head(t.Alias)
		return
	}
	n.head(t.Table.Name)
	n.rows[t.Table.Name] = t.Table.Labels
	for _, name := range t.Order[1:] {
		col := t.Columns[name]
		e := b.entry(col)
		e.input = !slices.ContainsFunc(col.Cells, func(cell *check.Def) bool { return len(cell.Deps) > 0 }) &&
			(len(col.Cells) > 0 || e.input)
		n.add(t.Table.Name+"."+name, e)
	}
}

// place adds what a placed sheet asks and tells.
func (n *entries) place(b *Book, p *check.Placement) {
	name := p.Name
	if p.Sheet == nil { // it was not found: of such a line there is the name alone
		if name != "" {
			n.head(name)
		}
		return
	}
	if name == "" {
		name = p.Sheet.Name
	}
	n.head(name)
	n.placed.add(name, p)
	if p.Scope == nil {
		return
	}
	for _, d := range p.Asks {
		e := b.entry(d)
		e.state = b.StateOf(d)
		if of := d.Same(); of != d && d.Set() {
			e.hands = of.Name
		}
		n.add(name+"."+view.ShortName(d), e)
	}
	for _, t := range p.AskTabs {
		state := answer.Default
		if t.Table.Name != p.Scope.FullName(t.Node.Name.Text) {
			state = answer.Set
		}
		n.add(name+"."+t.Node.Name.Text, &entry{state: state, input: true})
		for _, head := range t.Order[1:] {
			if t.Asked {
				n.add(name+"."+t.Node.Name.Text+"."+head, b.entry(t.Columns[head]))
			}
		}
	}
	for _, d := range p.Gives {
		e := b.entry(d)
		e.input = false
		n.add(name+"."+view.ShortName(d), e)
	}
	for _, told := range p.GiveTabs {
		if t := p.Told(told); t != nil {
			for _, head := range t.Order[1:] {
				e := b.entry(t.Columns[head])
				e.input = false
				n.add(name+"."+told.Name.Text+"."+head, e)
			}
		}
	}
}

func (p *placed) add(name string, at *check.Placement) {
	if p.by[name] == nil {
		p.by[name], p.names = at, append(p.names, name)
	}
	p.sheets[at.Sheet.Name] = at.Sheet
}

// without are the names that others have and these have not. What is under a
// name that is not there goes without saying.
func (n *entries) without(others *entries) []string {
	names := []string{}
	for _, name := range others.heads {
		if !n.has[name] {
			names = append(names, name)
			continue
		}
		if slices.Equal(n.rows[name], others.rows[name]) {
			continue
		}
		mine := map[string]bool{}
		for _, label := range n.rows[name] {
			mine[label] = true
		}
		for _, label := range others.rows[name] {
			if !mine[label] {
				mine[label] = true
				names = append(names, (&syntax.Name{Parts: []syntax.Part{{Text: name}, {Text: label, Quoted: true}}}).String())
			}
		}
	}
	return names
}

// another reports whether something is placed from another sheet now.
func (p *placed) another(name string, is *entries) bool {
	was, now := p.by[name], is.by[name]
	return was != nil && now != nil && (was.Sheet.Name != now.Sheet.Name || was.Sheet.Own != now.Sheet.Own)
}

// places adds what has become of the sheets in use. Turned are the placements of
// which a rule has turned.
func (p *placed) places(c *answer.Comparison, is *entries, old, now *Book, turned map[string]bool) {
	told := map[string]bool{}
	for _, name := range is.names {
		was, at := p.by[name], is.by[name]
		if was == nil {
			continue
		}
		if v, w := old.CardVerdict(was), now.CardVerdict(at); v != w && !turned[name] {
			c.Cards = append(c.Cards, answer.Recarded{Name: name, Was: v, Now: w})
		}
		a, b := was.Sheet, at.Sheet
		change := answer.SheetChange{Was: sheetOf(a), Now: sheetOf(b)}
		switch {
		case p.another(name, is):
			change.Name = name
		case told[b.Name] || a == b || a.Edition == b.Edition && sameLines(a.File.Lines, b.File.Lines):
			continue
		}
		told[b.Name] = true
		c.Sheets = append(c.Sheets, change)
	}
}

func sheetOf(s *check.Sheet) answer.SheetOf {
	return answer.SheetOf{Sheet: s.Name, Edition: s.Edition, Own: s.Own}
}

func sameLines(a, b []*syntax.Line) bool {
	return slices.EqualFunc(a, b, func(x, y *syntax.Line) bool { return x == y || x.Raw == y.Raw })
}

// rejudged adds the rules that are judged otherwise, and names the placements
// they belong to. Another tells a placement that is one of another sheet.
func rejudged(c *answer.Comparison, old, now *Book, another func(string) bool) map[string]bool {
	turned := map[string]bool{}
	tell := func(name string, was, is *answer.Judged) {
		c.Rules = append(c.Rules, answer.Rejudged{Name: name, Was: was, Now: is})
		turned[firstPart(name)] = true
	}
	judged := func(b *Book, r *ruleState) *answer.Judged {
		j := b.Judge(r.def)
		return &j
	}
	match(old.ruleStates(), now.ruleStates(), func(was, is *ruleState) {
		switch {
		case was == nil:
			tell(is.name, nil, judged(now, is))
		case is == nil:
			tell(was.name, judged(old, was), nil)
		case was.verdict != is.verdict || was.def.Must != is.def.Must:
			tell(is.name, judged(old, was), judged(now, is))
		}
	})
	// Rules of what came or went as a whole are told with it, but for those that
	// do not hold now.
	isNew := func(name string) bool { return another(name) || slices.Contains(c.New, firstPart(name)) }
	isGone := func(name string) bool { return another(name) || slices.Contains(c.Gone, firstPart(name)) }
	c.Rules = slices.DeleteFunc(c.Rules, func(r answer.Rejudged) bool {
		return r.Name != "" && (r.Was == nil && isNew(r.Name) && r.Now.Verdict <= answer.Clear ||
			r.Now == nil && isGone(r.Name))
	})
	slices.SortStableFunc(c.Rules, func(a, b answer.Rejudged) int {
		return cmp.Or(compareBools(a.Now == nil, b.Now == nil), cmp.Compare(b.Worst(), a.Worst()))
	})
	return turned
}

func compareBools(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}
