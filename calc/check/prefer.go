package check

import (
	"fmt"

	"railsum/calc/syntax"
	"railsum/units"
)

// prefer takes the units of a line among those that answers take. Of two units of
// one dimension the first is for what is below a size, and sizes rise.
func (b *builder) prefer(o Origin, node *syntax.Prefer) {
	refused := map[units.Dim]bool{} // one cause, one error
	for _, u := range node.Units {
		if refused[u.Unit.Dim()] {
			continue
		}
		now := units.Preferred{Unit: u.Unit}
		if u.Below != nil {
			now.Below = u.Below.Value
		}
		if diag := b.unfitting(u, now); diag != nil {
			b.line(o.Line, *diag)
			refused[u.Unit.Dim()] = true
			continue
		}
		b.Prefer = append(b.Prefer, now)
	}
}

// unfitting says why a unit cannot be preferred beside those before it.
func (b *builder) unfitting(u syntax.Preferred, now units.Preferred) *syntax.Diag {
	refuse := func(d syntax.Diag) *syntax.Diag { return &d }
	if u.Below != nil && u.Below.Unit.Dim() != u.Unit.Dim() {
		return refuse(say(u.Below.At, "%s is no size of what is shown in %s", u.Below.Text, u.Unit).
			With(fmt.Sprintf("as in `prefer %s below 1 %s`", u.Unit, u.Unit)))
	}
	for i := len(b.Prefer) - 1; i >= 0; i-- {
		old := b.Prefer[i]
		if old.Dim() != u.Unit.Dim() || old.Point() != u.Unit.Point() {
			continue
		}
		switch {
		case old.Unit == u.Unit:
			return refuse(say(u.At, "%s is preferred already", u.Unit).With("take one of them out"))
		case u.Unit.Point():
			return refuse(say(u.At, "temperatures are shown in %s already", old.Unit).With("take one of them out"))
		case old.Below == 0:
			small, large := old.Unit, u.Unit
			if small.Scale() > large.Scale() {
				small, large = large, small
			}
			return refuse(say(u.At, "%s and %s are both for %s, and nothing says which is for what", old.Unit, u.Unit,
				unitType(u.Unit).Words()).
				With(fmt.Sprintf("say up to where the one goes, as in `prefer %s below 1 %s, %s`", small, large, large)))
		case now.Below > 0 && now.Below <= old.Below:
			return refuse(say(u.Below.At, "%s has what is below that size already, so %s would be for nothing", old.Unit,
				u.Unit).
				With("write the smaller size first"))
		}
		return nil
	}
	return nil
}
