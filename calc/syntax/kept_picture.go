package syntax

import (
	"slices"
	"strings"

	"railsum/units/words"
)

// Picture is "picture NAME[.KIND]", which shows the picture of a placed sheet,
// "picture limits", or a block of rows that say what is drawn:
//
//	picture KIND | COLUMN | COLUMN …  # CAPTION
//	  label | cell | cell
//	end
type Picture struct {
	Of   *Name  // the placed sheet, nil for a picture of these lines
	Kind Part   // what is drawn; empty for the first of the placed sheet
	Rows *Table // of the block, nil without one; its name is the kind
}

// Kinds of pictures and the columns that each can have, in their order. A
// circuit has its last column twice, for two values.
var pictureColumns = map[string][]string{
	"strip":   {"from", "to", "look"},
	"circuit": {"symbol", "place", "value", "value"},
	"plan":    {"x", "y", "to_x", "to_y", "bow", "look"},
}

// Words that say how or where something is drawn, by the column they stand in.
var pictureWords = map[string][]string{
	"strip look": {"run", "good", "bad", "gap", "span", "vehicle", "mark"},
	"plan look":  {"rail", "thin", "body", "bad", "span"},
	"circuit symbol": {"source", "resistor", "capacitor", "coil", "diode", "lamp", "switch", "fuse", "wire", "terminals",
		"load", "input", "short", "words"},
	"circuit place": {"start", "out", "end", "back", "between"},
}

// PictureWords lists the texts that a column of a kind of picture can have, nil
// for a column of values.
func PictureWords(kind, column string) []string { return pictureWords[kind+" "+column] }

// PictureKinds lists the kinds of pictures.
var PictureKinds = []string{"strip", "circuit", "plan", "limits"}

func (*Picture) Word() string           { return "picture" }
func (*Picture) example() string        { return "picture north.circuit" }
func (n *Picture) Visit(v StudyVisitor) { v.Picture(n) }

func (n *Picture) exprs(do func(...Expr)) {
	if n.Rows != nil {
		n.Rows.exprs(do)
	}
}

func (n *Picture) parse(p *parser) {
	t := p.tok
	if t.kind != word {
		p.fail(t.off, say("the name of a sheet in use must stand here").With("as in `"+n.example()+"`"))
		return
	}
	at := p.here()
	p.advance()
	switch {
	case t.parts == nil && t.str == "limits":
		n.Kind = Part{At: at, Text: t.str}
	case t.parts == nil && pictureColumns[t.str] != nil:
		p.fail(p.prev.end, say("the columns are missing").With("write `picture "+t.str+" | "+
			strings.Join(pictureColumns[t.str][:2], " | ")+"`"))
	case t.parts == nil:
		n.Of = &Name{Parts: []Part{{At: at, Text: t.str}}}
	default:
		last := len(t.parts) - 1
		n.Of, n.Kind = &Name{Parts: t.parts[:last]}, t.parts[last]
		if !slices.Contains(PictureKinds, n.Kind.Text) {
			p.fail(n.Kind.At.Col-1, noPictureKind(n.Kind.Text))
		}
	}
}

func noPictureKind(kind string) words.Wrong {
	return say("there is no picture of that kind: %s", kind).With("there are " + words.And(PictureKinds))
}

// opensPicture reports whether a row begins the block of a picture.
func opensPicture(row string) bool {
	first, rest := firstWord(row)
	if first != "picture" {
		return false
	}
	kind, rest := firstWord(rest)
	return kind != "" && strings.HasPrefix(rest, "|")
}

// pictureHead reads "picture KIND | column | column".
func (p *parser) pictureHead(t *Table, l *Line) {
	if p.err != nil {
		return
	}
	note := noteStart(p.text, 0)
	l.Note = noteText(p.text, note)
	p.narrow(0, note)
	p.advance()
	t.Name = Part{At: p.here(), Text: p.tok.str}
	known := pictureColumns[t.Name.Text]
	if known == nil {
		p.fail(p.tok.off, noPictureKind(t.Name.Text))
		return
	}
	p.advance()
	for p.err == nil && p.take("|") {
		h := Head{Name: Part{At: p.here(), Text: p.tok.str}}
		had := 0
		for _, o := range t.Heads {
			if o.Name.Text == h.Name.Text {
				had++
			}
		}
		can := 0
		for _, k := range known {
			if k == h.Name.Text {
				can++
			}
		}
		switch {
		case p.tok.kind != word || can == 0:
			p.fail(p.tok.off, say("a %s has no column %s", t.Name.Text, p.source(p.tok)).
				With("there are "+words.And(slices.Compact(slices.Clone(known)))))
		case had >= can:
			p.nameTwice(p.tok.off, h.Name.Text)
		}
		p.advance()
		t.Heads = append(t.Heads, h)
	}
	if p.err == nil && !p.done() {
		p.strayInHead(t)
	}
	for _, must := range known[:2] {
		if p.err == nil && !slices.ContainsFunc(t.Heads, func(h Head) bool { return h.Name.Text == must }) {
			p.fail(p.prev.end, say("the column %s is missing", must).
				With("write `picture "+t.Name.Text+" | "+strings.Join(known[:2], " | ")+"`"))
		}
	}
}

func (n *Picture) print(p *printer) {
	p.put("picture ")
	switch {
	case n.Of == nil:
		p.put(n.Kind.Text)
	default:
		p.name(n.Of.Parts)
		if n.Kind.Text != "" {
			p.put(".", n.Kind.Text)
		}
	}
}

func (*Picture) Help() Help {
	return Help{
		Meaning: "a drawing of a sheet in use, or of rows that say what is drawn",
		Forms: []string{"picture NAME", "picture NAME.KIND", "picture limits",
			"picture strip | from | to | look  # CAPTION", "picture circuit | symbol | place | value | value",
			"picture plan | x | y | to_x | to_y | bow | look"},
		Says: []string{
			"A block has a row for each thing drawn, its label first, and ends with end, as a table does.",
			"strip: one axis, to scale; looks are run, good, bad, gap, span, vehicle and mark.",
			"circuit: a loop of two conductors; places are start, out, end, back and between; symbols are source, resistor, " +
				"capacitor, coil, diode, lamp, switch, fuse, wire, terminals, load, input, short and words.",
			"plan: lines and arcs at one scale, bow being the height of the arc; looks are rail, thin, body, bad and span.",
			"limits: each rule that compares two quantities, the worst first.",
		},
		Examples: []string{"picture north", "picture north.limits"},
	}
}
