package answer

import (
	"iter"
	"strings"

	"railsum/calc/types"
)

// Varied is the answer of a vary line: a row per value of the input, or of the
// two inputs. Series that come from a column have one entry per row of it.
type Varied struct {
	Rows   int      `json:"rows" doc:"of the whole sweep"`
	Every  int      `json:"every" doc:"one of how many values of an axis is told here"`
	Axes   []Series `json:"axes"`
	Shown  []Series `json:"shown"`
	With   []string `json:"with,omitempty" doc:"what else is supposed meanwhile, as written"`
	Limits []Limit  `json:"limits,omitempty"`
	Turns  []TurnAt `json:"turns,omitempty"`
	// MoreTurns is how many turns there are besides those that are told.
	MoreTurns int `json:"more_turns,omitempty" doc:"how many verdicts turn besides"`
	// TooMuch is true where so many rows of columns are shown at so many values
	// that none are kept: the series have but their names and units, and only a
	// stream has the numbers.
	TooMuch bool `json:"too_much,omitempty" doc:"too many numbers for any to be told here"`
}

// Series is the values of an axis or of a shown expression, one per row.
type Series struct {
	Expr   string // the expression as written
	Label  string // of a column, the row's label
	Value  *Value // Numbers one per row of the sweep
	Of     int    // which shown expression it is
	Row    int    // of a column, which row
	Points int    // of an axis: how many of its values are kept
}

// Name is the expression with the row's label: "bus.lost: quay".
func (s *Series) Name() string {
	if s.Label == "" {
		return s.Expr
	}
	return s.Expr + ": " + s.Label
}

// seriesForm is a series as JSON has it.
type seriesForm struct {
	Name   string         `json:"name"`
	Kind   string         `json:"kind" doc:"number, temperature, truth or text"`
	Unit   string         `json:"unit,omitempty"`
	Values []any          `json:"values" doc:"one for each row, null without an answer"`
	Faults map[int]string `json:"faults,omitempty" doc:"by row, why there is no answer"`
}

// Form is the series as JSON has it.
func (s *Series) Form() any {
	if s.Value == nil {
		return seriesForm{}
	}
	f := seriesForm{Name: s.Name(), Kind: kind(s.Value.Type), Unit: s.Value.Unit.String(), Values: []any{}}
	for i := range s.Value.Rows() {
		why := s.Value.Fault(i)
		switch {
		case why != "":
			if f.Faults == nil {
				f.Faults = map[int]string{}
			}
			f.Faults[i] = why
			f.Values = append(f.Values, nil)
		case s.Value.Type.Kind == types.Text:
			f.Values = append(f.Values, s.Value.Texts[i])
		case s.Value.Type.Kind == types.Truth:
			f.Values = append(f.Values, s.Value.Numbers[i] != 0)
		case s.Value.Type.Kind == types.Date:
			f.Values = append(f.Values, s.Value.Full(i))
		default:
			f.Values = append(f.Values, s.Value.InUnit(i))
		}
	}
	return f
}

// MarshalJSON writes the series' Form.
func (s Series) MarshalJSON() ([]byte, error) { return marshal(s.Form()) }

// Limit is a limit that a rule sets to a shown value and that the sweep does not
// move.
type Limit struct {
	Shown int    `json:"shown" doc:"which of shown, from 0"`
	Must  Must   `json:"rule"`
	Cond  Expr   `json:"condition"`
	At    *Value `json:"value"`
}

// TurnAt is a row from which on a rule's verdict is another.
type TurnAt struct {
	Row int `json:"row" doc:"from 0"`
	Turn
}

// Word is vary.
func (*Varied) Word() string { return "vary" }

// Visit is the visitor's Vary.
func (v *Varied) Visit(w Visitor) { w.Vary(v) }

// Facts are the shown values of each row, and where verdicts turn.
func (v *Varied) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		if len(v.With) > 0 && !yield(within(v.Axes[0].Name(), v.With)) {
			return
		}
		for row := range v.Axes[0].Value.Numbers {
			var place []string
			for i := range v.Axes {
				place = append(place, v.Axes[i].at(row))
			}
			for i := range v.Shown {
				s := &v.Shown[i]
				if !yield(Fact{Name: s.Name(), Label: strings.Join(place, ", "), Value: s.Value.Row(row)}) {
					return
				}
			}
		}
		for i := range v.Turns {
			if !yield(turned(&v.Turns[i].Turn, v.Axes[0].at(v.Turns[i].Row))) {
				return
			}
		}
	}
}

// at spells a place on an axis.
func (s *Series) at(row int) string {
	return s.Name() + " = " + Typed{s.Value.Full(row), s.Value.Unit}.String()
}
