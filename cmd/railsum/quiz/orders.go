package quiz

import (
	"strings"
	"unicode"

	"railsum/cmd/railsum/marking"
	"railsum/units/words"
)

// What can be typed in the place of an answer.
const (
	hint    = "hint"
	working = "working"
	next    = "next"
	leave   = "leave"
	help    = "help"
)

// orders are the words that people have for them.
var orders = map[string]string{
	"hint": hint, "hints": hint, "clue": hint, "tip": hint, "how": hint,
	"working": working, "workings": working, "steps": working, "solution": working, "show": working, "explain": working,
	"next": next, "skip": next, "pass": next, "answer": next, "give up": next, "go on": next,
	"leave": leave, "quit": leave, "exit": leave, "stop": leave, "end": leave, "bye": leave, "done": leave,
	"enough": leave, "q": leave,
	"help": help, "?": help, "commands": help,
}

// order is what is wanted in the place of an answer, empty for an answer. An order that
// is misspelled or stands among other words is taken where it can be one alone; but for
// the end of the questions, by which something is lost: it stands for itself.
func order(text string, q marking.Asked) string {
	if q.Spelled(text) {
		return ""
	}
	text = strings.ToLower(strings.Trim(text, " .!"))
	if o := orders[text]; o != "" {
		return o
	}
	if !q.Right.Quantity() || strings.ContainsAny(text, "0123456789") {
		return ""
	}
	if o := within(text); o != "" {
		return o
	}
	var known []string
	for word := range orders {
		if len(word) > 3 {
			known = append(known, word)
		}
	}
	meant := ""
	for _, word := range words.Near(text, known) {
		if o := orders[word]; o == leave || meant != "" && o != meant {
			return ""
		}
		meant = orders[word]
	}
	return meant
}

// within is the one order that stands in a text, empty if there are several or it ends
// the questions.
func within(text string) string {
	one := ""
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		o := orders[word]
		if o == leave || o != "" && one != "" && o != one {
			return ""
		}
		if o != "" {
			one = o
		}
	}
	return one
}
