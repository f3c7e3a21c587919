package answer

// Verdict is what a rule or a card says, ordered from best to worst.
type Verdict uint8

const (
	NotJudged Verdict = iota // not a rule, or nothing to judge
	Clear
	Caution
	NoVerdict // the rule has no answer
	Danger
)

var verdicts = []string{"nothing to judge", "clear", "caution", "no verdict", "danger"}

func (v Verdict) String() string { return verdicts[v] }

// MarshalText gives the verdict as a word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Words are all the texts that a verdict has.
func (Verdict) Words() []string { return verdicts }

// State says where an input's value comes from.
type State uint8

const (
	NoState State = iota // it is no input
	Set                  // given by the user
	From                 // told by another placed sheet or a table that the use line names
	Agreed               // the sheet's own, and an agree line says that it is right so
	Default              // still the sheet's own default
	Assumed              // set by an "assume" line, directly
)

var states = []string{"", "set", "from", "agreed", "default", "assumed"}

func (s State) String() string { return states[s] }

// Settled reports whether an input is neither a default nor assumed.
func (s State) Settled() bool { return s < Default }

// MarshalText gives the state as a word.
func (s State) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Words are all the texts that a state has.
func (State) Words() []string { return states[1:] }

// Must says how a rule binds: it must hold, or it should.
type Must bool

func (m Must) String() string {
	if m {
		return "must"
	}
	return "should"
}

// MarshalText gives the word that the rule begins with.
func (m Must) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// Words are all the texts that it has.
func (Must) Words() []string { return []string{"must", "should"} }
