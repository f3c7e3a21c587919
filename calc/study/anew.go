package study

import (
	"fmt"
	"slices"

	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Where a study puts in other values, a part is chosen anew for each of them, as
// if it were bought for it. The study says so, with the input that holds the part
// in hand.

// anew says which parts, of those that the Defs depend on, are chosen anew while the
// inputs of a study move. One that is itself what is asked for says so only where it
// can be held.
func (l *Lab) anew(s *check.Study, asked []*check.Def, kept *studied) {
	var told []*check.Def
	for _, p := range asked {
		needed := l.upstream(p)
		for i, is := range needed {
			d := l.C.Order[i]
			part, hold := l.part(d)
			if !is || part == nil || slices.Contains(told, d) ||
				!slices.ContainsFunc(s.Axes, func(a check.Axis) bool { return check.DependsOn(part, a.X) }) {
				continue
			}
			cure := ""
			if hold != nil {
				cure = fmt.Sprintf("to hold it, set `%s`", hold.Name)
			} else if l.shown(p) == d || d.Name == "" || d.At != nil {
				continue
			}
			told = append(told, d)
			kept.diags = append(kept.diags, syntax.Diag{At: s.Axes[0].Name.Pos(), Notice: true,
				Wrong: words.Say("%s is chosen anew for each value", d.Name).With(cure)})
		}
	}
}

// part is the Def that chooses a part for d, itself or behind an input that is none,
// and that input.
func (l *Lab) part(d *check.Def) (part, hold *check.Def) {
	n := d.Node
	switch {
	case n == nil:
	case n.Op == check.Call && n.Fn.Chooses():
		return d, nil
	case n.Op == check.Either:
		for _, k := range n.Kids {
			switch {
			case k.Op == check.Ref && l.isNone(k) && k.Def.Role == check.Asked:
				hold = k.Def
			case l.isNone(k):
			case k.Op == check.Ref:
				if part, _ = l.part(k.Def); part != nil && hold != nil {
					return part, hold
				}
				return nil, nil
			default:
				return nil, nil
			}
		}
	}
	return nil, nil
}

// shown is what is read by a part of a study that is nothing but a name.
func (l *Lab) shown(p *check.Def) *check.Def {
	if p.Node != nil && p.Node.Op == check.Ref {
		return p.Node.Def
	}
	return p
}
