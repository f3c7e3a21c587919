package main

import (
	"strings"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/cmd/railsum/document"
)

func (a *app) compareCommand() *cobra.Command {
	var as forms
	c := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "what is different between two notebooks, by name",
		Example: `railsum compare gannet_spring.sums gannet.sums
git show HEAD~1:gannet.sums | railsum compare - gannet.sums
railsum compare --json gannet_spring.sums gannet.sums`,
		Long: `Verdicts that turned come first, then inputs that are other ones, answers that moved
by more than 1 %, sheets of another edition, and names that are new or gone. Where a
line stands and how it is written makes no difference. Studies are not compared:
what they say follows from what is. The exit code is 0 if nothing is different, 1 if
something is. One of the two may be standard input, as -. Sheets and tables beside
both are read as they stand today, and named at the end: what has changed in them
since the old notebook cannot be seen.

--json writes one document, {"schema": 1, "files": [], "comparison": {...}}.
--plain writes a record a row, as read does: verdict, rule, input, answer, sheet,
new, gone, slight (how many answers moved by 1 % or less) and shared. What is of OLD has was
as the remark, what is of NEW has now; a rule has them as the label.`,
		Args: exactly(2, "two file names", "name the old notebook, then the new one"),
		RunE: func(_ *cobra.Command, args []string) error {
			form, err := as.one()
			if err != nil {
				return err
			}
			a.paged()
			return a.compare(args[0], args[1], form)
		},
	}
	as.answers(c)
	return c
}

func (a *app) compare(was, now string, as form) error {
	if was == "-" && now == "-" {
		return misuse("both notebooks are standard input").With("name a file for one of them")
	}
	old, oldLib, err := a.beside(was)
	if err != nil {
		return err
	}
	is, isLib, err := a.beside(now)
	if err != nil {
		return err
	}
	c := calc.Compare(old, is)
	c.Shared = oldLib.Same(isLib)
	if !c.Same() {
		a.note(codeWrong)
	}
	switch as {
	case readJSON:
		w := document.New(a.out)
		w.Compare(shown(was), shown(now), c)
		return w.Close()
	case readPlain:
		p := newRecords(a.out)
		p.compare(shown(was), shown(now), c)
		return p.Close()
	}
	a.answers().Comparison(shown(was), shown(now), c)
	return nil
}

// sides are the two states of a comparison, as records call them.
var sides = [2]string{"was", "now"}

func (p *records) compare(was, now string, c *answer.Comparison) {
	files := [2]string{was, now}
	both := func(f func(i int, side string)) {
		for i, side := range sides {
			p.file = files[i]
			f(i, side)
		}
	}
	both(func(i int, side string) {
		p.emit(record{what: "verdict", value: [2]answer.Summary{c.Was, c.Now}[i].Verdict.String(), remark: side})
	})
	for k := range c.Rules {
		r := &c.Rules[k]
		both(func(i int, side string) {
			if j := [2]*answer.Judged{r.Was, r.Now}[i]; j != nil {
				p.emit(record{what: "rule", name: r.Name, label: side, value: j.Verdict.String(), remark: j.String()})
			}
		})
	}
	for _, r := range c.Cards {
		both(func(i int, side string) {
			p.emit(record{what: "card", name: r.Name, value: [2]answer.Verdict{r.Was, r.Now}[i].String(), remark: side})
		})
	}
	moved := func(what string, all []answer.Moved) {
		for _, m := range all {
			both(func(i int, side string) {
				v, state := [2]*answer.Value{m.Was, m.Now}[i], [2]answer.State{m.WasState, m.NowState}[i]
				r := record{what: what, name: m.Name, label: m.Label, remark: strings.TrimRight(side+", "+state.String(), ", ")}
				if v != nil {
					p.typed(r, v)
				} else {
					p.emit(r)
				}
			})
		}
	}
	moved("input", c.Inputs)
	moved("answer", c.Answers)
	for _, s := range c.Sheets {
		both(func(i int, side string) {
			of := [2]answer.SheetOf{s.Was, s.Now}[i]
			r := record{what: "sheet", name: s.Name, label: of.Sheet, remark: side}
			if of.Edition > 0 {
				r.value = full(float64(of.Edition))
			}
			p.emit(r)
		})
	}
	p.file = now
	for _, name := range c.New {
		p.emit(record{what: "new", name: name})
	}
	if c.Slight > 0 {
		p.emit(record{what: "slight", value: full(float64(c.Slight))})
	}
	for _, name := range c.Shared {
		p.emit(record{what: "shared", name: name})
	}
	p.file = was
	for _, name := range c.Gone {
		p.emit(record{what: "gone", name: name})
	}
}
