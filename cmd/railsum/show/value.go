package show

import (
	"fmt"
	"strings"

	"railsum/calc"
	"railsum/calc/types"
	"railsum/units"
)

// mostInline is how many rows of a column stand in one row of text.
const mostInline = 5

// Value is a value in one row of text, safe to write: "15 V +- 5 %", or for a
// column its first rows. Every single value can be typed back.
func (p *Printer) Value(v *calc.Value) string {
	if v == nil {
		return "no answer"
	}
	if v.Type.Of == nil {
		return p.Cell(v, 0)
	}
	n := Rows(v)
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

// Rows is how many rows a value has; a single value has one.
func Rows(v *calc.Value) int {
	if v.Type.Kind == types.Text {
		return len(v.Texts)
	}
	return len(v.Numbers)
}

// Label is the label of a row of a column, empty for a single value.
func Label(v *calc.Value, row int) string {
	if v.Type.Of == nil || row >= len(v.Type.Of.Labels) {
		return ""
	}
	return v.Type.Of.Labels[row]
}

// Cell is one row of a value, safe to write.
func (p *Printer) Cell(v *calc.Value, row int) string {
	if why := Fault(v, row); why != "" {
		return "no answer: " + Safe(why)
	}
	text := p.bare(v, row)
	if v.Tol != "" {
		text += " +- " + p.spelled(v.Tol)
	}
	return Safe(text)
}

// Fault is why a row has no answer, empty if it has one.
func Fault(v *calc.Value, row int) string {
	switch {
	case row < len(v.Faults) && v.Faults[row] != "":
		return v.Faults[row]
	case row >= Rows(v):
		return "the row is missing"
	}
	return ""
}

func (p *Printer) bare(v *calc.Value, row int) string {
	if v.Literal != "" && v.Type.Of == nil {
		return p.spelled(v.Literal)
	}
	switch v.Type.Kind {
	case types.Text:
		return Quote(v.Texts[row])
	case types.Truth:
		if v.Numbers[row] != 0 {
			return "yes"
		}
		return "no"
	}
	return p.Number(v.Numbers[row], v.Unit)
}

// Number is a number in SI shown in a unit.
func (p *Printer) Number(si float64, u units.Unit) string {
	if u.IsZero() {
		return units.Format(si)
	}
	return units.Format(u.FromSI(si)) + " " + p.Unit(u)
}

// Unit is a unit as this writer can take it.
func (p *Printer) Unit(u units.Unit) string {
	if p.ASCII {
		return u.String()
	}
	return u.Shown()
}

// spelled turns a literal in the spelling of a file, "1.5 mm2", into the one
// for this writer.
func (p *Printer) spelled(literal string) string {
	if p.ASCII {
		return literal
	}
	number, unit, two := strings.Cut(literal, " ")
	if !two {
		return literal
	}
	if u, err := units.Parse(unit); err == nil {
		return number + " " + u.Shown()
	}
	return literal // 2 ft 6 in: its units have one spelling
}

// Quote is a text as it is typed in a line.
func Quote(s string) string {
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}
