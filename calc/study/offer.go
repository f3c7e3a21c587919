package study

import (
	"context"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/view"
)

// mostOffers is how many of the values that a search offers are judged.
const mostOffers = 8

// judge tells what a search offers that the rules have something to say of: a
// verdict that would turn, a must that would fail.
func (l *Lab) judge(ctx context.Context, s *check.Study, f *answer.Found) error {
	offers := offered(f)
	rules := l.rulesMoved(inputs(s)...)
	if len(offers) == 0 || len(rules) == 0 {
		return nil
	}
	if err := l.roundSafely(ctx, s, f, rules); err != nil {
		return err
	}
	xs := make([]float64, len(offers))
	for i, v := range offers {
		xs[i] = printed(v)
	}
	st := run.Study{Rows: len(xs), Want: rules}
	st.Replace(s.Axes[0].X, func(first int, dst []float64) { copy(dst, xs[first:]) })
	judged, was := make([]answer.Offer, len(xs)), make([]answer.Verdict, len(rules))
	for i, rule := range rules {
		was[i] = l.RuleVerdict(rule)
	}
	err := l.M.Study(ctx, st, func(first, n int, cols []*run.Col) error {
		for i, rule := range rules {
			for w := range n {
				if now := view.VerdictAt(rule, cols[i], w); now != was[i] || now == answer.Danger {
					o := &judged[first+w]
					o.Turns = append(o.Turns, answer.Turn{Name: view.PlaceName(rule), Cond: answer.Expr{Expr: rule.Expr},
						Line: rule.Line, Was: was[i], Now: now})
				}
			}
		}
		return nil
	})
	for i, o := range judged {
		if o.X = offers[i]; len(o.Turns) > 0 {
			f.Judged = append(f.Judged, o)
		}
	}
	return err
}

// roundSafely prints a single place with its last figure one less or one more
// where a rule that holds at the place itself, as one exactly on its limit, would
// turn at the figures it is printed with, and does not there.
func (l *Lab) roundSafely(ctx context.Context, s *check.Study, f *answer.Found, rules []*check.Def) error {
	const ways = 5 // either side of the place, as it is printed, and a figure less and more
	var places []*answer.Value
	var xs []float64
	var texts []string
	for i := range f.Places[:min(len(f.Places), mostOffers)] {
		v := f.Places[i].From
		if at := v.Numbers[0]; f.Places[i].Single() && !f.Places[i].Jump && v.Literal.IsZero() && printed(v) != at &&
			!v.Unit.Point() {
			places, xs, texts = append(places, v), append(xs, at*(1-close), at*(1+close), printed(v)), append(texts, "", "", "")
			for _, way := range []float64{-1, 1} {
				text := inward(v.InUnit(0), fewestDigits, way)[0]
				texts, xs = append(texts, text), append(xs, fromText(text, v.Unit))
			}
		}
	}
	if len(places) == 0 {
		return nil
	}
	verdicts := make([][]answer.Verdict, len(xs))
	st := run.Study{Rows: len(xs), Want: rules}
	st.Replace(s.Axes[0].X, func(first int, dst []float64) { copy(dst, xs[first:]) })
	err := l.M.Study(ctx, st, func(first, n int, cols []*run.Col) error {
		for w := range n {
			for i, rule := range rules {
				verdicts[first+w] = append(verdicts[first+w], view.VerdictAt(rule, cols[i], w))
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for i, v := range places {
		of := verdicts[ways*i : ways*i+ways]
		wanted := of[0]
		for k, behind := range of[1] { // on its limit a rule holds
			wanted[k] = min(wanted[k], behind)
		}
		if slices.Equal(wanted, of[2]) {
			continue
		}
		for k := 3; k < ways; k++ {
			if slices.Equal(wanted, of[k]) {
				v.Literal = answer.Typed{Number: texts[ways*i+k], Unit: v.Unit}
				break
			}
		}
	}
	return nil
}

// offered are the values that a search offers: single places and the ends of
// stretches that it has found itself.
func offered(f *answer.Found) []*answer.Value {
	if f.Chosen != nil {
		return []*answer.Value{f.Chosen}
	}
	var all []*answer.Value
	for i := range f.Places {
		p := &f.Places[i]
		if !p.Jump && !p.ToStart && !p.FromOut {
			all = append(all, p.From)
		}
		if !p.Jump && !p.Single() && !p.ToEnd && !p.ToOut {
			all = append(all, p.To)
		}
	}
	return all[:min(len(all), mostOffers)]
}

// printed is a value as it is read back: an end of a stretch is rounded inward.
func printed(v *answer.Value) float64 {
	number := v.Number(0)
	if !v.Literal.IsZero() {
		number, _, _ = strings.Cut(v.Literal.Number, " ")
	}
	return fromText(number, v.Unit)
}
