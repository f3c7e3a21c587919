package answer

import (
	"iter"
	"strconv"
)

// Exercise is a set of questions to be made of a sheet.
type Exercise struct {
	Sheet   string     `json:"sheet"`
	Own     bool       `json:"own,omitempty" doc:"a sheet of the user's own"`
	Edition int        `json:"edition,omitempty"`
	Asking  []string   `json:"asking,omitempty" doc:"answers that may be asked for; none for all"`
	Levels  int        `json:"levels,omitempty" doc:"of the working that is shown; 0 for as many as are understood"`
	Count   int        `json:"count" doc:"how many questions"`
	Seed    *int       `json:"seed,omitempty" doc:"the set; without it that of the day"`
	With    []CardLine `json:"with,omitempty" doc:"inputs that are held at a value"`
}

// UsualCount is how many questions an exercise has that does not say.
const UsualCount = 3

// Word is exercise.
func (*Exercise) Word() string { return "exercise" }

// Visit is the visitor's Exercise.
func (e *Exercise) Visit(v Visitor) { v.Exercise(e) }

// Set names the set of questions.
func (e *Exercise) Set() string {
	if e.Seed == nil {
		return "the set of the day"
	}
	return "set " + strconv.Itoa(*e.Seed)
}

// Facts are how many questions there are and of which set.
func (e *Exercise) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		yield(Fact{Name: e.Sheet, Label: e.Set(), Text: strconv.Itoa(e.Count)})
	}
}
