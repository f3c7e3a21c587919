package study_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/study"
	"railsum/calc/syntax"
	"railsum/calc/view"
	"railsum/units"
	"railsum/units/words"
)

// bare is a library of nothing.
type bare struct{}

func (bare) Sheet(name string, _ bool) (*check.Sheet, error) {
	return nil, fmt.Errorf("there is no sheet %s", name)
}
func (bare) Table(string) *check.Table                       { return nil }
func (bare) SheetNames() []string                            { return nil }
func (bare) TableNames() []string                            { return nil }
func (bare) TableFile(string) (*syntax.Table, []words.Wrong) { return nil, nil }
func (bare) Numbers(_, _ string) []float64                   { return nil }
func (bare) Texts(_, _ string) []string                      { return nil }
func (bare) Published(string) (string, error)                { return "", nil }

// asked answers the last line of a notebook that is written on one line, " ; "
// between its rows: the facts of the answer, and what is wrong with the line.
func asked(t *testing.T, text string) string {
	t.Helper()
	lines := syntax.ParseFile([]byte(strings.ReplaceAll(text, " ; ", "\n") + "\n")).Lines
	c := check.Check(lines, bare{})
	m := run.New(bare{})
	m.Load(c)
	m.Compute(0)
	last := len(lines) - 1
	for i, l := range lines {
		if diags, _ := c.Said(i); len(l.Errors)+len(diags) > 0 {
			t.Errorf("%q: line %d: %v %v", text, i+1, l.Errors, diags)
			return ""
		}
	}
	lab := &study.Lab{View: view.View{C: c, M: m}}
	a := lab.Ask(context.Background(), c.Studies[last])
	c.Studies[last].Node.Visit(questions{a})
	got, diags, err := a.Answer()
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	var all []string
	if got != nil {
		for f := range got.Facts() {
			all = append(all, fact(f))
		}
	}
	for _, d := range diags {
		all = append(all, fmt.Sprintf("at %d: %s", d.At.Col, d.Message))
	}
	return strings.Join(all, "; ")
}

// questions are the studies that a Lab answers by itself.
type questions struct{ *study.Asking }

func (questions) Working(*syntax.Working) {}

func fact(f answer.Fact) string {
	said := []string{f.Name, f.Label}
	if f.Value != nil {
		v := f.Value
		for i := range v.Rows() {
			switch {
			case v.Fault(i) != "":
				said = append(said, v.Fault(i))
			case v.Texts != nil:
				said = append(said, v.Texts[i])
			default:
				said = append(said, units.Format(v.InUnit(i)), v.Unit.String())
			}
		}
	}
	return strings.Join(strings.Fields(strings.Join(append(said, f.Text, f.Remark), " ")), " ")
}

// Small notebooks whose last line is a study, with the facts of its answer. The
// numbers are schoolbook algebra: roots by the quadratic formula, differences by
// hand, a root sum square of two parts as in the guide to the expression of
// uncertainty.
var studied = []struct{ text, want string }{
	{`x = 1 ; find x from 0 to 10 so x^2 = 9`, `x at 3 x^2 = 9; x take x = 3`},
	{`x = 1 ; find x from -10 to 10 so x^2 - x - 6 = 0`, `x at -2 x^2 - x - 6 = 0; x at 3 x^2 - x - 6 = 0`},
	{`x = 1 ; find x so x^2 = 2`, `x at -1.414 x^2 = 2; x at 1.414 x^2 = 2`},
	{`x = 1 ; find x from 0 to 10 so x^2 = 200`, `x none x^2 = 200; x nearest 10 x^2 = 200`},
	{`x = 1 ; find x from 0 to 10 so x^2 <= 25`, `x from 0 x^2 <= 25; x to 5 x^2 <= 25; x take x = 5`},
	{`x = 1 ; find x from -5 to 5 so (x - 1)^2 = 0`, `x at 1 (x - 1)^2 = 0; x take x = 1`},
	{
		`x = 1 ; find x from 0 to 5 so 1 / (x - 2) >= 0`,
		`x from, itself left out 2 1 / (x - 2) >= 0; x to 5 1 / (x - 2) >= 0; x take x = 2.001`,
	},
	{`x = 1 ; find x from 5 to 0 so x = 1`, `at 13: the range is reversed`},
	{`r = 1 ohm ; find r among 1 ohm, 2 ohm, 4 ohm so 12 V / r <= 4 A`, `r at 4 ohm; r take r = 4 ohm`},
	{
		`r = 1 ohm ; find r among 1 ohm, 2 ohm so 12 V / r <= 4 A`,
		`r none 12 V / r <= 4 A; r nearest 2 ohm 12 V / r <= 4 A`,
	},
	{
		`t = 20 degC ; find t from 0 degC to 100 degC so t >= 50 degC`,
		`t from 50 degC t >= 50 degC; t to 100 degC t >= 50 degC; t take t = 50 degC`,
	},
	{`x = 1 ; y = 2 * x ; suppose x = 3 show y`, `y now 2; y supposed 6; y change 4 +200 %`},
	{
		`x = 1 ; y = 2 * x ; must y < 5 ; suppose x = 3 show y`,
		`y now 2; y supposed 6; y change 4 +200 %; clear danger y < 5`,
	},
	{
		`x = 1 V ; y = 1 A ; suppose x = 3 V, y = 2 A show x * y`,
		`x * y now 1 W; x * y supposed 6 W; x * y change 5 W +500 %`,
	},
	{`t = 20 degC ; suppose t = 25 degC show t`, `t now 20 degC; t supposed 25 degC; t change 5 K`},
	{`x = 0 ; y = 2 * x ; suppose x = 3 show y`, `y now 0; y supposed 6; y change 6`},
	{`x = 2 ; suppose x = 0 show 1 / x`, `1 / x now 0.5; 1 / x supposed a division by nothing`},
	{
		`a = 10 V +- 10 % ; b = 5 ohm ; spread a / b`,
		`a / b nominal 2 A; a / b lowest 1.8 A; a / b highest 2.2 A; a / b root sum square 200 mA; a / b low 95 1.81 A even within each tolerance; a / b high 95 2.19 A even within each tolerance; a / b part 200 mA a +- 10 %`,
	},
	{`a = 3 m ; spread a * 2`, `a * 2 nominal 6 m`},
	{
		`a = 1 m +- 3 cm ; b = 1 m +- 4 cm ; spread a + b`,
		`a + b nominal 2 m; a + b lowest 1.93 m; a + b highest 2.07 m; a + b root sum square 50 mm; a + b low 95 1.946 m even within each tolerance; a + b high 95 2.055 m even within each tolerance; a + b part 40 mm b +- 4 cm; a + b part 30 mm a +- 3 cm`,
	},
	{
		`a = 1 ohm +- 1 % ; b = a ; spread a - b`,
		`a - b nominal 0 ohm; a - b lowest 0 ohm; a - b highest 0 ohm; a - b root sum square 0 ohm; a - b low 95 0 ohm even within each tolerance; a - b high 95 0 ohm even within each tolerance; a - b part 0 ohm a +- 1 %`,
	},
	{`x = 1 ; y = x^2 ; vary x from 1 to 3 by 1 show y`, `y x = 1 1; y x = 2 4; y x = 3 9`},
	{
		`x = 1 ; vary x among 2, 0, 4 show 1 / x`,
		`1 / x x = 2 0.5; 1 / x x = 0 a division by nothing; 1 / x x = 4 0.25`,
	},
	{
		`x = 1 ; y = 2 * x ; must y <= 5 ; vary x from 1 to 4 by 1 show y`,
		`y x = 1 2; y x = 2 4; y x = 3 6; y x = 4 8; x = 3 danger y <= 5`,
	},
	{`x = 1 ; vary x from 1 to 3 by -1 show x`, `at 23: the step goes backwards`},
	{
		`x = 1 ; z = 1 ; vary x among 1, 2 and z among 3, 4 show x * z`,
		`x * z x = 1, z = 3 3; x * z x = 1, z = 4 4; x * z x = 2, z = 3 6; x * z x = 2, z = 4 8`,
	},
	{
		`a = 12 V +- 5 % ; r = 6 ohm ; i = a / r ; measured i = 1.9 A`,
		`i sum 2 A; i meter 1.9 A; i difference -100 mA -5 %; i inside; a explains 11.4 V; r explains 6.316 ohm`,
	},
	{
		`a = 12 V +- 5 % ; r = 6 ohm ; i = a / r ; measured i = 3 A`,
		`i sum 2 A; i meter 3 A; i difference 1 A +50 %; i outside; a explains 18 V; r explains 4 ohm`,
	},
	{
		`a = 12 V +- 5 % ; r = 6 ohm +- 10 % ; i = a / r ; measured i = 1.9 A +- 0.01 A`,
		`i sum 2 A; i meter 1.9 A; i difference -100 mA -5 %; i inside; r explains 6.316 ohm within its tolerance; a explains 11.4 V`,
	},
}

func TestStudies(t *testing.T) {
	for _, c := range studied {
		if got := asked(t, c.text); got != c.want {
			t.Errorf("%s\n  gives %s\n  want  %s", c.text, got, c.want)
		}
	}
}
