package separated_test

import (
	"strings"
	"testing"

	"railsum/calc/separated"
	"railsum/calc/syntax"
)

// What a text is read as, the cells of a row between bars. RFC 4180 for quotes
// and line ends; the texts are invented.
func TestTable(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"run,length [m]\na,1.5\n", "length as m; a | 1.5"},
		{"run,length (m)\r\na,1.5\r\n", "length as m; a | 1.5"},
		{"\ufeffrun;length as m\na;1,5\nb;20\n", "length as m; a | 1.5; b | 20"},
		{"run;x\na;1.5\n", "x; a | 1.5"},
		{"run\tx\na\t-3\nb\t.5\nc\t2.\n", "x; a | -3; b | 0.5; c | 2"},
		{"run,x\na,12 m\nb,2 ft 6 in\nc,none\n", "x; a | 12 m; b | 2 ft 6 in; c | none"},
		{"run;x\na;12,5 m\nb;1,5 m\n", "x; a | 12.5 m; b | 1.5 m"},
		{"run,x\na,yes\nb,none\n", "x; a | yes; b | none"},
		{"run,\"kind, sort\",y\na,1,2\n", `row 1, column 2: "kind, sort" cannot be a name`},
		{"run,x\n\"a, b\",\"say \"\"so\"\"\"\n", `x; a, b | "say ""so"""`},
		{"run,x\na,\"two\nrows\"\nb,q\n", "x; a | \"two\nrows\"; b | \"q\""},
		{"run,part no\na,007\nb,1001\n", `row 2, column part_no: "007" is no number`},
		{"run,part as text\na,007\nb,\n", `part; a | "007"; b | ""`},
		{"run,x,,\na,1,,\n,,,\n", "x; a | 1"},
		{"run,x\na,1\nb,\n", "row 3, column x: the cell is empty"},
		{"run,x [m]\na,1\nb,wide\n", `row 3, column x: "wide" is no number`},
		{"run,x\na,1\nb,2\nc,wide\n", `row 4, column x: "wide" is no number`},
		{"run,x\na,p\nb,q\nc,3\n", `row 4, column x: "3" stands among texts`},
		{"run,x\na,\"1,5\"\nb,2\n", `row 2, column x: "1,5" has a comma, and values are separated by commas`},
		{"run;x\na;1,5\nb;1.500\n", `row 3, column x: "1.500" has a point, and other numbers of the file a decimal comma`},
		{"run;x\na;1,5\nb;1.500 m\n", `row 3, column x: "1.500 m" is no number`},
		{"run,x\na,1\nb,2,3\n", "row 3: there are 3 cells, and 2 heads"},
		{"run,x\n,1\n", "row 2, column 1: there is no label"},
		{"run,x\na,=1+1\nb,2\nc,2\n", `row 2, column x: "=1+1" is no number`},
		{"run,x\na,2 m as mm\nb,2 m\nc,1 m\n", `row 2, column x: "2 m as mm" is no number`},
		{"run\na\n", "row 1: nothing separates the heads"},
		{"run,x,x\na,1,2\n", "row 1, column 3: x stands above two columns"},
		{"run,label\na,1\n", "row 1, column 2: label is the column of the rows' labels and cannot be a head"},
		{"run,x [mm of sky]\na,1\n", `row 1, column 2: "mm of sky" is not a unit`},
		{"run,x\na,\xff\n", "row 2: this is not UTF-8"},
		{"run,x\na,\u0080\n", "row 2: a control character (U+0080) stands here"},
		{"run,x\na\u200b,1\n", "row 2: an invisible character (U+200B) stands here"},
		{"\xff\xfer\x00", "written as UTF-16"},
		{"run,x\na,b\"c\n", "row 2: a quotation mark stands where none can"},
		{"", "row 1: nothing separates the heads"},
		{"run,seen [date]\na,2026-11-25\nb,none\n", "seen as date; a | 2026-11-25; b | none"},
		{"run,seen as date\na,25 Nov 2026\n", "row 2, column seen: 25 Nov 2026 is not written as a date is here"},
		{"run,seen as date\na,3/4/2026\n", "row 2, column seen: 3/4/2026 is not written as a date is here"},
		{"run,seen as date\na,2026-02-30\n", "row 2, column seen: the calendar has no 2026-02-30"},
		{"run,seen as date\na,\n", "row 2, column seen: the cell is empty"},
		{"run,seen\na,2026-11-25\nb,\n", "row 2, column seen: dates or texts may be meant"},
		{"run,seen as text\na,2026-11-25\n", `seen; a | "2026-11-25"`},
	} {
		if got := read(c.text); got != c.want {
			t.Errorf("%q is read as\n%s, want\n%s", c.text, got, c.want)
		}
	}
}

// read gives what a text is read as, or the first fault.
func read(text string) string {
	table, faults := separated.Table([]byte(text))
	if len(faults) > 0 {
		return faults[0].Message
	}
	heads := []string{}
	for _, h := range table.Heads {
		head := h.Name.Text
		if h.As != nil {
			head += " as " + h.As.Unit.String()
		}
		if h.Date {
			head += " as date"
		}
		heads = append(heads, head)
	}
	all := []string{strings.Join(heads, " | ")}
	for _, r := range table.Rows {
		row := r.Label
		for _, c := range r.Cells {
			row += " | " + syntax.PrintExpr(c.Expr)
		}
		all = append(all, row)
	}
	return strings.Join(all, "; ")
}

// FuzzTable: whatever the text, it is read or refused; what is read has a cell for
// each head and reads back when it is typed.
func FuzzTable(f *testing.F) {
	for _, s := range []string{"run,length [m]\na,1.5\n", "\ufeffa;b\n\"x;y\";1,5\n", "a\tb as text\nq\t007\n", "a,b\nx,3/8 in\n",
		"a,b as date\nx,2026-11-25\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		table, faults := separated.Table(text)
		if (table == nil) == (len(faults) == 0) {
			t.Fatalf("table %v, faults %v", table, faults)
		}
		if table == nil {
			return
		}
		table.Name.Text = "t"
		for _, r := range table.Rows {
			if len(r.Cells) != len(table.Heads) {
				t.Fatalf("%d cells, %d heads", len(r.Cells), len(table.Heads))
			}
			for _, c := range r.Cells {
				if c.Expr == nil {
					t.Fatal("a cell without a value")
				}
			}
		}
		printed := syntax.Print(&syntax.Line{Node: table})
		if strings.ContainsAny(printed, "\r") || strings.Count(printed, "\n") != len(table.Rows)+1 {
			return // a text of several rows cannot be typed
		}
		if l, _ := syntax.ParseLine(printed); len(printed) < syntax.MaxRunes && hasError(l) {
			t.Fatalf("%s\n%v", printed, l.Errors)
		}
	})
}

func hasError(l *syntax.Line) bool {
	for _, d := range l.Errors {
		if !d.Notice {
			return true
		}
	}
	return false
}
