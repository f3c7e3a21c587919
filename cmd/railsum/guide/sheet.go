package guide

import (
	"cmp"
	"fmt"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// writeSheet writes what a sheet asks and tells, its checks and hazards and the line
// that puts it to work, so that it fits a screen; the whole of it, with what is taken
// for granted and the sources, if that is asked for. Meanings stop at their first
// semicolon or colon, and formulas are left to working and the sheet's text.
func writeSheet(w *writer, s *calc.Sheet) {
	w.line(sheetTitle(s))
	if s.File == nil {
		return
	}
	f := readSheet(s.File)
	if !w.whole {
		f.inShort(w, s)
		return
	}
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

// window is how many rows a page in short may take: a window of 24, less the line that
// was typed and the prompt below.
const window = 22

// inShort writes what fits a window: a row for each input that is asked for, as many
// answers as there is room for, and in what is left of their rows the other names.
func (f *facts) inShort(w *writer, s *calc.Sheet) {
	asks, gives := f.short.asks, f.short.gives
	var last [][2]string
	if n := len(f.short.takes); n > 0 {
		last = append(last, [2]string{"granted", strings.Join(f.short.takes, ", ")})
	}
	if len(f.rules) > 0 {
		last = append(last, [2]string{"checks", strings.Join(f.rules, "; ")})
	}
	if len(f.hazards) > 0 {
		var short []string
		for _, h := range f.hazards {
			if first, _, _ := strings.Cut(h, ":"); strings.Count(first, " ") > 2 {
				h = first
			}
			short = append(short, strings.TrimSuffix(h, ".")+".")
		}
		last = append(last, [2]string{"hazards", strings.Join(short, " ")})
	}
	const gap = 9 // of the words before the last rows
	ends := func(most int) (rows []string) {
		for _, l := range last {
			rows = append(rows, w.cut(padded(l[0], gap)+l[1], most))
		}
		return rows
	}
	used := w.rows([]string{sheetTitle(s)}) + 2 + len(asks) + 3
	most := 3
	for most > 1 && used+w.rows(ends(most))+min(len(gives), 3)+1 > window {
		most--
	}
	room := window - used - w.rows(ends(most))
	w.line("asks")
	w.pairs(asks)
	w.line("tells")
	if len(gives) > room {
		var more []string
		for _, g := range gives[max(room-1, 1):] {
			more = append(more, g[0])
		}
		gives = gives[:max(room-1, 1)]
		w.pairs(gives)
		w.line("  " + w.cut("and "+strings.Join(more, ", "), 1))
	} else {
		w.pairs(gives)
	}
	for _, row := range ends(most) {
		w.line(row)
	}
	w.line("to use it: " + f.example(s))
	name := s.Name
	if s.Own {
		name = `"` + name + `"`
	}
	w.line("`about " + name + " whole`: what is taken for granted, every check, slips and sources")
}

// pairs writes names beside what they mean, a row each.
func (w *writer) pairs(all [][2]string) {
	wide := 0
	for _, p := range all {
		wide = max(wide, cells(p[0]))
	}
	for _, p := range all {
		w.line(w.cut("  "+padded(p[0], min(wide, w.p.Width/2))+"  "+p[1], 1))
	}
}

// cut is as much of a text as so many rows hold.
func (w *writer) cut(text string, rows int) string {
	room := rows*(w.p.Width-4) - 2*(rows-1)
	if cells(text) <= room {
		return text
	}
	out := ""
	for _, r := range text {
		if cells(out)+2 > room {
			break
		}
		out += string(r)
	}
	return strings.TrimRight(out, " ,;") + "…"
}

// screen is how many rows a whole page should take.
const screen = 48

// fit draws a long page together: first the empty rows go, then what is taken
// for granted and the answers stand side by side.
func (f *facts) fit(w *writer) {
	const headings, gaps = 10, 8
	rows := headings + gaps
	for _, block := range [][]string{f.asks, f.takes, f.gives, {strings.Join(f.rules, "; ")}, f.hazards, f.slips,
		f.sources} {
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

	short struct { // the same for a page in short
		asks, gives [][2]string // name and meaning
		takes       []string
	}
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
				f.short.takes = append(f.short.takes, n.Name.Text)
			} else {
				f.asks = append(f.asks, meant(l.Note, text))
				f.short.asks = append(f.short.asks, [2]string{n.Name.Text + " = " + syntax.PrintExpr(n.Expr), clause(l.Note)})
			}
		case *syntax.Table:
			if n.Ask {
				f.asks = append(f.asks, meant(l.Note, "table "+n.Name.Text+" | "+heads(n)))
				f.short.asks = append(f.short.asks, [2]string{"table " + n.Name.Text, "with " + heads(n)})
			}
		case *syntax.Tell:
			f.gives = append(f.gives, told(l, n, named))
			f.short.gives = append(f.short.gives, [2]string{n.Name.Text, clause(cmp.Or(l.Note, named[n.Name.Text]))})
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

// clause is the first clause of a meaning.
func clause(meaning string) string {
	if i := strings.IndexAny(meaning, ";:"); i >= 0 {
		return meaning[:i]
	}
	return meaning
}

// meant puts the meaning first, as a card does: its first clause.
func meant(meaning, text string) string {
	if meaning = clause(meaning); meaning == "" {
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
		if h.Date {
			name += " as date"
		}
		if h.Whole {
			name += " whole"
		}
		names = append(names, name)
	}
	return strings.Join(names, " | ")
}
