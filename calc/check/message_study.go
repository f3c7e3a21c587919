package check

import (
	"fmt"

	"railsum/calc/syntax"
	"railsum/calc/types"
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

func isAnswer(at syntax.Pos, name *syntax.Name) syntax.Diag {
	return say(at, "%s is an answer: it comes out and is not put in", name).With("name an input that it depends on")
}

func labelsChanged(at syntax.Pos) syntax.Diag {
	return say(at, "the labels of a table cannot be changed").With("name a column of it")
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

func variedTwice(name *syntax.Name) syntax.Diag {
	return say(name.Pos(), "%s is changed twice", name)
}

func likeNothing(use *syntax.Use) syntax.Diag {
	return say(use.Like.At, "%s is no placed sheet", use.Like.Text).With("name a placed sheet")
}

func likeOther(use *syntax.Use, other *Placement) syntax.Diag {
	return say(use.Like.At, "%s is a %s and this is a %s, so it cannot be like it", use.Like.Text, other.use.Sheet,
		use.Sheet).
		With("write the settings out")
}
