package check

import (
	"fmt"

	"railsum/calc/syntax"
)

// Guess checks what is asked and the values that are put in for it.
func (b *asking) Guess(node *syntax.Guess) {
	b.supposed(&b.st.Axes, node.Sets)
	b.shows([]syntax.Shown{node.Show})
	for _, p := range b.st.Show {
		if of := p.Type.Of; of != nil {
			b.refuse(oneOfColumn(node.Show.Expr, of.Labels))
		}
	}
}

func oneOfColumn(e syntax.Expr, labels []string) syntax.Diag {
	d := say(e.Pos(), "a guess is about one value, and %s has one for each row", spell(e))
	n, ok := e.(*syntax.Name)
	if !ok || len(labels) == 0 {
		return d.With("gather it with sum, mean, least or most")
	}
	last := len(n.Parts) - 1
	parts := append(append([]syntax.Part(nil), n.Parts[:last]...), syntax.Part{Text: labels[0], Quoted: true},
		n.Parts[last])
	return d.With(fmt.Sprintf("name a row, as in `%s`", (&syntax.Name{Parts: parts}).String()))
}
