package show

import (
	"testing"

	"railsum/calc"
	"railsum/calc/types"
)

// TestHostileStudies puts hostile text wherever text of a stranger can stand in
// a study: names, labels, rules, units of tolerances, sheets, sources, texts,
// reasons.
func TestHostileStudies(t *testing.T) {
	for _, h := range hostile {
		for _, o := range []Options{{Width: 80}, {Width: 40}, {Width: 80, Stacked: true}, {Width: 80, Colour: true}} {
			text := written(o, func(p *Printer) {
				for _, s := range hostileStudies(t, h) {
					p.Study(s)
				}
			})
			if o.Colour {
				text = sgr.ReplaceAllString(text, "")
			}
			if err := harmless(text); err != nil {
				t.Errorf("%q, %+v: %v in\n%q", h, o, err, text)
			}
			if len(text) < 20*len(h) {
				t.Errorf("%q: hardly anything was written: %q", h, text)
			}
		}
	}
}

func hostileStudies(t *testing.T, h string) []*calc.StudyAnswer {
	v := quantity(t, 1, "V")
	toleranced := typed(quantity(t, 2, "V"), h, h)
	of := &types.Table{Name: h, Labels: []string{h, "x" + h}}
	col := column(t, of, "V", 1, 2)
	text := &calc.Value{Type: types.Type{Kind: types.Text}, Texts: []string{h}}
	texts := &calc.Value{Type: types.Type{Kind: types.Text}, Texts: []string{h, h, h}}
	three := column(t, nil, "V", 1, 2, 3)
	faulty := column(t, nil, "V", 3, 2, 1)
	faulty.Faults = []string{"", h, ""}
	axis := calc.Series{Name: h, Value: column(t, nil, "m", 1, 2, 3), Points: 3}
	one := &calc.Varied{
		Axes: []calc.Series{axis}, Rows: 3,
		Shown: []calc.Series{
			{Name: h + ": " + h, Value: three}, {Name: h + ": x", Value: three}, {Name: h, Value: faulty, Of: 1},
			{Name: h, Value: texts, Of: 2},
		},
		Limits: []calc.LimitLine{{Shown: 0, Rule: h, Must: true, At: v}, {Shown: 2, Rule: h, At: quantity(t, 100, "V")}},
		Turns:  []calc.TurnAt{{Row: 1, Rule: h, Name: h, Was: calc.Clear, Now: calc.Danger}},
	}
	nine := column(t, nil, "V", 1, 2, 3, 4, 5, 6, 7, 8, 9)
	down, across := axis, axis
	down.Value, across.Value = column(t, nil, "m", 1, 1, 1, 2, 2, 2, 3, 3, 3), column(t, nil, "m", 1, 2, 3, 1, 2, 3, 1, 2, 3)
	two := &calc.Varied{Axes: []calc.Series{down, across}, Rows: 9, Shown: []calc.Series{{Name: h, Value: nine}},
		Limits: []calc.LimitLine{{Rule: h, At: quantity(t, 5, "V")}}}
	family := *two
	family.Shown = append(family.Shown, calc.Series{Name: h, Value: nine, Of: 1})
	return []*calc.StudyAnswer{
		{Find: &calc.Found{
			Name: h, Cond: h, Holds: true, Looked: [2]*calc.Value{toleranced, v}, Current: toleranced, TakeIt: h + " = " + h,
			Places: []calc.Stretch{{From: v, To: v}, {From: v, To: v, Jump: true, Before: [2]*calc.Value{toleranced, v}, Next: [2]*calc.Value{v, v}}},
			Poles:  []*calc.Value{toleranced},
		}},
		{Find: &calc.Found{Name: h, Cond: h, Looked: [2]*calc.Value{v, v}, Current: v, Near: &calc.Nearby{X: v, Left: toleranced, Right: v}}},
		{Find: &calc.Found{Name: h, Tried: 2, Chosen: v, Label: h, Current: v}},
		{Find: &calc.Found{Name: h, Tried: 2, Current: v}},
		{Vary: one}, {Vary: two}, {Vary: &family},
		{Suppose: &calc.Supposed{
			Sets:  []string{h},
			Lines: []calc.Beside{{Name: h, Now: v, Then: toleranced, Change: v, Percent: "+1 %"}, {Name: h, Now: col, Then: col}, {Name: h, Now: text, Then: text}},
			Turns: []calc.Turn{{Name: h, Text: h}},
		}},
		{Spread: []*calc.Spreading{
			{Name: h, Nominal: toleranced, Lowest: v, Highest: v, RSS: v, Low95: v, High95: v, Samples: 10,
				Parts: []calc.SpreadPart{{Name: h, Tol: h, Moves: v, Share: 1}}, Rules: []calc.RuleSpread{{Name: h, Text: h, Holds: 0.5}}, Failed: 0.1},
			{Name: h, Nominal: v, Why: h},
		}},
		{Working: &calc.Working{Steps: []calc.Step{
			{Name: h, Formula: h, Filled: h + " 2 mm2 " + h, Answer: col, Meaning: h, Sources: []string{h}, Sheet: h, Row: h, Level: 1},
			{Name: h, Answer: text, Meaning: h, Input: true, Level: 400},
		}}},
		{Measured: &calc.Metered{Name: h, Sum: toleranced, Meter: toleranced, Difference: v, Low: v, High: v,
			Explains: []calc.Explains{{Name: h, Now: toleranced, Wanted: v}}}},
	}
}
