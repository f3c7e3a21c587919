// Package check turns the tree of a notebook into a checked tree: every name
// resolved, every placed sheet filled with its lines, every dimension and shape
// known, and everything put into an order in which it can be computed.
//
// The model: each thing that has a value is a Def. Types flow forward from
// literals along the dependencies, in whatever order the lines stand; there is
// no unification. A Def in error is of unknown type, which poisons what depends
// on it without another word: one cause, one error. A sheet is checked on its
// own, with its defaults, once; each placement of it is then held to what the
// sheet's inputs are, and only shapes are inferred anew.
//
// Goals: all errors that can be known without running, each with its place, in
// plain words and with a cure; all of them in one go.
//
// Not its business: values (package run), and what is merely unwise (the rules
// in the sheets).
package check
