package syntax

import (
	"math"
	"strconv"
)

// Working is "working P [to N levels] [leaving N]": how a value arose. Levels is
// 0 for all the way; Leaving is how many answers at the end are left blank, for
// somebody to work out.
type Working struct {
	X       *Name
	Levels  int
	Leaving int
}

func (*Working) Word() string             { return "working" }
func (*Working) example() string          { return "working lost" }
func (w *Working) Visit(v StudyVisitor)   { v.Working(w) }
func (w *Working) exprs(do func(...Expr)) { do(w.X) }

func (w *Working) parse(p *parser) {
	w.X = p.subject(w)
	if p.err == nil && p.takeWord("to") {
		var ok bool
		if w.Levels, ok = p.counted("level", MaxDepth); !ok {
			p.fail(p.tok.off, say("a whole number of levels must stand here").With("as in `working lost to 2 levels`"))
		}
	}
	if p.err == nil && p.takeWord("leaving") {
		w.Leaving = p.whole(1, math.MaxInt32, "a whole number of answers to leave out must follow", "as in `leaving 1`")
	}
}

func (w *Working) print(p *printer) {
	p.put("working ")
	p.name(w.X.Parts)
	if w.Levels > 0 {
		p.put(" to ", counted(w.Levels, "level"))
	}
	if w.Leaving > 0 {
		p.put(" leaving ", strconv.Itoa(w.Leaving))
	}
}

func (*Working) Help() Help {
	return Help{
		Meaning: "how a value arose, step by step, down to the inputs",
		Forms:   []string{"working P", "working P to N levels", "working P leaving N"},
		Says: []string{
			"Each step has its formula as written, the same with its values put in, and its answer; then each ingredient, once.",
			"leaving N keeps the last N answers back, for somebody to work out.",
			"Inputs that are still a sheet's own are marked; meanings and sources stand beside the steps they belong to.",
		},
		Examples: []string{"working north.lost", "working north.share to 2 levels"},
	}
}
