package answer

import "iter"

// Slip is what a usual mistake makes of an answer.
type Slip struct {
	Name  string `json:"name" doc:"the answer it is about"`
	Why   string `json:"why" doc:"what the mistake is"`
	Wrong *Value `json:"value"`
}

// Word is slip.
func (*Slip) Word() string { return "slip" }

// Visit is the visitor's Slip.
func (s *Slip) Visit(v Visitor) { v.Slip(s) }

// Facts are what it comes to and why.
func (s *Slip) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) { yield(Fact{Name: s.Name, Value: s.Wrong, Remark: s.Why}) }
}
