package answer

import "iter"

// Case is a set of other values for some inputs, kept under a name.
type Case struct {
	Name string    `json:"name"`
	Sets []CaseSet `json:"sets"`
}

// CaseSet is an input now and in the case.
type CaseSet struct {
	Name string `json:"name" doc:"of the input"`
	Now  *Value `json:"now,omitempty"`
	Then *Value `json:"supposed,omitempty"`
}

// Word is case.
func (*Case) Word() string { return "case" }

// Visit is the visitor's Case.
func (c *Case) Visit(v Visitor) { v.Case(c) }

// Facts are each input now and in the case.
func (c *Case) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		for i := range c.Sets {
			s := &c.Sets[i]
			if !yield(Fact{Name: s.Name, Label: "now", Value: s.Now}) ||
				!yield(Fact{Name: s.Name, Label: "supposed", Value: s.Then}) {
				return
			}
		}
	}
}
