package answer

import (
	"fmt"
	"iter"
	"strings"
)

// Agreement is what an agree line says of a placed sheet.
type Agreement struct {
	Name    string        `json:"name" doc:"of the placed sheet"`
	Sheet   string        `json:"sheet"`
	Edition int           `json:"edition,omitempty" doc:"that was agreed to"`
	Now     int           `json:"edition_now,omitempty" doc:"of the sheet, where it is another"`
	Inputs  []AgreedInput `json:"inputs"`
}

// AgreedInput is an input with the value it is agreed to have and the one it has.
type AgreedInput struct {
	Name   string `json:"name" doc:"without the sheet's name"`
	Agreed *Value `json:"agreed"`
	Now    *Value `json:"now,omitempty"`
	Stands bool   `json:"stands" doc:"value and edition are still those that were agreed to"`
}

// Stand is how many inputs are settled by the line.
func (a *Agreement) Stand() int {
	n := 0
	for i := range a.Inputs {
		if a.Inputs[i].Stands {
			n++
		}
	}
	return n
}

// Lapsed reports whether something was agreed to that no longer is so.
func (a *Agreement) Lapsed() bool { return a.Stand() < len(a.Inputs) }

// Sentence says what has lapsed: "the agreement on north has lapsed: joints is 4,
// was 3". Edition is that of its sheet now where it is another one.
func (a *Agreement) Sentence() string {
	var parts []string
	if a.Now > 0 {
		parts = append(parts, fmt.Sprintf("%s is of edition %d, was %d", a.Sheet, a.Now, a.Edition))
	}
	for i := range a.Inputs {
		if in := &a.Inputs[i]; in.Now != nil && in.Agreed != nil && in.Now.String() != in.Agreed.String() {
			parts = append(parts, fmt.Sprintf("%s is %s, was %s", in.Name, in.Now, in.Agreed))
		}
	}
	s := "the agreement on " + a.Name + " has lapsed"
	if len(parts) > 0 {
		s += ": " + strings.Join(parts, "; ")
	}
	return s
}

// Word is agree.
func (*Agreement) Word() string { return "agree" }

// Visit is the visitor's Agree.
func (a *Agreement) Visit(v Visitor) { v.Agree(a) }

// Facts are the inputs with the values agreed to.
func (a *Agreement) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		for i := range a.Inputs {
			in := &a.Inputs[i]
			f := Fact{Name: a.Name + "." + in.Name, Label: Agreed.String(), Value: in.Agreed}
			if !in.Stands {
				f.Remark = Unsettled
			}
			if !yield(f) {
				return
			}
		}
	}
}

// Unsettled is said of what was agreed to and is so no longer.
const Unsettled = "unsettled"
