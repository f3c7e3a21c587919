package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/quiz"
	"railsum/cmd/railsum/show"
	"railsum/library"
)

// quizFlags are what a call of quiz says besides what it is about.
type quizFlags struct {
	seed, count, levels int
	asking              []string
	again               []int
}

func (a *app) quizCommand() *cobra.Command {
	var f quizFlags
	c := &cobra.Command{
		Use:   "quiz SHEET|FILE",
		Short: "questions to be worked out, and marked with the reason",
		Example: `railsum quiz drop
railsum quiz drop,stub --seed 7 --count 6
railsum quiz lesson:out_and_back
railsum quiz drop --seed 7 --again 2,5`,
		Long: `A question tells what its answer is worked out from, with inputs drawn as somebody
would choose them. Type the answer with its unit; hint shows the formula, then its
values, then the step below; working shows all; next goes on, leave ends.

The same --seed asks the same questions everywhere, as long as the sheet has the same
edition; without it the set is that of the day. A notebook asks its exercises, then
its guesses with the values as they are. Without a terminal, answers are read a line
each. The exit code is 0 whatever was right.`,
		Args: exactly(1, "the name of a sheet or a file", "name a sheet, a file or lesson:NAME; railsum sheets lists the sheets"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.count < 1 || f.count > 50 {
				return misuse("--count takes 1 to 50 questions").With("write --count 6")
			}
			if !cmd.Flags().Changed("seed") {
				f.seed, _ = strconv.Atoi(time.Now().Format("20060102"))
			}
			return a.quiz(cmd.Context(), args[0], f)
		},
	}
	c.Flags().IntVar(&f.seed, "seed", 0, "the set of questions; that of the day if not given")
	c.Flags().IntVar(&f.count, "count", 5, "how many questions, 1 to 50")
	c.Flags().IntVar(&f.levels, "levels", 0, "how deep the working goes that a question tells")
	c.Flags().StringSliceVar(&f.asking, "asking", nil, "answers to ask for: lost,longest")
	c.Flags().IntSliceVar(&f.again, "again", nil, "ask these questions alone: 2,5")
	return c
}

func (a *app) quiz(ctx context.Context, about string, f quizFlags) error {
	var sets []quiz.Set
	var err error
	again := fmt.Sprintf("railsum quiz %s --seed %d", about, f.seed)
	lib := library.At(a.dir)
	if isNotebook(about) {
		sets, err = a.notebookSets(ctx, about, f)
	} else {
		sets, err = sheetSets(ctx, lib, about, f)
		if f.count != 5 {
			again += fmt.Sprintf(" --count %d", f.count)
		}
		if len(f.asking) > 0 {
			again += " --asking " + strings.Join(f.asking, ",")
		}
		if f.levels > 0 {
			again += fmt.Sprintf(" --levels %d", f.levels)
		}
	}
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
	s := quiz.Session{Library: lib, In: a.stdin, Out: out, Only: f.again, Again: again,
		Prompts: show.IsTerminal(a.stdin) && show.IsTerminal(a.world.stdout)}
	if s.Prompts {
		s.Out = show.New(a.world.stdout, out.Options)
	}
	return s.Run(sets)
}

// isNotebook tells a file or lesson from the name of a sheet.
func isNotebook(name string) bool {
	return name == "-" || strings.HasPrefix(name, library.LessonPrefix) || strings.ContainsAny(name, `/\`) || filepath.Ext(name) != ""
}

// sheetSets makes questions of several sheets, as many of each as of the others.
func sheetSets(ctx context.Context, lib *library.Library, about string, f quizFlags) ([]quiz.Set, error) {
	names := strings.Split(about, ",")
	var sets []quiz.Set
	for i, name := range names {
		sheet, err := lib.Sheet(name, false)
		if err != nil {
			return nil, err
		}
		count := f.count/len(names) + btoi(i < f.count%len(names))
		if count == 0 {
			continue
		}
		ex := &answer.Exercise{Sheet: name, Edition: sheet.Edition, Count: count, Asking: f.asking, Levels: f.levels}
		set, err := makeSet(ctx, lib, ex, f.seed)
		if err != nil {
			return nil, err
		}
		sets = append(sets, set)
	}
	return sets, nil
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

func makeSet(ctx context.Context, lib *library.Library, ex *answer.Exercise, seed int) (quiz.Set, error) {
	title := ex.Sheet
	if ex.Edition > 0 {
		title += fmt.Sprintf(", edition %d", ex.Edition)
	}
	questions, err := quiz.Make(ctx, lib, ex, seed)
	return quiz.Set{Title: fmt.Sprintf("%s, set %d", title, seed), Questions: questions}, err
}

// notebookSets are a notebook's exercises, then its guesses.
func (a *app) notebookSets(ctx context.Context, name string, f quizFlags) ([]quiz.Set, error) {
	file, err := a.source(name)
	if err != nil {
		return nil, err
	}
	lib := library.At(a.folder(file))
	book := calc.Open(syntax.ParseFile(file.Text).Lines, lib)
	exercises, err := quiz.Exercises(ctx, book)
	if err != nil {
		return nil, err
	}
	var sets []quiz.Set
	for _, ex := range exercises {
		seed := f.seed
		if ex.Seed != nil {
			seed = *ex.Seed
		}
		set, err := makeSet(ctx, lib, ex, seed)
		if err != nil {
			return nil, err
		}
		sets = append(sets, set)
	}
	guesses, err := quiz.Guesses(ctx, book, lib)
	if err != nil {
		return nil, err
	}
	if len(guesses) > 0 {
		sets = append(sets, quiz.Set{Title: shown(name) + ", its own questions", Questions: guesses})
	}
	if len(sets) == 0 {
		return nil, misuse("%s asks nothing", shown(name)).With("write an `exercise` or a `guess` line into it")
	}
	return sets, nil
}
