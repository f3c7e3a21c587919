package answer

import "iter"

// Measured is the answer of a measured line: the meter beside the sum.
type Measured struct {
	Name       string    `json:"name"`
	Sum        *Value    `json:"sum"`
	Meter      *Value    `json:"meter"`
	Difference *Value    `json:"difference"`
	Percent    *float64  `json:"percent,omitempty" doc:"the difference, of the sum"`
	Inside     bool      `json:"inside" doc:"the tolerances explain it"`
	Low        *Value    `json:"low" doc:"of the sum in the worst case"`
	High       *Value    `json:"high"`
	On         *Value    `json:"on,omitempty" doc:"the date of the measurement"`
	Exact      bool      `json:"exact,omitempty" doc:"the sum has no tolerance"`
	Suspects   []Suspect `json:"explains" doc:"inputs any one of which alone would explain it, the least certain first"`
}

// Suspect is an input that, changed alone, would explain what the meter says.
type Suspect struct {
	Name     string `json:"name"`
	Now      *Value `json:"now"`
	Wanted   *Value `json:"wanted"`
	Tolerant bool   `json:"tolerant,omitempty" doc:"within its own tolerance"`
	State    State  `json:"state" doc:"whose value it is now"`
}

// Word is measured.
func (*Measured) Word() string { return "measured" }

// Visit is the visitor's Measured.
func (m *Measured) Visit(v Visitor) { v.Measured(m) }

// Facts are the meter, the sum, the difference and the suspects.
func (m *Measured) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		side := "outside"
		if m.Inside {
			side = "inside"
		}
		on := ""
		if m.On != nil {
			on = "on " + m.On.Cell(0)
		}
		all := []Fact{{Name: m.Name, Label: "sum", Value: m.Sum}, {Name: m.Name, Label: "meter", Value: m.Meter, Remark: on},
			{Name: m.Name, Label: "difference", Value: m.Difference, Remark: percentText(m.Percent)},
			{Name: m.Name, Label: side}}
		for _, s := range m.Suspects {
			f := Fact{Name: s.Name, Label: "explains", Value: s.Wanted}
			switch {
			case s.Tolerant:
				f.Remark = "within its tolerance"
			case !s.State.Settled():
				f.Remark = s.State.String()
			}
			all = append(all, f)
		}
		for _, f := range all {
			if !yield(f) {
				return
			}
		}
	}
}
