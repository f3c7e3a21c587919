package syntax

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Print gives the canonical spelling of a line: one row without a newline at
// its end, or the several rows of a table. A line that could not be read, or
// that would become too long to be read again, is given as it was typed.
func Print(l *Line) string { return spell(l, true) }

func spell(l *Line, aligned bool) string {
	if _, broken := l.Node.(*Broken); broken {
		return plainRows(l.Raw)
	}
	s := printed(l, aligned)
	if aligned && tooLong(s) {
		s = printed(l, false)
	}
	if tooLong(s) && l.Raw != "" {
		return plainRows(l.Raw)
	}
	return s
}

// printed spells a line, the cells of a table below one another if aligned.
func printed(l *Line, aligned bool) string {
	var p printer
	switch n := l.Node.(type) {
	case *Table:
		if n.From != nil {
			p.put("table ", n.Name.Text, " from ")
			p.quote(n.From.Value)
			p.note(l.Note)
			break
		}
		p.table("table ", n, l.Note, aligned)
	case *Picture:
		if n.Rows != nil {
			p.table("picture ", n.Rows, l.Note, aligned)
			break
		}
		p.node(n)
		p.note(l.Note)
	default:
		p.node(n)
		p.note(l.Note)
	}
	return p.String()
}

// tooLong reports whether a row of a text could not be read again.
func tooLong(s string) bool {
	for row := range strings.SplitSeq(s, "\n") {
		if len(row) > MaxRunes && utf8.RuneCountInString(row) > MaxRunes {
			return true
		}
	}
	return false
}

// plainRows takes the carriage returns off the ends of rows.
func plainRows(raw string) string {
	if !strings.Contains(raw, "\r") {
		return raw
	}
	rows := strings.Split(raw, "\n")
	for i, r := range rows {
		rows[i] = content(r)
	}
	return strings.Join(rows, "\n")
}

// MaxBytes is how large the text of a notebook may be.
const MaxBytes = 1 << 20

// Format gives the canonical text of a file: the header first, every line as
// Print gives it, no two blank lines together and none at either end. If it were
// too large for a notebook with the cells of its tables aligned, they are not.
func Format(f *File) []byte {
	if text := format(f, true); len(text) <= MaxBytes {
		return text
	}
	return format(f, false)
}

func format(f *File, aligned bool) []byte {
	var out strings.Builder
	blank := true
	wantsHeader := true
	for _, l := range f.Lines {
		switch l.Node.(type) {
		case *Blank:
			if blank {
				continue
			}
		case *Header:
			wantsHeader = false
		case *Broken:
			if first, _ := firstWord(l.Raw); first == header {
				wantsHeader = false
			}
		}
		if wantsHeader {
			out.WriteString(header + " " + strconv.Itoa(Edition) + "\n")
			wantsHeader = false
		}
		_, blank = l.Node.(*Blank)
		out.WriteString(spell(l, aligned))
		out.WriteByte('\n')
	}
	s := out.String()
	switch {
	case wantsHeader:
		return []byte(header + " " + strconv.Itoa(Edition) + "\n")
	case blank:
		s = s[:len(s)-1]
	}
	return []byte(s)
}

func (p *printer) note(text string) {
	if text != "" {
		p.put("  # ", text)
	}
}

func (p *printer) node(n Node) {
	switch n := n.(type) {
	case *Remark:
		p.remark(n.Text)
	case *Header:
		p.put(header, " ", strconv.Itoa(n.Version))
	case *Define:
		if n.Assumed {
			p.put("assume ")
		}
		p.name(n.Target.Parts)
		p.put(" = ")
		p.expr(n.Expr)
		p.tail(n.Tail)
	case *Question:
		p.expr(n.Expr)
		p.tail(n.Tail)
	case *Ask:
		p.put(n.word(), " ", n.Name.Text)
		for i, w := range n.Words {
			p.put([]string{" (", ", "}[min(i, 1)], w.Text)
		}
		if n.Words != nil {
			p.put(")")
		}
		p.put(" = ")
		p.expr(n.Expr)
		p.tail(n.Tail)
	case *Tell:
		p.put("tell ")
		if n.Table {
			p.put("table ")
		}
		p.put(n.Name.Text)
		if n.Expr != nil {
			p.put(" = ")
			p.expr(n.Expr)
		}
		p.tail(n.Tail)
	case *Rule:
		word := "should "
		if n.Must {
			word = "must "
		}
		p.put(word)
		p.expr(n.Cond)
	case *Use:
		p.use(n)
	case *Source:
		p.put("source ")
		p.quote(n.Text)
	case *Hazard:
		p.put("hazard ")
		p.quote(n.Text)
		if n.If != nil {
			p.put(" if ")
			p.expr(n.If)
		}
	case *Prefer:
		p.put("prefer ")
		for i, u := range n.Units {
			if i > 0 {
				p.put(", ")
			}
			p.put(u.Unit.String())
			if u.Below != nil {
				p.put(" below ", u.Below.Text)
			}
		}
		if n.Gauge != "" {
			if len(n.Units) > 0 {
				p.put(", ")
			}
			p.put(n.Gauge)
		}
	case opened:
		n.print(p)
	}
}

// word is the word that opens the line.
func (a *Ask) word() string {
	if a.Taken {
		return "take"
	}
	return "ask"
}

func (p *printer) remark(text string) {
	p.put("#")
	if text != "" {
		p.put(" ", text)
	}
}

// sheet spells the name of a sheet: in quotes if it is a file of the user's.
func (p *printer) sheet(name string, own bool) {
	if own {
		p.quote(name)
	} else {
		p.put(name)
	}
}

func (p *printer) use(u *Use) {
	p.put("use ")
	p.sheet(u.Sheet, u.Own)
	for i, n := range u.Names {
		p.put([]string{" for ", ", "}[min(i, 1)], n.Text)
	}
	if u.Like != nil {
		p.put(" like ", u.Like.Text)
	}
	if u.From != nil {
		p.put(" from ")
		p.name(u.From.Parts)
	}
	for i, s := range u.With {
		p.put([]string{" with ", ", "}[min(i, 1)], s.Name.Text, " = ")
		p.expr(s.Expr)
	}
	for i, n := range u.Show {
		p.put([]string{" show ", ", "}[min(i, 1)], n.Text)
	}
}

func (p *printer) cell(c Cell) {
	p.expr(c.Expr)
	p.tol(c.Tol)
}
