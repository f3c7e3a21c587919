package syntax

// Studies are the questions put to the other lines: what must this be, what
// happens when it changes, what if, how sure am I, how did it arise, what does
// the meter say. Each is a line like any other.
type (
	// Find is "find X so COND": the value of an input that makes a comparison
	// true. From and To, or Among, say where to look; both are empty for
	// wherever it can be.
	Find struct {
		X        *Name
		From, To Expr
		Among    []Expr
		So       *Compare
		As       *UnitRef
	}

	// Vary is "vary X from a to b by c [and Y …] show P, Q".
	Vary struct {
		Axes []Axis
		Show []Shown
	}

	// Suppose is "suppose X = V, Y = W show P, Q".
	Suppose struct {
		Sets []Supposed
		Show []Shown
	}

	// Spread is "spread P, Q".
	Spread struct{ Show []Shown }

	// Working is "working P [to N levels]"; Levels is 0 for all the way.
	Working struct {
		X      *Name
		Levels int
	}

	// Measured is "measured X = VALUE +- TOLERANCE": the meter beside the sum.
	Measured struct {
		X    *Name
		Expr Expr
		Tail Tail
	}
)

// Axis is an input that Vary changes: from a to b by a step or over a number of
// steps, or among some values.
type Axis struct {
	X        *Name
	From, To Expr
	By       Expr // nil if over steps
	Steps    int
	StepsAt  Pos
	Among    []Expr
}

// Shown is something that a study shows.
type Shown struct {
	Expr Expr
	As   *UnitRef
}

// Supposed is an input with another value for the time of a question.
type Supposed struct {
	X    *Name
	Expr Expr
}

func (*Find) node()     {}
func (*Vary) node()     {}
func (*Suppose) node()  {}
func (*Spread) node()   {}
func (*Working) node()  {}
func (*Measured) node() {}
