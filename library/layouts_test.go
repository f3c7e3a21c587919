package library

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
)

// The demo layouts: no line in error, and the verdicts they were written for.
func TestLayouts(t *testing.T) {
	for _, c := range []struct {
		file    string
		rows    int // at least
		verdict calc.Verdict
		fails   []string // rules that do not hold, with the rows they fail in
	}{
		{"gannet_bay.sums", 60, calc.Danger, []string{"bus: fault >= trip * margin: lighthouse branch"}},
		{"mill_lane.sums", 30, calc.Clear, nil},
		{"club.sums", 20, calc.Clear, nil},
		{"brindle_end.sums", 90, calc.Caution, []string{"platform: joint >= fouling"}},
		{"damson_bank.sums", 90, calc.Caution, []string{
			"pack: time >= session: yard engine",
		}},
		{"marrowby.sums", 150, calc.Danger, []string{
			"vale: share <= allowed",
			"tube: blows <= 1.45 * lasting: street lamps",
		}},
	} {
		b, text := layout(t, c.file)
		rows := 0
		var fails []string
		judge := func(place string, r calc.Judged) {
			if r.Verdict != calc.Clear {
				fail := place + ": " + r.Text
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
		switch {
		case a.Measured != nil:
			said = fmt.Sprintf("measured %.3f V, inside %v", a.Measured.Sum.Numbers[0], a.Measured.Inside)
		case a.Working != nil:
			said = fmt.Sprintf("working %s = %s", a.Working.Steps[0].Name, a.Working.Steps[0].Formula)
		case len(a.Spread) == 2 && len(a.Spread[0].Parts) > 0 && len(a.Spread[1].Parts) > 0:
			said = fmt.Sprintf("spread, most by %s and %s", a.Spread[0].Parts[0].Name, a.Spread[1].Parts[0].Name)
		case a.Find != nil && a.Find.Chosen != nil:
			said = "find " + a.Find.Label
		case a.Find != nil && len(a.Find.Places) == 1:
			said = fmt.Sprintf("find up to %.2f m", a.Find.Places[0].To.Numbers[0])
		case a.Vary != nil && len(a.Vary.Turns) == 1:
			said = fmt.Sprintf("vary %d rows, turns %s", a.Vary.Rows, a.Vary.Turns[0].Rule)
		case a.Vary != nil:
			said = fmt.Sprintf("vary %d rows", a.Vary.Rows)
		case a.Suppose != nil:
			said = fmt.Sprintf("suppose %.2f A", a.Suppose.Lines[0].Then.Numbers[0])
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
		"suppose 4.43 A",
		"working vale_room.share = spare / rating",
	}
	if !slices.Equal(asked, want) {
		t.Errorf("the studies say %q\nwant %q", asked, want)
	}
}
