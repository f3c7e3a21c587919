package syntax

import "strconv"

// study prints a line that puts a question to the other lines.
func (p *printer) study(n Node) {
	switch n := n.(type) {
	case *Find:
		p.put("find ")
		p.name(n.X.Parts)
		p.fromTo(n.From, n.To)
		p.among(n.Among)
		p.put(" so ")
		p.expr(n.So)
		p.as(n.As)
	case *Vary:
		for i, a := range n.Axes {
			p.put([]string{"vary ", " and "}[min(i, 1)])
			p.axis(a)
		}
		p.put(" show ")
		p.shown(n.Show)
	case *Suppose:
		for i, s := range n.Sets {
			p.put([]string{"suppose ", ", "}[min(i, 1)])
			p.name(s.X.Parts)
			p.put(" = ")
			p.expr(s.Expr)
		}
		p.put(" show ")
		p.shown(n.Show)
	case *Spread:
		p.put("spread ")
		p.shown(n.Show)
	case *Working:
		p.put("working ")
		p.name(n.X.Parts)
		if n.Levels > 0 {
			p.put(" to ", counted(n.Levels, "level"))
		}
	case *Measured:
		p.put("measured ")
		p.name(n.X.Parts)
		p.put(" = ")
		p.expr(n.Expr)
		p.tail(n.Tail)
	}
}

func (p *printer) fromTo(from, to Expr) {
	if from != nil {
		p.put(" from ")
		p.expr(from)
		p.put(" to ")
		p.expr(to)
	}
}

func (p *printer) among(list []Expr) {
	for i, e := range list {
		p.put([]string{" among ", ", "}[min(i, 1)])
		p.expr(e)
	}
}

func (p *printer) axis(a Axis) {
	p.name(a.X.Parts)
	p.fromTo(a.From, a.To)
	p.among(a.Among)
	switch {
	case a.By != nil:
		p.put(" by ")
		p.expr(a.By)
	case a.Steps > 0:
		p.put(" over ", counted(a.Steps, "step"))
	}
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
