package calc_test

import (
	"context"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

// quoted is what a cure says to write.
var quoted = regexp.MustCompile("`([^`]+)`")

// cure is one thing that a refused line was told to write.
type cure struct {
	before, after []string // the rows around the refused line
	text          string
	said          string // where, and what else
	example       bool   // "as in": of a line like it, with names of its own
}

// curesOf gives what the errors of a notebook tell to write.
func curesOf(t *testing.T, at, text string) (cures []cure) {
	t.Helper()
	rows := strings.Split(text, "\n")
	book := openTrap(strings.ReplaceAll(text, "\n", lineBreak))
	for i, l := range book.Lines() {
		a, err := book.AnswerStudied(context.Background(), i)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range a.Errors {
			for _, m := range quoted.FindAllStringSubmatchIndex(d.Cure, -1) {
				cures = append(cures, cure{
					before: rows[:l.Row-1], after: rows[min(l.Row-1+l.Rows(), len(rows)):], text: d.Cure[m[2]:m[3]],
					said:    at + ": " + l.Raw + ": " + d.Message + "; " + d.Cure,
					example: strings.HasSuffix(d.Cure[:m[0]], "as in ") || strings.Contains(d.Cure[:m[0]], "as in `"),
				})
			}
		}
	}
	return cures
}

// places are where a piece of a line stands that a cure may give.
var places = []string{
	"1 V %", "1 %", "1 m %", "25 m %", "25 m at %", "max(%)", "x = 1 m %", "x = %", "% = 1", "% 1", "ask x = 1 m %", "ask x = 1 %", "use %",
	"use led %", "find x %", "vary x %", "vary x % show x", "vary x from 1 m to 5 m % show x", "working x %", "exercise drop %",
	"table t %\nend", "%\nend", "measured x = 1 V %", "part wire with %", "measured x = 1 V on %", "table t | seen as date\n a | %\nend",
}

// A word or a sign of the language, on which a cure lets the writer build.
var sign = regexp.MustCompile(`^([^\pL\pN]+|[a-z]+)$`)

// good reports whether a cure is what it must be: what has a gap in it is to be
// filled, a word or a sign of the language is known, a piece of a line reads
// where it belongs, an example reads, and a line of its own computes in the place
// of the one that was refused; if it speaks of names that only the writer knows,
// it reads.
func (c cure) good() bool {
	switch order, _, _ := strings.Cut(c.text, " "); {
	case strings.Contains(c.text, "…"), slices.Contains(syntax.OrderWords(), order):
		return true
	case sign.MatchString(c.text) && (len(c.text) <= 2 || syntax.IsReserved(c.text) || slices.Contains(syntax.LineWords(), c.text) || c.text == "whole"):
		return true
	case reads(c.text):
		return c.example || c.computes()
	}
	return slices.ContainsFunc(places, func(place string) bool { return reads(strings.Replace(place, "%", c.text, 1)) })
}

func reads(text string) bool {
	for _, l := range syntax.ParseFile([]byte(text + "\n")).Lines {
		if slices.ContainsFunc(l.Errors, func(d syntax.Diag) bool { return !d.Notice }) {
			return false
		}
	}
	return true
}

// computes reports whether a line has an answer in the place of the refused one,
// or in a notebook of its own.
func (c cure) computes() bool {
	in := slices.Concat(c.before, []string{c.text}, c.after)
	return sound(strings.Join(in, "\n")) || sound(c.text) || strings.HasPrefix(c.text, `use "`) || // whose file is not here
		speaksOfUnknown(strings.Join(in, "\n"), c.text)
}

func speaksOfUnknown(text, line string) (unknown bool) {
	c := calc.Open(syntax.ParseFile([]byte(text)).Lines, library.At(trapSheets)).C
	l, _ := syntax.ParseLine(line)
	syntax.Walk(l.Node, func(e syntax.Expr) {
		if n, ok := e.(*syntax.Name); ok && !c.Means(n.Parts[0].Text) {
			unknown = true
		}
	})
	return unknown
}

func sound(text string) bool {
	book := calc.Open(syntax.ParseFile([]byte(text)).Lines, library.At(trapSheets))
	for i := range book.Lines() {
		if a, err := book.AnswerStudied(context.Background(), i); err != nil || len(a.Errors)+len(a.Waiting) > 0 {
			return false
		}
	}
	return true
}

// TestCures types what the errors of all the trap lists and of the lines of the
// syntax tell to write.
func TestCures(t *testing.T) {
	var all []cure
	for _, r := range readRows(t, wrongLines, "lines", "at", "message", "cure", "trap") {
		all = append(all, curesOf(t, r.at, strings.ReplaceAll(r.of["lines"], lineBreak, "\n"))...)
	}
	// A published row may end in what is refused, or hold lines that are on purpose.
	last := ""
	for _, r := range readRows(t, published, "lines", "read", "expected", "tolerance", "basis", "source") {
		if lines := r.of["lines"]; lines != last {
			last = lines
			all = append(all, curesOf(t, r.at, strings.ReplaceAll(lines, lineBreak, "\n"))...)
		}
	}
	text, err := os.ReadFile("syntax/testdata/lines.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, block := range strings.Split(string(text), "\n\n") {
		typed := slices.DeleteFunc(strings.Split(block, "\n"), func(row string) bool {
			return row == "…" || len(row) > 1 && row[1] == ' ' && strings.ContainsRune(";>!?", rune(row[0]))
		})
		all = append(all, curesOf(t, "lines.txt", strings.Join(typed, "\n"))...)
	}
	if len(all) < 500 {
		t.Errorf("only %d cures", len(all))
	}
	for _, c := range all {
		if !c.good() {
			t.Errorf("`%s` is no cure: %s", c.text, c.said)
		}
	}
}

// A cure that is none is seen.
func TestCuresCanFail(t *testing.T) {
	for _, text := range []string{"2 V + 3 m", "10, 000", "x + 1", "vary x from 1 m to 5 m by 0 m show x", "5 V m"} {
		if (cure{before: []string{"x = 2 m"}, text: text}).good() {
			t.Errorf("`%s` is taken for a cure", text)
		}
	}
}
