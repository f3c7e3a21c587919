package check

import (
	"maps"
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units/words"
)

// Exercise checks the sheet, the answers that it asks for and the inputs that it
// holds at a value.
func (b *asking) Exercise(node *syntax.Exercise) {
	use := &syntax.Use{At: node.At, Sheet: node.Sheet, Own: node.Own}
	sheet, err := b.lib.Sheet(node.Sheet, node.Own)
	if err != nil {
		b.refuse(noSheet(use, err))
		return
	}
	f := b.facts(sheet)
	if len(f.diags) > 0 {
		b.refuse(sheetInError(use, sheet, f.diags[0]))
		return
	}
	b.st.Sheet = sheet
	for i, n := range node.Asking {
		switch {
		case !f.gives[n.Text]:
			b.refuse(givesNo(n.At, "this sheet ("+sheet.Name+")", n.Text, slices.Collect(maps.Keys(f.gives))))
		case slices.ContainsFunc(node.Asking[:i], func(o syntax.Part) bool { return o.Text == n.Text }):
			b.refuse(say(n.At, "%s is asked for twice", n.Text).With("take one of them out"))
		}
	}
	for i, x := range node.With {
		name := x.X.String()
		want, ok := f.asks[name]
		v := b.value(x.Expr)
		switch {
		case !ok:
			inputs := slices.Sorted(maps.Keys(f.asks))
			cure := words.Meant(name, inputs)
			if cure == "" {
				cure = "it asks for " + words.And(inputs)
			}
			b.refuse(say(x.X.Pos(), "%s does not ask for %s", sheet.Name, name).With(cure))
		case slices.ContainsFunc(node.With[:i], func(o syntax.Supposed) bool { return o.X.String() == name }):
			b.refuse(say(x.X.Pos(), "%s is set twice", name).With("take one of them out"))
		case v == nil || !v.OK():
		case v.Type.Of != nil:
			b.refuse(valueIsColumn(v))
		case v.Type != want.typ && !(isZero(v.Node) && want.typ.Kind == types.Number):
			b.refuse(say(x.Expr.Pos(), "%s is %s, and this is %s", name, want.typ.Words(), v.Type.Words()))
		}
		b.st.Axes = append(b.st.Axes, Axis{Name: x.X, Value: v})
	}
}
