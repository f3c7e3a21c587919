package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"railsum/cmd/railsum/page"
	"railsum/cmd/railsum/quiz"
	"railsum/cmd/railsum/show"
)

// quizFlags are what a call of quiz says besides what it is about.
type quizFlags struct {
	seed, count, levels int
	asking              []string
	again               []int
	editions            map[string]int

	paper bool
	sets  int
	file  pageFile
}

func (a *app) quizCommand() *cobra.Command {
	var f quizFlags
	c := &cobra.Command{
		Use:   "quiz SHEET|FILE",
		Short: "questions to be worked out, and marked with the reason",
		Example: `railsum quiz drop
railsum quiz drop,stub --seed 7 --count 6
railsum quiz lesson:out_and_back
railsum quiz drop --seed 7 --again 2,5
railsum quiz drop --paper --sets 15 --answers apart -o class.html`,
		Long: `A question tells what its answer is worked out from, with inputs drawn as somebody
would choose them. Type the answer with its unit; hint shows the formula, then its
values, then the step below; working shows all; next goes on, leave ends.

The same --seed asks the same questions everywhere, as long as the sheet has the same
edition; without it the set is that of the day. A notebook asks its exercises, then
its guesses with the values as they are. Without a terminal, answers are read a line
each. The exit code is 0 whatever was right.

--paper writes a page instead, to be printed and filled in by hand, with the answers
and what usual mistakes come to on a page of their own. --sets 15 makes fifteen papers,
each with a set of its own and all with one page of answers.`,
		Args: exactly(1, "the name of a sheet or a file",
			"name a sheet, a file or lesson:NAME; railsum sheets lists the sheets"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.count < 1 || f.count > 50 {
				return misuse("--count takes 1 to 50 questions").With("write --count 6")
			}
			if f.sets < 1 || f.sets > 50 {
				return misuse("--sets takes 1 to 50 papers").With("write --sets 15")
			}
			for _, name := range []string{"sets", "answers", "output", "write-over", "large", "date", "plain-type"} {
				if cmd.Flags().Changed(name) && !f.paper {
					return misuse("--%s is about a paper", name).With("add --paper")
				}
			}
			if f.paper && len(f.again) > 0 {
				return misuse("--again is not for a paper").With("leave out --again or --paper")
			}
			if f.paper {
				if err := a.ready(&f.file); err != nil {
					return err
				}
			}
			if !cmd.Flags().Changed("seed") {
				f.seed = a.ofTheDay()
			}
			return a.quiz(cmd.Context(), args[0], &f)
		},
	}
	c.Flags().IntVar(&f.seed, "seed", 0, "the set of questions; that of the day if not given")
	c.Flags().IntVar(&f.count, "count", 5, "how many questions, 1 to 50")
	c.Flags().IntVar(&f.levels, "levels", 0, "how deep the working goes that a question tells")
	c.Flags().StringSliceVar(&f.asking, "asking", nil, "answers to ask for: lost,longest")
	c.Flags().IntSliceVar(&f.again, "again", nil, "ask these questions alone: 2,5")
	c.Flags().StringToIntVar(&f.editions, "edition", nil, "the editions a paper was made from: drop=4")
	c.Flags().BoolVar(&f.paper, "paper", false, "write a page to be filled in by hand")
	c.Flags().IntVar(&f.sets, "sets", 1, "how many papers, 1 to 50, each with the next set")
	f.file.flags(c.Flags())
	return c
}

// quiz asks questions, or writes them on paper.
func (a *app) quiz(ctx context.Context, about string, f *quizFlags) error {
	q, err := a.questions(ctx, about, f)
	if err != nil {
		return orFailure(codeWrong, err)
	}
	others, err := q.others(f.editions)
	if err != nil {
		return err
	}
	for _, text := range others {
		a.errors().Say("%s", text)
	}
	if f.paper {
		return a.paper(q, about, f)
	}
	sets, err := q.sets(0)
	if err != nil {
		return orFailure(codeWrong, err)
	}
	total := 0
	for _, s := range sets {
		total += len(s.Questions)
	}
	for _, n := range f.again {
		if n < 1 || n > total {
			return misuse("there is no question %d", n).With(fmt.Sprintf("the questions are 1 to %d", total))
		}
	}
	out := a.answers()
	s := quiz.Session{Library: q.lib, In: a.stdin, Out: out, Only: f.again, Again: f.call(about, f.seed),
		Prompts: a.asks()}
	if a.flags.noInput {
		s.In = strings.NewReader("") // the questions alone
	}
	if s.Prompts {
		s.Out = show.New(a.world.stdout, out.Options)
	}
	return s.Run(sets)
}

// call is what asks the same set at a terminal.
func (f *quizFlags) call(about string, seed int) string {
	call := fmt.Sprintf("railsum quiz %s --seed %d", about, seed)
	if isNotebook(about) {
		return call
	}
	if f.count != 5 {
		call += fmt.Sprintf(" --count %d", f.count)
	}
	if len(f.asking) > 0 {
		call += " --asking " + strings.Join(f.asking, ",")
	}
	if f.levels > 0 {
		call += fmt.Sprintf(" --levels %d", f.levels)
	}
	return call
}

// paper writes sets of questions as a page.
func (a *app) paper(q *asked, about string, f *quizFlags) error {
	p := page.Papers{Title: "Questions: " + strings.ReplaceAll(about, ",", ", "), By: "railsum " + edition}
	for n := range f.sets {
		sets, err := q.sets(n)
		if err != nil {
			return orFailure(codeWrong, err)
		}
		one := page.Paper{Title: fmt.Sprintf("Set %d", f.seed+n), Sets: sets, Call: f.call(about, f.seed+n)}
		if e := q.editions(); e != "" {
			one.Call += " --edition " + e
		}
		p.Each = append(p.Each, one)
		for _, set := range sets {
			for _, text := range set.Hazards {
				if !slices.Contains(p.Hazards, text) {
					p.Hazards = append(p.Hazards, text)
				}
			}
		}
	}
	return a.writePage(&f.file, p.Write)
}
