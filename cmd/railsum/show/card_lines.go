package show

import (
	"railsum/calc/answer"
)

// cardLines writes inputs or answers. Columns of one table that follow one
// another stand side by side on a card that is no whole one; in a notebook read
// out, a column that the notebook has under a name stands there already.
func (p *Printer) cardLines(lines []*answer.CardLine, f CardForm, marks func(*answer.CardLine) string, failing map[string]bool) {
	for i := 0; i < len(lines); {
		if l := lines[i]; f.Bare && l.From.Bare() && (len(l.Columns) > 0 || l.Value != nil && l.Value.Type.Of != nil) {
			p.meant(l.Meaning, Safe(l.Name)+marks(l))
			i++
			continue
		}
		n := 1
		if f.Trimmed || f.Short {
			n = p.abreast(lines[i:])
		}
		if n == 1 {
			p.cardLine(lines[i], marks(lines[i]), failing)
			i++
			continue
		}
		var columns []answer.CardLine
		for _, l := range lines[i : i+n] {
			p.meant(l.Meaning, Safe(l.Name)+marks(l))
			columns = append(columns, *l)
		}
		p.columns(columns, p.indent+standIn, failing)
		i += n
	}
}

// abreast counts the lines at the beginning that are columns of one table and
// have room side by side; one if there are no two.
func (p *Printer) abreast(lines []*answer.CardLine) int {
	if p.spoken() || lines[0].Value == nil || lines[0].Value.Type.Of == nil {
		return 1
	}
	of := lines[0].Value.Type.Of
	total := len(p.indent + standIn)
	for _, label := range of.Labels {
		total = max(total, len(p.indent+standIn)+width(Safe(label)))
	}
	for n, l := range lines {
		if l.Value == nil || l.Value.Type.Of == nil || l.Value.Type.Of.Name != of.Name || len(l.Columns) > 0 {
			return n
		}
		wide := width(Safe(l.Name))
		for i := range l.Value.Rows() {
			wide = max(wide, width(p.Cell(l.Value, i)))
		}
		if total += len(gap) + wide; total > p.Width {
			return max(1, n)
		}
	}
	return len(lines)
}

// cardLine writes one input or answer: its meaning, then name = value. Of a
// long column the rows that fail a rule are among those shown.
func (p *Printer) cardLine(l *answer.CardLine, marks string, failing map[string]bool) {
	name := Safe(l.Name)
	switch {
	case len(l.Columns) > 0:
		p.meant(l.Meaning, name+marks)
		p.columns(l.Columns, p.indent+standIn, failing)
	case l.Value == nil:
		why := Safe(l.Why)
		if why != "" {
			why = ": " + why
		}
		p.meant(l.Meaning, name+" has "+p.paint(p.none, "no answer")+why+marks)
	case l.Value.Type.Of != nil:
		p.meant(l.Meaning, name+marks)
		p.column(l.Value, p.indent+standIn, failing)
	default:
		p.meant(l.Meaning, name+" = "+p.Cell(l.Value, 0)+marks)
	}
}

// meant writes a row of a card, the meaning first; where the two do not fit
// into one row, the rest goes below.
func (p *Printer) meant(meaning, rest string) {
	meaning = Safe(meaning)
	in := p.indent + "  "
	switch {
	case meaning == "":
		p.wrapped(in, rest)
	case width(in)+width(meaning)+2+width(rest) <= p.Width:
		p.row(in + meaning + ": " + rest)
	default:
		p.wrapped(in, meaning+":")
		p.wrapped(in+"  ", rest)
	}
}
