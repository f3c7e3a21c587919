package syntax

// Working is "working P [to N levels]": how a value arose. Levels is 0 for all
// the way.
type Working struct {
	X      *Name
	Levels int
}

func (*Working) Word() string             { return "working" }
func (*Working) example() string          { return "working lost" }
func (w *Working) exprs(do func(...Expr)) { do(w.X) }

func (w *Working) parse(p *parser) {
	w.X = p.subject(w)
	if p.err != nil || !p.takeWord("to") {
		return
	}
	var ok bool
	if w.Levels, ok = p.counted("level", MaxDepth); !ok {
		p.fail(p.tok.off, say("a whole number of levels must stand here").With("as in `working lost to 2 levels`"))
	}
}

func (w *Working) print(p *printer) {
	p.put("working ")
	p.name(w.X.Parts)
	if w.Levels > 0 {
		p.put(" to ", counted(w.Levels, "level"))
	}
}
