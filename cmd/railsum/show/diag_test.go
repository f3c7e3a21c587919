package show

import (
	"strings"
	"testing"

	"railsum/calc/syntax"
	"railsum/units/words"
)

func TestDiags(t *testing.T) {
	const clash = "a voltage (V) and a length (m) cannot be added"
	for _, c := range []struct {
		name  string
		width int
		file  string
		line  *syntax.Line
		diag  syntax.Diag
		want  string
	}{
		{
			"with a cure", 80, "gannet.sums",
			&syntax.Line{Row: 14, Raw: "north.lost + north.length"},
			syntax.Diag{At: syntax.Pos{Row: 14, Col: 12}, Wrong: words.Wrong{Message: clash, Cure: "compare them in one unit"}},
			"gannet.sums, line 14, column 12:\n" +
				"north.lost + north.length\n" +
				"           ^ " + clash + "\n" +
				"Compare them in one unit.\n",
		},
		{
			"without a name", 80, "",
			&syntax.Line{Row: 2, Raw: "2 V + 3 m"},
			syntax.Diag{At: syntax.Pos{Row: 2, Col: 5}, Wrong: words.Wrong{Message: clash}},
			"line 2, column 5:\n2 V + 3 m\n    ^ " + clash + "\n",
		},
		{
			"a cure that begins with what to type", 80, "f",
			&syntax.Line{Row: 1, Raw: "x"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 1}, Wrong: words.Wrong{Message: "m", Cure: "north.lost is an answer of drop"}},
			"f, line 1, column 1:\nx\n^ m\nnorth.lost is an answer of drop.\n",
		},
		{
			"a cure that begins with what was typed", 80, "f",
			&syntax.Line{Row: 1, Raw: "drop + 1 V"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 1}, Wrong: words.Wrong{Message: "m", Cure: "drop is a sheet; put it to work"}},
			"f, line 1, column 1:\ndrop + 1 V\n^ m\ndrop is a sheet; put it to work.\n",
		},
		{
			"tabs are copied", 80, "f",
			&syntax.Line{Row: 1, Raw: "a\t= 1\tV + 1 m"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 9}, Wrong: words.Wrong{Message: "m"}},
			"f, line 1, column 9:\na\t= 1\tV + 1 m\n \t   \t  ^ m\n",
		},
		{
			"wide characters take two columns", 80, "f",
			&syntax.Line{Row: 1, Raw: "漢字 + zz"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 6}, Wrong: words.Wrong{Message: "m"}},
			"f, line 1, column 6:\n漢字 + zz\n       ^ m\n",
		},
		{
			"an escape takes as many columns as it shows", 80, "f",
			&syntax.Line{Row: 1, Raw: "\x1b[ + zz"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 6}, Wrong: words.Wrong{Message: "m"}},
			"f, line 1, column 6:\n\\x1b[ + zz\n        ^ m\n",
		},
		{
			"a row of a table", 80, "f",
			&syntax.Line{Row: 3, Raw: "table t | a\r\n  x | 1 V\r\nend"},
			syntax.Diag{At: syntax.Pos{Row: 4, Col: 7}, Wrong: words.Wrong{Message: "m"}},
			"f, line 4, column 7:\n  x | 1 V\n      ^ m\n",
		},
		{
			"a second place in a sheet", 80, "f",
			&syntax.Line{Row: 1, Raw: "x"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 1}, Wrong: words.Wrong{Message: "m"}, Other: syntax.Pos{Row: 9, Col: 3}, OtherIn: "headroom"},
			"f, line 1, column 1:\nx\n^ m\nSee also headroom, line 9, column 3.\n",
		},
		{
			"a narrow window", 40, "f",
			&syntax.Line{Row: 1, Raw: "north.lost + north.length"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 12}, Wrong: words.Wrong{Message: clash}},
			"f, line 1, column 12:\nnorth.lost + north.length\n           ^\n" +
				"a voltage (V) and a length (m) cannot be\nadded\n",
		},
		{
			"a column behind the end", 80, "f",
			&syntax.Line{Row: 1, Raw: "1 +"},
			syntax.Diag{At: syntax.Pos{Row: 1, Col: 99}, Wrong: words.Wrong{Message: "m"}},
			"f, line 1, column 99:\n1 +\n   ^ m\n",
		},
		{
			"nowhere", 80, "f",
			&syntax.Line{Row: 1, Raw: "x"},
			syntax.Diag{Wrong: words.Wrong{Message: "too many lines"}},
			"f:\ntoo many lines\n",
		},
	} {
		got := written(Options{Width: c.width}, func(p *Printer) { p.Diags(c.file, c.line, []syntax.Diag{c.diag}) })
		if got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// TestLongRow: of a row too long to show, what stands near the place is shown,
// and the caret stands under it.
func TestLongRow(t *testing.T) {
	raw := strings.Repeat("a + ", 1000) + "HERE" + strings.Repeat(" + b", 1000)
	line := &syntax.Line{Row: 1, Raw: raw}
	got := written(Options{Width: 80}, func(p *Printer) {
		p.Complaint(line, syntax.Diag{At: syntax.Pos{Row: 1, Col: 4001}, Wrong: words.Wrong{Message: "m"}})
	})
	rows := strings.Split(got, "\n")
	if at := strings.IndexByte(rows[1], '^'); at < 0 || !strings.HasPrefix(rows[0][at:], "HERE") {
		t.Errorf("the caret does not stand under the place:\n%s", got)
	}
	if len(rows[0]) > 80 {
		t.Errorf("%d columns are shown", len(rows[0]))
	}
}
