package separated

import (
	"fmt"
	"strconv"
	"strings"

	"railsum/calc/syntax"
	"railsum/units"
)

// column reads the cells of column j, all alike: numbers, yes and no, or texts.
func (r *reader) column(t *syntax.Table, rows []record, j int, k kind) {
	head := t.Heads[j].Name.Text
	read := make([]syntax.Expr, len(rows)) // nil for what is no value
	values, truths, nones, empty := 0, 0, 0, 0
	for i, rec := range rows {
		cell := strings.TrimSpace(rec.cells[j+1])
		if cell == "" {
			empty++
		}
		switch k {
		case texts:
		case dates:
			read[i] = dateOf(cell, rec.row)
		default:
			read[i] = r.value(cell, rec.row)
		}
		switch read[i].(type) {
		case nil:
		case *syntax.Truth:
			truths++
		case *syntax.None:
			nones++
		default:
			values++
		}
	}
	fewValues := k == open && values+truths+nones < (len(rows)-empty+1)/2 // among texts
	asTexts := k == texts || k == open && values+truths+nones == 0
	if asTexts && k == open && allDates(rows, j) {
		r.fault(rows[0].row, head, "dates or texts may be meant", fmt.Sprintf("write the head as `%s as date` or `%s as text`", head, head))
		return
	}
	for i, rec := range rows {
		cell := strings.TrimSpace(rec.cells[j+1])
		_, truth := read[i].(*syntax.Truth)
		switch {
		case asTexts:
			read[i] = &syntax.Text{At: syntax.Pos{Row: rec.row, Col: 1}, Value: cell}
		case cell == "":
			r.fault(rec.row, head, "the cell is empty", "write a value, or none")
		case read[i] == nil && k == dates:
			wrong := syntax.WrongDate(cell)
			r.fault(rec.row, head, wrong.Message, wrong.Cure)
		case read[i] == nil && fewValues: // those are told
		case read[i] == nil:
			r.fault(rec.row, head, fmt.Sprintf("%q %s", cell, r.why(cell)), r.cure(cell, k, head))
		case truth && (values > 0 || k == numbers):
			r.fault(rec.row, head, cell+" stands among numbers", "write a number, or none")
		case fewValues:
			r.fault(rec.row, head, fmt.Sprintf("%q stands among texts", cell), fmt.Sprintf("write the head as `%s as text`", head))
		}
		t.Rows[i].Cells[j] = syntax.Cell{Expr: read[i]}
	}
}

// why says of a cell why it is no value.
func (r *reader) why(cell string) string {
	switch m := number().FindStringSubmatch(cell); {
	case m == nil || m[1]+m[2] == "" || m[1]+m[2] == "," && r.commas: // 007 among them
		return "is no number"
	case m[1]+m[2] == "." && !r.commas:
		return "is no number"
	case m[1]+m[2] == ".":
		return "has a point, and other numbers of the file a decimal comma"
	}
	return "has a comma, and values are separated by " + map[rune]string{',': "commas", '\t': "tabs"}[r.comma]
}

func (r *reader) cure(cell string, k kind, head string) string {
	switch m := number().FindStringSubmatch(cell); {
	case m != nil && m[1]+m[2] == "." && r.commas:
		return "write a comma, or no sign at all"
	case m != nil && m[1]+m[2] == ",":
		return "write a point, or save the file with semicolons"
	case k == numbers:
		return "write a number, or none"
	}
	return fmt.Sprintf("write a number, or, if all are texts, the head as `%s as text`", head)
}

// value reads a cell as a number, a quantity, yes, no or none; nil if it is none
// of them.
func (r *reader) value(cell string, row int) syntax.Expr {
	if cell == "" {
		return nil
	}
	at := syntax.Pos{Row: row, Col: 1}
	text := cell
	if m := number().FindStringSubmatch(cell); m != nil {
		switch sign := m[1] + m[2]; {
		case sign == "," && !r.commas, sign == "." && r.commas:
			return nil
		case sign == ",":
			text = strings.Replace(cell, ",", ".", 1)
		}
		return plain(text, at)
	}
	if r.commas && strings.Contains(cell, ".") { // 1.500 m may be either
		return nil
	}
	if r.commas {
		text = strings.Replace(text, ",", ".", 1)
	}
	// A formula of a spreadsheet, a name or a line of the language is none.
	l, _ := syntax.ParseLineAt(text, row)
	q, is := l.Node.(*syntax.Question)
	if !is || len(l.Errors) > 0 || l.Note != "" || q.Tail.As != nil || q.Tail.Tol != nil {
		return nil
	}
	switch e := q.Expr.(type) {
	case *syntax.Literal, *syntax.Truth, *syntax.None:
		return e
	case *syntax.Unary:
		if _, is := e.X.(*syntax.Literal); is && e.Op == "-" {
			return e
		}
	}
	return nil
}

// allDates reports whether each cell of a column is a date, but for empty ones.
func allDates(rows []record, j int) bool {
	any := false
	for _, rec := range rows {
		cell := strings.TrimSpace(rec.cells[j+1])
		if _, wrong := units.ParseDate(cell); cell != "" && wrong != nil {
			return false
		}
		any = any || cell != ""
	}
	return any
}

// dateOf reads a cell as a date or none, nil if it is neither.
func dateOf(cell string, row int) syntax.Expr {
	at := syntax.Pos{Row: row, Col: 1}
	if cell == "none" {
		return &syntax.None{At: at}
	}
	v, wrong := units.ParseDate(cell)
	if wrong != nil {
		return nil
	}
	return &syntax.Date{At: at, Value: v}
}

// plain is a number without a unit, as most cells are.
func plain(text string, at syntax.Pos) syntax.Expr {
	text = strings.ToLower(text)
	negative := strings.HasPrefix(text, "-")
	text = strings.TrimLeft(text, "+-")
	if len(text) > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9' { // a number of the catalogue, as 007
		return nil
	}
	if strings.HasPrefix(text, ".") {
		text = "0" + text
	}
	if whole, found := strings.CutSuffix(text, "."); found {
		text = whole
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return nil
	}
	var e syntax.Expr = &syntax.Literal{At: at, Text: text, Value: v}
	if negative {
		e = &syntax.Unary{At: at, Op: "-", X: e}
	}
	return e
}
