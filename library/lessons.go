package library

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// LessonPrefix stands before the name of a lesson where a file could be named.
const LessonPrefix = "lesson:"

// Lesson is a notebook that ships, to be gone through on a club evening.
type Lesson struct {
	Name   string // "out_and_back"
	Number int    // its place in the course
	Title  string
	About  string // how long it takes, and what one can do afterwards
}

// Lessons lists the shipped lessons in the order of the course.
func Lessons() []Lesson { return slices.Clone(lessons()) }

var numbered = regexp.MustCompile(`^Lesson ([0-9]+) of [0-9]+`)

var lessons = sync.OnceValue(func() []Lesson {
	found, err := files.ReadDir("lessons")
	if err != nil {
		panic(err) // embedded: cannot fail in a program that was built
	}
	var all []Lesson
	for _, f := range found {
		l := Lesson{Name: strings.TrimSuffix(f.Name(), ending)}
		text, err := files.ReadFile("lessons/" + f.Name())
		if err != nil {
			panic(err)
		}
		var notes []string
		for _, line := range syntax.ParseFile(text).Lines {
			if r, ok := line.Node.(*syntax.Remark); ok && len(notes) < 2 {
				notes = append(notes, r.Text)
			}
		}
		if len(notes) == 2 {
			l.Title, l.About = notes[0], notes[1]
			if m := numbered.FindStringSubmatch(l.About); m != nil {
				l.Number, _ = strconv.Atoi(m[1])
			}
		}
		all = append(all, l)
	}
	slices.SortFunc(all, func(a, b Lesson) int { return cmp.Compare(a.Number, b.Number) })
	return all
})

// LessonText is the text of a lesson. An error is a [syntax.Diag].
func LessonText(name string) ([]byte, error) {
	text, err := files.ReadFile("lessons/" + name + ending)
	if err == nil {
		return text, nil
	}
	var names []string
	for _, l := range lessons() {
		names = append(names, l.Name)
	}
	cure := words.Meant(name, names)
	if cure == "" {
		cure = "railsum lessons lists them: " + words.And(names)
	}
	return nil, syntax.Diag{Wrong: words.Say("there is no lesson %q", name).With(cure)}
}
