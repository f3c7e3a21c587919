package syntax

import (
	"math"
	"strconv"
)

// Agree is "agree NAME.input at VALUE, … for edition N": what a placed sheet takes
// for granted has been looked at, and stands at these values in that edition of
// the sheet. As an order it is typed without the values, "agree north" for all
// inputs that are taken for granted; the line that is kept has them.
type Agree struct {
	Items     []Agreed
	Edition   int // 0 for a sheet of the user's own, which has none, and in an order
	EditionAt Pos
}

// Agreed is an input with the value it is agreed to have: a literal, a text, a
// truth or none. At is nil in an order.
type Agreed struct {
	X  *Name
	At Expr
}

// Whole reports whether every input has the value at which it is agreed.
func (a *Agree) Whole() bool {
	for _, i := range a.Items {
		if i.At == nil {
			return false
		}
	}
	return true
}

// Place is the name of the placed sheet.
func (a *Agree) Place() string { return a.Items[0].X.Parts[0].Text }

func (*Agree) Word() string           { return "agree" }
func (*Agree) example() string        { return "agree north.joints at 4 for edition 4" }
func (a *Agree) Visit(v StudyVisitor) { v.Agree(a) }

func (a *Agree) exprs(do func(...Expr)) {
	for _, i := range a.Items {
		do(i.X, i.At)
	}
}

func (a *Agree) parse(p *parser) {
	p.noThat = "an agreement"
	for p.err == nil {
		off := p.tok.off
		i := Agreed{X: p.subject(a)}
		if p.err == nil && len(a.Items) > 0 && i.X.Parts[0].Text != a.Place() {
			p.fail(off, say("a line agrees to the inputs of one placed sheet").
				With("write a line of its own for "+i.X.Parts[0].Text))
		}
		if p.takeWord("at") {
			i.At = p.settled()
		}
		a.Items = append(a.Items, i)
		if !p.take(",") {
			break
		}
	}
	if p.err != nil || !p.takeWord("for") {
		return
	}
	if !p.takeWord("edition") {
		p.fail(p.tok.off, say("the edition must follow").With("as in `"+a.example()+"`"))
		return
	}
	t := p.tok
	a.EditionAt = p.here()
	if t.kind != number || t.lit.Form != Plain || t.lit.Value < 1 || t.lit.Value > math.MaxInt32 ||
		t.lit.Value != math.Trunc(t.lit.Value) {
		p.fail(t.off, say("the edition of a sheet is a whole number").With("as in `"+a.example()+"`"))
		return
	}
	a.Edition = int(t.lit.Value)
	p.advance()
}

// settled reads a value that is written out.
func (p *parser) settled() Expr {
	off := p.tok.off
	x := p.unary()
	if p.err != nil {
		return nil
	}
	if Written(x) {
		return x
	}
	p.fail(off, say("an agreement is about a value that is written out").With("as in `agree north.joints at 4 for edition 4`"))
	return nil
}

func (a *Agree) print(p *printer) {
	for n, i := range a.Items {
		p.put([]string{"agree ", ", "}[min(n, 1)])
		p.name(i.X.Parts)
		if i.At != nil {
			p.put(" at ")
			p.expr(i.At)
		}
	}
	if a.Edition > 0 {
		p.put(" for edition ", strconv.Itoa(a.Edition))
	}
}

func (*Agree) Help() Help {
	return Help{
		Meaning: "what a sheet takes for granted is settled as it stands",
		Forms:   []string{"agree NAME", "agree NAME.INPUT, NAME.INPUT", "agree NAME.INPUT at VALUE, … for edition N"},
		Says: []string{
			"At the desk it is typed without values; the line that is kept has them and the sheet's edition.",
			"A new edition or another value unsettles it again, and it says so. `list unsettled` shows what is left.",
		},
		Examples: []string{"agree north.joints at 4, north.allowed at 5 % for edition 4"},
	}
}
