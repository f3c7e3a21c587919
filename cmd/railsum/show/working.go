package show

import (
	"strings"

	"railsum/calc/answer"
)

// Working writes how a value arose: each ingredient as written, with its values
// put in and its answer, indented by its level, down to the inputs; then the
// sources of the sheets it went through. An ingredient that only repeats another
// shares a row with it.
func (p *Printer) Working(w *answer.Working) {
	var folds []int // the levels that went into a row with the one above, around this step
	for i := 0; i < len(w.Steps); {
		level := w.Steps[i].Level
		for len(folds) > 0 && folds[len(folds)-1] >= level {
			folds = folds[:len(folds)-1]
		}
		n, in := 1, level-1-len(folds)
		for i+n < len(w.Steps) && repeats(&w.Steps[i+n-1], &w.Steps[i+n]) {
			folds = append(folds, level+n)
			n++
		}
		p.workingStep(w.Steps[i:i+n], in)
		i += n
	}
	p.workingSources(w.Steps)
}

// repeats reports whether a step is nothing but the value of the next.
func repeats(s, next *answer.Step) bool {
	name := s.Formula.String()
	return s.Formula.Bare() && next.Level == s.Level+1 && (next.Name == name || strings.HasSuffix(next.Name, "."+name))
}

// workingStep writes one ingredient so many levels in; before the last stand
// those that only repeat it.
func (p *Printer) workingStep(steps []answer.Step, level int) {
	s := &steps[len(steps)-1]
	in := p.indent + strings.Repeat("  ", min(level, mostLevels))
	names, meaning := "", s.Meaning
	for i := len(steps) - 1; i >= 0; i-- {
		if steps[i].Meaning != "" {
			meaning = steps[i].Meaning
		}
	}
	for i := range steps {
		names += Safe(steps[i].Name) + " = "
	}
	answer := "no answer"
	switch {
	case s.Blank:
		answer = "____"
	case s.Answer != nil:
		answer = p.Value(s.Answer)
	}
	switch filled := p.filled(s); {
	case s.Formula.IsZero():
		p.wrapped(in, names+answer+p.origin(s))
	case s.Formula.Bare(): // told before
		p.wrapped(in, names+Safe(s.Formula.String())+" = "+answer+p.origin(s))
	default:
		p.wrapped(in, names+Safe(s.Formula.String())+p.origin(s))
		for _, x := range s.Decided {
			p.hanging(in+"  ", in+"    ", "as "+p.expr(x.By.Expr)+" "+x.Why)
		}
		if filled != "" && filled != answer {
			p.hanging(in+"  ", in+"    ", "= "+filled)
		}
		p.hanging(in+"  ", in+"    ", "= "+answer)
	}
	p.hanging(in+"  ", in+"  ", Safe(meaning))
}

// workingSources writes the sources of each sheet, unless they are told further
// below with those of all others.
func (p *Printer) workingSources(steps []answer.Step) {
	if p.SourcesLater {
		return
	}
	first := true
	told := map[string]bool{}
	for i := range steps {
		s := &steps[i]
		if len(s.Sources) == 0 || told[s.Sheet] {
			continue
		}
		told[s.Sheet] = true
		if first {
			p.section("sources")
			first = false
		}
		p.wrapped(p.indent+"  ", Safe(s.Sheet))
		for _, text := range s.Sources {
			p.wrapped(p.indent+"    ", Safe(text))
		}
	}
}

// mostLevels is how deep the steps of a working are indented.
const mostLevels = 12

// filled is the formula with its values put in, of a column for its first row.
func (p *Printer) filled(s *answer.Step) string {
	if s.Filled.IsZero() {
		return ""
	}
	text := p.expr(s.Filled.Expr)
	if s.Row != "" {
		text += " (" + Safe(s.Row) + ")"
	}
	return text
}

// origin says where a step comes from: a sheet, and whether it is an input that
// is not the user's own.
func (p *Printer) origin(s *answer.Step) string {
	var marks []string
	switch {
	case s.Default:
		marks = append(marks, "still the "+p.paint(p.warn, "default"))
	case s.Input:
		marks = append(marks, "an input")
	}
	if s.Sheet != "" {
		marks = append(marks, "sheet "+Safe(s.Sheet))
	}
	if len(marks) == 0 {
		return ""
	}
	return " (" + strings.Join(marks, "; ") + ")"
}
