package desk

import (
	"math"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// input is something that a sheet asks for.
type input struct {
	name    string
	meaning string
	given   string   // the sheet's own value as it would be typed; empty for a table
	good    string   // the range or the choices, as in the sheet: "from 1 m to 9 m"
	also    []string // other words for it
	choices []string
	usual   []string // values that are usual, of a table that the sheet names
	heads   []string // of a table
}

// inputsOf lists what a sheet asks for and what it takes for granted, in its order.
func inputsOf(file *syntax.File, lib calc.Library) (asks, takes []input) {
	for _, l := range file.Lines {
		switch n := l.Node.(type) {
		case *syntax.Ask:
			in := input{name: n.Name.Text, meaning: l.Note, given: syntax.PrintExpr(n.Expr)}
			if n.Tail.Tol != nil {
				in.given += " +- " + n.Tail.Tol.By.Text
			}
			if n.Tail.From != nil {
				in.good = "from " + syntax.PrintExpr(n.Tail.From) + " to " + syntax.PrintExpr(n.Tail.To)
			}
			for _, e := range n.Tail.Among {
				in.choices = append(in.choices, syntax.PrintExpr(e))
			}
			if len(in.choices) > 0 {
				in.good = "one of " + strings.Join(in.choices, ", ")
			}
			for _, w := range n.Words {
				in.also = append(in.also, w.Text)
			}
			in.usual = usual(n, lib)
			if n.Taken {
				takes = append(takes, in)
			} else {
				asks = append(asks, in)
			}
		case *syntax.Table:
			if n.Ask {
				in := input{name: n.Name.Text, meaning: l.Note}
				for _, h := range n.Heads {
					in.heads = append(in.heads, h.Name.Text)
				}
				asks = append(asks, in)
			}
		}
	}
	return asks, takes
}

// usual are the values of the column that an input names, in the unit of its own value
// and as far as it is good for them.
func usual(n *syntax.Ask, lib calc.Library) (values []string) {
	own, is := n.Expr.(*syntax.Literal)
	if n.Tail.Usual == nil || !is {
		return nil
	}
	lo, hi := math.Inf(-1), math.Inf(1)
	if from, is := n.Tail.From.(*syntax.Literal); is {
		lo = from.Value
	}
	if to, is := n.Tail.To.(*syntax.Literal); is {
		hi = to.Value
	}
	table, column, _ := strings.Cut(n.Tail.Usual.String(), ".")
	for _, x := range lib.Numbers(table, column) {
		text := strings.TrimSpace(own.Unit.Format(x) + " " + own.Unit.String())
		if x >= lo && x <= hi && !slices.Contains(values, text) {
			values = append(values, text)
		}
	}
	return values
}

// asks is the row above the question for an input: the beginning of its meaning and
// what it is good for.
func (in *input) asks() string {
	begin, _, _ := strings.Cut(in.meaning, ";")
	begin, _, _ = strings.Cut(begin, ":")
	return in.says(begin)
}

func (in *input) says(meaning string) string {
	parts := []string{meaning}
	if meaning == "" {
		parts[0] = in.name
	}
	if in.good != "" {
		parts = append(parts, in.good)
	}
	if in.heads != nil {
		parts = append(parts, "a table with "+strings.Join(in.heads, ", "))
	}
	return strings.Join(parts, "; ")
}

// explained is what there is to say about an input beyond that.
func (in *input) explained() string {
	text := in.name
	if len(in.also) > 0 {
		text += ", also called " + words.And(in.also)
	}
	text += ": " + in.says(in.meaning) + "; the sheet's own is " + in.keeps()
	if len(in.usual) > 0 {
		text += ". Usual are " + words.And(in.usual)
	}
	if in.heads == nil {
		text += ". A value, a name of the notebook or an expression"
	}
	return text + "."
}

// keeps is the sheet's own value.
func (in *input) keeps() string {
	if in.heads != nil {
		return "rows of its own"
	}
	return in.given
}
