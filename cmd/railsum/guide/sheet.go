package guide

import (
	"fmt"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// writeSheet writes what a sheet asks and gives, its rules, hazards and sources
// and the line that puts it to work. It is to fit a screen: a meaning stops at
// its first semicolon or colon, and formulas are left to working and the sheet's text.
func writeSheet(w *writer, s *calc.Sheet) {
	w.line(sheetTitle(s))
	if s.File == nil {
		return
	}
	f := readSheet(s.File)
	f.fit(w)
	w.block("asks", f.asks)
	w.block("takes for granted", f.takes)
	w.block("tells", f.gives)
	if len(f.rules) > 0 {
		w.block("checks", []string{strings.Join(f.rules, "; ")})
	}
	w.block("hazards", f.hazards)
	w.block("what people get wrong", f.slips)
	if len(f.places) > 0 {
		w.block("works through", []string{strings.Join(f.places, ", ")})
	}
	w.block("sources", f.sources)
	w.gap()
	w.line("to use it: " + f.example(s))
}

// screen is how many rows a page should take.
const screen = 48

// fit draws a long page together: first the empty rows go, then what is taken
// for granted and the answers stand side by side.
func (f *facts) fit(w *writer) {
	const headings, gaps = 10, 8
	rows := headings + gaps
	for _, block := range [][]string{f.asks, f.takes, f.gives, {strings.Join(f.rules, "; ")}, f.hazards, f.slips, f.sources} {
		rows += w.rows(block)
	}
	w.tight = rows > screen
	if rows-gaps > screen {
		f.takes, f.gives = sideBySide(f.takes), sideBySide(f.gives)
	}
}

func sideBySide(rows []string) []string {
	if len(rows) == 0 {
		return nil
	}
	return []string{strings.Join(rows, "; ")}
}

func sheetTitle(s *calc.Sheet) string {
	title := s.Name
	if s.Own {
		title += ", your own"
	} else if s.Edition > 0 {
		title += fmt.Sprintf(", edition %d", s.Edition)
	}
	if s.Meaning != "" {
		title += ": " + s.Meaning
	}
	return title
}

// facts is a sheet's text sorted into the blocks of its page.
type facts struct {
	asks, takes, gives, rules, hazards, slips, places, sources []string
	first                                                      *syntax.Ask
}

func readSheet(file *syntax.File) facts {
	var f facts
	named := map[string]string{} // meanings, for "tell NAME"
	for _, l := range file.Lines {
		if d, ok := l.Node.(*syntax.Define); ok {
			named[d.Target.String()] = l.Note
		}
	}
	for _, l := range file.Lines {
		switch n := l.Node.(type) {
		case *syntax.Ask:
			if f.first == nil {
				f.first = n
			}
			_, text, _ := strings.Cut(syntax.Print(&syntax.Line{Node: n}), " ") // without ask or take
			if n.Taken {
				f.takes = append(f.takes, meant(l.Note, text))
			} else {
				f.asks = append(f.asks, meant(l.Note, text))
			}
		case *syntax.Table:
			if n.Ask {
				f.asks = append(f.asks, meant(l.Note, "table "+n.Name.Text+" | "+heads(n)))
			}
		case *syntax.Tell:
			f.gives = append(f.gives, told(l, n, named))
		case *syntax.Rule:
			word := "should "
			if n.Must {
				word = "must "
			}
			f.rules = append(f.rules, word+syntax.PrintExpr(n.Cond))
		case *syntax.Hazard:
			text := n.Text
			if n.If != nil {
				text += " (if " + syntax.PrintExpr(n.If) + ")"
			}
			f.hazards = append(f.hazards, text)
		case *syntax.Slip:
			f.slips = append(f.slips, n.X.String()+" = "+syntax.PrintExpr(n.Expr)+": "+l.Note)
		case *syntax.Use:
			if !contains(f.places, n.Sheet) {
				f.places = append(f.places, n.Sheet)
			}
		case *syntax.Source:
			f.sources = append(f.sources, n.Text)
		}
	}
	return f
}

func told(l *syntax.Line, n *syntax.Tell, named map[string]string) string {
	note := l.Note
	if note == "" {
		note = named[n.Name.Text]
	}
	return meant(note, n.Name.Text)
}

// meant puts the meaning first, as a card does: its first clause.
func meant(meaning, text string) string {
	if i := strings.IndexAny(meaning, ";:"); i >= 0 {
		meaning = meaning[:i]
	}
	if meaning == "" {
		return text
	}
	return meaning + ": " + text
}

// example is a line that puts the sheet to work with one input set.
func (f facts) example(s *calc.Sheet) string {
	name := s.Name
	if s.Own {
		name = `"` + name + `"`
	}
	line := "use " + name + " for north"
	if f.first != nil {
		line += " with " + f.first.Name.Text + " = " + syntax.PrintExpr(f.first.Expr)
	}
	return line
}

func heads(t *syntax.Table) string {
	var names []string
	for _, h := range t.Heads {
		name := h.Name.Text
		if h.As != nil {
			name += " as " + h.As.Unit.String()
		}
		if h.Whole {
			name += " whole"
		}
		names = append(names, name)
	}
	return strings.Join(names, " | ")
}
