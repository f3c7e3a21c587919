package show

import (
	"testing"

	"railsum/calc/answer"
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
					s.Visit(p)
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

func hostileStudies(t *testing.T, h string) []answer.Study {
	v := quantity(t, 1, "V")
	toleranced := typed(quantity(t, 2, "V"), h, h)
	of := &types.Table{Name: h, Labels: []string{h, "x" + h}}
	col := column(t, of, "V", 1, 2)
	text := &answer.Value{Type: types.Type{Kind: types.Text}, Texts: []string{h}}
	texts := &answer.Value{Type: types.Type{Kind: types.Text}, Texts: []string{h, h, h}}
	three := column(t, nil, "V", 1, 2, 3)
	faulty := column(t, nil, "V", 3, 2, 1)
	faulty.Faults = []string{"", h, ""}
	axis := answer.Series{Expr: h, Value: column(t, nil, "m", 1, 2, 3), Points: 3}
	one := &answer.Varied{
		Axes: []answer.Series{axis}, Rows: 3,
		Shown: []answer.Series{
			{Expr: h, Label: h, Value: three}, {Expr: h, Label: "x", Value: three}, {Expr: h, Value: faulty, Of: 1},
			{Expr: h, Value: texts, Of: 2},
		},
		Limits: []answer.Limit{{Shown: 0, Cond: expr(h), Must: true, At: v}, {Shown: 2, Cond: expr(h), At: quantity(t, 100, "V")}},
		Turns:  []answer.TurnAt{{Row: 1, Turn: answer.Turn{Cond: expr(h), Name: h, Was: answer.Clear, Now: answer.Danger}}},
	}
	nine := column(t, nil, "V", 1, 2, 3, 4, 5, 6, 7, 8, 9)
	down, across := axis, axis
	down.Value, across.Value = column(t, nil, "m", 1, 1, 1, 2, 2, 2, 3, 3, 3), column(t, nil, "m", 1, 2, 3, 1, 2, 3, 1, 2, 3)
	two := &answer.Varied{Axes: []answer.Series{down, across}, Rows: 9, Shown: []answer.Series{{Expr: h, Value: nine}},
		Limits: []answer.Limit{{Cond: expr(h), At: quantity(t, 5, "V")}}}
	percent := 1.0
	family := *two
	family.Shown = append(family.Shown, answer.Series{Expr: h, Value: nine, Of: 1})
	return []answer.Study{
		&answer.Found{
			Name: h, Cond: expr(h), Holds: true, Looked: []*answer.Value{toleranced, v}, Current: toleranced, Take: h + " = " + h,
			Places: []answer.Place{{From: v, To: v}, {From: v, To: v, Jump: true, Before: []*answer.Value{toleranced, v}, Behind: []*answer.Value{v, v}}},
			Poles:  []*answer.Value{toleranced},
		},
		&answer.Found{Name: h, Cond: expr(h), Looked: []*answer.Value{v, v}, Current: v, Near: &answer.Near{X: v, Left: toleranced, Right: v}},
		&answer.Found{Name: h, Tried: 2, Chosen: v, Label: h, Current: v},
		&answer.Found{Name: h, Tried: 2, Current: v},
		one, two, &family,
		&answer.Supposed{
			Sets:  []string{h},
			Lines: []answer.Beside{{Name: h, Now: v, Then: toleranced, Change: v, Percent: &percent}, {Name: h, Now: col, Then: col}, {Name: h, Now: text, Then: text}},
			Turns: []answer.Turn{{Name: h, Cond: expr(h)}},
		},
		answer.Spreads{
			{Name: h, Nominal: toleranced, Lowest: v, Highest: v, RSS: v, Low95: v, High95: v, Samples: 10,
				Parts: []answer.Part{{Name: h, Tol: answer.Typed{Number: h}, Moves: v, Share: 1}}, Rules: []answer.RuleShare{{Name: h, Cond: expr(h), Holds: 0.5}}, Failed: 0.1},
			{Name: h, Nominal: v, Why: h},
		},
		&answer.Working{Steps: []answer.Step{
			{Name: h, Formula: expr(h), Filled: expr(h + " 2 mm2 " + h), Answer: col, Meaning: h, Sources: []string{h}, Sheet: h, Row: h, Level: 1},
			{Name: h, Answer: text, Meaning: h, Input: true, Level: 400},
		}},
		&answer.Measured{Name: h, Sum: toleranced, Meter: toleranced, Difference: v, Low: v, High: v,
			Suspects: []answer.Suspect{{Name: h, Now: toleranced, Wanted: v}}},
	}
}
