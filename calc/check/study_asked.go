package check

import (
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// ofSheet reports whether a line of a sheet that is in use counts: a sheet draws,
// has slips and needs parts, and asks nothing.
func ofSheet(node syntax.Study) bool {
	switch node.(type) {
	case *syntax.Picture, *syntax.Slip, *syntax.Needed:
		return true
	}
	return false
}

// Work checks a line of a placed sheet that counts only when somebody asks for
// it, once. What it needs comes at the end of the order, still to be computed.
func (c *Checked) Work(p *Placement, l *syntax.Line) *Study {
	if st := p.worked[l]; st != nil {
		return st
	}
	node := l.Node.(syntax.Study)
	st := &Study{Node: node, Line: l, OK: true}
	node.Visit(&asking{c.b, p.Scope.origin(p.Line, l).def(Asking, nil), st})
	if p.worked == nil {
		p.worked = map[*syntax.Line]*Study{}
	}
	p.worked[l] = st
	return st
}

// Operands gives what a rule compares, two values or three, nil if it compares
// none. Those of three come at the end of the order, still to be computed.
func (c *Checked) Operands(rule *Def) []*Def {
	cmp, ok := rule.Expr.(*syntax.Compare)
	if !ok || len(cmp.X) != 3 || rule.operands != nil {
		return append(rule.Sides[:len(rule.Sides):len(rule.Sides)], rule.operands...)
	}
	for _, x := range cmp.X {
		d := rule.Origin.def(Side, x)
		c.b.infer(d)
		rule.compared().operands = append(rule.operands, d)
	}
	return rule.operands
}

// PutOver reports whether a placed sheet has rows because it was given columns of
// this table: it is one of the notebook's, and no table that the sheet has or asks
// for.
func (c *Checked) PutOver(p *Placement, of *types.Table) bool {
	if p.Scope.has(of) {
		return false
	}
	for up := p.Parent; up != nil; up = up.Parent {
		if up.Scope.has(of) {
			return true
		}
	}
	return c.Root.has(of)
}

// IsTable reports whether a name of the notebook means a table of these rows.
func (c *Checked) IsTable(name []syntax.Part, of *types.Table) bool {
	t := c.b.tabNamed(c.Root, name)
	return t != nil && t.Table == of
}

func (s *Scope) has(of *types.Table) bool {
	for _, sym := range s.Names {
		if sym.Tab != nil && sym.Tab.Table == of {
			return true
		}
	}
	return false
}

// refuse says what is wrong with a study. In a placed sheet it is said of the
// sheet on its own, and nothing is worked out.
func (b *asking) refuse(diag syntax.Diag) {
	b.report(b.d, diag)
	b.st.OK = false
}

// value checks an expression of the line. What is wrong with it is told at the
// line.
func (b *asking) value(e syntax.Expr) *Def {
	p := b.part(b.d, e, none)
	switch {
	case p == nil:
		b.st.OK = false
	case !p.OK():
		b.noValue(b.d, e.Pos(), spell(e))
		b.st.OK = false
	case p.Node.Op == Ref && p.Show.IsZero():
		p.Show = p.Node.Def.Show
	}
	return p
}
