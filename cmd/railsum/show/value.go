package show

import (
	"fmt"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// mostInline is how many rows of a column stand in one row of text.
const mostInline = 5

// Value is a value in one row of text, safe to write: "15 V +- 5 %", or for a
// column its first rows. Every single value can be typed back.
func (p *Printer) Value(v *answer.Value) string {
	if v == nil {
		return "no answer"
	}
	if v.Type.Of == nil {
		return p.Cell(v, 0)
	}
	n := v.Rows()
	if n == 0 {
		return "no rows"
	}
	var parts []string
	for i := range min(n, mostInline) {
		parts = append(parts, p.Cell(v, i))
	}
	if n > mostInline {
		parts = append(parts, fmt.Sprintf("and %d more", n-mostInline))
	}
	return strings.Join(parts, ", ")
}

// Cell is one row of a value, safe to write.
func (p *Printer) Cell(v *answer.Value, row int) string {
	if why := v.Fault(row); why != "" {
		return answer.Unanswered(Safe(why))
	}
	text := p.bare(v, row)
	if !v.Tol.IsZero() {
		text += " +- " + p.typed(v.Tol)
	}
	return Safe(text)
}

func (p *Printer) bare(v *answer.Value, row int) string {
	if !v.Literal.IsZero() && !v.Column() {
		return p.typed(v.Literal)
	}
	switch v.Type.Kind {
	case types.Text:
		return answer.Quote(v.Texts[row])
	case types.Truth:
		if v.Numbers[row] != 0 {
			return "yes"
		}
		return "no"
	case types.Date:
		return units.FormatDate(v.Numbers[row])
	}
	return p.Number(v.Numbers[row], v.Unit)
}

// Number is a number in SI shown in a unit.
func (p *Printer) Number(si float64, u units.Unit) string {
	if !u.Follows() {
		return u.Format(si)
	}
	return u.Format(si) + " " + p.Unit(u)
}

// Unit is a unit as this writer can take it.
func (p *Printer) Unit(u units.Unit) string {
	if p.ASCII {
		return u.String()
	}
	return u.Shown()
}

// typed is a number as it was typed, its unit in the spelling for this writer.
func (p *Printer) typed(t answer.Typed) string {
	if t.Unit.IsZero() {
		return t.Number
	}
	return t.Number + " " + p.Unit(t.Unit)
}

// expr is an expression with its units in the spelling for this writer, safe.
func (p *Printer) expr(e syntax.Expr) string { return Safe(syntax.PrintExprIn(e, p.Unit)) }

// percent is a change in per cent behind the change itself, if there is one.
func percent(p *float64) string {
	if p == nil {
		return ""
	}
	return ", " + answer.SignedPercent(*p)
}
