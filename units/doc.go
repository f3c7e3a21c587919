// Package units knows dimensions and units, and nothing of the language they
// are written in.
//
// Model. A [Dim] is a row of rational exponents over seven base quantities. A
// [Unit] is one unit as written, simple ("mm") or compound ("A*sqrt(s)/mm2"):
// a dimension and a factor to SI, held as a rational number, so that a number
// written in a unit becomes the nearest float64 of its SI value. Equal units
// are equal under ==, however they were spelled. Every unit has a file form in
// ASCII ("uF", "mm2") and a form for display ("µF", "mm²"); both parse.
//
// The symbols are a closed list, each meaning exactly one unit. Prefixes exist
// in the combinations written down and in no other: a prefix that nobody uses
// is more likely a slip of the shift key, and the error says so.
//
// Goals: exact factors where the definition is exact; one place to add a unit
// (table.go), a quantity with the units it is shown in (quantity.go) or advice
// about a spelling (advice.go); errors in plain words with a cure; no work
// before the first use; every bound stated.
//
// Non-goals: levels (dB), money, calendars, non-decimal prefixes, units chosen
// by country, and any arithmetic on quantities, which belongs to calc.
//
// A unit with nothing above the line is written m^-1, because behind a number
// the 1 of 1/m would look like another number. 1/m is read all the same.
//
// Angles are plain numbers: a radian is 1. A turn is not an angle here: rpm
// counts turns as Hz counts cycles, so 60 rpm is 1 Hz.
package units
