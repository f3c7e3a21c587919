package answer

import (
	"iter"

	"railsum/units"
)

// Picture is what a drawing shows, as rows with values.
type Picture struct {
	Kind     string       `json:"kind" doc:"strip, circuit, plan or limits"`
	Name     string       `json:"name,omitempty" doc:"of the placed sheet that is drawn"`
	Sheet    string       `json:"sheet,omitempty"`
	Caption  string       `json:"caption,omitempty"`
	Sentence string       `json:"sentence,omitempty" doc:"what is drawn, in words"`
	Worst    []string     `json:"worst,omitempty" doc:"of a sheet placed over rows: the row that is drawn"`
	Columns  []string     `json:"columns,omitempty" doc:"of the cells of each row"`
	Rows     []PictureRow `json:"rows,omitempty"`
	Limits   []Bounded    `json:"limits,omitempty"`
	None     string       `json:"none,omitempty" doc:"why there is no picture"`
	Along    units.Unit   `json:"-"` // of a strip or plan: the unit of all its values
}

// PictureRow is one thing that is drawn.
type PictureRow struct {
	Label string   `json:"label"`
	Cells []*Value `json:"cells"`
}

// Cell is the value of a row in the nth column of a name, nil if it has none.
func (p *Picture) Cell(row int, column string, nth int) *Value {
	for i, c := range p.Columns {
		if c != column {
			continue
		}
		if nth--; nth < 0 && i < len(p.Rows[row].Cells) {
			return p.Rows[row].Cells[i]
		}
	}
	return nil
}

// Bounded is a rule that compares a quantity with its limits.
type Bounded struct {
	Label   string  `json:"label"`
	Verdict Verdict `json:"verdict"`
	Value   *Value  `json:"value"`
	Low     *Value  `json:"low,omitempty"`
	High    *Value  `json:"high,omitempty"`
}

// Word is picture.
func (*Picture) Word() string { return "picture" }

// Visit is the visitor's Picture.
func (p *Picture) Visit(v Visitor) { v.Picture(p) }

// Facts are the cells of each row, or each rule with its limits.
func (p *Picture) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		if p.None != "" {
			yield(Fact{Name: p.Name, Label: p.Kind, Remark: p.None})
			return
		}
		for _, row := range p.Rows {
			for i, v := range row.Cells {
				if !yield(Fact{Name: row.Label, Label: p.Columns[i], Value: v}) {
					return
				}
			}
		}
		for i := range p.Limits {
			l := &p.Limits[i]
			for _, f := range []Fact{{Label: "value", Value: l.Value}, {Label: "low", Value: l.Low},
				{Label: "high", Value: l.High}} {
				if f.Name = l.Label; f.Value != nil && !yield(f) {
					return
				}
			}
		}
	}
}
