package show

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/clipperhouse/displaywidth"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/outline"
	"railsum/units/words"
)

var sgr = regexp.MustCompile("\x1b\\[[0-9;]*m")

// nesting is how many colours are on at once in a row, at most.
func nesting(row string) int {
	depth, most := 0, 0
	for _, code := range sgr.FindAllString(row, -1) {
		switch code {
		case "\x1b[0m", "\x1b[22m", "\x1b[0;22m":
			depth = 0
		default:
			depth++
		}
		most = max(most, depth)
	}
	return most
}

// hostile is text that would act on a terminal: a window title, the clipboard,
// a hyperlink, a report, device control, the same in eight bits, a carriage
// return over what stands there, bidirectional overrides, hidden signs.
var hostile = []string{
	"\x1b]0;title\x07", "\x1b]52;c;aGk=\x07", "\x1b]8;;file:///etc\x1b\\link\x1b]8;;\x1b\\",
	"\x1b[6n", "\x1b[2J", "\x1bP+q544e\x1b\\", "\x1b_x\x1b\\", "\u009b2J", "\u009d0;t\u009c", "\x9b2J",
	"a\rb", "a\bb", "a\vb\fc", "\x7f", "\x00", "\u202eevil\u202c", "\u2066x\u2069", "\u200b", "\u200f", "\ufeff",
	"x\u2028y\u2029z", "\U000e0041", "\u00ad", "\xff\xfe",
	"a\ufe0f", "a\U000e0101", "\u3164", "\u115f\u1160", "\uffa0", "a\u034fb", "\u17b4", "a\u180b", "a\u180f", "\u2065", "\U000e0fff",
	"\u0301", " \u20dd", "\u1161", "x" + strings.Repeat("\u0336", 40),
}

// harmless reports the first rune of s that could act on a terminal or hide.
func harmless(s string) error {
	marks := 8 // there is nothing to stand on
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			return fmt.Errorf("byte %#x at %d", s[i], i)
		case r == '\n' || r == '\t':
		case r < ' ', r >= 0x7f && r < 0xa0, r == 0xad, r >= 0x200b && r <= 0x200f,
			r >= 0x2028 && r <= 0x202e, r >= 0x2060 && r <= 0x206f, r == 0xfeff, r >= 0xe0000 && r < 0xe1000:
			return fmt.Errorf("%U at %d", r, i)
		// DerivedCoreProperties.txt, Default_Ignorable_Code_Point, the rest of it.
		case r == 0x34f, r == 0x61c, r == 0x115f, r == 0x1160, r == 0x17b4, r == 0x17b5, r >= 0x180b && r <= 0x180f, r == 0x3164,
			r >= 0xfe00 && r <= 0xfe0f, r == 0xffa0, r >= 0xfff0 && r <= 0xfff8, r >= 0x1bca0 && r <= 0x1bca3, r >= 0x1d173 && r <= 0x1d17a:
			return fmt.Errorf("%U at %d", r, i)
		case displaywidth.Rune(r) == 0:
			if marks++; marks > 8 {
				return fmt.Errorf("%d marks on one another at %d", marks, i)
			}
			i += size
			continue
		}
		marks = 8
		if r != ' ' && r != '\n' && r != '\t' {
			marks = 0
		}
		i += size
	}
	return nil
}

func TestSafe(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"15 V ± 5 % at 68 °F, 3k3 Ω, 漢 🚂", "15 V ± 5 % at 68 °F, 3k3 Ω, 漢 🚂"},
		{"\x1b[31m", `\x1b[31m`},
		{"\u009b2J", `\u009b2J`},
		{"\xff", `\xff`},
		{"a\nb\tc\rd", `a\nb\tc\rd`},
		{"\u202e", `\u202e`},
		{"\U000e0041", `\U000e0041`},
		{"\u2028", `\u2028`},
		{"⚠\ufe0f", `⚠\ufe0f`},
		{"\u3164", `\u3164`},
		{"x\U000e0101", `x\U000e0101`},
		// What is written with marks, or in parts, stays.
		{"cafe\u0301 x\u0302\u0323", "cafe\u0301 x\u0302\u0323"},
		{"รถไฟ रेल שׁ \u1112\u1161\u11ab", "รถไฟ रेल שׁ \u1112\u1161\u11ab"},
		{"a \u0301\u0301", `a \u0301\u0301`},
		{"\u202e\u0301", `\u202e\u0301`},
		{"", ""},
	} {
		if got := Safe(c.in); got != c.want {
			t.Errorf("Safe(%q) = %s, want %s", c.in, got, c.want)
		}
	}
	for _, h := range hostile {
		if err := harmless(Safe(h)); err != nil {
			t.Errorf("Safe(%q): %v", h, err)
		}
	}
}

// TestHostileNotebook puts hostile text wherever text of a stranger can stand
// and looks for anything of it in what is written.
func TestHostileNotebook(t *testing.T) {
	for _, h := range hostile {
		text := written(Options{Width: 80}, func(p *Printer) { writeHostile(t, p, h) })
		if err := harmless(text); err != nil {
			t.Errorf("%q: %v in\n%q", h, err, text)
		}
		if len(text) < 20*len(h) {
			t.Errorf("%q: hardly anything was written: %q", h, text)
		}
		coloured := written(Options{Width: 80, Colour: true}, func(p *Printer) { writeHostile(t, p, h) })
		if err := harmless(sgr.ReplaceAllString(coloured, "")); err != nil {
			t.Errorf("%q, coloured: %v", h, err)
		}
	}
}

func writeHostile(t *testing.T, p *Printer, h string) {
	of := &types.Table{Name: h, Labels: []string{h, "x" + h}}
	text := &answer.Value{Type: types.Type{Kind: types.Text}, Texts: []string{h}}
	typed := quantity(t, 1, "V")
	typed.Literal, typed.Tol = answer.Typed{Number: h}, answer.Typed{Number: h}
	col := column(t, of, "V", 1, 2)
	col.Faults = []string{h, ""}
	line := &syntax.Line{Row: 1, Raw: "x = 1 # " + h + "\n" + h, Note: h}
	rule := answer.Judged{Cond: expr(h), Else: h, Verdict: answer.Danger, Fails: []string{h}, Compared: &answer.Compared{Left: typed, Sign: "<", Right: typed, Row: h}}
	unjudged := answer.Judged{Cond: expr(h), Verdict: answer.NoVerdict, Why: h}
	card := &answer.Card{
		Name: h, Sheet: h, About: h, Own: true,
		Asks: []answer.CardLine{
			{Name: h, Meaning: h, Value: text, From: expr(h), Range: &answer.Range{Range: syntax.Range{From: expr(h).Expr, To: expr(h).Expr}}, Outside: true},
			{Name: h, Meaning: h, Columns: []answer.CardLine{{Name: h, Value: col}}},
		},
		Gives: []answer.CardLine{{Name: h, Meaning: h, Why: h}, {Name: h, Value: col}, {Name: h, Value: typed}},
		Rules: []answer.Judged{rule, unjudged}, Hazards: []string{h}, Sources: []string{h},
	}
	diag := syntax.Diag{At: syntax.Pos{Row: 1, Col: 12}, Wrong: words.Wrong{Message: h, Cure: h}, Other: syntax.Pos{Row: 1, Col: 1}, OtherIn: h}
	said := &calc.Answer{Line: line, Name: h, Value: text, Rule: &rule, Cards: []*answer.Card{card}, Columns: []answer.CardLine{{Name: h, Value: col}}, Errors: []syntax.Diag{diag}}
	p.Line(line)
	p.Answer(said, CardForm{})
	p.Answer(said, CardForm{Length: Whole})
	p.Answer(&calc.Answer{Line: line, Waiting: []string{h}}, CardForm{})
	p.Diags(h, line, []syntax.Diag{diag})
	p.Verdicts(h, outline.Count(slices.All([]*calc.Answer{said, {Line: line, Waiting: []string{h}}})))
	outline.Of(h, []*calc.Answer{said}, false).Write(p.Notebook(p))
	outline.Of(h, []*calc.Answer{said}, false).Write(p.Called(p, true))
	p.Table([]string{"", h}, [][]string{{h, h}}, "")
	p.Say("%s", h)
	p.Heading("%s", h)
	p.Change(answer.Change{
		Deltas: []answer.Delta{answer.NewDelta(h, 0, answer.Pair{text, typed}, 0)},
		Turns:  []answer.Turn{{Name: h, Cond: expr(h)}},
		Moved:  []answer.Rebound{{Line: 0, Now: 0}},
	}, []*syntax.Line{line})
	io.WriteString(p, SafeRows(h)+"\n")
}

// FuzzSafe: whatever goes in, nothing that acts comes out.
func FuzzSafe(f *testing.F) {
	for _, h := range hostile {
		f.Add(h)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if err := harmless(Safe(s)); err != nil {
			t.Fatal(err)
		}
		if strings.Count(SafeRows(s), "\n") != strings.Count(s, "\n") {
			t.Fatal("rows lost or gained")
		}
	})
}
