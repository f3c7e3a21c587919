package answer

import (
	"iter"
	"strings"
)

// Study is what a study line has to say.
type Study interface {
	// Word is the word that opens the line.
	Word() string
	// Facts is the answer as a flat list.
	Facts() iter.Seq[Fact]
	// Visit calls the visitor's method for this kind.
	Visit(Visitor)
}

// Visitor does something with each kind of study.
type Visitor interface {
	Find(*Found)
	Vary(*Varied)
	Suppose(*Supposed)
	Spread(Spreads)
	Working(*Working)
	Measured(*Measured)
	Show(*Table)
	Guess(*Guess)
	Picture(*Picture)
	Slip(*Slip)
	Exercise(*Exercise)
	Part(*Needed)
	Agree(*Agreement)
	Case(*Case)
}

// Studies are an empty answer of each kind.
var Studies = []Study{&Found{}, &Varied{}, &Supposed{}, Spreads{}, &Working{}, &Measured{}, &Table{},
	&Guess{}, &Picture{}, &Slip{}, &Exercise{}, &Needed{}, &Agreement{}, &Case{}}

// Fact is one entry of a study's answer: a value under a label, or a text in the
// place of the value.
type Fact struct {
	Turn   bool   // it is a verdict that turns, and no entry of the study's own kind
	Name   string // of what it is about, if that has one
	Label  string
	Value  *Value
	Text   string
	Remark string
}

// within is the fact of what else is supposed meanwhile.
func within(name string, with []string) Fact {
	return Fact{Name: name, Label: "with", Text: strings.Join(with, ", ")}
}

// turned is the fact of a verdict that turns.
func turned(t *Turn, label string) Fact {
	return Fact{Turn: true, Name: t.Name, Label: label, Text: t.Now.String(), Remark: t.Cond.String()}
}

// percentText is a change in per cent, signed; empty for none.
func percentText(p *float64) string {
	if p == nil {
		return ""
	}
	return SignedPercent(*p)
}
