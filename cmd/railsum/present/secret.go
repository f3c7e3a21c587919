package present

import (
	"math"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/outline"
)

// secret is a figure that is asked for further down and not shown before.
type secret struct {
	row   int // of the line that asks
	name  string
	value *answer.Value
}

type secrets []secret

// secretsOf lists what a notebook asks for: by guesses of things as they are, and
// by what a working leaves blank. With other inputs it is another figure.
func secretsOf(o *outline.Outline) secrets {
	f := finder{}
	for i := range o.Items {
		o.Items[i].Write(&f)
	}
	return f.all
}

// asks reports whether a name is asked for below an item.
func (all secrets) asks(i *outline.Item, name string) bool {
	return slices.ContainsFunc(all, func(s secret) bool { return s.below(i) && s.name == name })
}

// of reports whether an answer of a placed sheet is asked for below an item.
func (all secrets) of(i *outline.Item, placed string) bool {
	return placed != "" && slices.ContainsFunc(all,
		func(s secret) bool { return s.below(i) && strings.HasPrefix(s.name, placed+".") })
}

func (s secret) below(i *outline.Item) bool { return i.Line == nil || s.row > i.Line.Row }

// picture keeps figures back that are asked for below it.
func (all secrets) picture(i *outline.Item, p *answer.Picture) *answer.Picture {
	masked := *p
	masked.Rows = slices.Clone(p.Rows)
	for r := range masked.Rows {
		cells := slices.Clone(masked.Rows[r].Cells)
		for c, v := range cells {
			kept := func(s secret) bool { return s.below(i) && same(s.value, v) }
			if p.Columns[c] == "value" && v != nil && slices.ContainsFunc(all, kept) {
				cells[c] = &answer.Value{Type: types.Type{Kind: types.Text}, Texts: []string{"?"}}
			}
		}
		masked.Rows[r].Cells = cells
	}
	masked.Limits = slices.DeleteFunc(slices.Clone(p.Limits), func(b answer.Bounded) bool {
		return slices.ContainsFunc(all, func(s secret) bool { return s.below(i) && same(s.value, b.Value) })
	})
	return &masked
}

func same(a, b *answer.Value) bool {
	if a == nil || a.Type.Scalar() != b.Type.Scalar() || !a.Sound() || !b.Sound() || len(a.Numbers) != 1 ||
		len(b.Numbers) != 1 {
		return false
	}
	return math.Abs(a.Numbers[0]-b.Numbers[0]) <= 1e-9*math.Abs(a.Numbers[0])
}

// withheld are rules without the figures that decided them.
func withheld(rules []answer.Judged) []answer.Judged {
	rules = slices.Clone(rules)
	for i := range rules {
		rules[i].Compared, rules[i].Nominal = nil, false
	}
	return rules
}

// finder is a writer that only looks for what is asked.
type finder struct{ all secrets }

func (f *finder) Begin(*outline.Outline)                  {}
func (f *finder) Each(*syntax.Line)                       {}
func (f *finder) End(*outline.Outline)                    {}
func (f *finder) Heading(*outline.Item, *outline.Heading) {}
func (f *finder) Prose(*outline.Item, *outline.Prose)     {}
func (f *finder) Answer(*outline.Item, *outline.Answer)   {}
func (f *finder) Verdict(*outline.Item, *outline.Verdict) {}
func (f *finder) Card(*outline.Item, *outline.Card)       {}
func (f *finder) Hazard(*outline.Item, *outline.Hazard)   {}
func (f *finder) Source(*outline.Item, *outline.Source)   {}
func (f *finder) Fault(*outline.Item, *outline.Fault)     {}
func (f *finder) Heard(*outline.Item, *outline.Heard)     {}

func (f *finder) Working(i *outline.Item, w *answer.Working) {
	for _, s := range w.Steps {
		if s.Blank {
			f.all = append(f.all, secret{i.Line.Row, s.Name, s.Answer})
		}
	}
}

func (f *finder) Study(i *outline.Item, s answer.Study) {
	if g, ok := s.(*answer.Guess); ok && len(g.Sets) == 0 {
		f.all = append(f.all, secret{i.Line.Row, g.Of.String(), g.Answer})
	}
}
