package study

import (
	"math"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/view"
	"railsum/units/words"
)

// untold is how near to its answer a slip cannot be told from it, as a share.
const untold = 0.03

// Slip tells what the mistake comes to.
func (a *Asking) Slip(node *syntax.Slip) {
	if len(a.s.Show) == 0 {
		return
	}
	slip := a.slip(a.s, node)
	a.kept.answer = slip
	right := a.Value(a.s.X)
	if right == nil || !right.Sound() || !slip.Wrong.Sound() || !slip.Wrong.Quantity() || right.Column() ||
		slip.Wrong.Column() {
		return
	}
	if x, y := right.Numbers[0], slip.Wrong.Numbers[0]; math.Abs(x-y) <= untold*math.Abs(x) {
		a.kept.diags = append(a.kept.diags, syntax.Diag{At: node.Expr.Pos(), Notice: true,
			Wrong: words.Say("this slip cannot be told from the right answer").With("change the defaults or take it out")})
	}
}

// slip is what a mistake comes to, shown in its answer's unit.
func (l *Lab) slip(s *check.Study, node *syntax.Slip) *answer.Slip {
	d, x := s.Show[0], s.X
	v := l.Value(d)
	if of := l.Value(x); of != nil && v != nil {
		v.Unit = of.Unit
	}
	return &answer.Slip{Name: view.ShortName(x), Why: d.Src.Note, Wrong: v}
}

// unanswered says why a value has none.
func unanswered(v *answer.Value) words.Wrong {
	for _, why := range v.Faults {
		if why != "" {
			return words.Say("this has no answer: %s", why)
		}
	}
	return function.Overflow.Wrong()
}
