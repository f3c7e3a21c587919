package answer

import "iter"

// Guess is a question with the answer that is kept back.
type Guess struct {
	Question string   `json:"question"`
	Of       Expr     `json:"of" doc:"what is asked for, as written"`
	Sets     []string `json:"sets,omitempty" doc:"what is put in for it, as written: north.load = 3 A"`
	Answer   *Value   `json:"answer"`
}

// Word is guess.
func (*Guess) Word() string { return "guess" }

// Visit is the visitor's Guess.
func (g *Guess) Visit(v Visitor) { v.Guess(g) }

// Facts are the question and its answer.
func (g *Guess) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		if yield(Fact{Name: g.Of.String(), Label: "question", Text: g.Question}) {
			yield(Fact{Name: g.Of.String(), Label: "answer", Value: g.Answer})
		}
	}
}
