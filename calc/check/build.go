package check

import (
	"slices"
	"sort"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Bounds on what a notebook may ask of the machine.
const (
	maxDefs  = 100_000   // everything that has a value, the insides of placed sheets included
	maxTerms = 250_000   // that are computed: numbers, names, operations, likewise
	maxCells = 5_000_000 // numbers that columns and what is computed on the way to them hold

	maxSteps   = 300_000_000 // down columns, a look-up one for each key and row, and on the ways of studies
	maxStudies = 1000        // that take work: find, vary, working and their like
	maxDepth   = 16          // sheets within sheets
	maxHints   = 200         // unknown names that are told what may have been meant
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
	Prefer  []units.Preferred
	Cut     bool // checking was stopped

	otherWords map[int]map[syntax.Pos]string // per line

	saying map[int][]*Def // per line: the Defs on it that have something to say
	b      *builder
}

// Check resolves and checks all lines. It never fails: what is wrong is in the
// Diags of the lines and Defs, and what is sound can be computed.
func Check(lines []*syntax.Line, lib Library) *Checked {
	return CheckUntil(func() bool { return false }, lines, lib)
}

// CheckUntil is Check with a question to ask now and then: when stop answers yes,
// it ends early, and nothing is known of any line.
func CheckUntil(stop func() bool, lines []*syntax.Line, lib Library) *Checked {
	c := blank(lines, lib)
	c.b.stop = stop
	c.b.declare(c.Root, lines, 0)
	c.b.settle(0)
	if stop() {
		return Unchecked(lines, lib)
	}
	c.tell(0)
	return c
}

// StopWhen gives it another question, to be asked when lines are added.
func (c *Checked) StopWhen(stop func() bool) { c.b.stop = stop }

// Unchecked is what there is where checking was stopped.
func Unchecked(lines []*syntax.Line, lib Library) *Checked {
	c := blank(lines, lib)
	c.Cut = true
	return c
}

// blank is a Checked that knows nothing of its lines yet.
func blank(lines []*syntax.Line, lib Library) *Checked {
	c := &Checked{
		Lines:   lines,
		Main:    make([]*Def, len(lines)),
		Tabs:    make([]*Tab, len(lines)),
		Places:  make([][]*Placement, len(lines)),
		Studies: make([]*Study, len(lines)),
		Diags:   make([][]syntax.Diag, len(lines)),
		Waits:   make([][]string, len(lines)),
	}
	c.b = newBuilder(c, lib)
	c.Root = c.b.newScope(nil)
	return c
}

// tell notes which Defs, from the from-th on, have something to say, by the line
// they stand on.
func (c *Checked) tell(from int) {
	if c.saying == nil {
		c.saying = map[int][]*Def{}
	}
	for _, d := range c.b.defs[from:] {
		if (len(d.Diags) > 0 || len(d.Waits) > 0) && (d.At == nil || d.set != nil && !d.set.like) {
			c.saying[d.Line] = append(c.saying[d.Line], d)
		}
	}
}

// Said gives what checking has to say about line i, in the order of the text,
// and the names that the line waits for.
func (c *Checked) Said(i int) (diags []syntax.Diag, waits []string) {
	diags = append(diags, c.Diags[i]...)
	waits = append(waits, c.Waits[i]...)
	for _, d := range c.saying[i] {
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
	later     map[*Def]func()              // checks a study when all else is declared
	path      []*Def                       // being checked, for circles
	hints     int                          // names that were measured against all others
	literals  map[syntax.Expr]*Def         // of the sheets, without a name of their own
	firsts    map[*Sheet]map[string]string // other words for inputs
	meant     struct {
		of    *Scope
		n     int // how many names the scope had
		names []string
	} // of likely
	wording *wording         // what shipped sheets ask for, nil until somebody wants to know
	unnamed map[string][]int // rows that place a sheet without a name, where several do
	shared  int              // how often one of them has been taken again
	trial   int              // more than 0 while a sheet is checked on its own
	terms   int
	steps   int
	studies int
	cells   int
	full    bool        // a bound has been reached, and that has been said
	stop    func() bool // whether checking shall end early
}

func newBuilder(c *Checked, lib Library) *builder {
	return &builder{
		Checked: c, lib: lib, shipped: map[string]*Tab{}, constants: map[string]*Def{}, sheets: map[*Sheet]*facts{},
		literals: map[syntax.Expr]*Def{}, later: map[*Def]func(){}, firsts: map[*Sheet]map[string]string{},
		stop: func() bool { return false },
	}
}

// size is how many values there are, those counted again that are shared.
func (b *builder) size() int { return len(b.defs) + b.shared }

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
	for i := from; i < len(b.defs) && !b.stop(); i++ {
		b.infer(b.defs[i])
	}
}

// overfull reports whether a bound keeps a Def from being computed. It is said
// once, at the first; the others wait for it in silence.
func (b *builder) overfull(d *Def) bool {
	what, most := "terms", maxTerms
	switch {
	case b.terms <= maxTerms && b.cells <= maxCells && b.steps <= maxSteps:
		return false
	case b.cells > maxCells:
		what, most = "numbers in columns", maxCells
	case b.steps > maxSteps:
		what, most = "steps to take", maxSteps
	}
	if !b.full {
		b.full = true
		b.report(d, say(d.Expr.Pos(), "the notebook has more than %d %s; what follows is not computed", most, what).
			With("split the notebook"))
	}
	return true
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
	aliases := b.aliases(s, lines)
	var that *Def
	if first > 0 {
		that = b.lastQuestion(first)
	}
	for i, l := range lines {
		if b.stop() {
			return
		}
		if b.size() > maxDefs {
			b.line(at(i), say(syntax.Pos{Row: l.Row, Col: 1}, "the notebook has more than %d values", maxDefs).
				With("split the notebook"))
			return
		}
		switch node := l.Node.(type) {
		case *syntax.Define:
			if len(node.Target.Parts) > 1 {
				dotted = append(dotted, i)
				continue
			}
			if aliases[node] {
				b.alias(s.origin(at(i), l), node)
				continue
			}
		case *syntax.Use:
			uses = append(uses, i)
		}
		that = b.declareLine(s.origin(at(i), l), that)
	}
	if s.In == nil && b.trial == 0 && len(uses) > 0 {
		b.nameless()
	}
	for _, i := range dotted {
		b.dotted(s.origin(at(i), lines[i]), lines[i].Node.(*syntax.Define))
	}
	for _, i := range uses {
		if b.stop() {
			return
		}
		b.instantiate(s, at(i), lines[i].Node.(*syntax.Use))
	}
	b.toldTables(s, lines, at)
	for _, i := range dotted {
		b.unused(s.origin(at(i), lines[i]), lines[i].Node.(*syntax.Define))
	}
}

// declareLine makes what one line declares; that is the nearest question above
// it, and the result the nearest above the next line.
func (b *builder) declareLine(o Origin, that *Def) *Def {
	switch node := o.Src.Node.(type) {
	case *syntax.Define:
		if d := b.named(o, node.Target.Parts[0], node.Expr, node.Tail); d != nil {
			d.Assumed, d.that = node.Assumed, that
		}
	case *syntax.Ask:
		b.ask(o, node)
	case *syntax.Tell:
		if node.Table {
			if o.At != nil {
				o.At.GiveTabs = append(o.At.GiveTabs, GivenTab{node.Name, o.Src})
			}
		} else if d := b.give(o, node); d != nil {
			d.that = that
		}
	case *syntax.Question:
		above := that
		that = o.def(Question, node.Expr)
		that.Tail, that.that = &node.Tail, above
		if o.At == nil {
			b.Main[o.Line] = b.add(that)
		}
	case *syntax.Rule:
		b.rule(o, node)
	case *syntax.Hazard:
		b.hazard(o, node)
	case *syntax.Table:
		b.table(o, node)
	case *syntax.Use:
		b.placeNames(o, node)
	case *syntax.Broken:
		for _, target := range node.Targets {
			b.broken(o, target.Parts[0])
		}
	case *syntax.Source:
		if o.At != nil {
			o.At.Sources = append(o.At.Sources, node.Text)
		}
	case *syntax.Prefer:
		if o.At == nil {
			b.prefer(o, node)
		}
	case syntax.Study:
		if o.At == nil || b.trial > 0 && o.At.Parent == nil && ofSheet(node) {
			st := b.study(o, node)
			if c, is := node.(*syntax.Case); is {
				b.bind(o, c.Name, &Symbol{Case: st, Row: o.Src.Row})
			}
		}
	}
	return that
}

// origin is what stands on a line of the scope.
func (s *Scope) origin(line int, l *syntax.Line) Origin {
	return Origin{In: s, Line: line, Src: l, At: s.In}
}

// newDef is a Def with nothing in it.
func newDef(role Role) Def {
	return Def{Role: role, Tail: &noTail, Input: &noInput, Compared: &noCompared}
}

// def makes a Def of an expression that stands there.
func (o Origin) def(role Role, e syntax.Expr) *Def {
	d := newDef(role)
	d.Origin, d.Expr = o, e
	return &d
}

// title gives a Def its name, in full.
func (d *Def) title(name string) *Def {
	d.Name = d.In.full(name)
	return d
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
func (b *builder) bind(o Origin, name syntax.Part, sym *Symbol) bool {
	if old := o.In.Names[name.Text]; old != nil && !old.Broken {
		b.sheetLine(o.In, o.Line, secondDefinition(name, old))
		return false
	}
	o.In.Names[name.Text] = sym
	if o.At == nil && b.isPredefined(name.Text) {
		b.line(o.Line, notice(name.At, "%s is also a name of the library; in this notebook it means this line", name.Text))
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

func (b *builder) named(o Origin, name syntax.Part, e syntax.Expr, t syntax.Tail) *Def {
	d := o.def(Named, e).title(name.Text)
	d.Tail, d.Whole = &t, t.Whole
	if !b.bind(o, name, &Symbol{Def: d, Row: o.Src.Row}) {
		return nil
	}
	return b.main(b.add(d))
}

// main makes a Def the answer of its line, if that is one of the notebook.
func (b *builder) main(d *Def) *Def {
	if d.At == nil {
		b.Main[d.Line] = d
	}
	return d
}

// broken gives the name that a broken line would have defined a Def without a
// value: what uses it has no answer either, and the line has said why.
func (b *builder) broken(o Origin, name syntax.Part) {
	if o.In.Names[name.Text] == nil {
		row := o.Src.Row
		o.Line = -1
		o.In.Names[name.Text] = &Symbol{Def: o.def(Named, nil).title(name.Text), Row: row, Broken: true}
	}
}

// full is a name as the notebook knows it.
func (s *Scope) full(name string) string {
	if s.In == nil || s.In.Name == "" {
		return name
	}
	return s.In.Name + "." + name
}

func (b *builder) ask(o Origin, node *syntax.Ask) {
	d := o.def(Asked, node.Expr).title(node.Name.Text)
	d.Tail, d.Whole, d.Taken = &node.Tail, node.Tail.Whole, node.Taken
	if !b.bind(o, node.Name, &Symbol{Def: d, Row: o.Src.Row}) {
		return
	}
	b.add(d)
	if node.Tail.From != nil {
		d.input().Bounds = [2]*Def{b.piece(o, Bound, node.Tail.From), b.piece(o, Bound, node.Tail.To)}
	}
	for _, e := range node.Tail.Among {
		d.input().Choice = append(d.Choice, b.piece(o, Bound, e))
	}
	p := o.At
	if node.Tail.Usual != nil && (p == nil || b.trial > 0) {
		d.input().Usual = b.piece(o, Bound, node.Tail.Usual)
	}
	if p == nil {
		b.main(d)
		return
	}
	p.Asks = append(p.Asks, d)
	d.Default = true
	b.ownRows(d, node)
	set := p.Settings[node.Name.Text]
	if set == nil {
		return
	}
	set.used, set.def = true, d
	if set.from != nil {
		set.from = &own{d.Origin, d.Expr, *d.Tail}
	}
	d.Origin = Origin{In: set.in, Line: set.line, Src: set.src, At: p}
	tail := set.tail
	tail.Range = node.Tail.Range
	d.Expr, d.Tail = set.expr, &tail
	d.Whole = d.Whole || set.tail.Whole
	d.Default, d.Assumed, d.input().set = false, set.assumed, set
	if p.Parent == nil && !set.with && set.line < len(b.Main) && b.trial == 0 {
		b.Main[set.line] = d
	}
}

// piece makes a Def of what has no name of its own on a line: a bound, a choice,
// a side of a rule. A literal of a sheet is the same wherever the sheet is
// placed, so it is made once.
func (b *builder) piece(o Origin, role Role, e syntax.Expr) *Def {
	if _, literal := bare(e).(*syntax.Literal); !literal || o.At == nil {
		return b.add(o.def(role, e))
	}
	d := b.literals[e]
	if d == nil {
		d = b.add(o.def(role, e))
		b.literals[e] = d
	} else {
		b.shared++
	}
	return d
}

func (b *builder) give(o Origin, node *syntax.Tell) *Def {
	var d *Def
	if node.Expr == nil {
		d = b.add(o.def(Given, &syntax.Name{Parts: []syntax.Part{node.Name}}).title(node.Name.Text))
		b.main(d)
	} else if d = b.named(o, node.Name, node.Expr, node.Tail); d == nil {
		return nil
	}
	d.Role = Given
	if o.At != nil {
		o.At.Gives = append(o.At.Gives, d)
	}
	return d
}

// isNone reports whether an expression is none and nothing else: on its own it
// says nothing of what.
func isNone(e syntax.Expr) bool {
	_, ok := e.(*syntax.None)
	return ok
}

func (b *builder) rule(o Origin, node *syntax.Rule) {
	d := o.def(Ruled, node.Cond)
	d.Must, d.OfLine = node.Must, true
	if cmp, ok := node.Cond.(*syntax.Compare); ok && len(cmp.X) == 2 && !slices.ContainsFunc(cmp.X, isNone) {
		for _, x := range cmp.X {
			d.compared().Sides = append(d.Sides, b.piece(o, Side, x))
		}
	}
	b.main(b.add(d))
	if o.At != nil {
		o.At.Rules = append(o.At.Rules, d)
	}
}

func (b *builder) hazard(o Origin, node *syntax.Hazard) {
	h := Hazard{Text: node.Text}
	if node.If != nil {
		h.If = b.main(b.add(o.def(When, node.If)))
	}
	if o.At != nil {
		o.At.Hazards = append(o.At.Hazards, h)
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
