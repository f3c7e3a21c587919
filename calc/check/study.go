package check

import (
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// none is the tail of a part that has none.
var none syntax.Tail

// A Study is a line that puts a question to the other lines: what it is about,
// resolved and checked.
type Study struct {
	Node syntax.Study
	Line *syntax.Line
	Axes []Axis       // of find (one), vary and suppose: the inputs that change
	In   []Axis       // of find and vary: what else has other values meanwhile
	Show []*Def       // what is shown
	So   []Comparison // of find: the comparisons that must hold, all of them
	X    *Def         // of working and measured: what it is about
	Row  int          // of working: which row, if X is a column and one row was asked for
	On   *Def         // of measured: its date, nil if none is said
	As   *syntax.UnitRef
	OK   bool

	Of    *types.Table // of show: the table whose rows are shown,
	Sort  *Def         // what they are sorted by, nil for as they stand,
	Where *Def         // and the condition they are chosen by

	Place *Placement // of picture and agree: the placed sheet it is of
	Sheet *Sheet     // of exercise: what it is made of

	line *Def // carries what is wrong with it
}

// Comparison is a comparison of two sides, each a Def that can be read on its own.
type Comparison struct {
	Expr  *syntax.Compare
	Sides []*Def
	Op    Op
}

// Axis is an input that a study changes.
type Axis struct {
	X        *Def
	Name     *syntax.Name
	From, To *Def
	By       *Def
	Steps    int
	Among    []*Def // values, each a Def of its own; a column stands alone
	Value    *Def   // of suppose
	Whole    bool   // only whole numbers mean anything here
}

// study checks a line that asks about the others. What it changes must be an
// input; what it shows gets Defs of its own.
func (b *builder) study(o Origin, node syntax.Study) *Study {
	st := &Study{Node: node, Line: o.Src, OK: true}
	if o.At == nil {
		b.Studies[o.Line] = st
	}
	// A Def of the line carries what is wrong with it.
	d := b.add(o.def(Asking, nil))
	st.line = d
	ask := func() {
		node.Visit(&asking{b, d, st})
		st.OK = st.OK && len(d.Diags) == 0
	}
	switch node.(type) {
	case *syntax.Measured, *syntax.Agree: // which take no work, and come by the hundred
	default:
		b.studies++
		if b.studies > maxStudies {
			ask = func() { st.OK = false }
		}
		if b.studies == maxStudies+1 {
			b.report(d, say(syntax.Pos{Row: o.Src.Row, Col: 1}, "the notebook has more than %d studies; those from here on are left off", maxStudies).
				With("split the notebook"))
		}
	}
	b.later[d] = ask
	return st
}

// asking checks a study. Each has its method in a file of its own.
type asking struct {
	*builder
	d  *Def // of the line
	st *Study
}

// part checks an expression that belongs to a study, as a Def of its own.
func (b *builder) part(d *Def, e syntax.Expr, tail syntax.Tail) *Def {
	if e == nil {
		return nil
	}
	p := d.Origin.def(Bound, e)
	p.Tail = &tail
	b.infer(p)
	d.blame(p)
	return p
}

// blame takes over what is wrong with a part of a study, each name that is not
// defined once.
func (d *Def) blame(part *Def) {
	for _, diag := range part.Diags {
		if !slices.ContainsFunc(d.Diags, func(old syntax.Diag) bool { return old.Message == diag.Message }) {
			d.Diags = append(d.Diags, diag)
		}
	}
	for _, name := range part.Waits {
		if !slices.Contains(d.Waits, name) {
			d.Waits = append(d.Waits, name)
		}
	}
	part.Diags, part.Waits = nil, nil
}

func (b *asking) shows(shown []syntax.Shown) {
	d, st := b.d, b.st
	for _, x := range shown {
		p := b.part(d, x.Expr, syntax.Tail{As: x.As})
		if !p.OK() {
			b.noValue(d, x.Expr.Pos(), spell(x.Expr))
			st.OK = false
			continue
		}
		if p.Node.Op == Ref && p.Show.IsZero() {
			p.Show = p.Node.Def.Show
		}
		st.Show = append(st.Show, p)
	}
	for i := range st.Axes {
		x := &st.Axes[i]
		x.Whole = x.X.Whole || slices.ContainsFunc(st.Show, func(p *Def) bool { return b.counted(onlyWhole(p, x.X)) })
	}
}

// subject resolves the name of a value that a study is about; of one row of a
// computed column, the column and the row.
func (b *builder) subject(d *Def, name *syntax.Name) (*Def, int) {
	n := b.name(d, name)
	switch {
	case n.Op == Ref:
		return n.Def, 0
	case n.Op == RowOf && len(n.Kids[0].Def.Cells) > 0:
		return n.Kids[0].Def.Cells[n.Row], 0
	case n.Op == RowOf:
		return n.Kids[0].Def, n.Row
	}
	b.noValue(d, name.Pos(), name.String())
	return nil, 0
}

// noValue tells a study that what it is about has no value, where nothing has
// been said of it yet. The cause is an error of another line, and counts there.
func (b *builder) noValue(d *Def, at syntax.Pos, what string) {
	if len(d.Diags) == 0 {
		b.report(d, notice(at, "%s has no value, for a line it needs is in error; mend that first", what))
	}
}

// input resolves the name of an input that a study changes: a constant line, an
// ask, a placed sheet's input, a cell of a table.
func (b *builder) input(d *Def, name *syntax.Name) *Def {
	n := b.name(d, name)
	if unknown(n) {
		b.noValue(d, name.Pos(), name.String())
		return nil
	}
	x := n.Def
	at := name.Pos()
	if n.Op == RowOf {
		switch x = n.Kids[0].Def; {
		case x.labels:
		case len(x.Cells) == 0:
			b.report(d, follows(at, name, x))
			return nil
		default:
			x = x.Cells[n.Row]
		}
	}
	switch {
	case x.Role == Constant:
		b.report(d, say(at, "%s is a constant and cannot be changed", name))
	case x.labels:
		b.report(d, labelsChanged(at))
	case x.Type.Of != nil || x.Role == Column:
		b.report(d, columnVaried(at, name, x.Type.Of))
	case x.Type.Kind == types.Text || x.Type.Kind == types.Truth || x.Type.Kind == types.Date:
		b.report(d, say(at, "%s is %s, and a study changes quantities", name, x.Type.Words()))
	default:
		return b.free(d, at, name, x)
	}
	return nil
}

// free gives an input that a study may change; an answer, and what follows from
// other lines, is told instead.
func (b *builder) free(d *Def, at syntax.Pos, name *syntax.Name, x *Def) *Def {
	switch {
	case x.Role == Given && len(x.Deps) > 0:
		b.report(d, isAnswer(at, name))
	case len(x.Deps) > 0:
		b.report(d, follows(at, name, x))
	default:
		return x
	}
	return nil
}

// alike holds a value of a study to the type of the input it is for.
func (b *builder) alike(d *Def, name *syntax.Name, x, v *Def) bool {
	if v == nil || !v.OK() {
		return false
	}
	if v.Type.Of != nil {
		b.report(d, valueIsColumn(v))
		return false
	}
	if v.Type == x.Type.Scalar() || isZero(v.Node) && x.Type.Kind == types.Number {
		return true
	}
	b.report(d, valueOfOther(name, x, v))
	return false
}

// list checks the values behind "among": single ones, or one column of a table.
func (b *builder) list(d *Def, x *Axis, among []syntax.Expr) {
	for _, e := range among {
		v := b.part(d, e, none)
		if v.OK() && v.Type.Of != nil {
			switch {
			case len(among) > 1:
				b.report(d, valueIsColumn(v))
			case x.X != nil && v.Type.Scalar() != x.X.Type.Scalar():
				b.report(d, valueOfOther(x.Name, x.X, v))
			}
		}
		x.Among = append(x.Among, v)
	}
}

// DependsOn reports whether a Def is computed from x, directly or not.
func DependsOn(d, x *Def) bool {
	yes, _ := dependsOn(d, x)
	return yes
}

// dependsOn tells how many steps it took, too.
func dependsOn(d, x *Def) (yes bool, steps int) {
	seen := since{from: x.Order}
	var visit func(*Def) bool
	visit = func(d *Def) bool {
		if d == x {
			return true
		}
		if !seen.first(d) {
			return false
		}
		for _, dep := range d.Deps {
			if visit(dep) {
				return true
			}
		}
		return false
	}
	yes = visit(d)
	return yes, seen.count
}

// counted is what a walk through what a Def is computed from came to, its steps counted:
// each is as long as many down a column.
func (b *builder) counted(yes bool, steps int) bool {
	b.steps += 20 * steps
	return yes
}

// since notes which Defs have been seen of those from a place in the order on.
type since struct {
	from  int
	seen  []bool
	count int
}

// first reports whether a Def is one of them and seen for the first time.
func (s *since) first(d *Def) bool {
	i := d.Order - s.from
	if i < 0 || i < len(s.seen) && s.seen[i] {
		return false
	}
	if i >= len(s.seen) {
		s.seen = append(s.seen, make([]bool, i+1-len(s.seen))...)
	}
	s.seen[i] = true
	s.count++
	return true
}

// Uncounted gives the calls upstream of a Def whose own tolerance does not
// count, since they stand within a formula: a part by its marking has one only
// on a line of its own.
func (c *Checked) Uncounted(d *Def) []syntax.Expr {
	var all []syntax.Expr
	seen := map[*Def]bool{}
	var walk func(n *Node)
	walk = func(n *Node) {
		if call, ok := n.expr.(*syntax.Call); ok && n.Op == Call {
			if f, has := n.Fn.ToleranceOf(c.b.lib, c.b.args(n, call)); has && f > 0 {
				all = append(all, call)
			}
		}
		for _, k := range n.Kids {
			walk(k)
		}
	}
	var visit func(d *Def)
	visit = func(d *Def) {
		if seen[d] {
			return
		}
		seen[d] = true
		if d.Node != nil {
			if _, whole := d.Expr.(*syntax.Call); whole {
				for _, k := range d.Node.Kids {
					walk(k)
				}
			} else {
				walk(d.Node)
			}
		}
		for _, dep := range d.Deps {
			visit(dep)
		}
	}
	visit(d)
	return all
}
