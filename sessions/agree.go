package sessions

import (
	"fmt"
	"slices"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// filled is an agree line as it is kept: an order without values gets those that
// its inputs have now, and the edition of their sheet.
func (s *Session) filled(l *syntax.Line, a *syntax.Agree) (*syntax.Line, error) {
	if a.Whole() {
		return l, nil
	}
	full, diag := s.book.Agree(a)
	if diag != nil {
		return nil, &Refusal{Line: l, Diags: []syntax.Diag{*diag}}
	}
	return agreeLine(full, l.Note), nil
}

func agreeLine(a *syntax.Agree, note string) *syntax.Line {
	l := &syntax.Line{Node: a, Note: note}
	l.Raw = syntax.Print(l)
	return l
}

// agree takes an agree line in. A placed sheet has one: a second adds to it, and an
// order for all that the sheet takes for granted takes its place.
func (s *Session) agree(l *syntax.Line, order *syntax.Agree) (Edit, error) {
	full, err := s.filled(l, order)
	if err != nil {
		return Edit{}, err
	}
	now := full.Node.(*syntax.Agree)
	i := slices.IndexFunc(s.text.Lines, func(o *syntax.Line) bool {
		old, is := o.Node.(*syntax.Agree)
		return is && old.Place() == now.Place()
	})
	if i < 0 {
		done, err := s.do("enter", s.atEnd(full.Raw))
		done.Filled = err == nil && full != l
		return done, err
	}
	old := s.text.Lines[i].Node.(*syntax.Agree)
	all := slices.ContainsFunc(order.Items, func(i syntax.Agreed) bool { return len(i.X.Parts) == 1 })
	note := s.text.Lines[i].Note
	if l.Note != "" {
		note = l.Note
	}
	if !all {
		merged := &syntax.Agree{Items: slices.Clone(old.Items), Edition: now.Edition}
		kept := len(merged.Items)
		for _, in := range now.Items {
			at := slices.IndexFunc(merged.Items, func(o syntax.Agreed) bool { return o.X.String() == in.X.String() })
			if at < 0 {
				merged.Items = append(merged.Items, in)
				continue
			}
			merged.Items[at] = in
			kept--
		}
		if kept > 0 && old.Edition != now.Edition {
			return Edit{}, &Refusal{Line: l, Diags: []syntax.Diag{{At: order.Items[0].X.Pos(),
				Wrong: words.Say("line %d agrees to more than this, for edition %d", s.RowOf(i), old.Edition).
					With(fmt.Sprintf("`agree %s` agrees to all of it anew", now.Place()))}}}
		}
		now = merged
	}
	done, err := s.do("enter", s.inPlaceOf(i, agreeLine(now, note).Raw))
	done.Replaced = err == nil
	return done, err
}
