package answer

import "iter"

// Working shows how a value arose, ingredient by ingredient, each once.
type Working struct {
	Steps []Step `json:"steps"`
}

// Step is one value of a working.
type Step struct {
	Level   int        `json:"level" doc:"1 for the value itself"`
	Name    string     `json:"name"`
	Formula Expr       `json:"formula,omitzero" doc:"as written; an input has none"`
	Filled  Expr       `json:"filled,omitzero" doc:"with the values put in, and with what decided in the place of if, max and min"`
	Left    Expr       `json:"-"` // the formula with what decided in the place of if, max and min
	Decided []Decision `json:"decided,omitempty" doc:"what decided in it"`
	Row     string     `json:"row,omitempty" doc:"of a column: the row that was filled in"`
	Answer  *Value     `json:"value,omitempty"`
	Meaning string     `json:"meaning,omitempty"`
	Sheet   string     `json:"sheet,omitempty" doc:"that it lies in"`
	Sources []string   `json:"sources,omitempty" doc:"of that sheet, told with the first of it"`
	Blank   bool       `json:"blank,omitempty" doc:"its answer is kept back, for somebody to work out"`
	Input   bool       `json:"input,omitempty"`
	Default bool       `json:"default,omitempty" doc:"still the sheet's own default"`
}

// Decision is what decided in a formula: a condition that holds or does not, or a term
// that is the larger or the smaller.
type Decision struct {
	By  Expr   `json:"by"`
	Why string `json:"why" doc:"holds, does not hold, is the larger, is the smallest and so on"`
}

// Holding says whether a condition holds.
func Holding(is bool) string {
	if is {
		return "holds"
	}
	return "does not hold"
}

// Extreme says that a term is the largest or smallest of so many.
func Extreme(largest bool, of int) string {
	end := "er"
	if of > 2 {
		end = "est"
	}
	if largest {
		return "is the larg" + end
	}
	return "is the small" + end
}

// Word is working.
func (*Working) Word() string { return "working" }

// Visit is the visitor's Working.
func (w *Working) Visit(v Visitor) { v.Working(w) }

// Facts are the steps with their formulas.
func (w *Working) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		for i := range w.Steps {
			s := &w.Steps[i]
			label := ""
			switch {
			case s.Default:
				label = "default"
			case s.Input:
				label = "input"
			}
			if !yield(Fact{Name: s.Name, Label: label, Value: s.Answer, Remark: s.Formula.String()}) {
				return
			}
		}
	}
}
