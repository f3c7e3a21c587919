package check

import (
	"fmt"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

// What the checker has to say about studies.

func columnVaried(at syntax.Pos, name *syntax.Name, of *types.Table) syntax.Diag {
	cure := ""
	if of != nil && len(of.Labels) > 0 && len(name.Parts) == 2 {
		cure = fmt.Sprintf("name one row of it, as in `%s.%q.%s`", name.Parts[0].Text, of.Labels[0], name.Parts[1].Text)
	}
	return say(at, "%s is a whole column, and a study changes single values", name).With(cure)
}

// follows says what an input that is computed follows, and which inputs it
// comes from.
func follows(at syntax.Pos, name *syntax.Name, x *Def) syntax.Diag {
	var from []string
	for _, d := range Inputs(x) {
		private := d.At != nil && (d.At.Parent != nil || d.Role == Named && d.set == nil)
		if d.Name != "" && d.Quantity() && !private && len(from) < 3 {
			from = append(from, d.Name)
		}
	}
	cure := ""
	if len(from) > 0 {
		cure = "ask for " + words.Or(from) + " instead"
	}
	what := "other values"
	if x.Expr != nil {
		what = spell(x.Expr)
	}
	return say(at, "%s follows %s", name, what).With(cure)
}

// Inputs are the Defs without anything to depend on that a Def is computed
// from, in their order.
func Inputs(d *Def) []*Def {
	seen := map[*Def]bool{}
	var all []*Def
	var visit func(*Def)
	visit = func(d *Def) {
		if seen[d] {
			return
		}
		seen[d] = true
		if len(d.Deps) == 0 && d.Role != Constant && d.Line >= 0 {
			all = append(all, d)
		}
		for _, dep := range d.Deps {
			visit(dep)
		}
	}
	visit(d)
	return all
}

func valueIsColumn(v *Def) syntax.Diag {
	return say(v.Expr.Pos(), "this is a column of %s, and one value is wanted", v.Type.Of.Name)
}

func valueOfOther(name *syntax.Name, x, v *Def) syntax.Diag {
	cure := ""
	if isBareNumber(v.Node) && x.Type.Kind == types.Number {
		if unit := x.Type.Dim.String(); unit != "" {
			cure = fmt.Sprintf("write `%s %s`", spell(v.Expr), unit)
		}
	}
	return say(v.Expr.Pos(), "%s is %s, and this is %s", name, x.Type.Words(), v.Type.Scalar().Words()).With(cure)
}

func stepOfOther(by *Def, want types.Type) syntax.Diag {
	cure := ""
	switch {
	case by.Type.Kind == types.Point:
		cure = fmt.Sprintf("write `by %s K`", strings.Fields(spell(by.Expr))[0])
	case isBareNumber(by.Node) && want.Dim.String() != "":
		cure = fmt.Sprintf("write `by %s %s`", spell(by.Expr), want.Dim)
	}
	return say(by.Expr.Pos(), "the step is %s, and must be %s", by.Type.Words(), want.Words()).With(cure)
}

func variedTwice(name *syntax.Name) syntax.Diag {
	return say(name.Pos(), "%s is changed twice", name)
}

func columnCompared(so *syntax.Compare, of *types.Table) syntax.Diag {
	return say(so.X[0].Pos(), "this has a value for each of %s, and find looks for one", of.Name).
		With("compare one row, or gather it with sum, most or least")
}

func nothingToFind(so *syntax.Compare, t types.Type) syntax.Diag {
	return say(so.X[0].Pos(), "find compares quantities; this is %s", t.Words())
}

func rangeOfChoice(node *syntax.Find, x *Def) syntax.Diag {
	var words []string
	for _, c := range x.Choice {
		words = append(words, spell(c.Expr))
	}
	return say(node.From.Pos(), "%s takes nothing but %s", node.X, strings.Join(words, ", ")).
		With("leave the range out")
}

func notUpstream(x *syntax.Name, so *syntax.Compare) syntax.Diag {
	return say(x.Pos(), "%s has no part in %s", x, spell(so))
}

func columnMeasured(x *syntax.Name, of *types.Table) syntax.Diag {
	return say(x.Pos(), "%s has a value for each of %s", x, of.Name).With("measure one row of it")
}

func textMeasured(x *syntax.Name, t types.Type) syntax.Diag {
	return say(x.Pos(), "%s is %s, and only quantities are measured", x, t.Words())
}

func unitDim(t types.Type) units.Dim {
	if t.Kind == types.Point {
		return kelvin()
	}
	return t.Dim
}

func likeNothing(use *syntax.Use) syntax.Diag {
	return say(use.Like.At, "%s is no placed sheet", use.Like.Text).With("name a placed sheet")
}

func likeOther(use *syntax.Use, other *Placement) syntax.Diag {
	return say(use.Like.At, "%s is a %s and this is a %s, so it cannot be like it", use.Like.Text, other.use.Sheet, use.Sheet).
		With("write the settings out")
}
