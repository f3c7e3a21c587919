package answer

import (
	"math"
	"strings"

	"railsum/calc/syntax"
)

// Judged is a rule with its verdict.
type Judged struct {
	Must     Must      `json:"rule"`
	Cond     Expr      `json:"condition"`
	Holds    string    `json:"holds,omitempty" doc:"what it says where it holds"`
	Else     string    `json:"else,omitempty" doc:"what it says where it does not"`
	Cure     string    `json:"cure,omitempty" doc:"what to do then"`
	Verdict  Verdict   `json:"verdict"`
	Compared *Compared `json:"compared,omitempty" doc:"the two values that decided, over rows those of the worst row"`
	Fails    []string  `json:"fails,omitempty" doc:"labels of the rows where it does not hold"`
	Rows     int       `json:"rows,omitempty" doc:"how many rows were judged"`
	Why      string    `json:"why,omitempty" doc:"why there is no verdict"`
	Nominal  bool      `json:"nominal,omitempty" doc:"judged at nominal values only: its values have tolerances"`
	Piece    string    `json:"piece,omitempty" doc:"the sheet within the sheet that it belongs to"`
	Follows  bool      `json:"follows,omitempty" doc:"no verdict because of an error above"`
	Rests    []string  `json:"rests_on,omitempty" doc:"inputs still at the sheet's default that the verdict rests on"`
}

// Say takes the note of a rule apart: "what holds; else what does not: what to
// do". A note without "; else " says what does not hold.
func (j *Judged) Say(note string) {
	holds, fails, two := strings.Cut(note, "; else ")
	if !two {
		holds, fails = "", note
	}
	j.Holds = holds
	j.Else, j.Cure, _ = strings.Cut(fails, ": ")
}

// Sentence is what the rule says as it is judged, empty where it has no words
// for that.
func (j *Judged) Sentence() string {
	switch {
	case j.Verdict == Clear:
		return j.Holds
	case j.Verdict == NoVerdict && j.Holds != "":
		return "not known whether " + j.Holds
	case j.Verdict == NoVerdict:
		return ""
	}
	return j.Else
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

// Apart is how far the two sides lie apart, as a share of the larger.
func (c *Compared) Apart() float64 {
	x, y := c.Left.Numbers[0], c.Right.Numbers[0]
	return math.Abs(x-y) / max(math.Abs(x), math.Abs(y), math.SmallestNonzeroFloat64)
}

// fails are the words for a comparison that does not hold.
var fails = map[string]string{"<": "is not less than", "<=": "is more than", ">": "is not more than",
	">=": "is less than",
	"=":  "is not the same as", "!=": "is the same as"}

// Words puts the comparison into words, with its sides as they are spelled.
func (c *Compared) Words(holds bool, left, right string) string {
	if holds {
		return left + " against " + right
	}
	return left + " " + fails[c.Sign] + " " + right
}

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
