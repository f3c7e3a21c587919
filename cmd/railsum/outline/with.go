package outline

import (
	"slices"
	"strings"

	"railsum/calc/syntax"
)

// With is a notebook with a line in it, and where it stands: in the place of what
// names the same, or behind the sheet that it sets an input of.
func With(lines []*syntax.Line, line *syntax.Line) ([]*syntax.Line, int) {
	d, ok := line.Node.(*syntax.Define)
	if !ok {
		return append(slices.Clone(lines), line), len(lines)
	}
	target := syntax.PrintExpr(d.Target)
	for i, l := range lines {
		if other, ok := l.Node.(*syntax.Define); ok && syntax.PrintExpr(other.Target) == target {
			lines = slices.Clone(lines)
			lines[i] = line
			return lines, i
		}
	}
	placed, input, _ := strings.Cut(target, ".")
	for i, l := range lines {
		use, ok := l.Node.(*syntax.Use)
		if !ok || len(use.Names) != 1 || use.Names[0].Text != placed {
			continue
		}
		bare := *use
		bare.With = slices.DeleteFunc(slices.Clone(use.With), func(s syntax.Setting) bool { return s.Name.Text == input })
		copied := *l
		copied.Node = &bare
		again, _ := syntax.ParseLineAt(syntax.Print(&copied), l.Row)
		lines = slices.Insert(slices.Clone(lines), i+1, line)
		lines[i] = again
		return lines, i + 1
	}
	return append(slices.Clone(lines), line), len(lines)
}
