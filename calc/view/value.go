package view

import (
	"math"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/run"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

// Value makes a Def's answer ready to be shown, nil if it has none.
func (b View) Value(d *check.Def) *answer.Value {
	if d == nil || !d.OK() {
		return nil
	}
	col := b.M.Col(d)
	if col == nil || len(col.V) == 0 && col.Rows != 0 {
		return nil
	}
	return b.ValueOf(d, col)
}

// ValueOf makes a value of a column that the Def has or had.
func (b View) ValueOf(d *check.Def, col *run.Col) *answer.Value {
	v := newValue(col.V)
	v.Type, v.Literal, v.Tol = d.Type, answer.Typed{Number: d.Literal}, Tolerance(d)
	if d.Type.Kind == types.Text {
		v.Texts = make([]string, len(col.V))
		for i, id := range col.V {
			v.Texts[i] = b.M.Text(id)
		}
	}
	if col.Marks != nil {
		v.Faults = make([]string, len(col.V))
		v.Literal = answer.Typed{}
		for i, m := range col.Marks {
			v.Faults[i] = m.Fault().Words()
		}
	}
	v.Unit = b.UnitFor(v, d.Display)
	for i, x := range v.Numbers {
		if !v.Unit.Holds(x) && (v.Faults == nil || v.Faults[i] == "") {
			if v.Faults == nil {
				v.Faults = make([]string, len(v.Numbers))
			}
			v.Faults[i], v.Literal = NotIn(v.Unit).Message, answer.Typed{}
		}
	}
	return v
}

// NotIn says why a number cannot be shown in the unit that it was asked for in.
func NotIn(u units.Unit) words.Wrong {
	if u.Base() != 0 {
		return words.Say("no whole number from 0 to 2^53, so it has no %s", u).With("leave `as " + u.String() + "` out")
	}
	wrong := words.Say("%s in %s", function.Overflow.Words(), u)
	wrong.Cure = function.Overflow.Wrong().Cure
	return wrong
}

// newValue makes a value of numbers; a single one lies in the same piece of
// memory, since a ripple makes thousands of them.
func newValue(numbers []float64) *answer.Value {
	if len(numbers) == 1 {
		one := &struct {
			answer.Value
			x [1]float64
		}{x: [1]float64{numbers[0]}}
		one.Numbers = one.x[:]
		return &one.Value
	}
	return &answer.Value{Numbers: append([]float64(nil), numbers...)}
}

// UnitFor chooses what a value is shown in: the unit pinned with "as" or typed;
// for a setting that is computed, the unit of the sheet's own default where the
// value reads well in it; else one of the preferred units, else what suits the
// size.
func (b View) UnitFor(v *answer.Value, as check.Display) units.Unit {
	switch v.Type.Kind {
	case types.Point:
		return b.pointUnit(as.Show, as.Yields)
	case types.Number:
	default:
		return units.Unit{}
	}
	sound := soundOnes(v)
	if as.Yields {
		if u, ok := units.Prefer(v.Type.Dim, sound, b.C.Prefer); ok && as.Show.Unlike(u) == "" {
			return u
		}
	}
	if as.Pinned || as.Typed || as.Show.Base() != 0 || as.Show.Percent() || as.Show.Angle() && as.Show.Dim().IsPlain() {
		return as.Show
	}
	for _, u := range []units.Unit{as.Show, as.AskUnit} {
		if !u.IsZero() && u.Dim() == v.Type.Dim && readsWell(u, sound) {
			return u
		}
	}
	return units.Choose(v.Type.Dim, sound, b.C.Prefer)
}

// soundOnes are the numbers of a value that are answers.
func soundOnes(v *answer.Value) []float64 {
	if v.Faults == nil {
		return v.Numbers
	}
	var sound []float64
	for i, x := range v.Numbers {
		if v.Faults[i] == "" {
			sound = append(sound, x)
		}
	}
	return sound
}

// pointUnit is the scale a temperature is shown on: the one asked for, unless that
// yields to a preference.
func (b View) pointUnit(asked units.Unit, yields bool) units.Unit {
	if asked.Point() && !yields {
		return asked
	}
	for _, u := range b.C.Prefer {
		if u.Point() {
			return u.Unit
		}
	}
	if asked.Point() {
		return asked
	}
	return units.Known("degC")
}

// readsWell reports whether the largest of the values is from 1 to 999 in the
// unit; a share always reads well in per cent.
func readsWell(u units.Unit, si []float64) bool {
	if u.Percent() {
		return true
	}
	top := 0.0
	for _, x := range si {
		top = math.Max(top, math.Abs(u.FromSI(x)))
	}
	return top >= 0.9995 && top < 999.95 || top == 0 && len(si) > 0
}

var percent, _ = units.Parse("%")

// Tolerance is a Def's tolerance as it is written.
func Tolerance(d *check.Def) answer.Typed {
	switch {
	case d.TolText == "":
		return answer.Typed{}
	case d.Tail.Tol != nil:
		return answer.TypedOf(d.TolText, d.Tail.Tol.By.Unit)
	}
	return answer.TypedOf(d.TolText, percent)
}
