package syntax

import (
	"math"
	"strconv"
)

// MaxQuestions is how many questions one exercise can have.
const MaxQuestions = 50

// Exercise is "exercise SHEET [asking NAME, …] [to N levels] [count N] [seed N]
// [with NAME = SUM, …]": questions made of a sheet with inputs of their own.
type Exercise struct {
	At     Pos // of the sheet's name
	Sheet  string
	Own    bool // quoted: a file of the user's
	Asking []Part
	Levels int // 0 if not said
	Count  int // 0 if not said
	Seed   int // -1 if not said
	With   []Supposed
}

func (*Exercise) Word() string           { return "exercise" }
func (*Exercise) example() string        { return "exercise drop asking lost count 2" }
func (e *Exercise) Visit(v StudyVisitor) { v.Exercise(e) }

func (e *Exercise) exprs(do func(...Expr)) {
	for _, x := range e.With {
		do(x.Expr) // the names are the sheet's own
	}
}

func (e *Exercise) parse(p *parser) {
	p.noThat = "an exercise"
	e.At, e.Sheet, e.Own, e.Seed = p.here(), p.tok.str, p.tok.kind == text, -1
	switch {
	case e.Own:
		p.ownPath(e.Sheet)
	case p.tok.kind != word:
		p.sheetWanted()
	case p.tok.parts != nil:
		p.dottedSheet()
	}
	p.advance()
	if p.takeWord("asking") {
		e.Asking = p.asked()
	}
	if p.takeWord("to") {
		var ok bool
		if e.Levels, ok = p.counted("level", MaxDepth); !ok {
			p.fail(p.tok.off, say("a whole number of levels must stand here").With("as in `to 2 levels`"))
		}
	}
	if p.takeWord("count") {
		e.Count = p.whole(1, MaxQuestions, "a whole number of questions from 1 to 50 must follow", "as in `count 3`")
	}
	if p.takeWord("seed") {
		e.Seed = p.whole(0, math.MaxInt32, "a whole number must follow, from which the set is made", "as in `seed 7`")
	}
	if p.takeWord("with") {
		e.With = p.sets(e)
	}
}

// asked reads the names of a sheet's answers.
func (p *parser) asked() []Part {
	var all []Part
	for p.err == nil {
		if p.tok.kind != word || p.tok.parts != nil {
			p.fail(p.tok.off, say("the name of an answer of this sheet must stand here").
				With("as in `exercise drop asking lost`"))
			break
		}
		all = append(all, Part{At: p.here(), Text: p.tok.str})
		p.advance()
		if !p.take(",") {
			break
		}
	}
	return all
}

// whole reads a whole number between two bounds.
func (p *parser) whole(least, most float64, wanted, cure string) int {
	t := p.tok
	if t.kind != number || t.lit.Form != Plain || t.lit.Value < least || t.lit.Value > most ||
		t.lit.Value != math.Trunc(t.lit.Value) {
		p.fail(t.off, say("%s", wanted).With(cure))
		return 0
	}
	p.advance()
	return int(t.lit.Value)
}

func (e *Exercise) print(p *printer) {
	p.put("exercise ")
	p.sheet(e.Sheet, e.Own)
	for i, n := range e.Asking {
		p.put([]string{" asking ", ", "}[min(i, 1)], n.Text)
	}
	if e.Levels > 0 {
		p.put(" to ", counted(e.Levels, "level"))
	}
	if e.Count > 0 {
		p.put(" count ", strconv.Itoa(e.Count))
	}
	if e.Seed >= 0 {
		p.put(" seed ", strconv.Itoa(e.Seed))
	}
	p.with(e.With)
}

func (*Exercise) Help() Help {
	return Help{
		Meaning: "questions made of a sheet, each with inputs of its own",
		Forms:   []string{"exercise SHEET", "exercise SHEET asking P, Q to N levels count N seed N with X = V"},
		Says: []string{
			"asking names the answers that may be asked for, with holds inputs at a value, seed makes the same set again.",
		},
		Examples: []string{"exercise drop asking lost count 2 seed 7"},
	}
}
