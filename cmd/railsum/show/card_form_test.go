package show

import (
	"fmt"
	"strings"
	"testing"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units/words"
)

// rowsOf40 is a column of forty rows, r1 to r40.
func rowsOf40(t testing.TB) *answer.Value {
	of := &types.Table{Name: "long"}
	var xs []float64
	for i := range 40 {
		of.Labels = append(of.Labels, fmt.Sprintf("r%d", i+1))
		xs = append(xs, float64(i+1))
	}
	return column(t, of, "V", xs...)
}

// TestLongColumns: the beginning, the end and what fails are shown, and how much
// is not.
func TestLongColumns(t *testing.T) {
	v := rowsOf40(t)
	shown := func(write func(p *Printer)) string {
		var labels []string
		for _, row := range strings.Split(written(Options{Width: 80}, write), "\n") {
			if word := strings.Fields(row); len(word) > 0 {
				labels = append(labels, word[0])
			}
		}
		return strings.Join(labels, " ")
	}
	first := "r1 r2 r3 r4 r5 r6 r7 r8 r9 r10 r11 r12"
	if got, want := shown(func(p *Printer) { p.Column(v, "") }), first+" r38 r39 r40 25"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	fails := []string{"r2", "r15", "r16", "r20", "r25", "r30", "r31", "r40"}
	card := &answer.Card{
		Gives: []answer.CardLine{{Name: "x", Value: v}},
		Rules: []answer.Judged{{Cond: expr("x < 1 V"), Verdict: answer.Caution, Fails: fails, Rows: 40}},
	}
	got := shown(func(p *Printer) { p.Card(card) })
	if want := first + " r15 r16 r20 r25 r30 r38 r39 r40 20 "; !strings.Contains(got, want) {
		t.Errorf("got %s, want in it %s", got, want)
	}
	v.Faults = make([]string, 40)
	v.Faults[19] = "a division by nothing"
	if got, want := shown(func(p *Printer) { p.Column(v, "") }), first+" r20: r38: r39: r40: 24"; strings.ReplaceAll(got, ":", "") != strings.ReplaceAll(want, ":", "") {
		t.Errorf("got %s, want %s", got, want)
	}
}

// defaultCard has nothing of the user's own, and a sheet within the sheet.
func defaultCard(t testing.TB) *answer.Card {
	c := &answer.Card{Name: "north", Sheet: "drop", Verdict: answer.Clear, Hazards: []string{"hot"}, Sources: []string{"a book"}}
	for _, name := range []string{"a", "b", "c"} {
		c.Asks = append(c.Asks, answer.CardLine{Name: name, Meaning: "of " + name, Value: quantity(t, 1, "m"), State: answer.Default})
	}
	c.Rules = []answer.Judged{
		{Must: true, Cond: expr("p > 0"), Verdict: answer.Clear, Piece: "run"},
		{Must: true, Cond: expr("q > 0"), Verdict: answer.Caution, Piece: "run", Meaning: "mend it"},
		{Must: true, Cond: expr("a > 0 m"), Verdict: answer.Clear, Compared: compared(t, "1 m > 0 m"), Nominal: true},
		{Must: true, Cond: expr("z > 0"), Verdict: answer.NoVerdict, Meaning: "never read", Why: "z is not defined", Follows: true},
	}
	c.Count()
	return c
}

func TestCardForms(t *testing.T) {
	for _, c := range []struct {
		name string
		form CardForm
		want string
	}{
		{"trimmed", CardForm{Trimmed: true}, `    drop for north: clear, on the sheet's own defaults alone
    asks, 3 of 3 not yet yours
      at the sheet's defaults: a = 1 m, b = 1 m, c = 1 m
    checks
      clear, must a > 0 m: 1 m > 0 m; judged without the tolerances
      no verdict, must z > 0: z is not defined
      mend it: caution, run, must q > 0
      and 1 check of its pieces, clear
    hazards
      hot
    sources
      a book
`},
		{"in a notebook", CardForm{Trimmed: true, Bare: true}, `    drop for north: clear, on the sheet's own defaults alone
    asks, 3 of 3 not yet yours
      at the sheet's defaults: a = 1 m, b = 1 m, c = 1 m
    checks
      clear, must a > 0 m: 1 m > 0 m
      no verdict, must z > 0: z is not defined
      mend it: caution, run, must q > 0
      and 1 check of its pieces, clear
`},
		{"short", CardForm{Short: true}, `    drop for north: clear, on the sheet's own defaults alone
    asks, 3 of 3 not yet yours
    checks
      no verdict, must z > 0: z is not defined
      mend it: caution, run, must q > 0
      and 1 check and 1 of its pieces, clear
`},
	} {
		got := written(Options{Width: 80}, func(p *Printer) { p.CardAs(defaultCard(t), c.form) })
		if got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// TestLongCardEndsWithItsVerdict: what scrolls away is said again.
func TestLongCardEndsWithItsVerdict(t *testing.T) {
	card := defaultCard(t)
	title := "    drop for north: clear, on the sheet's own defaults alone\n"
	short := written(Options{Width: 80}, func(p *Printer) { p.CardAs(card, CardForm{End: true}) })
	if n := strings.Count(short, title); n != 1 {
		t.Errorf("a short card has its title %d times", n)
	}
	card.Gives = []answer.CardLine{{Name: "x", Value: rowsOf40(t)}}
	long := written(Options{Width: 80}, func(p *Printer) { p.CardAs(card, CardForm{End: true}) })
	if !strings.HasPrefix(long, title) || !strings.HasSuffix(long, title) {
		t.Errorf("the title does not stand at both ends:\n%s", long)
	}
	card.Asks[1].State = answer.Set
	card.Count()
	if got := New(nil, Options{}).CardTitle(card); got != "drop for north: clear" {
		t.Errorf("with an input set: %s", got)
	}
}

// TestColumnsAbreast: columns of one table stand side by side, those of another
// apart.
func TestColumnsAbreast(t *testing.T) {
	other := &types.Table{Name: "other", Labels: []string{"one", "two"}}
	card := &answer.Card{Gives: []answer.CardLine{
		{Name: "x", Meaning: "this", Value: column(t, fleet, "V", 1, 2)},
		{Name: "y", Meaning: "that", Value: column(t, fleet, "A", 3, 4)},
		{Name: "z", Value: column(t, other, "A", 5, 6)},
	}}
	got := written(Options{Width: 80}, func(p *Printer) { p.CardAs(card, CardForm{Trimmed: true}) })
	want := `      this: x
      that: y
                       x     y
        dock shunter   1 V   3 A
        railcar        2 V   4 A
      z
        one   5 A
        two   6 A
`
	if !strings.HasSuffix(got, want) {
		t.Errorf("got\n%s\nwant at its end\n%s", got, want)
	}
}

// TestLongMessages: nothing is wider than the window, the row of text is cut
// between words, and a colour ends in its own row.
func TestLongMessages(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("word after word ", 20))
	got := written(Options{Width: 80, Colour: true}, func(p *Printer) {
		p.Say("%s", long)
		p.Hanging("  " + long)
		p.Text(long + "\n\n" + long)
		p.Entry("form", long, 20)
		p.Diags("f.sums", &syntax.Line{Row: 1, Raw: "x = " + strings.ReplaceAll(long, " ", " + ")}, []syntax.Diag{{At: syntax.Pos{Row: 1, Col: 120}, Wrong: words.Wrong{Message: long, Cure: long}}})
		p.Diags("f.sums", nil, []syntax.Diag{{Wrong: words.Wrong{Message: long, Cure: long}}})
	})
	for _, row := range strings.Split(got, "\n") {
		if width(row) > 80 {
			t.Errorf("%d columns: %q", width(row), row)
		}
		if strings.Count(row, "\x1b[")%2 != 0 {
			t.Errorf("a colour runs over its row: %q", row)
		}
		for _, part := range strings.Fields(strings.ToLower(sgr.ReplaceAllString(row, ""))) {
			part = strings.Trim(part, ".:^")
			if part != "" && part != "word" && part != "after" && strings.Contains("word after", part) {
				t.Errorf("a word is broken: %q in %q", part, row)
			}
		}
	}
}
