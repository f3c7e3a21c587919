package check

import (
	"sort"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// Slip checks that it is about an answer and has its dimension.
func (b *asking) Slip(node *syntax.Slip) {
	gives := b.gives(b.d.In)
	if len(gives) == 0 {
		b.refuse(say(node.X.Pos(), "a slip belongs to a sheet, and this notebook tells none").
			With("to ask for a value, use `guess`"))
		return
	}
	var names []string
	for _, d := range gives {
		if d.Name == b.d.In.full(node.X.String()) {
			b.st.X = d
		}
		names = append(names, plainName(d))
	}
	if b.st.X == nil {
		what := "this notebook"
		if p := b.d.At; p != nil {
			what = "this sheet (" + p.Sheet.Name + ")"
		}
		b.refuse(givesNo(node.X.Pos(), what, node.X.String(), names))
		return
	}
	b.infer(b.st.X)
	v := b.value(node.Expr)
	if !b.st.X.OK() {
		b.st.OK = false
	}
	if !b.st.OK || isZero(v.Node) {
		return
	}
	if x := b.st.X; v.Type.Scalar() != x.Type.Scalar() {
		b.refuse(say(node.Expr.Pos(), "a slip has the dimension of its answer: %s is %s, and this is %s", node.X,
			x.Type.Words(), v.Type.Words()))
		return
	}
	b.st.Show = append(b.st.Show, v)
}

// gives are the answers that a sheet gives, or a notebook that is one.
func (b *builder) gives(s *Scope) []*Def {
	if s.In != nil {
		return s.In.Gives
	}
	var all []*Def
	for _, d := range b.defs {
		if d.Role == Given && d.In == s {
			all = append(all, d)
		}
	}
	return all
}

// plainName is the name of an answer within its sheet.
func plainName(d *Def) string {
	g := d.Src.Node.(*syntax.Tell)
	return g.Name.Text
}

// givesNo says that there is no such answer.
func givesNo(at syntax.Pos, what, name string, gives []string) syntax.Diag {
	sort.Strings(gives)
	cure := words.Meant(name, gives)
	if cure == "" {
		cure = "it tells " + words.And(gives)
	}
	return say(at, "%s tells no %s", what, name).With(cure)
}
