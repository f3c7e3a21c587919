package answer

// Change is what an edit has done to the answers.
type Change struct {
	Deltas []Delta
	Turns  []Turn
	Moved  []Rebound // a "that" that means another line now
}

// Delta is a named answer that a change has changed.
type Delta struct {
	Name     string
	Line     int    // index of the line that names it
	Old, New *Value // nil: had none, has none
}

// Turn is a verdict that has become another.
type Turn struct {
	Name string  `json:"name,omitempty" doc:"of the placed sheet that the rule belongs to"`
	Cond Expr    `json:"condition"`
	Line int     `json:"-"`
	Was  Verdict `json:"was"`
	Now  Verdict `json:"now"`
}

// Rebound is a "that" that has come to mean another question.
type Rebound struct{ Line, Was, Now int }
