package study

import (
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
)

// bounds are the rules of a placed sheet, or for none those of the notebook,
// that compare a quantity with its limit, or with two.
func (l *Lab) bounds(p *check.Placement) *answer.Picture {
	out := l.titled(p, "limits")
	for _, rule := range l.rulesOf(p) {
		from := len(l.C.Order)
		sides := l.C.Operands(rule)
		l.compute(from)
		if b, ok := l.bounded(rule, sides); ok {
			out.Limits = append(out.Limits, b)
		}
	}
	if len(out.Limits) == 0 {
		out.None = "no rule compares two quantities"
	}
	return out
}

func (l *Lab) rulesOf(p *check.Placement) []*check.Def {
	if p != nil {
		return p.Rules
	}
	var all []*check.Def
	for _, d := range l.C.Order {
		if d.OfLine && d.At == nil {
			all = append(all, d)
		}
	}
	return all
}

// bounded is a rule as a value and its limits.
func (l *Lab) bounded(rule *check.Def, sides []*check.Def) (answer.Bounded, bool) {
	cmp, ok := rule.Expr.(*syntax.Compare)
	b := answer.Bounded{Label: syntax.PrintExpr(rule.Expr), Verdict: l.RuleVerdict(rule)}
	if !ok || len(sides) != len(cmp.X) || !oneWay(cmp.Ops) {
		return b, false
	}
	up := cmp.Ops[0] == "<" || cmp.Ops[0] == "<="
	switch len(sides) {
	case 2:
		c := l.Judge(rule).Compared
		if c == nil {
			return b, false
		}
		if c.Row != "" {
			b.Label += ", " + c.Row
		}
		limit := c.Right
		b.Value = c.Left
		if limitFirst(sides[0], sides[1]) { // 5 mm <= gap: the limit stands first
			limit, b.Value, up = c.Left, c.Right, !up
		}
		if up {
			b.High = limit
		} else {
			b.Low = limit
		}
	case 3:
		var v [3]*answer.Value
		for i, d := range sides {
			if v[i] = l.Value(d); v[i] == nil || !v[i].Quantity() || v[i].Column() {
				return b, false
			}
		}
		b.Low, b.Value, b.High = v[0], v[1], v[2]
		if !up {
			b.Low, b.High = v[2], v[0]
		}
	}
	for _, v := range []*answer.Value{b.Value, b.Low, b.High} {
		if v != nil && !v.Sound() {
			return b, false
		}
		if v != nil && v != b.Value && v.Numbers[0] == 0 { // against nothing there is no scale
			return b, false
		}
	}
	return b, true
}

// oneWay reports whether all comparisons go one way.
func oneWay(ops []string) bool {
	for _, op := range ops {
		if (op[0] != '<' && op[0] != '>') || op[0] != ops[0][0] {
			return false
		}
	}
	return true
}

// limitFirst reports whether the limit stands on the left: a number, or an input
// that is held against something worked out, as in rating >= power.
func limitFirst(left, right *check.Def) bool {
	l, r := left.Node, right.Node
	switch {
	case l == nil || r == nil || r.Op == check.Const:
		return false
	case l.Op == check.Const:
		return true
	}
	return l.Op == check.Ref && len(l.Def.Deps) == 0 && r.Op == check.Ref && len(r.Def.Deps) > 0
}
