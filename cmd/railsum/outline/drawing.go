package outline

import (
	"math"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/types"
	"railsum/cmd/railsum/picture"
	"railsum/units"
)

// Drawing is a picture to be drawn, nil if there is none; unit spells a unit.
func Drawing(p *answer.Picture, unit func(units.Unit) string) picture.Drawing {
	if p.None != "" {
		return nil
	}
	title := p.Caption
	if len(p.Worst) > 0 {
		title = strings.TrimLeft(title+", for "+strings.Join(p.Worst, ", "), ", ")
	}
	d := drawing{p, unit}
	switch p.Kind {
	case "strip":
		if s := d.strip(title); !s.Empty() {
			return s
		}
	case "circuit":
		if c := d.circuit(title); !c.Empty() && c.Crowded() == "" {
			return c
		}
	case "plan":
		if l := d.plan(title); !l.Empty() {
			return l
		}
	case "limits":
		if l := d.limits(title); !l.Empty() {
			return l
		}
	}
	return nil
}

// NoDrawing says why there is no picture, empty if there is one.
func NoDrawing(p *answer.Picture) string {
	switch {
	case p.None != "":
		return "no picture: " + p.None
	case Drawing(p, units.Unit.Shown) != nil:
		return ""
	case p.Kind == "circuit":
		return "no picture: more parts on one side than can be drawn"
	}
	return "no picture: there is nothing to draw, all of it is one point or runs backward"
}

// drawing is a picture on its way to what is drawn.
type drawing struct {
	*answer.Picture
	unit func(units.Unit) string
}

// axis writes numbers in one unit.
func (d drawing) axis(u units.Unit) picture.Axis {
	name := ""
	if u.Follows() {
		name = d.unit(u)
	}
	return picture.Axis{Unit: name, Figure: func(si float64) string { return u.Format(si) }}
}

// number is the cell of a row in SI: nothing where the column is missing, no
// number where there is no answer.
func (d drawing) number(row int, column string) float64 {
	v := d.Cell(row, column, 0)
	switch {
	case v == nil:
		return 0
	case !v.Sound() || len(v.Numbers) == 0:
		return math.NaN()
	}
	return v.Numbers[0]
}

// word is the text in the cell of a row.
func (d drawing) word(row int, column string) string {
	if v := d.Cell(row, column, 0); v != nil && v.Type.Kind == types.Text && v.Sound() {
		return v.Texts[0]
	}
	return ""
}

func (d drawing) strip(title string) picture.Strip {
	s := picture.Strip{Title: title, Axis: d.axis(d.Along)}
	for i, row := range d.Rows {
		s.Rows = append(s.Rows, picture.Span{Label: row.Label, From: d.number(i, "from"), To: d.number(i, "to"),
			Look: picture.Look(d.word(i, "look"))})
	}
	return s
}

func (d drawing) plan(title string) picture.Plan {
	p := picture.Plan{Title: title, Axis: d.axis(d.Along)}
	for i, row := range d.Rows {
		p.Lines = append(p.Lines, picture.Line{Label: row.Label, X: d.number(i, "x"), Y: d.number(i, "y"),
			ToX: d.number(i, "to_x"), ToY: d.number(i, "to_y"), Bow: d.number(i, "bow"), Look: picture.Look(d.word(i, "look"))})
	}
	return p
}

func (d drawing) circuit(title string) picture.Circuit {
	c := picture.Circuit{Title: title}
	for i, row := range d.Rows {
		part := picture.Part{Label: row.Label, Symbol: picture.Symbol(d.word(i, "symbol")),
			Place: picture.Place(d.word(i, "place"))}
		for nth := range 2 {
			v := d.Cell(i, "value", nth)
			switch {
			case v == nil:
			case v.Quantity() && v.Unit.IsZero() && part.Symbol != picture.Words:
				if v.Numbers[0] != 1 {
					part.Label = v.Number(0) + " \u00d7 " + part.Label
				}
			default:
				if text := d.spelled(v); text != "" {
					part.Values = append(part.Values, text)
				}
			}
		}
		c.Parts = append(c.Parts, part)
	}
	return c
}

func (d drawing) limits(title string) picture.Limits {
	l := picture.Limits{Title: title}
	for _, b := range d.Limits {
		limit := b.High
		if limit == nil {
			limit = b.Low
		}
		l.Rows = append(l.Rows, picture.Limit{Label: b.Label, Value: b.Value.Numbers[0], Low: bound(b.Low),
			High: bound(b.High),
			Axis: d.axis(limit.Unit), Holds: b.Verdict <= answer.Clear})
	}
	return l
}

func bound(v *answer.Value) float64 {
	if v == nil {
		return math.NaN()
	}
	return v.Numbers[0]
}

// spelled is a value as it stands in a drawing.
func (d drawing) spelled(v *answer.Value) string {
	switch {
	case !v.Quantity() || v.Unit.IsZero():
		return v.Cell(0)
	}
	return v.Number(0) + " " + d.unit(v.Unit)
}
