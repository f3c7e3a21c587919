package syntax

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

func TestBytes(t *testing.T) {
	for _, src := range []string{
		"", "\n", "\n\n", "x", "x\n", "\ufeff", "\ufeffx = 5\r\ny = 6\r\n", "x\r", "a\rb\n", "\xff\xfe\n", "x = 5 # \xc3\n",
		"table t | a\r\n x | 1\r\n\r\n", "\x00", "x\n\n\n", "table t | a\n\n# c\nend",
	} {
		if got := ParseFile([]byte(src)).Bytes(); !bytes.Equal(got, []byte(src)) {
			t.Errorf("%q comes back as %q", src, got)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"nothing", "", "railsum 1\n"},
		{"header added", "x=5", "railsum 1\nx = 5\n"},
		{"header kept", "\n\nrailsum 1 # club\nx=5\n", "railsum 1  # club\nx = 5\n"},
		{"header not first", "x = 5\nrailsum 1\n", "railsum 1\nx = 5\nrailsum 1\n"},
		{"newer header", "railsum 7\nx=5\n", "railsum 7\nx = 5\n"},
		{"runs of blank lines", "\n\nrailsum 1\n\n\n\nx\n \n\t\ny\n\n\n", "railsum 1\n\nx\n\ny\n"},
		{"line endings", "\ufeffrailsum 1\r\nx=5\r\n", "railsum 1\nx = 5\n"},
		{"broken lines as typed", "railsum 1\n  x  =  5 +\r\ny=6\n", "railsum 1\n  x  =  5 +\ny = 6\n"},
		{"broken table as typed", "railsum 1\ntable t|a\n x|1,5\nend\ny=6\n", "railsum 1\ntable t|a\n x|1,5\nend\ny = 6\n"},
		{"table without end", "railsum 1\ntable t|a\n x|1\n\n# why\ny=6\n", "railsum 1\ntable t|a\n x|1\n\n# why\ny = 6\n"},
		{"table", "railsum 1\ntable t|a#n\nx|1\n\n#r\nend\n", "railsum 1\ntable t | a  # n\n  x     | 1\n  # r\nend\n"},
		{"too long once printed", "railsum 1\n" + strings.Repeat("1+", 2000) + "1\n", "railsum 1\n" + strings.Repeat("1+", 2000) + "1\n"},
	} {
		got := Format(ParseFile([]byte(c.src)))
		if string(got) != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
		if again := Format(ParseFile(got)); !bytes.Equal(got, again) {
			t.Errorf("%s: tidied twice\n%s", c.name, again)
		}
	}
}

// TestRows checks that lines and errors know their row, behind a table too.
func TestRows(t *testing.T) {
	f := ParseFile([]byte("railsum 1\n\ntable t | a\n  x | 1\nend\ny = 5 +\ntable u | b\n  z | 1,5\nend\n"))
	var got []string
	for _, l := range f.Lines {
		s := fmt.Sprintf("%d:%T", l.Row, l.Node)
		for _, d := range l.Errors {
			s += fmt.Sprintf(" %d:%d", d.At.Row, d.At.Col)
		}
		got = append(got, s)
	}
	want := "1:*syntax.Header, 2:*syntax.Blank, 3:*syntax.Table, 6:*syntax.Broken 6:8, 7:*syntax.Broken 8:8"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("got %s\nwant %s", s, want)
	}
	if l, _ := ParseLineAt("y = 5 +", 14); l.Row != 14 || l.Errors[0].At != (Pos{14, 8}) {
		t.Errorf("line 14 is in row %d, its error at %v", l.Row, l.Errors[0].At)
	}
}

// TestTargets checks that a broken line still says what it would define.
func TestTargets(t *testing.T) {
	for src, want := range map[string]string{
		"north.length = 5 +":              "north.length",
		"ask x = 5 %%":                    "x",
		"use drop for a, b with":          "a b",
		"table t | a\n x | 1,5\nend":      "t",
		"table t | a\n x | 1\ny = 5":      "t",
		"tell x = 5 +":                    "x",
		"tell x +":                        "x",
		"5 +":                             "",
		"assume fleet.\"a b\".draw = 5 +": `fleet."a b".draw`,
	} {
		l, _ := ParseLine(src)
		b, ok := l.Node.(*Broken)
		if !ok {
			t.Errorf("%q is a %T", src, l.Node)
			continue
		}
		var names []string
		for _, n := range b.Targets {
			names = append(names, n.String())
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("%q would define %q, want %q", src, got, want)
		}
	}
}

func TestIncomplete(t *testing.T) {
	for src, want := range map[string]bool{
		"table t | a": true, "table t | a\n x | 1": true, "ask table t | a\n\n# c": true, "table t | a\nend": false,
		"table t |": false, "table t | a\nx = 5": false, "x = (5": false, "x = 5": false, "": false, "table t | a\n x | 1,5": true,
	} {
		if _, got := ParseLine(src); got != want {
			t.Errorf("%q: incomplete is %v, want %v", src, got, want)
		}
	}
}

// TestPositions counts columns in runes.
func TestPositions(t *testing.T) {
	l, _ := ParseLine("線路 = Ω_123 + größe.länge * \"ü\"")
	d := l.Node.(*Define)
	sum := d.Expr.(*Binary)
	product := sum.Y.(*Binary)
	for i, c := range []struct{ got, want Pos }{
		{d.Target.Pos(), Pos{1, 1}}, {sum.X.Pos(), Pos{1, 6}}, {sum.Pos(), Pos{1, 12}}, {product.X.Pos(), Pos{1, 14}},
		{product.X.(*Name).Parts[1].At, Pos{1, 20}}, {product.Pos(), Pos{1, 26}}, {product.Y.Pos(), Pos{1, 28}},
	} {
		if c.got != c.want {
			t.Errorf("place %d is %v, want %v", i, c.got, c.want)
		}
	}
}

// TestBounds checks each bound on its two sides, and that none takes long.
func TestBounds(t *testing.T) {
	nest := func(n int) string { return strings.Repeat("(", n) + "1" + strings.Repeat(")", n) }
	table := func(n int) string { return "table t | a\n" + strings.Repeat("x | 1\n", n) + "end" }
	for _, c := range []struct{ name, src, message string }{
		{"depth", nest(MaxDepth), ""},
		{"depth", nest(MaxDepth + 1), "this line nests more than 200 deep"},
		{"signs", strings.Repeat("-", MaxDepth) + "1", ""},
		{"signs", strings.Repeat("-", MaxDepth+1) + "1", "this line nests more than 200 deep"},
		{"nots", strings.Repeat("not ", MaxDepth+1) + "a", "this line nests more than 200 deep"},
		{"calls", strings.Repeat("f(", MaxDepth+1), "this line nests more than 200 deep"},
		{"ifs", strings.Repeat("if ", MaxDepth+1), "this line nests more than 200 deep"},
		{"elses", strings.Repeat("if a then b else ", MaxDepth+1), "this line nests more than 200 deep"},
		{"parentheses", strings.Repeat("(", 700_000), "this line has too many characters"},
		{"runes", strings.Repeat("é", MaxRunes), ""},
		{"runes", strings.Repeat("é", MaxRunes+1), "this line has too many characters"},
		{"note", "x = 5 # " + strings.Repeat("é", MaxRunes), "this line has too many characters"},
		{"terms", strings.Repeat("1+", MaxRunes/2-1) + "1", ""},
		{"unit", "5 " + strings.Repeat("m*", 2000) + "m", "this unit is longer than 128 characters"},
		{"brackets", "5 m" + strings.Repeat("(", 4000), "an operator is missing before the parenthesis"},
		{"exponent", "1e" + strings.Repeat("9", 4000), "this number is too large to hold"},
		{"exponent", "1e-" + strings.Repeat("9", 4000) + " in", "this number is too small to hold"},
		{"digits", strings.Repeat("9", 300) + " in", ""},
		{"digits", strings.Repeat("9", 4000) + " in", "this number is too large to hold"},
		{"digits", "0." + strings.Repeat("0", 4000) + "1 in", "this number is too small to hold"},
		{"ratio", "1:1" + strings.Repeat("0", 4000), "this number is too small to hold"},
		{"table", table(MaxRows), ""},
		{"table", table(MaxRows + 1), "a table has at most 100000 rows"},
	} {
		l, _ := ParseLine(c.src)
		got := ""
		if len(l.Errors) > 0 {
			got = l.Errors[0].Message
		}
		if got != c.message {
			t.Errorf("%s of %d bytes: got %q, want %q", c.name, len(c.src), got, c.message)
		}
	}
}

func TestWords(t *testing.T) {
	for _, w := range slices.Sorted(maps.Keys(classes)) {
		l, _ := ParseLine(w + " = 5")
		if _, broken := l.Node.(*Broken); !broken {
			t.Errorf("%s can be a name", w)
		}
		for _, src := range []string{"x." + w + " = 5", "y = x." + w, "table t | " + w + "\nend"} {
			l, _ := ParseLine(src)
			if len(l.Errors) > 0 {
				t.Errorf("%q: %v", src, l.Errors)
			}
		}
	}
}
