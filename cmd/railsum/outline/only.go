package outline

import (
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// Names reports whether a line defines a name, sets something of it or puts a
// sheet to work under it; the name of a sheet stands for all that use it.
func Names(a *calc.Answer, name string) bool {
	if under(a.Name, name) {
		return true
	}
	if use, ok := a.Line.Node.(*syntax.Use); ok && use.Sheet == name {
		return true
	}
	return slices.ContainsFunc(syntax.Defines(a.Line.Node), func(d syntax.Defined) bool { return under(d.String(), name) })
}

// under reports whether a name is another or a part of it.
func under(name, of string) bool { return name == of || strings.HasPrefix(name, of+".") }

// asks reports whether a line is a question, a rule or a study that speaks of a
// name.
func asks(l *syntax.Line, name string) bool {
	switch l.Node.(type) {
	case *syntax.Question, *syntax.Rule, syntax.Study:
	default:
		return false
	}
	found := false
	syntax.Walk(l.Node, func(e syntax.Expr) {
		if n, ok := e.(*syntax.Name); ok {
			found = found || under(n.String(), name)
		}
	})
	return found
}

// Only gives, of a notebook's answers, those of the lines that are about one of
// some names: that give it a meaning, ask for it or judge it. Missing are the
// names that no line is about.
func Only(answers []*calc.Answer, names []string) (some []*calc.Answer, missing []string) {
	found := map[string]bool{}
	for _, a := range answers {
		about := false
		for _, name := range names {
			if Names(a, name) || asks(a.Line, name) {
				about, found[name] = true, true
			}
		}
		if about {
			some = append(some, a)
		}
	}
	for _, name := range names {
		if !found[name] {
			missing = append(missing, name)
		}
	}
	return some, missing
}

// Keep leaves of the list what belongs to some answers, and of the findings those
// of their lines; how many there are elsewhere is counted. The verdict and the
// counts stay those of the whole notebook.
func (o *Outline) Keep(some []*calc.Answer) {
	rows := map[int]bool{}
	for _, a := range some {
		rows[a.Line.Row] = true
	}
	kept := Of(o.Name, some, o.OK)
	o.Lines, o.Items = kept.Lines, kept.Items
	all := len(o.Tally.Findings)
	o.Tally.Findings = slices.DeleteFunc(o.Tally.Findings, func(f Finding) bool { return !rows[f.Row] })
	o.Tally.Elsewhere = all - len(o.Tally.Findings)
}
