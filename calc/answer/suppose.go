package answer

import (
	"iter"

	"railsum/units"
)

// Supposed is the answer of a suppose line.
type Supposed struct {
	Sets  []string `json:"sets" doc:"as written: north.load = 3 A"`
	Lines []Beside `json:"lines"`
	More  int      `json:"more,omitempty" doc:"answers that would be another and are not listed"`
	Turns []Turn   `json:"turns"`
}

// Beside is a value now and supposed.
type Beside struct {
	Name    string   `json:"name"`
	Now     *Value   `json:"now,omitempty"`
	Then    *Value   `json:"supposed,omitempty"`
	Change  *Value   `json:"change,omitempty" doc:"the difference; of a number alone"`
	Percent *float64 `json:"percent,omitempty" doc:"the difference, of what is now"`
}

// SignedPercent spells a change in per cent.
func SignedPercent(x float64) string {
	sign := ""
	if x > 0 {
		sign = "+"
	}
	return sign + units.Format(x) + " %"
}

// Word is suppose.
func (*Supposed) Word() string { return "suppose" }

// Visit is the visitor's Suppose.
func (s *Supposed) Visit(v Visitor) { v.Suppose(s) }

// Facts are each value now and supposed, and the verdicts that turn.
func (s *Supposed) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		for i := range s.Lines {
			l := &s.Lines[i]
			if !yield(Fact{Name: l.Name, Label: "now", Value: l.Now}) ||
				!yield(Fact{Name: l.Name, Label: "supposed", Value: l.Then}) ||
				l.Change != nil && !yield(Fact{Name: l.Name, Label: "change", Value: l.Change, Remark: percentText(l.Percent)}) {
				return
			}
		}
		for i := range s.Turns {
			if !yield(turned(&s.Turns[i], s.Turns[i].Was.String())) {
				return
			}
		}
	}
}
