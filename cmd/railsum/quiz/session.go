package quiz

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"railsum/calc/answer"
	"railsum/cmd/railsum/marking"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
)

// Session asks sets of questions.
type Session struct {
	Library Library
	In      io.Reader
	Out     *show.Printer
	Prompts bool   // somebody sits there
	Only    []int  // questions to ask, all if empty
	Again   string // the call that asks some of them again, without their numbers

	reader marking.Reader
	lines  *bufio.Scanner
	left   bool // somebody has had enough
	gone   bool // nothing more comes
}

// outcome is how a question went.
type outcome struct{ asked, right, hinted bool }

// Run asks all questions. The error is that of the output.
func (s *Session) Run(sets []*outline.Set) error {
	s.reader.Library = s.Library
	s.lines = bufio.NewScanner(s.In)
	total := 0
	for _, set := range sets {
		total += len(set.Questions)
	}
	var all []outcome
	n, begun := 0, false
	for _, set := range sets {
		told := false
		for _, q := range set.Questions {
			n++
			var o outcome
			if asked := len(s.Only) == 0 || slices.Contains(s.Only, n); asked && !s.left && !s.gone {
				if !told {
					if !begun {
						s.Out.Say("Type an answer with its unit, such as 0.5 V. `hint` helps, `working` shows all, `next` goes on, `leave` ends.")
					}
					s.Out.Blank()
					s.Out.Heading("%s", set.Title)
					told, begun = true, true
				}
				o = s.ask(q, n, total)
			}
			all = append(all, o)
		}
	}
	s.sum(all)
	return s.Out.Err()
}

// misses after which more help is offered.
const (
	offerHint    = 2
	offerWorking = 4
)

func (s *Session) ask(q *outline.Question, n, of int) (o outcome) {
	s.Out.Blank()
	s.Out.Say("question %d of %d", n, of)
	for _, g := range q.Given {
		s.Out.Given(g)
	}
	s.Out.Say("%s", q.Ask)
	o.asked = true
	called := q.Name
	if names.FindString(called) != called {
		called = "it" // a guess about a sum
	}
	misses, hints, worked := 0, 0, 0
	for {
		if s.Prompts {
			fmt.Fprint(s.Out, "> ")
		}
		if !s.lines.Scan() {
			s.gone = true
			return o
		}
		text := strings.TrimSpace(s.lines.Text())
		if text == "" {
			continue
		}
		asked := marking.Asked{Name: called, Right: q.Right, Slips: q.Slips}
		switch order(text, asked) {
		case leave:
			s.left = true
			return o
		case next:
			s.Out.Say("%s = %s", q.Name, s.Out.Value(q.Right))
			return o
		case hint:
			hints++
			o.hinted = true
			s.hint(q, hints)
			continue
		case working:
			o.hinted = true
			steps := q.Steps()
			if worked++; worked > 1 {
				steps = q.Working()
			}
			s.Out.Working(&answer.Working{Steps: unsourced(steps)})
			continue
		case help:
			s.Out.Say("an answer with its unit, such as %s; or `hint`, `working`, `next`, `leave`", marking.Example(q.Right))
			continue
		}
		m := s.reader.Mark(text, asked)
		s.Out.Say("%s", m.Says)
		if m.Cure != "" {
			s.Out.Say("%s", m.Cure)
		}
		if m.Good() {
			o.right = true
			return o
		}
		if !m.Counts() {
			if !strings.ContainsAny(text, "0123456789") {
				s.Out.Say("`hint` shows the first step, `next` goes on, `leave` ends")
			}
			continue
		}
		switch misses++; {
		case misses == offerHint && hints == 0 && m.Kind != marking.Else:
			s.Out.Say("`hint` shows the first step")
		case misses == offerWorking:
			s.Out.Say("`working` shows all of it, and `next` goes on")
		}
	}
}

func unsourced(steps []answer.Step) []answer.Step {
	steps = slices.Clone(steps)
	for i := range steps {
		steps[i].Sources = nil
	}
	return steps
}

// hint shows the formula in words, then with its values, then the first step below
// it that is worked out itself.
func (s *Session) hint(q *outline.Question, n int) {
	steps := q.Steps()
	top := 0 // what only hands a value on is no step
	for top < len(steps)-1 && steps[top].Formula.Bare() {
		top++
	}
	if len(steps) == 0 || steps[top].Formula.IsZero() {
		s.Out.Say("there is no formula to show")
		return
	}
	switch {
	case n == 1:
		s.Out.Hanging(q.Name + " = " + inWords(steps, top))
	case n == 2 && !steps[top].Filled.IsZero():
		s.Out.Hanging(q.Name + " = " + signs.Replace(steps[top].Filled.String()))
	default:
		for i := top + 1; i < len(steps); i++ {
			if f := steps[i].Formula; !f.IsZero() && !f.Bare() {
				s.Out.Hanging(steps[i].Name + " = " + inWords(steps, i) + " = " + s.Out.Value(steps[i].Answer))
				return
			}
		}
		s.Out.Say("there is no step below it: `working` shows all")
	}
}

var names = regexp.MustCompile(`[A-Za-z_][A-Za-z0-9_]*(\.[A-Za-z_][A-Za-z0-9_]*)*`)

// inWords is the formula of a step with every name replaced by what it is called,
// where that is told and two names are not called the same.
func inWords(steps []answer.Step, at int) string {
	called := map[string]string{}
	times := map[string]int{}
	inside := ""
	if i := strings.LastIndex(steps[at].Name, "."); i >= 0 {
		inside = steps[at].Name[:i+1]
	}
	for _, st := range steps {
		name := strings.TrimPrefix(st.Name, inside)
		if words := Words(st.Meaning); words != "" && called[name] == "" {
			called[name] = words
		}
	}
	formula := steps[at].Formula.String()
	seen := map[string]bool{}
	for _, name := range names.FindAllString(formula, -1) {
		if !seen[name] {
			seen[name] = true
			times[called[name]]++
		}
	}
	formula = names.ReplaceAllStringFunc(formula, func(name string) string {
		if words := called[name]; words != "" && times[words] == 1 {
			return words
		}
		return name
	})
	return signs.Replace(formula)
}

var signs = strings.NewReplacer(" * ", " × ", " / ", " ÷ ")

// sum tells how many were right, and what to repeat.
func (s *Session) sum(all []outcome) {
	asked, right, hinted := 0, 0, 0
	var again []string
	for i, o := range all {
		if !o.asked {
			continue
		}
		asked++
		switch {
		case !o.right:
			again = append(again, strconv.Itoa(i+1))
		case o.hinted:
			hinted++
		}
		if o.right {
			right++
		}
	}
	text := fmt.Sprintf("%d of %d right", right, asked)
	if hinted > 0 {
		text += fmt.Sprintf(", %d of them after a hint", hinted)
	}
	text += "."
	if len(again) > 0 {
		text += " Again: " + s.Again + " --again " + strings.Join(again, ",")
	}
	s.Out.Blank()
	s.Out.Say("%s", text)
}
