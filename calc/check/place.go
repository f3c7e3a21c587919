package check

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

// placeNames makes the placements of a use line, so that their names are known
// before any setting is looked at.
func (b *builder) placeNames(o Origin, use *syntax.Use) {
	names := use.Names
	if len(names) == 0 {
		names = []syntax.Part{{}}
	}
	for _, name := range names {
		p := &Placement{Line: o.Line, use: use, src: o.Src, Settings: make(map[string]*setting, len(use.With)), Parent: o.At}
		if o.At != nil {
			p.depth = o.At.depth + 1
		}
		if name.Text != "" {
			p.Name = o.In.full(name.Text)
			if !b.bind(o, name, &Symbol{Place: p, Row: o.Src.Row}) {
				continue
			}
		}
		for _, w := range use.With {
			b.set(p, &setting{key: w.Name.Text, at: w.Name.At, expr: w.Expr, in: o.In, line: o.Line, src: o.Src, with: true})
		}
		if o.At == nil {
			b.Places[o.Line] = append(b.Places[o.Line], p)
		} else {
			o.At.inner = append(o.At.inner, p)
		}
	}
}

// nameless gives the notebook's sheets that are placed without a name that of
// their sheet, where there is but one and nothing else is called so.
func (b *builder) nameless() {
	of := map[string][]*Placement{}
	for _, places := range b.Places {
		for _, p := range places {
			if len(p.use.Names) == 0 {
				if name := p.use.PlacedAs(); name != "" {
					of[name] = append(of[name], p)
				}
			}
		}
	}
	b.unnamed = map[string][]int{}
	for name, places := range of {
		switch p := places[0]; {
		case b.Root.Names[name] != nil || b.isPredefined(name):
		case len(places) == 1:
			p.Name = name
			b.Root.Names[name] = &Symbol{Place: p, Row: b.Lines[p.Line].Row}
		default:
			for _, p := range places {
				b.unnamed[name] = append(b.unnamed[name], b.Lines[p.Line].Row)
			}
		}
	}
}

// Show are the answers that the line wants alone, all if there are none.
func (p *Placement) Show() []syntax.Part { return p.use.Show }

// set records a setting; a second one for the same input is in error.
func (b *builder) set(p *Placement, set *setting) {
	if old := p.Settings[set.key]; old != nil {
		b.sheetLine(set.in, set.line, settingTwice(p, set, old))
		return
	}
	p.Settings[set.key] = set
}

// dotted gives "a.b = expr" its meaning: a computed column if a is a table, a
// setting if it is a placed sheet.
func (b *builder) dotted(o Origin, node *syntax.Define) {
	s, n, parts := o.In, o.Line, node.Target.Parts
	sym := s.Names[parts[0].Text]
	switch {
	case sym == nil:
		b.sheetLine(s, n, b.unknownPlace(s, parts[0]))
		if s.In == nil {
			b.Waits[n] = append(b.Waits[n], parts[0].Text)
		}
	case sym.Broken:
	case sym.Place != nil && b.namesRow(sym.Place, parts):
		b.setRow(sym.Place, &setting{key: parts[2].Text, row: &parts[1], at: parts[2].At, expr: node.Expr, tail: node.Tail,
			in: s, line: n, src: o.Src, assumed: node.Assumed})
	case sym.Place != nil:
		b.set(sym.Place, &setting{key: settingKey(parts), at: parts[1].At, expr: node.Expr, tail: node.Tail, in: s, line: n,
			src: o.Src, assumed: node.Assumed})
	case sym.Tab != nil && len(parts) == 2 && !parts[1].Quoted:
		b.computed(o, sym.Tab, node)
	case sym.Tab != nil:
		b.sheetLine(s, n, say(parts[1].At, "a cell is given its value in the table").
			With("change it in the table's row"))
	case sym.Case != nil:
		b.sheetLine(s, n, say(parts[0].At, "%s is a case; what it puts in stands on its own line", parts[0].Text).
			With(fmt.Sprintf("change line %d", sym.Row)))
	default:
		b.sheetLine(s, n, notAPlace(parts[0]))
	}
}

// settingKey is what an input is called within its sheet: all of a name but the
// placement.
func settingKey(parts []syntax.Part) string {
	key := parts[1].Text
	for _, p := range parts[2:] {
		key += "." + p.Text
	}
	return key
}

// instantiate fills the placements of a use line with the lines of the sheet.
func (b *builder) instantiate(s *Scope, n int, use *syntax.Use) {
	var places []*Placement
	var all []*Placement
	if s.In == nil {
		all = b.Places[n]
	} else {
		all = s.In.inner
	}
	for _, p := range all {
		if p.use == use && !p.begun { // it may have been put to work for the sake of a table that it tells
			p.begun = true
			places = append(places, p)
		}
	}
	if len(places) == 0 {
		return
	}
	sheet, err := b.lib.Sheet(use.Sheet, use.Own)
	if err != nil {
		b.sheetLine(s, n, noSheet(use, err))
		b.breakAll(places)
		return
	}
	for _, p := range places {
		b.firstWords(s, p, sheet)
		if d, bad := b.circle(p, use); bad {
			b.sheetLine(s, n, d)
			b.breakAll(places)
			return
		}
	}
	for _, p := range places {
		if b.fill(s, p); p.broken { // of several each would say the same
			b.breakAll(places)
			return
		}
	}
	f := b.facts(sheet)
	if len(f.diags) > 0 {
		b.sheetLine(s, n, sheetInError(use, sheet, f.diags[0]))
		b.breakAll(places)
		return
	}
	// Counted before it is built: sheets that place sheets multiply.
	more := len(places)
	large := b.size()+more*f.defs > maxDefs || b.terms+more*f.terms > maxTerms
	if b.full || large || b.steps+more*f.steps > maxSteps {
		if !b.full {
			what := fmt.Sprintf("have more than %d values or %d terms", maxDefs, maxTerms)
			if !large {
				what = fmt.Sprintf("have more than %d steps to take", maxSteps)
			}
			b.sheetLine(s, n, say(use.At, "the placed sheets %s together; this one and those that follow are not put to work", what).
				With("split the notebook, or give one placed sheet a column of a table instead"))
		}
		b.full = true
		b.breakAll(places)
		return
	}
	for _, p := range places {
		if b.stop() {
			return
		}
		b.terms += f.terms
		b.steps += f.steps
		p.facts = f
		p.Scope = b.newScope(p)
		p.Scope.trialDiags = s.trialDiags
		b.declare(p.Scope, sheet.File.Lines, 0)
		for _, w := range use.With {
			if set := p.Settings[b.firstWord(sheet, w.Name.Text)]; set != nil && !set.used {
				b.sheetLine(s, n, b.unknownInput(p, w))
			}
		}
		for _, name := range use.Show {
			if !f.gives[name.Text] {
				b.sheetLine(s, n, b.noAnswer(name, p))
			}
		}
	}
}

// fill gives a placement the settings that it has not itself: those of the one
// it is like, then what is told by what its line names.
func (b *builder) fill(s *Scope, p *Placement) {
	if p.filled != 0 {
		return
	}
	p.filled = 1
	defer func() { p.filled = 2 }()
	if p.use.Like != nil {
		b.takeOver(s, p, p.Line)
	}
	if p.use.From != nil {
		b.takeFrom(s, p)
	}
}

// takeOver gives a placement the settings of the one it is like, but for those
// it has itself.
func (b *builder) takeOver(s *Scope, p *Placement, n int) {
	sym := s.Names[p.use.Like.Text]
	if sym == nil || sym.Place == nil {
		b.sheetLine(s, n, likeNothing(p.use))
		if s.In == nil {
			b.Waits[n] = append(b.Waits[n], p.use.Like.Text)
		}
		return
	}
	other := sym.Place
	switch {
	case other.use.Sheet != p.use.Sheet || other.use.Own != p.use.Own:
		b.sheetLine(s, n, likeOther(p.use, other))
		return
	case other.filled == 1 || other == p:
		b.sheetLine(s, n, say(p.use.Like.At, "this is like itself"))
		return
	}
	b.firstWords(s, other, p.Sheet)
	b.fill(s, other)
	own := p.rows
	for _, set := range other.rows {
		if p.Settings[set.key] == nil && !slices.ContainsFunc(own,
			func(x *setting) bool { return x.key == set.key && x.row.Text == set.row.Text }) {
			set.taken = true
			p.rows = append(p.rows, &setting{key: set.key, row: set.row, at: set.at, expr: set.expr, tail: set.tail, in: set.in,
				line: n, src: set.src, assumed: set.assumed, with: true, like: true})
		}
	}
	for key, set := range other.Settings {
		if p.Settings[key] == nil {
			set.taken = true
			p.Settings[key] = &setting{key: key, at: set.at, expr: set.expr, tail: set.tail, in: set.in,
				line: n, src: set.src, assumed: set.assumed, with: true, like: true, from: set.from}
		}
	}
}

// breakAll marks placements that could not be filled, so that what refers to
// them is silent: the use line has said why.
func (b *builder) breakAll(places []*Placement) {
	for _, p := range places {
		p.broken = true
	}
}

// circle finds a sheet that places itself, directly or through others.
func (b *builder) circle(p *Placement, use *syntax.Use) (syntax.Diag, bool) {
	if p.depth >= maxDepth {
		return say(use.At, "sheets are placed within sheets more than %d deep", maxDepth), true
	}
	path := []string{p.Sheet.Name}
	for up := p.Parent; up != nil; up = up.Parent {
		path = append(path, up.Sheet.Name)
		if up.Sheet == p.Sheet {
			return sheetCircle(use, path), true
		}
	}
	return syntax.Diag{}, false
}

// unused reports a setting line that no input of the sheet has taken.
func (b *builder) unused(o Origin, node *syntax.Define) {
	parts := node.Target.Parts
	sym := o.In.Names[parts[0].Text]
	if sym == nil || sym.Place == nil || sym.Place.broken || sym.Place.Scope == nil {
		return
	}
	for _, set := range sym.Place.rows {
		if set.src == o.Src && !set.used {
			b.sheetLine(o.In, o.Line, b.unknownInput(sym.Place, syntax.Setting{Name: parts[2], Expr: node.Expr}))
			return
		}
	}
	if b.namesRow(sym.Place, parts) {
		return
	}
	if set := sym.Place.Settings[b.firstWord(sym.Place.Sheet, settingKey(parts))]; set != nil && set.src == o.Src &&
		!set.used {
		b.sheetLine(o.In, o.Line, b.unknownInput(sym.Place, syntax.Setting{Name: parts[1], Expr: node.Expr}))
		sym.Place.unused = append(sym.Place.unused, o.Src.Row)
	}
}

// Unfit are the rows of the lines that set inputs of the placement and are in error:
// what it would answer without them nobody has asked.
func (p *Placement) Unfit() []int {
	rows := slices.Clone(p.unused)
	for _, set := range p.Settings {
		if set.def != nil && !set.with && set.from == nil &&
			slices.ContainsFunc(set.def.Diags, func(d syntax.Diag) bool { return !d.Notice }) {
			rows = append(rows, set.src.Row)
		}
	}
	slices.Sort(rows)
	return slices.Compact(rows)
}

// facts are what a sheet is on its own, with its defaults: what a placement of
// it is held to.
type facts struct {
	asks    map[string]asked
	tabs    map[string]*syntax.Table // the tables it asks for
	columns map[string]asked         // and their columns: "engines.draw"
	gives   map[string]bool
	priv    map[string]bool // named inside, not to be seen from outside
	diags   []syntax.Diag
	defs    int // how many values a placement of it brings,
	terms   int // and how many terms
	steps   int // and how many steps down its tables' columns
}

// asked is what an input has to be.
type asked struct {
	typ  types.Type
	show units.Unit
	none bool // it may be none
}

// facts checks a sheet on its own: once for a notebook, and one that is shipped
// once for the process, since it stands on nothing but what is shipped.
func (b *builder) facts(sheet *Sheet) *facts {
	if f := b.sheets[sheet]; f != nil {
		return f
	}
	if f := sheet.facts.Load(); f != nil {
		return f
	}
	f := &facts{
		asks: map[string]asked{}, tabs: map[string]*syntax.Table{}, columns: map[string]asked{},
		gives: map[string]bool{}, priv: map[string]bool{},
	}
	b.sheets[sheet] = f
	sub := newBuilder(&Checked{Diags: make([][]syntax.Diag, 1)}, b.lib)
	sub.sheets, sub.firsts, sub.wording, sub.trial = b.sheets, b.firsts, b.wording, b.trial+1
	p := &Placement{Sheet: sheet, facts: f}
	p.Scope = sub.newScope(p)
	p.Scope.trialDiags = &f.diags
	sub.stop = b.stop
	sub.declare(p.Scope, sheet.File.Lines, 0)
	sub.settle(0)
	wordsInTheWay(sheet, &f.diags)
	f.defs, f.terms, f.steps = sub.size(), sub.terms, sub.steps
	for _, l := range sheet.File.Lines {
		f.errors(l.Errors)
	}
	for _, d := range sub.defs {
		f.errors(d.Diags)
	}
	f.shown(p)
	if !sheet.Own && !b.stop() {
		sheet.facts.Store(f)
	}
	return f
}

func (f *facts) errors(diags []syntax.Diag) {
	for _, d := range diags {
		if !d.Notice {
			f.diags = append(f.diags, d)
		}
	}
}

// shown notes what the sheet, placed with its defaults, shows to the
// outside.
func (f *facts) shown(p *Placement) {
	for _, d := range p.Asks {
		f.asks[d.Name] = asked{d.Type, d.Show, isDefaultNone(d)}
	}
	for _, d := range p.Gives {
		f.gives[d.Name] = true
	}
	for _, t := range p.GiveTabs {
		f.gives[t.Name.Text] = true
	}
	for _, t := range p.AskTabs {
		f.tabs[t.Table.Name] = t.Node
		for head, d := range t.Columns {
			f.columns[t.Table.Name+"."+head] = asked{d.Type.Scalar(), d.Show, d.MayBeNone}
		}
	}
	for name := range p.Scope.Names {
		if _, input := f.asks[name]; !input && !f.gives[name] && f.tabs[name] == nil {
			f.priv[name] = true
		}
	}
}

// askedTable binds a table that a placed sheet asks for to the one it is given:
// whole ("west.engines = fleet") or column by column. It reports whether
// anything was given.
func (b *builder) askedTable(o Origin, node *syntax.Table) (*Tab, bool) {
	p := o.At
	name := node.Name.Text
	whole := p.Settings[name]
	per := make([]*setting, len(node.Heads))
	given := whole != nil
	for j, h := range node.Heads {
		per[j] = p.Settings[name+"."+h.Name.Text]
		given = given || per[j] != nil
	}
	if !given {
		return nil, false
	}
	var from *Tab
	sources := make([]syntax.Expr, len(node.Heads))
	sets := make([]*setting, len(node.Heads))
	for j, h := range node.Heads {
		set := per[j]
		if set == nil {
			set = whole
		}
		if set == nil {
			other := firstSet(per)
			other.used = true
			b.sheetLine(other.in, other.line, say(other.at, "all columns of %s come from one table, and %s is missing",
				node.Name.Text, h.Name.Text).
				With(fmt.Sprintf("set %s.%s too", node.Name.Text, h.Name.Text)))
			return nil, true
		}
		set.used = true
		sets[j] = set
		tab, expr, diag := b.columnFor(set, node, h.Name, set == whole)
		if diag == nil && from != nil && tab != from {
			two := say(set.expr.Pos(), "all columns of %s come from one table, and this is of another", node.Name.Text)
			diag = &two
		}
		if diag != nil {
			b.sheetLine(set.in, set.line, *diag)
			return nil, true
		}
		from, sources[j] = tab, expr
	}
	t := &Tab{Table: from.Table, Columns: map[string]*Def{labelColumn: from.Columns[labelColumn]},
		Order: []string{labelColumn}, Line: o.Line, Row: o.Src.Row, Node: node, Asked: true}
	for j, h := range node.Heads {
		d := Origin{In: sets[j].in, Line: sets[j].line, Src: sets[j].src, At: p}.def(Asked, sources[j])
		d.Name, d.Of, d.Whole, d.input().set = o.In.full(name)+"."+h.Name.Text, from.Table, h.Whole, sets[j]
		sets[j].def = d
		b.addColumn(t, h.Name.Text, b.add(d))
	}
	return t, true
}

func firstSet(sets []*setting) *setting {
	for _, s := range sets {
		if s != nil {
			return s
		}
	}
	return nil
}

// columnFor finds the column that is to serve as a head of an asked table.
func (b *builder) columnFor(set *setting, node *syntax.Table, head syntax.Part, whole bool) (*Tab, syntax.Expr,
	*syntax.Diag) {
	name, ok := set.expr.(*syntax.Name)
	if !ok {
		d := wantsTable(set, node)
		return nil, nil, &d
	}
	parts := name.Parts
	if !whole {
		if len(parts) < 2 {
			d := say(set.expr.Pos(), "%s asks for a column of a table here", set.key).
				With(fmt.Sprintf("write it as `fleet.%s`", head.Text))
			return nil, nil, &d
		}
		parts = parts[:len(parts)-1]
	}
	tab := b.tabNamed(set.in, parts)
	if tab == nil {
		d := wantsTable(set, node)
		if set.in.Names[parts[0].Text] == nil && !b.libraryHasTable(parts[0].Text) {
			d = b.unknownName(set.in, parts[0])
		}
		return nil, nil, &d
	}
	if !whole {
		return tab, name, nil
	}
	if tab.Columns[head.Text] == nil {
		d := say(set.expr.Pos(), "%s has no column %s; %s asks for %s", tab.Table.Name, head.Text, node.Name.Text,
			words.And(heads(node))).
			With(fmt.Sprintf("add it, or set `%s.%s` to another column", node.Name.Text, head.Text))
		return nil, nil, &d
	}
	expr := &syntax.Name{Parts: append(append([]syntax.Part(nil), parts...), syntax.Part{At: name.Pos(), Text: head.Text})}
	return tab, expr, nil
}

// tabNamed finds a table by its name, or by that of a placed sheet and the
// table it asks for or tells.
func (b *builder) tabNamed(s *Scope, parts []syntax.Part) *Tab {
	if len(parts) == 0 {
		return nil
	}
	sym := s.Names[parts[0].Text]
	switch {
	case sym == nil && len(parts) == 1:
		return b.shippedTable(parts[0].Text)
	case sym == nil:
		return nil
	case len(parts) == 1 && sym.Tab != nil && b.filled(s, sym):
		return sym.Tab
	case len(parts) == 2 && sym.Place != nil:
		return b.toldBy(s, sym.Place, parts[1].Text)
	}
	return nil
}

// wanted is what a setting must be: as the sheet's own default is.
func (d *Def) wanted() asked {
	f := d.At.facts
	if d.Of == nil {
		return f.asks[d.set.key]
	}
	table, _, _ := strings.Cut(d.set.key, ".")
	return f.columns[table+d.Name[strings.LastIndexByte(d.Name, '.'):]]
}
