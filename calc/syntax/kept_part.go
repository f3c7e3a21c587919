package syntax

import "railsum/units/words"

// Needed is "part WORD with FIELD = EXPR, …": something to buy.
type Needed struct {
	What Part
	With []Setting
}

// PartFields are the fields of a part line: its keys, then how much of it.
var PartFields = []string{"value", "rating", "volts", "area", "colour", "marking", "kind", "count", "length"}

func (*Needed) Word() string           { return "part" }
func (*Needed) example() string        { return "part resistor with value = 2k2, rating = 0.25 W" }
func (n *Needed) Visit(v StudyVisitor) { v.Part(n) }

func (n *Needed) exprs(do func(...Expr)) {
	for _, s := range n.With {
		do(s.Expr)
	}
}

func (n *Needed) parse(p *parser) {
	p.noThat = "a part line"
	n.What = Part{At: p.here(), Text: p.tok.str}
	if p.tok.kind != word || p.tok.parts != nil {
		p.fail(p.tok.off, say("what the part is must stand here, one word").With("as in `"+n.example()+"`"))
		return
	}
	p.advance()
	if !p.takeWord("with") {
		p.fail(p.tok.off, say("what the part is must follow").With("as in `"+n.example()+"`"))
		return
	}
	for p.err == nil {
		t := p.tok
		s := Setting{Name: Part{At: p.here(), Text: t.str}}
		if t.kind != word || !knownField(t.str) {
			p.fail(t.off, say("%s is no field of a part", p.source(t)).With("there are "+words.And(PartFields)))
			return
		}
		for _, o := range n.With {
			if o.Name.Text == t.str {
				p.nameTwice(t.off, t.str)
			}
		}
		p.advance()
		p.definition()
		p.equals = onlyInside
		s.Expr = p.expr()
		n.With = append(n.With, s)
		if !p.take(",") {
			return
		}
	}
}

func knownField(word string) bool {
	for _, f := range PartFields {
		if f == word {
			return true
		}
	}
	return false
}

func (n *Needed) print(p *printer) {
	p.put("part ", n.What.Text)
	for i, s := range n.With {
		p.put([]string{" with ", ", "}[min(i, 1)], s.Name.Text, " = ")
		p.expr(s.Expr)
	}
}

func (*Needed) Help() Help {
	return Help{
		Meaning: "something that has to be bought",
		Forms:   []string{"part WORD with FIELD = V, FIELD = W"},
		Says: []string{
			"Fields are value, rating, volts, area, colour, marking and kind, and for how much of it count and length.",
			"Parts that are the same in all but count and length are added up.",
		},
		Examples: []string{"part wire with area = north.wire, length = 2 * north.length"},
	}
}
