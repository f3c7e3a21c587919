// Package desk is the prompt of railsum: a notebook opened for work, a line at
// a time.
//
// Model: what is typed is either an order, which acts on the notebook and is
// never kept, or a line, which is kept and answered. The notebook itself, its
// undoing, its journal and its file belong to package sessions; answers are
// drawn by package show; the desk only reads lines, tells orders from lines,
// and says what came of them. The prompt is the number of the row that the next
// line will have, and it is by these numbers that orders name lines.
//
// A line with a mistake in its form is not accepted: it is shown with the place
// marked and given back to be mended. A line that speaks of names not known yet
// is accepted and waits for them, so that a notebook can be pasted in any
// order.
//
// Without a terminal the desk shows no prompt, asks no question and offers no
// line again: what would need an answer is refused, with what to write instead.
//
// A study is a line like any other. It is carried out when it is entered, with
// its progress on the row below, and Ctrl-C stops it. Those that take no time are
// asked again after every change, and shown if they have found something else.
//
// Goals: nothing typed is lost; every order can be undone or asks first; the
// same words at the prompt and in files. Non-goals: editing several rows at
// once, windows, colours of its own.
package desk
