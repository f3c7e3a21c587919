package check

import (
	"railsum/calc/syntax"
)

// Working resolves what it is about.
func (b *asking) Working(node *syntax.Working) {
	b.st.X, b.st.Row = b.subject(b.d, node.X)
	b.st.OK = b.st.X != nil
}
