package answer

import (
	"iter"
	"strconv"
)

// Spreads are the answers of a spread line, one for each value.
type Spreads []*Spread

// Spread is how sure an answer is.
type Spread struct {
	Name         string      `json:"name"`
	Why          string      `json:"why,omitempty" doc:"why there is no answer"`
	Nominal      *Value      `json:"nominal,omitempty"`
	Lowest       *Value      `json:"lowest,omitempty" doc:"in the worst case, searched"`
	Highest      *Value      `json:"highest,omitempty"`
	RSS          *Value      `json:"root_sum_square,omitempty" doc:"either way"`
	Low95        *Value      `json:"low95,omitempty" doc:"95 % of the samples lie from here"`
	High95       *Value      `json:"high95,omitempty" doc:"to here"`
	Samples      int         `json:"samples"`
	Distribution string      `json:"distribution"`
	Parts        []Part      `json:"parts" doc:"what each tolerance contributes, worst first"`
	Rules        []RuleShare `json:"rules"`
	MoreRules    int         `json:"more_rules,omitempty" doc:"rules that were not judged, as there are too many"`
	Failed       float64     `json:"failed,omitempty" doc:"share of the samples without an answer"`
	Exact        bool        `json:"exact,omitempty" doc:"no spread: none of its inputs has a tolerance"`
}

// Distribution is what a spread draws its samples from.
const Distribution = "even within each tolerance"

// Part is what one tolerance contributes.
type Part struct {
	Name  string  `json:"name"`
	Tol   Typed   `json:"tolerance"`
	Moves *Value  `json:"moves" doc:"alone, either way"`
	Share float64 `json:"share" doc:"of the variance"`
}

// RuleShare is in what share of the samples a rule holds.
type RuleShare struct {
	Name  string  `json:"name,omitempty" doc:"of the placed sheet it belongs to"`
	Must  Must    `json:"rule"`
	Cond  Expr    `json:"condition"`
	Holds float64 `json:"holds" doc:"share of the cases"`
}

// Word is spread.
func (Spreads) Word() string { return "spread" }

// Visit is the visitor's Spread.
func (s Spreads) Visit(v Visitor) { v.Spread(s) }

// Facts are each value's ends, and what the tolerances and rules have part in it.
func (s Spreads) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		for _, one := range s {
			for _, f := range one.facts() {
				if !yield(f) {
					return
				}
			}
		}
	}
}

func (s *Spread) facts() []Fact {
	all := []Fact{{Name: s.Name, Label: "nominal", Value: s.Nominal, Remark: s.Why}}
	if s.Why != "" || s.Exact {
		return all
	}
	for _, f := range []Fact{{Label: "lowest", Value: s.Lowest}, {Label: "highest", Value: s.Highest},
		{Label: "root sum square", Value: s.RSS}, {Label: "low 95", Value: s.Low95, Remark: s.Distribution},
		{Label: "high 95", Value: s.High95, Remark: s.Distribution}} {
		f.Name = s.Name
		all = append(all, f)
	}
	for _, p := range s.Parts {
		all = append(all, Fact{Name: s.Name, Label: "part", Value: p.Moves, Remark: p.Name + " +- " + p.Tol.String()})
	}
	for _, r := range s.Rules {
		all = append(all, Fact{Name: r.Name, Label: r.Must.String(), Text: strconv.FormatFloat(r.Holds, 'g', -1, 64),
			Remark: r.Cond.String()})
	}
	return all
}
