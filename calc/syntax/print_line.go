package syntax

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Print gives the canonical spelling of a line: one row without a newline at
// its end, or the several rows of a table. A line that could not be read, or
// that would become too long to be read again, is given as it was typed.
func Print(l *Line) string {
	if _, broken := l.Node.(*Broken); broken {
		return plainRows(l.Raw)
	}
	var p printer
	switch n := l.Node.(type) {
	case *Table:
		if n.From != nil {
			p.put("table ", n.Name.Text, " from ")
			p.quote(n.From.Value)
			p.note(l.Note)
			break
		}
		p.table("table ", n, l.Note)
	case *Picture:
		if n.Rows != nil {
			p.table("picture ", n.Rows, l.Note)
			break
		}
		p.node(n)
		p.note(l.Note)
	default:
		p.node(n)
		p.note(l.Note)
	}
	s := p.String()
	for row := range strings.SplitSeq(s, "\n") {
		if len(row) > MaxRunes && utf8.RuneCountInString(row) > MaxRunes && l.Raw != "" {
			return plainRows(l.Raw)
		}
	}
	return s
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

// Format gives the canonical text of a file: the header first, every line as
// Print gives it, no two blank lines together and none at either end.
func Format(f *File) []byte {
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
		out.WriteString(Print(l))
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

func (p *printer) table(word string, t *Table, note string) {
	switch {
	case t.Taken:
		p.put("take ")
	case t.Ask:
		p.put("ask ")
	}
	p.put(word, t.Name.Text)
	for _, h := range t.Heads {
		p.put(" | ", h.Name.Text)
		if h.Default.Expr != nil {
			p.put(" = ")
			p.cell(h.Default)
		}
		p.as(h.As)
		p.whole(h.Whole)
	}
	p.note(note)
	remarks := t.Remarks
	for i, r := range t.Rows {
		remarks = p.remarks(remarks, i)
		p.put("\n  ")
		p.row(r)
	}
	p.remarks(remarks, len(t.Rows))
	p.put("\nend")
}

func (p *printer) remarks(rs []Between, before int) []Between {
	for len(rs) > 0 && rs[0].Before <= before {
		p.put("\n  ")
		p.remark(rs[0].Text)
		rs = rs[1:]
	}
	return rs
}

func (p *printer) cell(c Cell) {
	p.expr(c.Expr)
	p.tol(c.Tol)
}

// row prints one row of a table. Its label stands in quotes only if it would
// be read as something else without.
func (p *printer) row(r Row) {
	var cells printer
	for _, c := range r.Cells {
		cells.put(" |")
		if c.Expr != nil {
			cells.put(" ")
			cells.cell(c)
		}
	}
	cells.note(r.Note)
	rest := cells.String()
	p.label(r.Label, rest)
	p.put(rest)
}

// PrintLabel spells a label as it stands at the beginning of a row.
func PrintLabel(label string) string {
	var p printer
	p.label(label, " |")
	return p.String()
}

func (p *printer) label(l, rest string) {
	if strings.ContainsAny(l, "|") || l != trimBlanks(l) || l == "end" || strings.HasPrefix(l, `"`) || strings.HasPrefix(l, "#") || stopsTable(l+rest) {
		p.quote(l)
	} else {
		p.put(l)
	}
}
