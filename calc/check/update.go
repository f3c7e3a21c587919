package check

import (
	"slices"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// Replace puts another line in the place of line i where that changes nothing
// but the value of what the line names: the same name, the same type and the
// same way of showing it, needing only what comes before it in the order. It
// reports the Def whose value may have changed, or false if the notebook has to
// be checked anew.
func (c *Checked) Replace(i int, l *syntax.Line) (*Def, bool) {
	d := c.Main[i]
	was, ok1 := c.Lines[i].Node.(*syntax.Define)
	now, ok2 := l.Node.(*syntax.Define)
	if d == nil || !ok1 || !ok2 || !d.OK() || len(c.Diags[i]) > 0 || len(d.Diags) > 0 || hasErrors(l) ||
		d.set != nil && d.set.taken ||
		was.Target.String() != now.Target.String() || was.Assumed != now.Assumed || was.Tail.Whole != now.Tail.Whole {
		return nil, false
	}
	o := d.Origin
	o.Src = l
	tail, input := now.Tail, *d.Input
	n := &Def{Name: d.Name, Role: d.Role, Origin: o, Expr: now.Expr, Tail: &tail, Of: d.Of,
		Input: &input, Compared: &noCompared, Assumed: d.Assumed, Whole: d.Whole, that: d.that}
	if d.set != nil {
		set := *d.set
		set.expr, set.tail, set.src, set.def = now.Expr, now.Tail, l, n
		n.set = &set
		tail.Range = d.Tail.Range
	}
	order, defs := len(c.Order), len(c.b.defs)
	terms, cells, steps := c.b.terms, c.b.cells, c.b.steps
	c.b.infer(n)
	c.b.terms, c.b.cells, c.b.steps = terms, cells, steps // about those of the line before
	grown := len(c.Order) > order+1 || len(c.b.defs) > defs
	c.Order, c.b.defs = c.Order[:order], c.b.defs[:defs]
	if grown {
		// What was made on the way, such as a shipped table met for the first
		// time, would be missing from the order.
		c.b.shipped, c.b.constants = map[string]*Tab{}, map[string]*Def{}
		return nil, false
	}
	literal := n.Literal
	n.Literal = d.Literal // how it is spelled is its value's business
	same := n.OK() && len(n.Diags) == 0 && n.Type == d.Type && n.Display == d.Display && n.Loose == d.Loose &&
		n.Tol == d.Tol && n.TolShare == d.TolShare && n.MayBeNone == d.MayBeNone
	for _, dep := range n.Deps {
		same = same && dep.Order < d.Order && dep.OK()
	}
	if !same || c.asked() && !slices.Equal(n.Deps, d.Deps) {
		return nil, false
	}
	if d.set != nil {
		*d.set = *n.set
		d.set.def = d
	}
	d.Expr, d.Tail, d.Src, d.Node, d.Deps, d.Literal = n.Expr, n.Tail, n.Src, n.Node, n.Deps, literal
	d.Tolerance = n.Tolerance
	c.Lines[i] = l
	return d, true
}

// asked reports whether there are studies: they were checked against what
// depends on what.
func (c *Checked) asked() bool {
	for _, s := range c.Studies {
		if s != nil {
			return true
		}
	}
	return false
}

// Append adds a line at the end where nothing above can depend on it. It
// reports from which place in the order new Defs stand, or false if the
// notebook has to be checked anew.
func (c *Checked) Append(l *syntax.Line) (int, bool) {
	defines := syntax.Defines(l.Node)
	switch node := l.Node.(type) {
	case *syntax.Prefer:
		return 0, false
	case *syntax.Use:
		if len(node.Names) == 0 { // it may take the name of its sheet, or take it from another line
			return 0, false
		}
	case *syntax.Broken:
		for _, t := range node.Targets {
			defines = append(defines, syntax.Defined{Parts: t.Parts[:1]})
		}
	}
	for _, d := range defines {
		if len(d.Parts) > 1 || !c.isNew(d.Parts[0].Text) {
			return 0, false
		}
	}
	n := len(c.Lines)
	c.Lines = append(c.Lines, l)
	c.Main = append(c.Main, nil)
	c.Tabs = append(c.Tabs, nil)
	c.Places = append(c.Places, nil)
	c.Studies = append(c.Studies, nil)
	c.Diags = append(c.Diags, nil)
	c.Waits = append(c.Waits, nil)
	order, defs := len(c.Order), len(c.b.defs)
	c.b.declare(c.Root, []*syntax.Line{l}, n)
	c.b.settle(defs)
	c.Cut = c.b.stop()
	c.tell(defs)
	return order, true
}

// isNew reports whether a name means nothing yet, and nothing waits for it or for one
// like it.
func (c *Checked) isNew(name string) bool {
	if c.Root.Names[name] != nil || c.b.isPredefined(name) || c.b.constant(scalePrefix+name) != nil {
		return false
	}
	waits := func(names []string) bool {
		for _, n := range names {
			if n == name || words.Meant(n, []string{name}) != "" { // the cure of the line that waits names it
				return true
			}
		}
		return false
	}
	for i := range c.Lines {
		if waits(c.Waits[i]) || c.Main[i] != nil && waits(c.Main[i].Waits) {
			return false
		}
	}
	for _, d := range c.b.defs {
		if waits(d.Waits) {
			return false
		}
	}
	return true
}

func hasErrors(l *syntax.Line) bool {
	for _, d := range l.Errors {
		if !d.Notice {
			return true
		}
	}
	return false
}

// That gives the line of the question that a Def's "that" means, -1 if it has
// none.
func (d *Def) That() int {
	for _, dep := range d.Deps {
		if dep == d.that && dep != nil {
			return dep.Line
		}
	}
	return -1
}
