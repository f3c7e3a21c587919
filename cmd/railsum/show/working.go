package show

import (
	"strings"

	"railsum/calc"
	"railsum/units"
)

// Working writes how a value arose: each ingredient as written, with its values
// put in and its answer, indented by its level, down to the inputs.
func (p *Printer) Working(w *calc.Working) {
	for i := range w.Steps {
		p.workingStep(&w.Steps[i])
	}
}

func (p *Printer) workingStep(s *calc.Step) {
	in := p.indent + strings.Repeat("  ", min(s.Level-1, mostLevels))
	first := Safe(s.Name)
	var rows []string
	answer := "no answer"
	if s.Answer != nil {
		answer = p.Value(s.Answer)
	}
	if s.Formula != "" {
		first += " = " + Safe(s.Formula)
		if filled := p.filled(s); filled != "" && filled != answer {
			rows = append(rows, "= "+filled)
		}
		rows = append(rows, "= "+answer)
	} else {
		first += " = " + answer
	}
	p.wrapped(in, first+p.origin(s))
	for _, r := range rows {
		p.hanging(in+"  ", in+"    ", r)
	}
	if s.Meaning != "" {
		p.hanging(in+"  ", in+"  ", Safe(s.Meaning))
	}
	for _, source := range s.Sources {
		p.hanging(in+"  ", in+"    ", "source: "+Safe(source))
	}
}

// mostLevels is how deep the steps of a working are indented.
const mostLevels = 12

// filled is the formula with its values put in, of a column for its first row.
func (p *Printer) filled(s *calc.Step) string {
	text := Safe(p.inSigns(s.Filled))
	if s.Row != "" {
		text += " (" + Safe(s.Row) + ")"
	}
	return text
}

// inSigns spells the units behind the numbers of a formula as this writer can
// take them.
func (p *Printer) inSigns(formula string) string {
	if p.ASCII || strings.Contains(formula, `"`) {
		return formula
	}
	words := strings.Split(formula, " ")
	for i := 1; i < len(words); i++ {
		before := words[i-1]
		if before == "" || before[len(before)-1] < '0' || before[len(before)-1] > '9' {
			continue
		}
		unit := strings.TrimRight(words[i], "),")
		if u, err := units.Parse(unit); err == nil {
			words[i] = u.Shown() + words[i][len(unit):]
		}
	}
	return strings.Join(words, " ")
}

// origin says where a step comes from: a sheet, and whether it is an input that
// is not the user's own.
func (p *Printer) origin(s *calc.Step) string {
	var marks []string
	switch {
	case s.Default:
		marks = append(marks, "a "+p.paint(p.warn, "default")+", not yet yours")
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
