package answer

import "iter"

// Needed is something to buy: its fields are keys of any type, count and length.
type Needed struct {
	What   string     `json:"part"`
	Fields []CardLine `json:"fields"`
	Of     []string   `json:"of,omitempty" doc:"placed sheets whose part of this word is in that of another, and not to be bought twice"`
	From   string     `json:"from,omitempty" doc:"the placed sheet that has it"`
}

// Word is part.
func (*Needed) Word() string { return "part" }

// Visit is the visitor's Part.
func (p *Needed) Visit(v Visitor) { v.Part(p) }

// Facts are the fields.
func (p *Needed) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		for i := range p.Fields {
			if !yield(Fact{Name: p.What, Label: p.Fields[i].Name, Value: p.Fields[i].Value}) {
				return
			}
		}
	}
}
