package syntax

import (
	"math"
	"slices"
	"strconv"
)

// A Study is a question put to the other lines: what must this be, what happens
// when it changes, what if, how sure am I, how did it arise, what does the meter
// say. It is a line like any other. Each stands in a file of its own, with its
// grammar and its canonical form.
type Study interface {
	opened
	// Help says what the study is for.
	Help() Help
	// Visit calls the visitor's method for this study.
	Visit(StudyVisitor)
}

// StudyVisitor does something with each study.
type StudyVisitor interface {
	Find(*Find)
	Vary(*Vary)
	Suppose(*Suppose)
	Spread(*Spread)
	Working(*Working)
	Measured(*Measured)
	Show(*Show)
	Guess(*Guess)
	Picture(*Picture)
	Slip(*Slip)
	Exercise(*Exercise)
	Part(*Needed)
	Agree(*Agree)
	Case(*Case)
}

// Help is what there is to say about a study.
type Help struct {
	Meaning  string
	Forms    []string // how it is written
	Says     []string // what its answer holds, and what is worth knowing
	Before   []string // lines that the examples need
	Examples []string // of the sheet drop in use as north
}

// studies makes an empty one of each, in the order in which one comes to need
// them.
var studies = []func() Study{
	func() Study { return new(Find) },
	func() Study { return new(Vary) },
	func() Study { return new(Suppose) },
	func() Study { return new(Spread) },
	func() Study { return new(Working) },
	func() Study { return new(Measured) },
	func() Study { return new(Show) },
}

// Studies gives an empty one of each study there is, those last whose words
// stay free as names.
func Studies() []Study {
	var all []Study
	for _, empty := range slices.Concat(studies, kept) {
		all = append(all, empty())
	}
	return all
}

// studyWords are the words that open a study.
var studyWords = func() map[string]func() Study {
	words := map[string]func() Study{}
	for _, empty := range studies {
		words[empty().Word()] = empty
	}
	return words
}()

// Shown is something that a study shows.
type Shown struct {
	Expr Expr
	As   *UnitRef
}

// study reads a study behind the word that opens it.
func (p *parser) study(s Study) Node {
	p.advance()
	p.noThat = "a study"
	s.parse(p)
	return s
}

// subject reads the name of the value that a study is about.
func (p *parser) subject(s opened) *Name {
	t := p.tok
	if t.kind != word || t.parts == nil && IsReserved(t.str) {
		p.fail(t.off, say("the name of a value must stand here").With("as in `"+s.example()+"`"))
		return nil
	}
	n := &Name{Parts: t.parts}
	if t.parts == nil {
		n.Parts = []Part{{At: p.here(), Text: t.str}}
	}
	p.advance()
	return n
}

// showing reads "show P [as unit], Q [as unit]".
func (p *parser) showing(s opened) []Shown {
	if p.err == nil && !p.takeWord("show") {
		p.fail(p.tok.off, say("`show` must follow, and what to show").With("as in `"+s.example()+"`"))
	}
	return p.shown("show")
}

// shown reads "P [as unit], Q [as unit]".
func (p *parser) shown(after string) []Shown {
	var all []Shown
	for p.err == nil {
		if p.done() {
			p.fail(p.prev.end, say("what to look at is missing after `%s`", after).With("name a value"))
			break
		}
		s := Shown{Expr: p.expr()}
		if p.tok.isWord("as") {
			s.As = p.unit()
		}
		all = append(all, s)
		if !p.take(",") {
			break
		}
	}
	return all
}

// counted reads a whole number of things up to a bound: 9 steps, 1 level.
func (p *parser) counted(thing string, most float64) (n int, ok bool) {
	t := p.tok
	if t.kind != number || t.lit.Form != Plain || t.lit.Value < 1 || t.lit.Value > most ||
		t.lit.Value != math.Trunc(t.lit.Value) {
		return 0, false
	}
	p.advance()
	return int(t.lit.Value), p.takeWord(thing+"s") || p.takeWord(thing)
}

func (p *printer) shown(all []Shown) {
	for i, s := range all {
		if i > 0 {
			p.put(", ")
		}
		p.expr(s.Expr)
		p.as(s.As)
	}
}

// counted spells a number of things: 1 level, 2 levels.
func counted(n int, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return strconv.Itoa(n) + " " + thing
}

func shownExprs(all []Shown, do func(...Expr)) {
	for _, s := range all {
		do(s.Expr)
	}
}
