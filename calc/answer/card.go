package answer

import (
	"slices"

	"railsum/calc/syntax"
)

// Card is a sheet in use.
type Card struct {
	Name       string     `json:"name,omitempty" doc:"what it was placed as"`
	Sheet      string     `json:"sheet"`
	Edition    int        `json:"edition,omitempty"`
	Own        bool       `json:"own,omitempty" doc:"a sheet of the user's own"`
	About      string     `json:"-"` // what the sheet is for
	Verdict    Verdict    `json:"verdict" doc:"the worst of its checks"`
	Unsettled  int        `json:"unsettled" doc:"inputs that are defaults or assumed, but for what the sheet takes for granted"`
	OnDefaults bool       `json:"on_defaults,omitempty" doc:"every input is still the sheet's own"`
	Asks       []CardLine `json:"asks"`
	Gives      []CardLine `json:"tells"`
	Rules      []Judged   `json:"checks"`
	InError    []int      `json:"in_error,omitempty" doc:"rows of lines that set its inputs and are in error: it has no values and no verdict"`
	Show       []string   `json:"show,omitempty" doc:"the answers that the line asks for alone"`
	Hazards    []string   `json:"hazards"`
	Sources    []string   `json:"sources"`
	Pictures   []*Picture `json:"-"` // where somebody wants the whole card
}

// OwnDefaults is what a card says that is of no layout yet.
const OwnDefaults = "on defaults alone"

// Count settles how many of the inputs are nobody's yet. What a sheet takes for
// granted counts only where a verdict rests on it.
func (c *Card) Count() {
	c.Unsettled, c.OnDefaults = 0, len(c.Asks) > 0
	decides := map[string]bool{}
	for i := range c.Rules {
		for _, name := range c.Rules[i].Rests {
			decides[name] = true
		}
	}
	for i := range c.Asks {
		l := &c.Asks[i]
		if !l.State.Settled() && (!l.Granted || l.State == Assumed || decides[l.Name]) {
			c.Unsettled++
		}
		c.OnDefaults = c.OnDefaults && (l.State == Default || l.State == Agreed)
	}
}

// Rests are the inputs still at the sheet's default that the card's verdict
// rests on: those of its worst rules.
func (c *Card) Rests() []string {
	var names []string
	for i := range c.Rules {
		if c.Rules[i].Verdict != c.Verdict {
			continue
		}
		for _, name := range c.Rules[i].Rests {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// Told is what tells an input that is taken from elsewhere, and the name under
// which it does.
func (l *CardLine) Told() (of, name string) {
	n, ok := l.From.Expr.(*syntax.Name)
	if !ok {
		return "", ""
	}
	last := len(n.Parts) - 1
	return (&syntax.Name{Parts: n.Parts[:last]}).String(), n.Parts[last].Text
}

// Settled says where the value of an input comes from: "set", "from house.track".
func (l *CardLine) Settled() string {
	if l.State == From {
		return l.State.String() + " " + l.From.String()
	}
	return l.State.String()
}

// Ask is the input of a name, nil if there is none.
func (c *Card) Ask(name string) *CardLine {
	for i := range c.Asks {
		if c.Asks[i].Name == name {
			return &c.Asks[i]
		}
	}
	return nil
}

// CardLine is an input or an answer on a card, or a column of a table. A table
// that is asked for is one line with the value of each column under Columns.
type CardLine struct {
	Name    string     `json:"name" doc:"without the card's name"`
	Meaning string     `json:"meaning,omitempty"`
	State   State      `json:"state,omitzero" doc:"of an input: set, from (told by what the line names), agreed, default or assumed"`
	Granted bool       `json:"granted,omitempty" doc:"of an input: the sheet takes it for granted"`
	Value   *Value     `json:"value,omitempty"`
	From    Expr       `json:"from,omitzero" doc:"what it was set to, if not a plain value"`
	Range   *Range     `json:"range,omitempty" doc:"what it is good for"`
	Outside bool       `json:"outside,omitempty" doc:"outside that range"`
	Why     string     `json:"why,omitempty" doc:"why there is no value"`
	Columns []CardLine `json:"columns,omitempty"`
	Rows    []CardLine `json:"rows_of_their_own,omitempty" doc:"of an input: the rows that have a value of their own, by their labels"`
}
