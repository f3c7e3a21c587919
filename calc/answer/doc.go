// Package answer holds what a notebook has to say, as plain data: values,
// verdicts, the cards of placed sheets and the results of studies.
//
// The model: a value is numbers in SI beside the unit to show them in; an
// expression is an expression (Expr), which a view spells as it needs. Nothing
// here is text that a view would have to take apart again. The JSON keys are the
// tags of these types, and `railsum about json` is written from them. A study's
// result gives itself to a Visitor, a method for each kind, so that a view that
// forgets one does not compile; Facts is the same result as a flat list.
//
// Not its business: computing any of it (packages study and calc), and how it
// looks (cmd/railsum).
package answer
