package function

import (
	"fmt"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

// rule gives the type of a call from those of its arguments, none of which is
// unknown and whose number is right. The shape is left to the caller.
type rule func(f *Function, args []Arg) (types.Type, *TypeError)

// arity is how many arguments a function takes; most is 0 for any number.
type arity struct{ least, most int }

// typeOf is the Type of every entry. An argument of unknown kind makes the
// result unknown without another word: it has been reported where it arose.
func (f *Function) typeOf(args []Arg) (types.Type, *TypeError) {
	for _, a := range args {
		if a.Kind == types.Unknown {
			return types.Type{}, nil
		}
	}
	if n := len(args); n < f.takes.least || f.takes.most > 0 && n > f.takes.most {
		return wrong(-1, say("%s takes %s and is given %s", f.Name, f.takes.words(), given(n)).
			With(fmt.Sprintf("its form is `%s`", f.Args)))
	}
	return f.rule(f, args)
}

func (a arity) words() string {
	switch {
	case a.most == 0:
		return values(a.least) + " or more"
	case a.most == a.least:
		return values(a.least)
	}
	return fmt.Sprintf("%s or %s", spelled(a.least), values(a.most))
}

func values(n int) string {
	if n == 1 {
		return "one value"
	}
	return spelled(n) + " values"
}

func given(n int) string {
	if n == 0 {
		return "none"
	}
	return spelled(n)
}

func spelled(n int) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

// wrong is the answer of a rule that refuses argument arg, -1 for the call.
func wrong(arg int, what words.Wrong) (types.Type, *TypeError) {
	return types.Type{}, &TypeError{Arg: arg, Wrong: what}
}

func say(format string, args ...any) words.Wrong { return words.Say(format, args...) }

// plain wants plain numbers and gives one.
func plain(f *Function, args []Arg) (types.Type, *TypeError) {
	for i, a := range args {
		if err := wantsPlain(f, i, a); err != nil {
			return types.Type{}, err
		}
	}
	return types.Plain, nil
}

func wantsPlain(f *Function, i int, a Arg) *TypeError {
	if a.Kind == types.Number && a.Dim.IsPlain() {
		return nil
	}
	cure := ""
	if a.Kind == types.Number && f.takes == (arity{1, 1}) && a.Dim.String() != "" {
		cure = fmt.Sprintf("divide by a unit first: `%s(%s / 1 %s)`", f.Name, said(a.Expr, "x"), a.Dim)
	}
	_, err := wrong(i, say("%s takes a plain number, not %s", f.Name, a.Words()).With(cure))
	return err
}

// wantsNumber wants a quantity of any dimension.
func wantsNumber(f *Function, i int, a Arg) *TypeError {
	if a.Kind == types.Number {
		return nil
	}
	cure := ""
	if a.Kind == types.Point {
		cure = fmt.Sprintf("a difference of temperatures will do, as in `%s - 0 degC`", said(a.Expr, "t"))
	}
	_, err := wrong(i, say("%s takes a number with or without a unit, not %s", f.Name, a.Words()).With(cure))
	return err
}

// quantity wants one quantity of any dimension and gives one of the same.
func quantity(f *Function, args []Arg) (types.Type, *TypeError) {
	if err := wantsNumber(f, 0, args[0]); err != nil {
		return types.Type{}, err
	}
	return args[0].Scalar(), nil
}

// alike wants quantities of one dimension, or temperatures, and gives one of
// the same. A literal 0 is a quantity of any dimension, but no temperature.
func alike(f *Function, args []Arg) (types.Type, *TypeError) {
	for i, a := range args {
		if a.Kind != types.Number && a.Kind != types.Point {
			return wrong(i, say("%s takes numbers with or without a unit, not %s", f.Name, a.Words()))
		}
	}
	return oneKind(f, args, 0)
}

// likeNumbers is alike for functions that make no sense of temperatures.
func likeNumbers(f *Function, args []Arg) (types.Type, *TypeError) {
	for i, a := range args {
		if err := wantsNumber(f, i, a); err != nil {
			return types.Type{}, err
		}
	}
	return oneKind(f, args, 0)
}

// oneKind wants the arguments from the from-th on to be of one kind and
// dimension, whatever it is.
func oneKind(f *Function, args []Arg, from int) (types.Type, *TypeError) {
	lead := from
	for lead < len(args)-1 && isZero(args[lead]) {
		lead++
	}
	first := args[lead]
	for i := from; i < len(args); i++ {
		a := args[i]
		if i == lead || isZero(a) && first.Kind == types.Number {
			continue
		}
		if !sameKind(a.Type, first.Type) {
			return differ(f, i, first, a)
		}
		if err := percentMeant(i, a, args[from:]); err != nil {
			return types.Type{}, err
		}
	}
	return first.Scalar(), nil
}

func sameKind(a, b types.Type) bool {
	return a.Kind == b.Kind && (a.Kind != types.Number || a.Dim == b.Dim)
}

func differ(f *Function, i int, first, a Arg) (types.Type, *TypeError) {
	cure := ""
	for _, pair := range [][2]Arg{{a, first}, {first, a}} {
		if _, text, ok := literal(pair[0].Expr); ok && unitOf(pair[1]) != "" {
			cure = fmt.Sprintf("if they are of one kind write `%s %s`", text, unitOf(pair[1]))
		}
	}
	return wrong(i, say("%s and %s cannot stand together in %s", first.Words(), a.Words(), f.Name).With(cure))
}

// unitOf is a unit for a cure: that of a literal as typed, or one of the
// dimension; empty for what is no quantity.
func unitOf(a Arg) string {
	if a.Kind != types.Number {
		return ""
	}
	if lit, ok := bare(a.Expr).(*syntax.Literal); ok && lit.Form == syntax.Quantity {
		return lit.Unit.String()
	}
	return a.Dim.String()
}

// percentMeant refuses a bare 5 beside a percentage: it would be 500 %.
func percentMeant(i int, a Arg, all []Arg) *TypeError {
	v, text, ok := literal(a.Expr)
	if !ok || v == 0 || v == 1 {
		return nil
	}
	for _, b := range all {
		if lit, ok := bare(b.Expr).(*syntax.Literal); ok && lit.Unit.Percent() {
			_, err := wrong(i, say("%s alone is %s times the whole, and this is about a share", text, text).
				With(fmt.Sprintf("write `%s %s`", text, lit.Unit)))
			return err
		}
	}
	return nil
}

// isZero is a literal 0 as written.
func isZero(a Arg) bool {
	v, _, ok := literal(a.Expr)
	return ok && v == 0
}

// literal is the value and the text of a number written without a unit, its
// sign included.
func literal(e syntax.Expr) (value float64, text string, ok bool) {
	switch x := e.(type) {
	case *syntax.Literal:
		return x.Value, x.Text, x.Form == syntax.Plain || x.Form == syntax.Bits
	case *syntax.Group:
		return literal(x.X)
	case *syntax.Unary:
		if value, text, ok = literal(x.X); ok && x.Op == "-" && !strings.HasPrefix(text, "-") {
			return -value, "-" + text, true
		}
	}
	return 0, "", false
}

// bare takes parentheses and a sign off an expression.
func bare(e syntax.Expr) syntax.Expr {
	for {
		switch x := e.(type) {
		case *syntax.Group:
			e = x.X
		case *syntax.Unary:
			if x.Op != "-" {
				return e
			}
			e = x.X
		default:
			return e
		}
	}
}

// said is how a short expression reads in a cure: a name or a literal as
// written, the stand-in for anything longer.
func said(e syntax.Expr, standIn string) string {
	switch x := e.(type) {
	case *syntax.Literal:
		return x.Text
	case *syntax.Text:
		return quoted(x.Value)
	case *syntax.Group:
		return said(x.X, standIn)
	case *syntax.Unary:
		if inner := said(x.X, standIn); x.Op == "-" && !strings.HasPrefix(inner, "-") {
			return "-" + inner
		}
	case *syntax.Name:
		parts := make([]string, len(x.Parts))
		for i, p := range x.Parts {
			parts[i] = p.Text
			if p.Quoted {
				parts[i] = quoted(p.Text)
			}
		}
		return strings.Join(parts, ".")
	}
	return standIn
}

// bareText is a text literal's value.
func bareText(e syntax.Expr) (string, bool) {
	t, ok := bare(e).(*syntax.Text)
	if !ok {
		return "", false
	}
	return t.Value, true
}

func quoted(text string) string { return `"` + strings.ReplaceAll(text, `"`, `""`) + `"` }

// of is the type of a quantity in a unit of our own writing.
func of(unit string) types.Type { return types.Type{Kind: types.Number, Dim: dimOf(unit)} }

func dimOf(unit string) units.Dim { return units.Known(unit).Dim() }
