package desk

import (
	"strings"

	"railsum/calc/syntax"
)

// input is something that a sheet asks for.
type input struct {
	name    string
	meaning string
	given   string // the sheet's own value as it would be typed; empty for a table
	good    string // the range or the choices, as in the sheet: "from 1 m to 9 m"
	choices []string
	heads   []string // of a table
}

// inputsOf lists what a sheet asks for, in its order.
func inputsOf(file *syntax.File) []input {
	var all []input
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
			all = append(all, in)
		case *syntax.Table:
			if n.Ask {
				in := input{name: n.Name.Text, meaning: l.Note}
				for _, h := range n.Heads {
					in.heads = append(in.heads, h.Name.Text)
				}
				all = append(all, in)
			}
		}
	}
	return all
}

// asks is the row above the question for an input: its meaning and what it is
// good for.
func (in *input) asks() string {
	parts := []string{in.meaning}
	if in.meaning == "" {
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

// prompt is the question itself, with what an empty answer keeps.
func (in *input) prompt() string {
	keeps := in.given
	if in.heads != nil {
		keeps = "the sheet's own rows"
	}
	return "    " + in.name + " (" + keeps + "): "
}
