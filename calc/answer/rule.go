package answer

import (
	"strings"

	"railsum/calc/syntax"
)

// Judged is a rule with its verdict.
type Judged struct {
	Must     Must      `json:"rule"`
	Cond     Expr      `json:"condition"`
	Meaning  string    `json:"meaning,omitempty"`
	Verdict  Verdict   `json:"verdict"`
	Compared *Compared `json:"compared,omitempty" doc:"the two values that decided, over rows those of the worst row"`
	Fails    []string  `json:"fails,omitempty" doc:"labels of the rows where it does not hold"`
	Rows     int       `json:"rows,omitempty" doc:"how many rows were judged"`
	Why      string    `json:"why,omitempty" doc:"why there is no verdict"`
	Nominal  bool      `json:"nominal,omitempty" doc:"judged without the tolerances that lie behind it"`
	Piece    string    `json:"piece,omitempty" doc:"the sheet within the sheet that it belongs to"`
	Follows  bool      `json:"follows,omitempty" doc:"no verdict because of an error told elsewhere"`
}

// String is the rule as it is typed.
func (j *Judged) String() string { return j.Must.String() + " " + j.Cond.String() }

// Figures spells what was compared, empty for nothing.
func (j *Judged) Figures() string {
	if j.Compared == nil {
		return ""
	}
	return j.Compared.String()
}

// Compared is the two sides of a comparison with their values.
type Compared struct {
	Left  *Value `json:"left"`
	Sign  string `json:"sign"`
	Right *Value `json:"right"`
	Row   string `json:"row,omitempty" doc:"over rows: the label of the worst"`
}

// String spells the comparison in the form of a file: "725 mV <= 750 mV".
func (c *Compared) String() string { return c.Left.Cell(0) + " " + c.Sign + " " + c.Right.Cell(0) }

// Range is what an input is good for: from one value to another, or one of
// several.
type Range struct{ syntax.Range }

// Spelled is the range, its values spelled as wanted.
func (r *Range) Spelled(spell func(syntax.Expr) string) string {
	if r.From != nil {
		return spell(r.From) + " to " + spell(r.To)
	}
	words := make([]string, len(r.Among))
	for i, e := range r.Among {
		words[i] = spell(e)
	}
	return "one of " + strings.Join(words, ", ")
}

// String is the range in the form of a file: "0.1 m to 100 m".
func (r *Range) String() string { return r.Spelled(syntax.PrintExpr) }

// MarshalText is String.
func (r *Range) MarshalText() ([]byte, error) { return []byte(r.String()), nil }
