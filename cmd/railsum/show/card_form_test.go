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
	got := shown(func(p *Printer) { p.Card(card, CardForm{Length: Whole}) })
	if want := first + " r15 r16 r20 r25 r30 r38 r39 r40 20 "; !strings.Contains(got, want) {
		t.Errorf("got %s, want in it %s", got, want)
	}
	got = shown(func(p *Printer) { p.Card(card, CardForm{}) })
	if want := "x r2 r15 r16 r20 r25 r30 and"; !strings.Contains(got, want) {
		t.Errorf("got %s, want in it %s", got, want)
	}
	if got := written(Options{}, func(p *Printer) { p.Card(card, CardForm{}) }); !strings.Contains(got, "and 34 more rows, of which 2 fail\n") {
		t.Errorf("what is left out is not told:\n%s", got)
	}
	v.Faults = make([]string, 40)
	v.Faults[19] = "a division by nothing"
	if got, want := shown(func(p *Printer) { p.Column(v, "") }), first+" r20: r38: r39: r40: 24"; strings.ReplaceAll(got, ":", "") != strings.ReplaceAll(want, ":", "") {
		t.Errorf("got %s, want %s", got, want)
	}
}

// defaultCard has nothing of the user's own, and a sheet within the sheet.
func defaultCard(t testing.TB) *answer.Card {
	c := &answer.Card{Name: "north", Sheet: "drop", Verdict: answer.Clear, Hazards: []string{"It burns by itself: mend it. Local codes come first."}, Sources: []string{"a book"}}
	for _, name := range []string{"a", "b", "c"} {
		c.Asks = append(c.Asks, answer.CardLine{Name: name, Meaning: "length of " + name, Value: quantity(t, 1, "m"), State: answer.Default, Granted: name == "c"})
	}
	c.Rules = []answer.Judged{
		{Must: true, Cond: expr("p > 0"), Verdict: answer.Clear, Piece: "run"},
		{Must: true, Cond: expr("a > 0 m"), Holds: "it reaches", Verdict: answer.Clear, Compared: compared(t, "1 m > 0 m"), Nominal: true},
	}
	c.Count()
	return c
}

// troubled is the same with one of everything that a card has to tell first.
func troubled(t testing.TB) *answer.Card {
	c := defaultCard(t)
	c.Verdict = answer.Danger
	c.Asks[0].State = answer.Set
	c.Rules = append(c.Rules,
		answer.Judged{Cond: expr("q > 0"), Verdict: answer.Caution, Piece: "run", Else: "it is too small", Cure: "mend it", Compared: compared(t, "-1 m > 0 m")},
		answer.Judged{Must: true, Cond: expr("y > 0"), Verdict: answer.NoVerdict, Holds: "it turns", Why: "y is not defined"},
		answer.Judged{Must: true, Cond: expr("a < b"), Verdict: answer.Danger, Else: "it is too long", Cure: "cut it", Rests: []string{"b"}, Compared: compared(t, "1 m < 1 m")})
	c.Gives = []answer.CardLine{{Name: "x", Meaning: "first", Value: quantity(t, 2, "m")}, {Name: "long_name", Meaning: "second", Value: quantity(t, 21.5, "mm")}}
	c.Count()
	return c
}

func TestCardForms(t *testing.T) {
	const screen = `drop for north: danger, on the sheet's own b, 1 m
  danger      it is too long: 1 m is not less than 1 m
              cut it
  no verdict  not known whether it turns: y is not defined
  caution     it is too small: -1 m is not more than 0 m
              mend it

  x          2 m      first
  long_name  21.5 mm  second
  2 checks hold; it reaches: 1 m against 0 m

  yours    a 1 m
  default  b 1 m
  granted  c 1 m
  It burns by itself: mend it. Local codes come first.
  list north whole
`
	for _, c := range []struct {
		name string
		card *answer.Card
		form CardForm
		want string
	}{
		{"a screen", troubled(t), CardForm{More: "list north whole"}, screen},
		{"the title", troubled(t), CardForm{Length: Title, Row: 7}, "line 7, drop for north: danger, on the sheet's own b, 1 m\n"},
		{"briefly", troubled(t), CardForm{Length: Brief}, `drop for north: danger, on the sheet's own b, 1 m
  danger      it is too long: 1 m is not less than 1 m
  no verdict  not known whether it turns: y is not defined
  caution     it is too small: -1 m is not more than 0 m
  x          2 m      first
  long_name  21.5 mm  second
`},
		{"nothing of the user's own", defaultCard(t), CardForm{}, `drop for north: clear, on defaults alone
  2 checks hold; it reaches: 1 m against 0 m

  default  a 1 m, b 1 m
  granted  c 1 m
  It burns by itself: mend it. Local codes come first.
`},
		{"the whole", defaultCard(t), CardForm{Length: Whole}, `drop for north: clear, on defaults alone
checks
  clear, must a > 0 m: 1 m against 0 m; it reaches; judged at nominal values
    only
  clear, run, must p > 0
still the default
  a  1 m  length of a
  b  1 m  length of b
taken for granted
  c  1 m  length of c
hazards
  It burns by itself: mend it. Local codes come first.
sources
  a book
`},
	} {
		got := written(Options{Width: 80}, func(p *Printer) { p.AtMargin().Card(c.card, c.form) })
		if got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
	asked := troubled(t)
	asked.Show = []string{"long_name"}
	got := written(Options{Width: 80}, func(p *Printer) { p.AtMargin().Card(asked, CardForm{}) })
	if want := strings.Join(strings.Split(screen, "\n")[:6], "\n") + "\n  long_name  21.5 mm  second\n"; got != want {
		t.Errorf("an answer asked for alone: got\n%s\nwant\n%s", got, want)
	}
}

// TestCardGivesWay: what gives way first is what can best be missed, and a screen
// holds the rest.
func TestCardGivesWay(t *testing.T) {
	c := troubled(t)
	for i := range 14 {
		c.Gives = append(c.Gives, answer.CardLine{Name: fmt.Sprintf("g%d", i), Meaning: strings.Repeat("long meaning ", 9), Value: quantity(t, 1, "m")})
		c.Asks = append(c.Asks, answer.CardLine{Name: fmt.Sprintf("input_%d", i), Value: quantity(t, 1, "m"), State: answer.State(1 + i%2), Granted: i%4 == 1})
		c.Hazards = append(c.Hazards, fmt.Sprintf("The part %d burns fingers: let it cool. Local codes come first.", i))
	}
	rows := strings.Split(written(Options{Width: 80}, func(p *Printer) { p.AtMargin().Card(c, CardForm{}) }), "\n")
	text := strings.Join(rows, "\n")
	for _, want := range []string{"danger", "caution", "no verdict", "cut it", "x          2 m", "more: ", "yours    a 1 m, ", "part 13 burns"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q on\n%s", want, text)
		}
	}
	if strings.Contains(text, "let it cool") || strings.Count(text, "Local codes") != 1 {
		t.Errorf("hazards are not in their short form:\n%s", text)
	}
}

// TestFiguresTellSidesApart: what is compared is never shown as the same where it
// is not.
func TestFiguresTellSidesApart(t *testing.T) {
	c := compared(t, "4.5 A >= 4.50004 A")
	if got, want := New(nil, Options{}).compared(c, false), "4.5 A is less than 4.50004 A"; got != want {
		t.Errorf("got %s, want %s", got, want)
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
	got := written(Options{Width: 80}, func(p *Printer) { p.Card(card, CardForm{}) })
	want := `
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
