package show

import (
	"fmt"
	"strings"

	"railsum/calc/answer"
)

// Find writes what a search has found: a sentence for each place, how near it
// comes if there is none, where it looked, and the line that would take the
// value over.
func (p *Printer) Find(f *answer.Found) {
	p.in(f.With)
	switch {
	case f.Tried > 0:
		p.chosen(f)
	case f.All:
		p.say(fmt.Sprintf("any %s from %s to %s", Safe(f.Name), p.Value(f.Looked[0]), p.Value(f.Looked[1])))
	case len(f.Places) == 0:
		p.nowhere(f)
	}
	if f.Tried == 0 && !f.All {
		for i := range f.Places {
			p.say(p.stretch(f.Name, &f.Places[i]))
		}
		switch {
		case f.More && len(f.Places) == 0:
			p.say("among more places than could be looked at: say from where to where")
		case f.More:
			p.say("and at more places than these")
		}
	}
	for i := range f.Apart {
		p.alone(f, &f.Apart[i])
	}
	for _, pole := range f.Poles {
		p.say("no answer at " + p.equals(f.Name, pole) + ": the two sides pass one another at infinity there")
	}
	p.say(p.looked(f))
	for i := range f.Judged {
		o := &f.Judged[i]
		for _, t := range o.Turns {
			p.say("with " + p.equals(f.Name, o.X) + " " + p.turn(&t))
		}
	}
	if f.Take != "" {
		p.say("to use it: " + Safe(f.Take))
	}
}

// in says what else is supposed meanwhile.
func (p *Printer) in(with []string) {
	if len(with) > 0 {
		p.say("with " + Safe(strings.Join(with, ", ")) + ":")
	}
}

// stretch is one place where the comparison holds.
func (p *Printer) stretch(name string, s *answer.Place) string {
	from, to := p.Value(s.From), p.Value(s.To)
	name = Safe(name)
	if s.FromOut { // it holds right beside that end, and not at it
		from += " (" + answer.LeftOut + ")"
	}
	if s.ToOut {
		to += " (" + answer.LeftOut + ")"
	}
	switch {
	case s.Jump:
		return fmt.Sprintf("the value jumps at %s = %s: %s before it, %s after it", name, from,
			p.against(s.Before[0], s.Before[1]), p.against(s.Behind[0], s.Behind[1]))
	case s.Touches:
		return fmt.Sprintf("%s = %s, where the two sides touch and do not cross", name, from)
	case s.Single():
		return name + " = " + from
	case s.ToStart && s.ToEnd:
		return fmt.Sprintf("any %s from %s to %s", name, from, to)
	case s.ToStart:
		return fmt.Sprintf("%s up to %s (from %s)", name, to, from)
	case s.ToEnd:
		return fmt.Sprintf("%s from %s up (to %s)", name, from, to)
	}
	return fmt.Sprintf("%s from %s to %s", name, from, to)
}

// nowhere says that nothing makes it so, and where it comes nearest.
func (p *Printer) nowhere(f *answer.Found) {
	text := p.paint(p.none, "no "+Safe(f.Name)) + " makes it so"
	if len(f.Apart) > 0 {
		p.say(p.paint(p.none, "no "+Safe(f.Name)) + " makes all of it so at once; each by itself:")
		return
	}
	if f.Near == nil {
		p.say(text + "; the comparison has no answer anywhere there")
		return
	}
	p.say(text)
	p.say("nearest at " + p.equals(f.Name, f.Near.X) + ": " + p.against(f.Near.Left, f.Near.Right))
}

// alone says where one comparison of several holds by itself.
func (p *Printer) alone(f *answer.Found, a *answer.Apart) {
	text := Safe(a.Cond.String()) + ": "
	switch {
	case !a.Holds && a.Near != nil:
		text += p.paint(p.none, "never") + ", nearest at " + p.equals(f.Name, a.Near.X) + ": " +
			p.against(a.Near.Left, a.Near.Right)
	case !a.Holds:
		text += p.paint(p.none, "never") + ", it has no answer anywhere there"
	case f.Tried > 0:
		text += fmt.Sprintf("%d of %s", a.Fit, count(f.Tried, "value", "values"))
	case a.All:
		text += "always"
	default:
		const most = 4
		for i := range a.Places[:min(len(a.Places), most)] {
			if i > 0 {
				text += "; "
			}
			text += p.stretch(f.Name, &a.Places[i])
		}
		if a.More || len(a.Places) > most {
			text += " and at more places than these"
		}
	}
	p.say(text)
}

// chosen is the answer of a search among listed values.
func (p *Printer) chosen(f *answer.Found) {
	if f.Chosen == nil {
		text := p.paint(p.none, "none") + " of the " + count(f.Tried, "value", "values") + " of " + Safe(f.Name)
		if len(f.Apart) > 0 {
			p.say(text + " makes all of it so at once; each by itself:")
			return
		}
		p.say(text + " makes it so")
		if f.Near != nil {
			p.say("nearest at " + p.equals(f.Name, f.Near.X) + ": " + p.against(f.Near.Left, f.Near.Right))
		}
		return
	}
	text := p.equals(f.Name, f.Chosen)
	if f.Label != "" {
		text += " (" + Safe(f.Label) + ")"
	}
	if f.Fit == 1 {
		p.say(fmt.Sprintf("%s, the only one of %s that makes it so", text, count(f.Tried, "value", "values")))
		return
	}
	p.say(fmt.Sprintf("%s, the first of %d that make it so, of %s looked through %s", text, f.Fit,
		count(f.Tried, "value", "values"), f.Order))
}

// looked says what the input is now, and where was looked unless that has been
// said.
func (p *Printer) looked(f *answer.Found) string {
	text := "at present " + p.Value(f.Current)
	switch {
	case f.Tried > 0 || f.All:
		return text
	case f.Grown:
		return text + "; searched all around that, from " + p.Value(f.Looked[0]) + " to " + p.Value(f.Looked[1])
	}
	return text + "; searched from " + p.Value(f.Looked[0]) + " to " + p.Value(f.Looked[1])
}
