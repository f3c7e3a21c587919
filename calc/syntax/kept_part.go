package syntax

import "railsum/units/words"

// Needed is "part WORD with FIELD = EXPR, …": something to buy. Or it is "part WORD
// of PLACE, … from PLACE": what some placed sheets need is in what another one needs.
type Needed struct {
	What Part
	With []Setting
	Of   []Part // nil if it is something to buy
	From Part
}

// PartFields are the fields of a part line: its keys, then how much of it, and the share
// of a length that is bought on top.
var PartFields = []string{"value", "rating", "volts", "area", "colour", "marking", "kind", "count", "length", "spare"}

func (*Needed) Word() string           { return "part" }
func (*Needed) example() string        { return "part resistor with value = 2k2, rating = 0.25 W" }
func (n *Needed) Visit(v StudyVisitor) { v.Part(n) }

func (n *Needed) exprs(do func(...Expr)) {
	for _, s := range n.With {
		do(s.Expr)
	}
	for _, part := range n.Of {
		do(&Name{Parts: []Part{part}})
	}
	if n.Of != nil {
		do(&Name{Parts: []Part{n.From}})
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
	if p.tok.isWord("of") {
		n.elsewhere(p)
		return
	}
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

// elsewhere reads "of PLACE, … from PLACE".
func (n *Needed) elsewhere(p *parser) {
	defer func() { p.targets = nil }() // names that others define
	for p.err == nil && (n.Of == nil || p.tok.is(",")) {
		p.advance()
		n.Of = append(n.Of, p.plainName())
	}
	if p.err == nil && !p.takeWord("from") {
		p.fail(p.tok.off, say("the placed sheet that has it must follow").
			With("as in `part "+n.What.Text+" of "+n.Of[0].Text+" from shopping`"))
		return
	}
	n.From = p.plainName()
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
	for i, part := range n.Of {
		p.put([]string{" of ", ", "}[min(i, 1)], part.Text)
	}
	if n.Of != nil {
		p.put(" from ", n.From.Text)
	}
	for i, s := range n.With {
		p.put([]string{" with ", ", "}[min(i, 1)], s.Name.Text, " = ")
		p.expr(s.Expr)
	}
}

func (*Needed) Help() Help {
	return Help{
		Meaning: "something that has to be bought",
		Forms:   []string{"part WORD with FIELD = V, FIELD = W", "part WORD of PLACE from PLACE"},
		Says: []string{
			"Fields are value, rating, volts, area, colour, marking and kind, and for how much of it count and length.",
			"Parts that are the same in all but count and length are added up. spare is the share of a length to buy on",
			"top, and then goes for that part of the whole notebook.",
			"The second form says that what a placed sheet needs is in what another one needs, as a cable in a cut list:",
			"it is then not bought twice.",
		},
		Examples: []string{"part wire with area = north.wire, length = 2 * north.length"},
	}
}
