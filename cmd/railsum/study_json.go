package main

import (
	"math"

	"railsum/calc"
	"railsum/calc/types"
	"railsum/cmd/railsum/show"
)

const studyHelp = `
A study that has been carried out has "study" with one key, named after its word.
"find": "name", "condition", "holds", "all" (everywhere it looked), "places" (each
"from" and "to", the same for one place; "jump" with the two sides "before" and
"behind", "touches", "to_start" and "to_end" of where it looked), "more", "looked"
(two values), "grown" (nobody said where to look), "poles", "nearest" ("at",
"left", "right"), "chosen" and "label" of a list of "tried" values, "now" and
"take", the line that would take the value over. "vary": "axes" and "shown", each
with "name", "kind", "unit" and "values", one for each row (null without an
answer); "rows" of the whole sweep, and "every" how many values of an axis there is
one here; "limits" and "turns" (at "row", counted from 0). "suppose": "sets", "lines" ("name", "now", "supposed",
"change", "percent"), "turns". "spread": one for each value, with "nominal",
"lowest", "highest", "root_sum_square", "low95", "high95", "samples",
"distribution", "parts", "rules" ("holds" is the share of cases), "failed",
"exact". "working": "steps" with "level", "name", "formula", "filled", "value",
"meaning", "sheet", "sources", "input", "default". "measured": "name", "sum",
"meter", "difference", "percent", "inside", "low", "high", "exact", "explains".
`

// distribution is what a spread draws its samples from.
const distribution = "even within each tolerance"

type (
	studyRecord struct {
		Find     *findRecord     `json:"find,omitempty"`
		Vary     *varyRecord     `json:"vary,omitempty"`
		Suppose  *supposeRecord  `json:"suppose,omitempty"`
		Spread   []spreadRecord  `json:"spread,omitempty"`
		Working  *workingRecord  `json:"working,omitempty"`
		Measured *measuredRecord `json:"measured,omitempty"`
	}

	findRecord struct {
		Name      string         `json:"name"`
		Condition string         `json:"condition"`
		Holds     bool           `json:"holds"`
		All       bool           `json:"all"`
		Places    []placeRecord  `json:"places"`
		More      bool           `json:"more,omitempty"`
		Looked    []*valueRecord `json:"looked,omitempty"`
		Grown     bool           `json:"grown,omitempty"`
		Poles     []*valueRecord `json:"poles,omitempty"`
		Nearest   *nearRecord    `json:"nearest,omitempty"`
		Chosen    *valueRecord   `json:"chosen,omitempty"`
		Label     string         `json:"label,omitempty"`
		Tried     int            `json:"tried,omitempty"`
		Now       *valueRecord   `json:"now,omitempty"`
		Take      string         `json:"take,omitempty"`
	}

	placeRecord struct {
		From    *valueRecord   `json:"from"`
		To      *valueRecord   `json:"to"`
		ToStart bool           `json:"to_start,omitempty"`
		ToEnd   bool           `json:"to_end,omitempty"`
		Touches bool           `json:"touches,omitempty"`
		Jump    bool           `json:"jump,omitempty"`
		Before  []*valueRecord `json:"before,omitempty"`
		Behind  []*valueRecord `json:"behind,omitempty"`
	}

	nearRecord struct {
		At    *valueRecord `json:"at"`
		Left  *valueRecord `json:"left"`
		Right *valueRecord `json:"right"`
	}

	varyRecord struct {
		Rows   int            `json:"rows"`
		Every  int            `json:"every"`
		Axes   []seriesRecord `json:"axes"`
		Shown  []seriesRecord `json:"shown"`
		Limits []limitRecord  `json:"limits,omitempty"`
		Turns  []turnAtRecord `json:"turns,omitempty"`
	}

	seriesRecord struct {
		Name   string         `json:"name"`
		Kind   string         `json:"kind"`
		Unit   string         `json:"unit,omitempty"`
		Values []any          `json:"values"`
		Faults map[int]string `json:"faults,omitempty"`
	}

	limitRecord struct {
		Shown     int          `json:"shown"` // which of shown
		Rule      string       `json:"rule"`
		Condition string       `json:"condition"`
		Value     *valueRecord `json:"value"`
	}

	turnAtRecord struct {
		Row int `json:"row"`
		turnRecord
	}

	turnRecord struct {
		Name      string `json:"name,omitempty"`
		Condition string `json:"condition"`
		Was       string `json:"was"`
		Now       string `json:"now"`
	}

	supposeRecord struct {
		Sets  []string       `json:"sets"`
		Lines []besideRecord `json:"lines"`
		Turns []turnRecord   `json:"turns"`
	}

	besideRecord struct {
		Name     string       `json:"name"`
		Now      *valueRecord `json:"now,omitempty"`
		Supposed *valueRecord `json:"supposed,omitempty"`
		Change   *valueRecord `json:"change,omitempty"`
		Percent  *float64     `json:"percent,omitempty"`
	}

	spreadRecord struct {
		Name          string             `json:"name"`
		Why           string             `json:"why,omitempty"`
		Nominal       *valueRecord       `json:"nominal,omitempty"`
		Lowest        *valueRecord       `json:"lowest,omitempty"`
		Highest       *valueRecord       `json:"highest,omitempty"`
		RootSumSquare *valueRecord       `json:"root_sum_square,omitempty"`
		Low95         *valueRecord       `json:"low95,omitempty"`
		High95        *valueRecord       `json:"high95,omitempty"`
		Samples       int                `json:"samples"`
		Distribution  string             `json:"distribution"`
		Parts         []partRecord       `json:"parts"`
		Rules         []ruleSpreadRecord `json:"rules"`
		Failed        float64            `json:"failed,omitempty"`
		Exact         bool               `json:"exact,omitempty"`
	}

	partRecord struct {
		Name      string       `json:"name"`
		Tolerance string       `json:"tolerance"`
		Moves     *valueRecord `json:"moves"`
		Share     float64      `json:"share"`
	}

	ruleSpreadRecord struct {
		Name      string  `json:"name,omitempty"`
		Rule      string  `json:"rule"`
		Condition string  `json:"condition"`
		Holds     float64 `json:"holds"`
	}

	workingRecord struct {
		Steps []stepRecord `json:"steps"`
	}

	stepRecord struct {
		Level   int          `json:"level"`
		Name    string       `json:"name"`
		Formula string       `json:"formula,omitempty"`
		Filled  string       `json:"filled,omitempty"`
		Row     string       `json:"row,omitempty"`
		Value   *valueRecord `json:"value,omitempty"`
		Meaning string       `json:"meaning,omitempty"`
		Sheet   string       `json:"sheet,omitempty"`
		Sources []string     `json:"sources,omitempty"`
		Input   bool         `json:"input,omitempty"`
		Default bool         `json:"default,omitempty"`
	}

	measuredRecord struct {
		Name       string          `json:"name"`
		Sum        *valueRecord    `json:"sum"`
		Meter      *valueRecord    `json:"meter"`
		Difference *valueRecord    `json:"difference"`
		Percent    *float64        `json:"percent,omitempty"`
		Inside     bool            `json:"inside"`
		Low        *valueRecord    `json:"low"`
		High       *valueRecord    `json:"high"`
		Exact      bool            `json:"exact,omitempty"`
		Explains   []explainRecord `json:"explains"`
	}

	explainRecord struct {
		Name     string       `json:"name"`
		Now      *valueRecord `json:"now"`
		Wanted   *valueRecord `json:"wanted"`
		Tolerant bool         `json:"tolerant,omitempty"`
		Default  bool         `json:"default,omitempty"`
	}
)

func studyOf(s *calc.StudyAnswer) *studyRecord {
	r := &studyRecord{}
	switch {
	case s.Find != nil:
		r.Find = findOf(s.Find)
	case s.Vary != nil:
		r.Vary = varyOf(s.Vary)
	case s.Suppose != nil:
		r.Suppose = supposeOf(s.Suppose)
	case s.Working != nil:
		r.Working = workingOf(s.Working)
	case s.Measured != nil:
		r.Measured = measuredOf(s.Measured)
	}
	for _, one := range s.Spread {
		r.Spread = append(r.Spread, spreadOf(one))
	}
	return r
}

// valueOr is a value's record, nil for none.
func valueOr(v *calc.Value) *valueRecord {
	if v == nil {
		return nil
	}
	return valueOf(v)
}

func valuesOf(vs ...*calc.Value) []*valueRecord {
	var records []*valueRecord
	for _, v := range vs {
		records = append(records, valueOr(v))
	}
	return records
}

func findOf(f *calc.Found) *findRecord {
	r := &findRecord{
		Name: f.Name, Condition: f.Cond, Holds: f.Holds, All: f.All, Places: []placeRecord{}, More: f.More,
		Grown: f.Grown, Poles: valuesOf(f.Poles...), Chosen: valueOr(f.Chosen), Label: f.Label, Tried: f.Tried,
		Now: valueOr(f.Current), Take: f.TakeIt,
	}
	if f.Tried == 0 {
		r.Looked = valuesOf(f.Looked[:]...)
	}
	for i := range f.Places {
		s := &f.Places[i]
		place := placeRecord{From: valueOr(s.From), To: valueOr(s.To), ToStart: s.Up, ToEnd: s.Down, Touches: s.Touches, Jump: s.Jump}
		if s.Jump {
			place.Before, place.Behind = valuesOf(s.Before[:]...), valuesOf(s.Next[:]...)
		}
		r.Places = append(r.Places, place)
	}
	if f.Near != nil {
		r.Nearest = &nearRecord{valueOr(f.Near.X), valueOr(f.Near.Left), valueOr(f.Near.Right)}
	}
	return r
}

func varyOf(v *calc.Varied) *varyRecord {
	r := &varyRecord{Rows: v.Rows, Every: v.Every}
	for i := range v.Axes {
		r.Axes = append(r.Axes, seriesOf(&v.Axes[i]))
	}
	for i := range v.Shown {
		r.Shown = append(r.Shown, seriesOf(&v.Shown[i]))
	}
	for _, l := range v.Limits {
		r.Limits = append(r.Limits, limitRecord{l.Shown, ruleWord(l.Must), l.Rule, valueOr(l.At)})
	}
	for _, t := range v.Turns {
		r.Turns = append(r.Turns, turnAtRecord{t.Row, turnRecord{t.Name, t.Rule, t.Was.String(), t.Now.String()}})
	}
	return r
}

func seriesOf(s *calc.Series) seriesRecord {
	r := seriesRecord{Name: s.Name, Kind: kindOf(s.Value.Type), Unit: s.Value.Unit.String(), Values: []any{}}
	for i := range show.Rows(s.Value) {
		why := show.Fault(s.Value, i)
		switch {
		case why != "":
			if r.Faults == nil {
				r.Faults = map[int]string{}
			}
			r.Faults[i] = why
			r.Values = append(r.Values, nil)
		case s.Value.Type.Kind == types.Text:
			r.Values = append(r.Values, s.Value.Texts[i])
		case s.Value.Type.Kind == types.Truth:
			r.Values = append(r.Values, s.Value.Numbers[i] != 0)
		default:
			r.Values = append(r.Values, inUnit(s.Value, i))
		}
	}
	return r
}

func ruleWord(must bool) string {
	if must {
		return "must"
	}
	return "should"
}

func supposeOf(s *calc.Supposed) *supposeRecord {
	r := &supposeRecord{Sets: s.Sets, Lines: []besideRecord{}, Turns: []turnRecord{}}
	for i := range s.Lines {
		l := &s.Lines[i]
		line := besideRecord{Name: l.Name, Now: valueOr(l.Now), Supposed: valueOr(l.Then), Change: valueOr(l.Change)}
		if l.Percent != "" {
			line.Percent = percentOf(l.Change, l.Now)
		}
		r.Lines = append(r.Lines, line)
	}
	for _, t := range s.Turns {
		r.Turns = append(r.Turns, turnRecord{t.Name, t.Text, t.Old.String(), t.New.String()})
	}
	return r
}

// percentOf is a change in per cent of what was, with all its digits.
func percentOf(change, was *calc.Value) *float64 {
	x := change.Numbers[0] / math.Abs(was.Numbers[0]) * 100
	return &x
}

func spreadOf(s *calc.Spreading) spreadRecord {
	r := spreadRecord{
		Name: s.Name, Why: s.Why, Nominal: valueOr(s.Nominal), Lowest: valueOr(s.Lowest), Highest: valueOr(s.Highest),
		RootSumSquare: valueOr(s.RSS), Low95: valueOr(s.Low95), High95: valueOr(s.High95), Samples: s.Samples,
		Distribution: distribution, Parts: []partRecord{}, Rules: []ruleSpreadRecord{}, Failed: s.Failed, Exact: s.Exact,
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		r.Parts = append(r.Parts, partRecord{p.Name, p.Tol, valueOr(p.Moves), p.Share})
	}
	for i := range s.Rules {
		rule := &s.Rules[i]
		r.Rules = append(r.Rules, ruleSpreadRecord{rule.Name, ruleWord(rule.Must), rule.Text, rule.Holds})
	}
	return r
}

func workingOf(w *calc.Working) *workingRecord {
	r := &workingRecord{Steps: []stepRecord{}}
	for i := range w.Steps {
		s := &w.Steps[i]
		r.Steps = append(r.Steps, stepRecord{
			Level: s.Level, Name: s.Name, Formula: s.Formula, Filled: s.Filled, Row: s.Row, Value: valueOr(s.Answer),
			Meaning: s.Meaning, Sheet: s.Sheet, Sources: s.Sources, Input: s.Input, Default: s.Default,
		})
	}
	return r
}

func measuredOf(m *calc.Metered) *measuredRecord {
	r := &measuredRecord{
		Name: m.Name, Sum: valueOr(m.Sum), Meter: valueOr(m.Meter), Difference: valueOr(m.Difference), Inside: m.Inside,
		Low: valueOr(m.Low), High: valueOr(m.High), Exact: m.Exact, Explains: []explainRecord{},
	}
	if m.Percent != "" {
		r.Percent = percentOf(m.Difference, m.Sum)
	}
	for i := range m.Explains {
		e := &m.Explains[i]
		r.Explains = append(r.Explains, explainRecord{e.Name, valueOr(e.Now), valueOr(e.Wanted), e.Tolerant, e.Default})
	}
	return r
}
