package check

import (
	"railsum/calc/syntax"
)

// Spread checks what is shown.
func (b *asking) Spread(node *syntax.Spread) { b.shows(node.Show) }
