package check

import (
	"sort"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Bounds on what a notebook may ask of the machine.
const (
	maxDefs  = 400_000 // everything that has a value, the insides of placed sheets included
	maxDepth = 16      // sheets within sheets
	maxHints = 200     // unknown names that are told what may have been meant
)

// Checked is a notebook after checking: what there is to compute, in an order
// in which everything comes after what it depends on, and what each line is.
type Checked struct {
	Lines   []*syntax.Line
	Root    *Scope
	Order   []*Def // all that can be computed
	Main    []*Def // per line: the Def that is the line's answer, nil if it has none
	Tabs    []*Tab // per line
	Places  [][]*Placement
	Studies []*Study        // per line
	Diags   [][]syntax.Diag // per line: what belongs to the line and to no Def of it
	Waits   [][]string      // per line
	Prefer  []units.Unit

	told map[int][]*Def // per line: the Defs on it that have something to say
	b    *builder
}

// Check resolves and checks all lines. It never fails: what is wrong is in the
// Diags of the lines and Defs, and what is sound can be computed.
func Check(lines []*syntax.Line, lib Library) *Checked {
	c := &Checked{
		Lines:   lines,
		Main:    make([]*Def, len(lines)),
		Tabs:    make([]*Tab, len(lines)),
		Places:  make([][]*Placement, len(lines)),
		Studies: make([]*Study, len(lines)),
		Diags:   make([][]syntax.Diag, len(lines)),
		Waits:   make([][]string, len(lines)),
	}
	b := &builder{Checked: c, lib: lib, shipped: map[string]*Tab{}, constants: map[string]*Def{}, sheets: map[*Sheet]*facts{}}
	c.b = b
	c.Root = b.newScope(nil)
	b.declare(c.Root, lines, 0)
	b.settle(0)
	c.tell(0)
	return c
}

// tell notes which Defs, from the from-th on, have something to say, by the line
// they stand on.
func (c *Checked) tell(from int) {
	if c.told == nil {
		c.told = map[int][]*Def{}
	}
	for _, d := range c.b.defs[from:] {
		if (len(d.Diags) > 0 || len(d.Waits) > 0) && (d.At == nil || d.set != nil && !d.set.like) {
			c.told[d.Line] = append(c.told[d.Line], d)
		}
	}
}

// Told gives what checking has to say about line i, in the order of the text,
// and the names that the line waits for.
func (c *Checked) Told(i int) (diags []syntax.Diag, waits []string) {
	diags = append(diags, c.Diags[i]...)
	waits = append(waits, c.Waits[i]...)
	for _, d := range c.told[i] {
		diags = append(diags, d.Diags...)
		waits = append(waits, d.Waits...)
	}
	sort.SliceStable(diags, func(i, j int) bool {
		x, y := diags[i].At, diags[j].At
		return x.Row < y.Row || x.Row == y.Row && x.Col < y.Col
	})
	return diags, waits
}

// builder carries the state of one check.
type builder struct {
	*Checked
	lib       Library
	defs      []*Def // all, in the order they were made
	shipped   map[string]*Tab
	constants map[string]*Def
	sheets    map[*Sheet]*facts
	path      []*Def // being checked, for circles
	hints     int    // names that were measured against all others
	trial     int    // more than 0 while a sheet is checked on its own
}

func (b *builder) newScope(in *Placement) *Scope {
	return &Scope{Names: make(map[string]*Symbol), In: in}
}

// add registers a Def so that settle will check it.
func (b *builder) add(d *Def) *Def {
	b.defs = append(b.defs, d)
	return d
}

// line reports something about a line that belongs to no Def.
func (b *builder) line(i int, d syntax.Diag) {
	if b.trial > 0 || i < 0 || i >= len(b.Diags) {
		return
	}
	b.Diags[i] = append(b.Diags[i], d)
}

// settle checks every Def made since the from-th and appends it to the order.
func (b *builder) settle(from int) {
	for i := from; i < len(b.defs); i++ {
		b.infer(b.defs[i])
	}
}

// declare makes the Defs, tables and placements of the lines. Notebook lines
// are numbered from first; in a sheet every line counts as the use line.
func (b *builder) declare(s *Scope, lines []*syntax.Line, first int) {
	at := func(i int) int {
		if s.In != nil {
			return s.In.Line
		}
		return first + i
	}
	var dotted, uses []int
	var that *Def
	if first > 0 {
		that = b.lastQuestion(first)
	}
	for i, l := range lines {
		if len(b.defs) > maxDefs {
			b.line(at(i), tooMuch(l))
			return
		}
		switch node := l.Node.(type) {
		case *syntax.Define:
			if len(node.Target.Parts) > 1 {
				dotted = append(dotted, i)
				continue
			}
		case *syntax.Use:
			uses = append(uses, i)
		}
		that = b.declareLine(s, l, at(i), that)
	}
	for _, i := range dotted {
		b.dotted(s, lines[i], at(i), lines[i].Node.(*syntax.Define))
	}
	for _, i := range uses {
		b.instantiate(s, at(i), lines[i].Node.(*syntax.Use))
	}
	for _, i := range dotted {
		b.unused(s, lines[i], at(i), lines[i].Node.(*syntax.Define))
	}
}

// declareLine makes what one line declares; that is the nearest question above
// it, and the result the nearest above the next line.
func (b *builder) declareLine(s *Scope, l *syntax.Line, n int, that *Def) *Def {
	switch node := l.Node.(type) {
	case *syntax.Define:
		if d := b.named(s, l, n, node.Target.Parts[0], node.Expr, node.Tail); d != nil {
			d.Assumed, d.that = node.Assumed, that
		}
	case *syntax.Ask:
		b.ask(s, l, n, node)
	case *syntax.Give:
		if d := b.give(s, l, n, node); d != nil {
			d.that = that
		}
	case *syntax.Question:
		that = &Def{Role: Question, Expr: node.Expr, Tail: node.Tail, In: s, Line: n, Src: l, At: s.In, that: that}
		if s.In == nil {
			b.Main[n] = b.add(that)
		}
	case *syntax.Rule:
		b.rule(s, l, n, node)
	case *syntax.Hazard:
		b.hazard(s, l, n, node)
	case *syntax.Table:
		b.table(s, l, n, node)
	case *syntax.Use:
		b.placeNames(s, l, n, node)
	case *syntax.Broken:
		for _, target := range node.Targets {
			b.broken(s, l, target.Parts[0])
		}
	case *syntax.Source:
		if s.In != nil {
			s.In.Sources = append(s.In.Sources, node.Text)
		}
	case *syntax.Prefer:
		for _, u := range node.Units {
			if s.In == nil {
				b.Prefer = append(b.Prefer, u.Unit)
			}
		}
	case syntax.Study:
		if s.In == nil {
			b.study(s, l, n, node)
		}
	}
	return that
}

func (b *builder) lastQuestion(before int) *Def {
	for i := before - 1; i >= 0; i-- {
		if d := b.Main[i]; d != nil && d.Role == Question {
			return d
		}
	}
	return nil
}

// bind gives a name its meaning in a scope. A name that already has one stays
// what it was, and the new line is in error.
func (b *builder) bind(s *Scope, n int, name syntax.Part, sym *Symbol) bool {
	if old := s.Names[name.Text]; old != nil && !old.Broken {
		b.sheetLine(s, n, secondDefinition(name, old))
		return false
	}
	s.Names[name.Text] = sym
	if s.In == nil && (b.isPredefined(name.Text)) {
		b.line(n, ownWins(name))
	}
	return true
}

// sheetLine reports something about a line of a scope: of the notebook, or, in
// a sheet, of the sheet while it is checked on its own.
func (b *builder) sheetLine(s *Scope, n int, d syntax.Diag) {
	if s.In == nil {
		b.line(n, d)
		return
	}
	s.In.note(d)
}

func (p *Placement) note(d syntax.Diag) {
	if to := p.Scope.trialDiags; to != nil {
		*to = append(*to, d)
	}
}

func (b *builder) named(s *Scope, l *syntax.Line, n int, name syntax.Part, e syntax.Expr, t syntax.Tail) *Def {
	d := &Def{Name: s.full(name.Text), Role: Named, Expr: e, Tail: t, In: s, Line: n, Src: l, At: s.In}
	if !b.bind(s, n, name, &Symbol{Def: d, Row: l.Row}) {
		return nil
	}
	b.add(d)
	if s.In == nil {
		b.Main[n] = d
	}
	return d
}

// broken gives the name that a broken line would have defined a Def without a
// value: what uses it has no answer either, and the line has said why.
func (b *builder) broken(s *Scope, l *syntax.Line, name syntax.Part) {
	if s.Names[name.Text] == nil {
		s.Names[name.Text] = &Symbol{Def: &Def{Name: s.full(name.Text), Role: Named, In: s, Line: -1, Src: l, At: s.In}, Row: l.Row, Broken: true}
	}
}

// full is a name as the notebook knows it.
func (s *Scope) full(name string) string {
	if s.In == nil || s.In.Name == "" {
		return name
	}
	return s.In.Name + "." + name
}

func (b *builder) ask(s *Scope, l *syntax.Line, n int, node *syntax.Ask) {
	d := &Def{Name: s.full(node.Name.Text), Role: Asked, Expr: node.Expr, Tail: node.Tail, In: s, Line: n, Src: l, At: s.In, Default: true}
	if !b.bind(s, n, node.Name, &Symbol{Def: d, Row: l.Row}) {
		return
	}
	b.add(d)
	side := func(e syntax.Expr) *Def {
		return b.add(&Def{Role: Bound, Expr: e, In: s, Line: n, Src: l, At: s.In})
	}
	if node.Tail.From != nil {
		d.Bounds = [2]*Def{side(node.Tail.From), side(node.Tail.To)}
	}
	for _, e := range node.Tail.Among {
		d.Choice = append(d.Choice, side(e))
	}
	if p := s.In; p != nil {
		p.Asks = append(p.Asks, d)
		if set := p.Settings[node.Name.Text]; set != nil {
			set.used = true
			set.def = d
			d.Expr, d.Tail, d.In, d.Line, d.Src = set.expr, set.tail, set.in, set.line, set.src
			d.Tail.Range = node.Tail.Range
			d.Default, d.Assumed = false, set.assumed
			d.set = set
			if s.In.Parent == nil && !set.with && set.line < len(b.Main) && b.trial == 0 {
				b.Main[set.line] = d
			}
		}
		return
	}
	b.Main[n] = d
	d.Default = false
}

func (b *builder) give(s *Scope, l *syntax.Line, n int, node *syntax.Give) *Def {
	var d *Def
	if node.Expr == nil {
		x := &syntax.Name{Parts: []syntax.Part{node.Name}}
		d = b.add(&Def{Name: s.full(node.Name.Text), Role: Given, Expr: x, In: s, Line: n, Src: l, At: s.In})
	} else if d = b.named(s, l, n, node.Name, node.Expr, node.Tail); d == nil {
		return nil
	}
	d.Role = Given
	if s.In != nil {
		s.In.Gives = append(s.In.Gives, d)
	} else {
		b.Main[n] = d
	}
	return d
}

func (b *builder) rule(s *Scope, l *syntax.Line, n int, node *syntax.Rule) {
	d := &Def{Role: Ruled, Expr: node.Cond, In: s, Line: n, Src: l, At: s.In, Must: node.Must, Listed: true}
	if cmp, ok := node.Cond.(*syntax.Compare); ok && len(cmp.X) == 2 {
		for _, x := range cmp.X {
			d.Sides = append(d.Sides, b.add(&Def{Role: Side, Expr: x, In: s, Line: n, Src: l, At: s.In}))
		}
	}
	b.add(d)
	if s.In != nil {
		s.In.Rules = append(s.In.Rules, d)
	} else {
		b.Main[n] = d
	}
}

func (b *builder) hazard(s *Scope, l *syntax.Line, n int, node *syntax.Hazard) {
	h := Hazard{Text: node.Text}
	if node.If != nil {
		h.If = b.add(&Def{Role: When, Expr: node.If, In: s, Line: n, Src: l, At: s.In})
	}
	if s.In != nil {
		s.In.Hazards = append(s.In.Hazards, h)
	} else if h.If != nil {
		b.Main[n] = h.If
	}
}

// isPredefined reports whether a bare name has a meaning without any line.
func (b *builder) isPredefined(name string) bool {
	return b.constant(name) != nil || b.libraryHasTable(name)
}

func (b *builder) libraryHasTable(name string) bool {
	for _, t := range b.lib.TableNames() {
		if t == name {
			return true
		}
	}
	return false
}

var plainNumber = types.Plain
