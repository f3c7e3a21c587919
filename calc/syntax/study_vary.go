package syntax

import "math"

// Vary is "vary X from A to B by C [and Y …] show P, Q [with CASE, Z = W]": what
// happens when an input changes.
type Vary struct {
	Axes []Axis
	Show []Shown
	In   []Supposed // what else has other values meanwhile
}

// Axis is an input that Vary changes: from a to b by a step or over a number of
// steps, or among some values.
type Axis struct {
	X *Name
	Range
	By      Expr // nil if over steps
	Steps   int
	StepsAt Pos
}

func (*Vary) Word() string            { return "vary" }
func (*Vary) example() string         { return "vary length from 2 m to 20 m by 2 m show lost" }
func (v *Vary) Visit(to StudyVisitor) { to.Vary(v) }

func (v *Vary) exprs(do func(...Expr)) {
	for _, a := range v.Axes {
		do(a.X)
		a.Range.exprs(do)
		do(a.By)
	}
	shownExprs(v.Show, do)
	setExprs(v.In, do)
}

func (v *Vary) parse(p *parser) {
	for p.err == nil {
		if len(v.Axes) == 2 {
			p.fail(p.tok.off, say("vary changes one input or two").With("leave one out, or write a second line"))
			break
		}
		v.Axes = append(v.Axes, v.axis(p))
		if !p.takeWord("and") {
			break
		}
	}
	early := p.err == nil && p.takeWord("with") // one may say so before what is shown
	if early {
		v.In = p.sets(v)
	}
	v.Show = p.showing(v)
	if !early && p.err == nil && p.takeWord("with") {
		v.In = p.sets(v)
	}
}

func (v *Vary) axis(p *parser) Axis {
	a := Axis{X: p.subject(v), Range: p.values()}
	switch {
	case p.err != nil || a.Among != nil:
	case a.From == nil:
		p.fail(p.tok.off, say("the values to take must follow").
			With("as in `from 2 m to 20 m by 2 m`, or `among 1 m, 5 m`"))
	case p.takeWord("by"):
		a.By = p.sum()
	case p.takeWord("over"):
		var ok bool
		a.StepsAt = p.here()
		if a.Steps, ok = p.counted("step", math.MaxInt32); !ok {
			p.fail(p.tok.off, say("a whole number of steps must stand here").
				With("as in `over 9 steps`, which gives ten rows"))
		}
	case p.prev.kind == number && p.tok.isWord("steps"):
		p.fail(p.tok.off, say("a step must follow").With("write `over`, as in `over 9 steps`; `in` is the inch"))
	default:
		p.fail(p.tok.off, say("a step must follow").With("as in `by 2 m`, or `over 9 steps` for ten rows"))
	}
	return a
}

func (v *Vary) print(p *printer) {
	for i, a := range v.Axes {
		p.put([]string{"vary ", " and "}[min(i, 1)])
		p.name(a.X.Parts)
		p.values(a.Range)
		switch {
		case a.By != nil:
			p.put(" by ")
			p.expr(a.By)
		case a.Steps > 0:
			p.put(" over ", counted(a.Steps, "step"))
		}
	}
	p.put(" show ")
	p.shown(v.Show)
	p.with(v.In)
}

func (*Vary) Help() Help {
	return Help{
		Meaning: "what happens when an input changes, as a table and a chart",
		Forms: []string{
			"vary X from A to B by STEP show P, Q",
			"vary X from A to B over N steps show P",
			"vary X among VALUE, VALUE … show P",
			"vary X … and Y … show P",
			"vary X … show P with CASE, Z = VALUE",
		},
		Says: []string{
			"N steps make N + 1 rows. Two inputs make a two-way table, or a table for each value of one.",
			"The limits of rules that P appears in are drawn as lines; the place where a verdict turns is marked.",
			"read --csv and answer --csv write every row, however many.",
		},
		Examples: []string{
			"vary north.length from 2 m to 20 m by 2 m show north.lost, north.share",
			"vary north.length from 2 m to 20 m by 2 m and north.wire among 1.5 mm2, 2.5 mm2 show north.lost",
		},
	}
}
