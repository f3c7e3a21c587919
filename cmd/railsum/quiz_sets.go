package main

import (
	"context"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/quiz"
	"railsum/library"
)

// asked is what a call asks questions about: exercises, each with its first set, and
// the guesses of a notebook.
type asked struct {
	lib       *library.Library
	exercises []*answer.Exercise
	seeds     []int
	makers    []*quiz.Maker
	guesses   *outline.Set
}

// isNotebook tells a file or lesson from the name of a sheet.
func isNotebook(name string) bool {
	return name == "-" || strings.HasPrefix(name, library.LessonPrefix) || strings.ContainsAny(name, `/\`) ||
		filepath.Ext(name) != ""
}

// questions finds out what a call asks about.
func (a *app) questions(ctx context.Context, about string, f *quizFlags) (*asked, error) {
	q := &asked{lib: library.At(a.dir)}
	var err error
	if isNotebook(about) {
		err = a.ofNotebook(ctx, q, about)
	} else {
		err = q.ofSheets(about, f)
	}
	for _, ex := range q.exercises {
		if err != nil {
			break
		}
		var m *quiz.Maker
		m, err = quiz.New(ctx, q.lib, ex)
		q.makers = append(q.makers, m)
		seed := f.seed
		if ex.Seed != nil {
			seed = *ex.Seed
		}
		q.seeds = append(q.seeds, seed)
	}
	return q, err
}

// ofSheets asks about several sheets, as much about each as about the others.
func (q *asked) ofSheets(about string, f *quizFlags) error {
	names := strings.Split(about, ",")
	for i, name := range names {
		sheet, err := q.lib.Sheet(name, false)
		if err != nil {
			return err
		}
		if count := f.count/len(names) + btoi(i < f.count%len(names)); count > 0 {
			q.exercises = append(q.exercises, &answer.Exercise{Sheet: name, Edition: sheet.Edition, Count: count,
				Asking: f.asking, Levels: f.levels})
		}
	}
	return nil
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// ofNotebook asks a notebook's exercises, then its guesses.
func (a *app) ofNotebook(ctx context.Context, q *asked, name string) error {
	file, err := a.source(name)
	if err != nil {
		return err
	}
	q.lib = library.At(a.folder(file))
	book := calc.Open(syntax.ParseFile(file.Text).Lines, q.lib)
	if q.exercises, err = quiz.Exercises(ctx, book); err != nil {
		return err
	}
	guesses, err := quiz.Guesses(ctx, book, q.lib)
	if err != nil {
		return err
	}
	if len(guesses) > 0 {
		q.guesses = &outline.Set{Title: shown(name) + ", its own questions", Questions: guesses}
	}
	if len(q.exercises) == 0 && q.guesses == nil {
		return misuse("%s asks nothing", shown(name)).With("write an `exercise` or a `guess` line into it")
	}
	return nil
}

// sets are the questions of one paper: the first is 0.
func (q *asked) sets(paper int) ([]*outline.Set, error) {
	var all []*outline.Set
	for i, m := range q.makers {
		set, err := m.Set(q.seeds[i] + paper)
		if err != nil {
			return nil, err
		}
		all = append(all, set)
	}
	if q.guesses != nil {
		all = append(all, q.guesses)
	}
	return all, nil
}

// set is the set of an exercise line: its own, or that of the day.
func (a *app) set(ctx context.Context, lib *library.Library, ex *answer.Exercise) (*outline.Set, error) {
	m, err := quiz.New(ctx, lib, ex)
	if err != nil {
		return nil, err
	}
	if ex.Seed != nil {
		return m.Set(*ex.Seed)
	}
	return m.Set(a.ofTheDay())
}

// ofTheDay is the set of today.
func (a *app) ofTheDay() int {
	n, _ := strconv.Atoi(a.now().Format("20060102"))
	return n
}

// editions are those of the sheets that are asked about, as --edition takes them.
func (q *asked) editions() string {
	var all []string
	for _, ex := range q.exercises {
		if text := fmt.Sprintf("%s=%d", ex.Sheet, ex.Edition); ex.Edition > 0 && !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return strings.Join(all, ",")
}

// others says which sheets have another edition than a paper was made from. It is an
// error where one of them is not asked about.
func (q *asked) others(made map[string]int) ([]string, error) {
	var all []string
	for _, sheet := range slices.Sorted(maps.Keys(made)) {
		at := slices.IndexFunc(q.exercises, func(ex *answer.Exercise) bool { return ex.Sheet == sheet })
		switch {
		case at < 0:
			return nil, misuse("--edition names %s, and no question is about it", sheet).With("write --edition " + q.editions())
		case q.exercises[at].Edition != made[sheet]:
			all = append(all, fmt.Sprintf("set %d was made from edition %d of %s, this is edition %d: its questions may be others",
				q.seeds[at], made[sheet], sheet, q.exercises[at].Edition))
		}
	}
	return all, nil
}
