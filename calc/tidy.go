package calc

import (
	"strings"

	"railsum/calc/check"
	"railsum/calc/syntax"
)

// Tidy gives the canonical text of a file: that of syntax, and every input of a
// sheet by its own name where another word for it was typed.
func Tidy(f *syntax.File, lib Library) []byte {
	c := check.Check(f.Lines, lib)
	tidy := *f
	tidy.Lines = make([]*syntax.Line, len(f.Lines))
	for i, l := range f.Lines {
		if names := c.FirstWords(i); names != nil {
			l, _ = syntax.ParseLineAt(strings.Join(syntax.Respell(l, names), "\n"), l.Row)
		}
		tidy.Lines[i] = l
	}
	return syntax.Format(&tidy)
}
