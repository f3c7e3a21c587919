package check

import (
	"fmt"
	"slices"

	"railsum/calc/syntax"
)

// Agree finds the inputs that a line agrees to, which their sheet takes for
// granted, and notes at each what it is agreed to be.
func (b *asking) Agree(node *syntax.Agree) {
	d, st := b.d, b.st
	head := node.Items[0].X.Parts[0]
	sym := d.In.Names[head.Text]
	switch {
	case sym == nil:
		d.Waits = append(d.Waits, head.Text)
		b.refuse(b.unknownPlace(d.In, head))
		return
	case sym.Broken || sym.Place != nil && (sym.Place.broken || sym.Place.Scope == nil):
		b.noValue(d, head.At, head.Text)
		st.OK = false
		return
	case sym.Place == nil:
		b.refuse(say(head.At, "%s is no placed sheet, and only a sheet takes something for granted", head.Text).
			With("name a placed sheet, as in `agree north`"))
		return
	}
	p := sym.Place
	st.Place = p
	for _, x := range p.Asks {
		b.infer(x)
	}
	if !node.Whole() {
		b.refuse(agreesToNothing(node, p))
		return
	}
	for _, i := range node.Items {
		b.agreed(p, node, i)
	}
	edition := p.Sheet.Edition
	switch {
	case len(d.Diags) > 0:
	case edition == 0 && node.Edition > 0:
		b.refuse(say(node.EditionAt, "%s is a sheet of your own, and has no edition", p.Sheet.Name).
			With("leave the edition out"))
	case edition > 0 && node.Edition == 0:
		b.refuse(say(head.At, "the edition of %s that this was agreed for is missing", p.Sheet.Name).
			With(fmt.Sprintf("write `%s`", agreement(node.Items, edition))))
	case edition != node.Edition:
		b.sheetLine(d.In, d.Line, notice(node.EditionAt,
			"%s is of edition %d now, and this was agreed for edition %d: it is unsettled", p.Sheet.Name, edition, node.Edition).
			With(AgreeAnew(head.Text)))
	}
}

// AgreeAnew says how an agreement that no longer stands is made anew.
func AgreeAnew(place string) string {
	return fmt.Sprintf("look at it, and at the desk type `agree %s`", place)
}

func agreement(items []syntax.Agreed, edition int) string {
	return syntax.Print(&syntax.Line{Node: &syntax.Agree{Items: items, Edition: edition}})
}

// agreed notes at an input what it is agreed to be.
func (b *asking) agreed(p *Placement, node *syntax.Agree, i syntax.Agreed) {
	x, diag := b.grantedInput(p, i.X)
	switch {
	case diag == nil:
	case diag.Notice: // of this input alone
		b.sheetLine(b.d.In, b.d.Line, *diag)
		return
	default:
		b.report(b.d, *diag)
		return
	}
	v := b.part(b.d, i.At, none)
	switch {
	case v.Node != nil && isNothing(v.Node):
		v.Type = x.Type
		v.Node.Type = x.Type
	case !b.alike(b.d, i.X, x, v):
		return
	}
	if old := x.Agreed; old != nil {
		b.report(b.d, say(i.X.Pos(), "%s is agreed to on line %d already", i.X, old.Line.Row).With("take one of them out"))
		return
	}
	v.Show, v.Typed = x.Show, x.Typed || v.Typed
	x.input().Agreed = &Agreement{Value: v, Current: node.Edition == p.Sheet.Edition, Line: b.d.Src}
	b.st.Axes = append(b.st.Axes, Axis{X: x, Name: i.X, Value: v})
}

// grantedInput resolves an input that a sheet takes for granted and that nobody
// has set.
func (b *builder) grantedInput(p *Placement, name *syntax.Name) (*Def, *syntax.Diag) {
	refuse := func(d syntax.Diag) (*Def, *syntax.Diag) { return nil, &d }
	if len(name.Parts) == 1 {
		return refuse(say(name.Pos(), "%s is a whole sheet", name).With("name its inputs, each with its value"))
	}
	part := name.Parts[1]
	if len(name.Parts) > 2 {
		return refuse(tooManyParts(name.Parts[2]))
	}
	sym := p.Scope.Names[b.firstWord(p.Sheet, part.Text)]
	switch {
	case sym != nil && sym.Tab != nil && sym.Tab.Asked:
		return refuse(say(part.At, "%s is a table, and is settled by giving the sheet one", name).
			With(fmt.Sprintf("write `%s = …` with the name of a table", name)))
	case sym == nil || sym.Def == nil || sym.Def.Role != Asked:
		return refuse(b.unknownInput(p, syntax.Setting{Name: part, Expr: name}))
	case !sym.Def.Default:
		return refuse(notice(part.At, "%s is set to %s, and no longer taken for granted", name, spell(sym.Def.Expr)).
			With("take it out of this line"))
	case !sym.Def.Taken:
		return refuse(say(part.At, "%s asks for %s, and does not take it for granted", p.Sheet.Name, part.Text).
			With(fmt.Sprintf("set it, as in `%s = %s`", name, spell(sym.Def.Expr))))
	case !sym.Def.OK() || sym.Def.Type.Of != nil:
		return refuse(say(part.At, "%s has no one value here", name).With("set it on a line of its own"))
	}
	return sym.Def, nil
}

// agreesToNothing says that an agree line has no values yet, and gives one that
// has.
func agreesToNothing(node *syntax.Agree, p *Placement) syntax.Diag {
	items := Granted(p, node.Items)
	for n := range items {
		if items[n].At == nil {
			items[n].At = written(p, items[n].X)
		}
	}
	items = slices.DeleteFunc(items, func(i syntax.Agreed) bool { return i.At == nil })
	d := say(node.Items[0].X.Pos(), "this agrees to nothing yet: it has no values")
	if len(items) == 0 {
		return d.With("leave it out; nothing is taken for granted here")
	}
	return d.With(fmt.Sprintf("at the desk it is filled in; in a file write `%s`", agreement(items, p.Sheet.Edition)))
}

// written is the default of an input that is written out, nil if it is computed.
func written(p *Placement, name *syntax.Name) syntax.Expr {
	if sym := p.Scope.Names[name.Parts[1].Text]; sym != nil && sym.Def != nil {
		if syntax.Written(sym.Def.Expr) {
			return sym.Def.Expr
		}
	}
	return nil
}

// Granted lists the inputs that a line is about: the placed sheet alone stands for
// all that it takes for granted and nobody has set.
func Granted(p *Placement, items []syntax.Agreed) []syntax.Agreed {
	var all []syntax.Agreed
	for _, i := range items {
		if len(i.X.Parts) > 1 {
			all = append(all, i)
			continue
		}
		for _, d := range p.Asks {
			if d.Taken && d.Default && d.OK() && d.Type.Of == nil {
				name := d.Src.Node.(*syntax.Ask).Name
				all = append(all, syntax.Agreed{X: &syntax.Name{Parts: []syntax.Part{i.X.Parts[0],
					{At: i.X.Pos(), Text: name.Text}}}})
			}
		}
	}
	return all
}

// Agreeing gives the placed sheet that an order is about and the inputs that it
// agrees to, or says why it cannot.
func (c *Checked) Agreeing(node *syntax.Agree) (*Placement, []syntax.Agreed, []*Def, *syntax.Diag) {
	head := node.Items[0].X.Parts[0]
	sym := c.Root.Names[head.Text]
	refuse := func(d syntax.Diag) (*Placement, []syntax.Agreed, []*Def, *syntax.Diag) { return nil, nil, nil, &d }
	switch {
	case sym == nil:
		return refuse(c.b.unknownPlace(c.Root, head))
	case sym.Place == nil:
		return refuse(say(head.At, "%s is no placed sheet, and only a sheet takes something for granted", head.Text).
			With("name a placed sheet, as in `agree north`"))
	case sym.Place.broken || sym.Place.Scope == nil:
		return refuse(say(head.At, "the line of %s is in error", head.Text).With("mend that first"))
	}
	items := Granted(sym.Place, node.Items)
	if len(items) == 0 {
		return refuse(say(head.At, "%s takes nothing for granted that nobody has set", head.Text).
			With("leave it out; there is nothing to agree to"))
	}
	defs := make([]*Def, len(items))
	for n, i := range items {
		d, diag := c.b.grantedInput(sym.Place, i.X)
		if diag != nil {
			diag.Notice = false
			return nil, nil, nil, diag
		}
		defs[n] = d
	}
	return sym.Place, items, defs, nil
}
