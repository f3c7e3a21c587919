package function

import (
	"fmt"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// dates is what makes a date of a text.
func dates() []*Function {
	return []*Function{{
		Name: "date", Args: "date(text)", Group: "dates",
		Meaning: "the day that a text names, year, month and day. Between two dates there is a time; a date and a time of " +
			"whole days make a date. Behind `on` and in a column whose head says `as date` it stands bare",
		Source:  "ISO 8601, calendar date",
		Example: `date("2026-11-25") - date("2026-05-01")`, Answer: "208 day",
		takes: arity{1, 1}, rule: dateRule,
		One: func(w *World, x float64) (float64, Fault) {
			v, wrong := units.ParseDate(w.Text(x))
			if wrong != nil {
				return 0, OutOfDomain
			}
			return v, Sound
		},
	}}
}

func dateRule(_ *Function, args []Arg) (types.Type, *TypeError) {
	text, ok := bareText(args[0].Expr)
	if !ok {
		cure := fmt.Sprintf("as in `date(%s)`", quoted(units.DateForm))
		if args[0].Kind == types.Date {
			cure = "it is a date already"
		}
		return wrong(0, say("date reads a text in double quotes").With(cure))
	}
	if _, bad := units.ParseDate(text); bad != nil {
		return wrong(0, syntax.WrongDate(text))
	}
	return types.Type{Kind: types.Date}, nil
}

// WholeDay hands on what a date and a time come to, if it is a date. It is no function
// that anybody calls.
var WholeDay = &Function{Name: "whole day", One: func(_ *World, x float64) (float64, Fault) {
	if v, ok := units.WholeDate(x); ok {
		return v, Sound
	}
	return 0, NoDate
}}
