package syntax

// Show is "show P [as unit], Q … [sorted by EXPR] [where COND]": columns of one
// table side by side, a row for each label. A table's name stands for all of its
// columns. Sort and Where are nil where they are not given.
type Show struct {
	Show  []Shown
	Sort  Expr
	Where Expr
}

const (
	sorted = "sorted"
	where  = "where"
)

func (*Show) Word() string           { return "show" }
func (*Show) example() string        { return "show fleet sorted by fleet.draw where fleet.count > 1" }
func (s *Show) Visit(v StudyVisitor) { v.Show(s) }

func (s *Show) exprs(do func(...Expr)) {
	shownExprs(s.Show, do)
	do(s.Sort, s.Where)
}

func (s *Show) parse(p *parser) {
	s.Show = p.shown("show")
	for p.err == nil {
		at := p.tok
		switch {
		case p.takeWord(sorted):
			if p.err == nil && !p.takeWord("by") {
				p.fail(p.tok.off, say("`by` must follow, and a column").With("as in `"+s.example()+"`"))
			}
			s.Sort = p.clause(s, at, s.Sort)
		case p.takeWord(where):
			s.Where = p.clause(s, at, s.Where)
		default:
			return
		}
	}
}

// clause reads what stands behind a word that may stand but once.
func (p *parser) clause(s opened, word token, had Expr) Expr {
	switch {
	case p.err != nil:
		return nil
	case had != nil:
		p.fail(word.off, say("`%s` appears twice", word.str).With("leave one of them out"))
		return nil
	case p.done():
		p.fail(p.prev.end, say("something must follow `%s`", p.prev.str).With("as in `"+s.example()+"`"))
		return nil
	}
	return p.expr()
}

func (s *Show) print(p *printer) {
	p.put("show ")
	p.shown(s.Show)
	if s.Sort != nil {
		p.put(" ", sorted, " by ")
		p.expr(s.Sort)
	}
	if s.Where != nil {
		p.put(" ", where, " ")
		p.expr(s.Where)
	}
}

func (*Show) Help() Help {
	return Help{
		Meaning: "a table, or columns of it side by side, a row for each label",
		Forms: []string{
			"show TABLE",
			"show TABLE.COLUMN, COLUMN as UNIT",
			"show … sorted by COLUMN where CONDITION",
		},
		Says: []string{
			"The name of a table stands for all of its columns, those worked out below it included.",
			"Answers of a sheet placed over the rows of the table can stand beside them.",
			"sorted by -COLUMN puts the largest first. Rows without an answer come last, and are told.",
			"read --csv and answer --csv write it as comma-separated values.",
		},
		Before: []string{
			"table runs | length as m | load as A\n  quay | 12 | 2\n  yard | 4 | 3\nend",
			"use drop for bus with length = runs.length, load = runs.load",
		},
		Examples: []string{
			"show runs",
			"show runs, bus.lost sorted by -bus.lost where bus.lost > 0.5 V",
		},
	}
}
