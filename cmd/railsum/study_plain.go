package main

import (
	"strconv"
	"strings"

	"railsum/calc"
	"railsum/cmd/railsum/show"
)

const plainStudyHelp = `
A study writes records of its own kind: find (labels at, from, to, jump, pole,
nearest, none, take), vary (one for each point and shown value, its label the place
on the axes), turn, suppose (labels now, supposed, change), spread (labels nominal,
lowest, highest, root sum square, low 95, high 95, part, and must or should with
the share of cases), working (its formula as the remark), measured (labels sum,
meter, difference, inside or outside, and explains).
`

// emitStudy writes a study as records.
func (a *app) emitStudy(base record, s *calc.StudyAnswer) {
	switch {
	case s.Find != nil:
		a.emitFind(base, s.Find)
	case s.Vary != nil:
		a.emitVary(base, s.Vary)
	case s.Suppose != nil:
		a.emitSuppose(base, s.Suppose)
	case s.Working != nil:
		a.emitWorking(base, s.Working)
	case s.Measured != nil:
		a.emitMeasured(base, s.Measured)
	}
	for _, one := range s.Spread {
		a.emitSpread(base, one)
	}
}

// emitPart writes a value of a study under a label.
func (a *app) emitPart(base record, what, label string, v *calc.Value, remark string) {
	base.what, base.label, base.remark = what, label, remark
	if v == nil {
		a.emit(base)
		return
	}
	for i := range show.Rows(v) {
		r := base
		if row := show.Label(v, i); row != "" {
			r.label = label + " " + row
		}
		r.value, r.unit = plainValue(v, i), v.Unit.String()
		if why := show.Fault(v, i); why != "" {
			r.value, r.unit, r.remark = "", "", why
		}
		a.emit(r)
	}
}

func (a *app) emitFind(base record, f *calc.Found) {
	base.name = f.Name
	part := func(label string, v *calc.Value, remark string) { a.emitPart(base, "find", label, v, remark) }
	switch {
	case f.Chosen != nil:
		part("at", f.Chosen, f.Label)
	case !f.Holds:
		part("none", nil, f.Cond)
	default:
		for i := range f.Places {
			s := &f.Places[i]
			switch {
			case s.Jump:
				part("jump", s.From, f.Cond)
			case s.From.Numbers[0] == s.To.Numbers[0]:
				part("at", s.From, f.Cond)
			default:
				part("from", s.From, f.Cond)
				part("to", s.To, f.Cond)
			}
		}
	}
	for _, pole := range f.Poles {
		part("pole", pole, f.Cond)
	}
	if f.Near != nil {
		part("nearest", f.Near.X, f.Cond)
	}
	if f.TakeIt != "" {
		part("take", nil, f.TakeIt)
	}
}

func (a *app) emitVary(base record, v *calc.Varied) {
	for row := range v.Axes[0].Value.Numbers {
		var place []string
		for i := range v.Axes {
			x := &v.Axes[i]
			place = append(place, strings.TrimRight(x.Name+" = "+plainValue(x.Value, row)+" "+x.Value.Unit.String(), " "))
		}
		for i := range v.Shown {
			s := &v.Shown[i]
			r := base
			r.what, r.name, r.label = "vary", s.Name, strings.Join(place, ", ")
			if why := show.Fault(s.Value, row); why != "" {
				r.remark = why
			} else {
				r.value, r.unit = plainValue(s.Value, row), s.Value.Unit.String()
			}
			a.emit(r)
		}
	}
	for _, t := range v.Turns {
		r := base
		x := &v.Axes[0]
		r.what, r.name, r.label, r.value, r.remark = "turn", t.Name, x.Name+" = "+plainValue(x.Value, t.Row)+" "+x.Value.Unit.String(), t.Now.String(), t.Rule
		a.emit(r)
	}
}

func (a *app) emitSuppose(base record, s *calc.Supposed) {
	for i := range s.Lines {
		l := &s.Lines[i]
		base.name = l.Name
		a.emitPart(base, "suppose", "now", l.Now, "")
		a.emitPart(base, "suppose", "supposed", l.Then, "")
		if l.Change != nil {
			a.emitPart(base, "suppose", "change", l.Change, l.Percent)
		}
	}
	for _, t := range s.Turns {
		r := base
		r.what, r.name, r.label, r.value, r.remark = "turn", t.Name, t.Old.String(), t.New.String(), t.Text
		a.emit(r)
	}
}

func (a *app) emitSpread(base record, s *calc.Spreading) {
	base.name = s.Name
	part := func(label string, v *calc.Value, remark string) { a.emitPart(base, "spread", label, v, remark) }
	part("nominal", s.Nominal, s.Why)
	if s.Why != "" || s.Exact {
		return
	}
	part("lowest", s.Lowest, "")
	part("highest", s.Highest, "")
	part("root sum square", s.RSS, "")
	part("low 95", s.Low95, distribution)
	part("high 95", s.High95, distribution)
	for i := range s.Parts {
		p := &s.Parts[i]
		part("part", p.Moves, p.Name+" +- "+p.Tol)
	}
	for i := range s.Rules {
		rule := &s.Rules[i]
		r := base
		r.what, r.label, r.remark = "spread", ruleWord(rule.Must), rule.Text
		r.name = rule.Name
		r.value = strconv.FormatFloat(rule.Holds, 'g', -1, 64)
		a.emit(r)
	}
}

func (a *app) emitWorking(base record, w *calc.Working) {
	for i := range w.Steps {
		s := &w.Steps[i]
		r := base
		r.name = s.Name
		label := ""
		switch {
		case s.Default:
			label = "default"
		case s.Input:
			label = "input"
		}
		a.emitPart(r, "working", label, s.Answer, s.Formula)
	}
}

func (a *app) emitMeasured(base record, m *calc.Metered) {
	base.name = m.Name
	a.emitPart(base, "measured", "sum", m.Sum, "")
	a.emitPart(base, "measured", "meter", m.Meter, "")
	a.emitPart(base, "measured", "difference", m.Difference, m.Percent)
	side := "outside"
	if m.Inside {
		side = "inside"
	}
	a.emitPart(base, "measured", side, nil, "")
	for i := range m.Explains {
		e := &m.Explains[i]
		base.name = e.Name
		a.emitPart(base, "measured", "explains", e.Wanted, "")
	}
}
