package answer

// Card is a sheet in use.
type Card struct {
	Name       string     `json:"name,omitempty" doc:"what it was placed as"`
	Sheet      string     `json:"sheet"`
	Edition    int        `json:"edition,omitempty"`
	Own        bool       `json:"own,omitempty" doc:"a sheet of the user's own"`
	About      string     `json:"-"` // what the sheet is for
	Verdict    Verdict    `json:"verdict" doc:"the worst of its rules"`
	Unsettled  int        `json:"unsettled" doc:"inputs that are defaults or assumed"`
	OnDefaults bool       `json:"on_defaults,omitempty" doc:"every input is still the sheet's own"`
	Asks       []CardLine `json:"asks"`
	Gives      []CardLine `json:"tells"`
	Rules      []Judged   `json:"checks"`
	Hazards    []string   `json:"hazards"`
	Sources    []string   `json:"sources"`
}

// OwnDefaults is what a card says that is of no layout yet.
const OwnDefaults = "on the sheet's own defaults alone"

// Count settles how many of the inputs are nobody's yet.
func (c *Card) Count() {
	c.Unsettled, c.OnDefaults = 0, len(c.Asks) > 0
	for i := range c.Asks {
		if !c.Asks[i].State.Settled() {
			c.Unsettled++
		}
		c.OnDefaults = c.OnDefaults && c.Asks[i].State == Default
	}
}

// CardLine is an input or an answer on a card, or a column of a table. A table
// that is asked for is one line with the value of each column under Columns.
type CardLine struct {
	Name    string     `json:"name" doc:"without the card's name"`
	Meaning string     `json:"meaning,omitempty"`
	State   State      `json:"state,omitzero" doc:"of an input: set, default or assumed"`
	Value   *Value     `json:"value,omitempty"`
	From    Expr       `json:"from,omitzero" doc:"what it was set to, if not a plain value"`
	Range   *Range     `json:"range,omitempty" doc:"what it is good for"`
	Outside bool       `json:"outside,omitempty" doc:"outside that range"`
	Why     string     `json:"why,omitempty" doc:"why there is no value"`
	Columns []CardLine `json:"columns,omitempty"`
}
