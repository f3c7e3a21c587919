package answer

// Change is what an edit has done to the answers.
type Change struct {
	Deltas []Delta
	Turns  []Turn
	Moved  []Rebound // a "that" that means another line now
}

// Delta is a named answer that a change has changed. What it was and what it is
// are made into values when they are asked for, before the next change: one
// input may change thousands of answers, and few of them are looked at.
type Delta struct {
	Name string
	Line int // index of the line that names it
	kept Kept
	at   int
}

// Kept holds what the answers of a change were and are.
type Kept interface {
	// Value gives the value at an index; nil: had none, has none.
	Value(at int, now bool) *Value
}

// NewDelta is the change whose values are kept at an index.
func NewDelta(name string, line int, kept Kept, at int) Delta { return Delta{name, line, kept, at} }

// Old is the value that the answer had, nil if none.
func (d Delta) Old() *Value { return d.kept.Value(d.at, false) }

// New is the value that the answer has, nil if none.
func (d Delta) New() *Value { return d.kept.Value(d.at, true) }

// Pair keeps one answer's old and new value.
type Pair [2]*Value

// Value implements Kept.
func (p Pair) Value(_ int, now bool) *Value {
	if now {
		return p[1]
	}
	return p[0]
}

// Turn is a verdict that has become another.
type Turn struct {
	Name string  `json:"name,omitempty" doc:"of the placed sheet that the rule belongs to"`
	Cond Expr    `json:"condition"`
	Line int     `json:"-"`
	Was  Verdict `json:"was"`
	Now  Verdict `json:"now"`
}

// Rule is the rule that has turned, with the placed sheet it belongs to.
func (t *Turn) Rule() string {
	if t.Name == "" {
		return t.Cond.String()
	}
	return t.Name + ", " + t.Cond.String()
}

// Rebound is a "that" that has come to mean another question.
type Rebound struct{ Line, Was, Now int }
