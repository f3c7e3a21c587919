package syntax

// Find is "find X [from A to B | among LIST] so COND [and COND …] [as UNIT] [with
// CASE, Y = W]": the value of an input that makes comparisons true, all of them at
// once. The Range says where to look; it is empty for wherever it can be.
type Find struct {
	X *Name
	Range
	So Expr // what Comparisons takes apart
	As *UnitRef
	In []Supposed // what else has other values meanwhile
}

func (*Find) Word() string           { return "find" }
func (*Find) example() string        { return "find length so lost = 1 V" }
func (f *Find) Visit(v StudyVisitor) { v.Find(f) }

func (f *Find) exprs(do func(...Expr)) {
	do(f.X)
	f.Range.exprs(do)
	do(f.So)
	setExprs(f.In, do)
}

func (f *Find) parse(p *parser) {
	f.X = p.subject(f)
	f.Range = p.values()
	if !p.takeWord("so") {
		p.fail(p.tok.off, say("`so` and a comparison must follow").With("as in `"+f.example()+"`"))
		return
	}
	start := p.tok.off
	cond := p.expr()
	if p.err != nil {
		return
	}
	if Comparisons(cond) == nil {
		if b, ok := cond.(*Binary); ok && b.Op == "or" {
			p.fail(start, say("find makes comparisons true that are joined by `and`, not by `or`").
				With("ask for one at a time"))
		}
		p.fail(start, say("find needs a comparison to make true").With("as in `"+f.example()+"`"))
		return
	}
	f.So = cond
	if p.tok.isWord("as") {
		f.As = p.unit()
	}
	if p.takeWord("with") {
		f.In = p.sets(f)
	}
}

// Comparisons are the comparisons of two sides that an expression joins by "and";
// one of three sides, as in 7 V <= left <= 15 V, is two. There are none if it
// holds anything else.
func Comparisons(e Expr) []*Compare {
	switch e := e.(type) {
	case *Group:
		return Comparisons(e.X)
	case *Compare:
		var all []*Compare
		for i := range e.Ops {
			all = append(all, &Compare{X: e.X[i : i+2], Ops: e.Ops[i : i+1], At: e.At[i : i+1]})
		}
		return all
	case *Binary:
		if e.Op != "and" {
			return nil
		}
		left, right := Comparisons(e.X), Comparisons(e.Y)
		if left == nil || right == nil {
			return nil
		}
		return append(left, right...)
	}
	return nil
}

func (f *Find) print(p *printer) {
	p.put("find ")
	p.name(f.X.Parts)
	p.values(f.Range)
	p.put(" so ")
	p.expr(f.So)
	p.as(f.As)
	p.with(f.In)
}

func (*Find) Help() Help {
	return Help{
		Meaning: "what an input must be to make a comparison true",
		Forms: []string{
			"find X so A <= B",
			"find X so A <= B and C >= D",
			"find X from LOW to HIGH so A = B [as UNIT]",
			"find X among VALUE, VALUE … so A < B",
			"find X among TABLE.COLUMN so A < B",
			"find X so A <= B with CASE, Y = VALUE",
		},
		Says: []string{
			"X is an input: a value of a line of its own, an input of a sheet in use, a cell as fleet.\"dock shunter\".draw.",
			"Without from and to it looks over the range the input is good for, or all around its present value.",
			"It tells every place it finds, that there is none and how near it comes, and jumps as jumps.",
			"Among values it takes the first that holds, in the order given; of a column that falls, from its end. Nothing is changed.",
		},
		Examples: []string{
			"find north.length so north.lost = 1 V",
			"find north.length from 1 m to 50 m so north.share <= 5 %",
			"find north.length so north.share <= 5 % and north.fault >= 20 A",
			"find north.wire among conductors.area so north.share <= 3 %",
		},
	}
}
