package answer

import "iter"

// Agreement is what an agree line says of a placed sheet.
type Agreement struct {
	Name    string        `json:"name" doc:"of the placed sheet"`
	Sheet   string        `json:"sheet"`
	Edition int           `json:"edition,omitempty" doc:"that was agreed to"`
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
