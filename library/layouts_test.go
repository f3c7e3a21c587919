package library

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// The demo layouts: no line in error, and the verdicts they were written for.
func TestLayouts(t *testing.T) {
	for _, c := range []struct {
		file    string
		rows    int // at least
		verdict answer.Verdict
		fails   []string // rules that do not hold, with the rows they fail in
	}{
		{"gannet_bay.sums", 60, answer.Danger, []string{"bus: fault >= trip * margin: lighthouse branch"}},
		{"mill_lane.sums", 30, answer.Clear, nil},
		{"club.sums", 20, answer.Clear, nil},
		{"saltby_yard.sums", 15, answer.Caution, []string{": bus.share <= 2 %: fish dock"}},
		{"brindle_end.sums", 90, answer.Caution, []string{"platform: joint >= fouling + overhang"}},
		{"damson_bank.sums", 90, answer.Caution, []string{
			"pack: time >= session: yard engine",
		}},
		{"marrowby.sums", 150, answer.Danger, []string{
			"vale: share <= allowed",
			"tube: blows <= 1.45 * lasting: street lamps",
		}},
	} {
		b, text := layout(t, c.file)
		rows := 0
		var fails []string
		judge := func(place string, r answer.Judged) {
			if r.Verdict != answer.Clear {
				fail := place + ": " + r.Cond.String()
				for _, label := range r.Fails {
					fail += ": " + label
				}
				fails = append(fails, fail)
			}
		}
		for i, line := range b.Lines() {
			rows += line.Rows()
			a := b.Answer(i)
			if a.Rule != nil {
				judge("", *a.Rule)
			}
			for _, card := range a.Cards {
				for _, r := range card.Rules {
					judge(card.Name, r)
				}
			}
			if len(a.Waiting) > 0 {
				t.Errorf("%s: %s waits for %v", c.file, line.Raw, a.Waiting)
			}
		}
		if rows < c.rows || b.Verdict() != c.verdict || !slices.Equal(fails, c.fails) {
			t.Errorf("%s: %d rows, verdict %v, not clear: %q", c.file, rows, b.Verdict(), fails)
		}
		if tidy := string(syntax.Format(syntax.ParseFile(text))); tidy != string(text) {
			t.Errorf("%s is not in canonical form; it would be\n%s", c.file, tidy)
		}
	}
}

// layout opens a demo layout where it lies, so that it finds the sheets beside it.
func layout(t *testing.T, file string) (*calc.Book, []byte) {
	t.Helper()
	text, err := os.ReadFile(layouts + file)
	if err != nil {
		t.Fatal(err)
	}
	f := syntax.ParseFile(text)
	b := calc.Open(f.Lines, At(layouts))
	for i, line := range f.Lines {
		for _, d := range b.Answer(i).Errors {
			t.Errorf("%s: %s\n%v", file, line.Raw, d)
		}
	}
	return b, text
}

const layouts = "../testdata/layouts/"

// The layouts together put most of the library to work, and two of them stand
// on the sheet of the house.
func TestLayoutsUseTheLibrary(t *testing.T) {
	shipped, house := map[string]bool{}, 0
	for _, file := range []string{"brindle_end.sums", "damson_bank.sums", "marrowby.sums"} {
		b, _ := layout(t, file)
		for _, line := range b.Lines() {
			switch use, _ := line.Node.(*syntax.Use); {
			case use == nil:
			case use.Own && use.Sheet == "club.sums":
				house++
			default:
				shipped[use.Sheet] = true
			}
		}
	}
	if len(shipped) < 43 || house != 2 {
		t.Errorf("%d shipped sheets in use, and the sheet of the house in %d layouts", len(shipped), house)
	}
}

// The questions of the club layout: each kind of study is put at least once, and
// the answers are those that its story turns on. The numbers are sums by hand:
// 14.5 m of 2.5 mm2, 1.16 over copper at 30 degC, have 241.1 mohm, six joints of
// 8 mohm 48 mohm more, so 2.95 A lose 853 mV; 5 % of 15 V leave 206.2 mohm for the
// wire, which is 12.40 m of it.
func TestLayoutStudies(t *testing.T) {
	b, _ := layout(t, "marrowby.sums")
	var asked []string
	for i, line := range b.Lines() {
		a, diags, err := b.Study(t.Context(), i)
		if err != nil || len(diags) > 0 {
			t.Errorf("%s: %v %v", line.Raw, diags, err)
		}
		if a == nil {
			continue
		}
		said := ""
		switch s := a.(type) {
		case *answer.Measured:
			said = fmt.Sprintf("measured %.3f V, inside %v", s.Sum.Numbers[0], s.Inside)
		case *answer.Working:
			said = fmt.Sprintf("working %s = %s", s.Steps[0].Name, s.Steps[0].Formula)
		case answer.Spreads:
			said = fmt.Sprintf("spread, most by %s and %s", s[0].Parts[0].Name, s[1].Parts[0].Name)
		case *answer.Found:
			said = "find " + s.Label
			if len(s.Places) == 1 && s.Chosen == nil {
				said = fmt.Sprintf("find up to %.2f m", s.Places[0].To.Numbers[0])
			}
		case *answer.Varied:
			said = fmt.Sprintf("vary %d rows", s.Rows)
			if len(s.Turns) == 1 {
				said += ", turns " + s.Turns[0].Cond.String()
			}
		case *answer.Agreement:
			said = fmt.Sprintf("agree for edition %d", s.Edition)
		case *answer.Case:
			said = "case " + s.Name
		case *answer.Needed:
			said = fmt.Sprintf("part %s of %v from %s", s.What, s.Of, s.From)
		case *answer.Supposed:
			said = fmt.Sprintf("suppose %.2f A", s.Lines[0].Then.Numbers[0])
		}
		asked = append(asked, said)
	}
	want := []string{
		"measured 0.853 V, inside false",
		"working vale.lost = load * resistance",
		"spread, most by vale.length and club.track",
		"find up to 12.40 m",
		"find thick",
		"vary 8 rows, turns share <= allowed",
		"vary 12 rows",
		"case open_day",
		"suppose 4.43 A",
		"working vale_room.share = spare / rating",
		"agree for edition 1",
		"part wire of [vale ground] from shopping",
	}
	if !slices.Equal(asked, want) {
		t.Errorf("the studies say %q\nwant %q", asked, want)
	}
}
