package page

import (
	"html/template"
	"strings"
	"unicode"

	"railsum/calc/answer"
	"railsum/calc/types"
	"railsum/cmd/railsum/show"
	"railsum/units"
)

// text is a text for the page: what could act unseen is spelled out, a number stays with its unit, and what is written
// from right to left is kept apart.
func text(s string) template.HTML {
	s = together(show.Safe(s))
	turns := strings.IndexFunc(s, rightToLeft) >= 0
	var b strings.Builder
	run := 0 // letters since a place where the row can break
	for _, r := range s {
		if run++; r == ' ' || r == '\u00a0' {
			run = 0
		} else if run > longWord {
			b.WriteRune(breakable)
			run = 1
		}
		b.WriteRune(r)
	}
	s = strings.ReplaceAll(template.HTMLEscapeString(b.String()), string(breakable), "<wbr>")
	if turns {
		s = "<bdi>" + s + "</bdi>"
	}
	return template.HTML(s)
}

// longWord is how many letters a word may have before it can break anywhere.
const longWord = 24

// breakable stands for a place where a row may break. Safe leaves none of it in a text.
const breakable = '\u200b'

func rightToLeft(r rune) bool {
	return r >= 0x590 && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko)
}

// together puts a no-break space between a number and its unit.
func together(s string) string {
	words := strings.Split(s, " ")
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			gap := " "
			if number(words[i-1]) && unit(w) {
				gap = "\u00a0"
			}
			b.WriteString(gap)
		}
		b.WriteString(w)
	}
	return b.String()
}

func number(word string) bool {
	word = strings.TrimLeft(word, "(+-")
	return word != "" && word[0] >= '0' && word[0] <= '9' && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

func unit(word string) bool {
	word = strings.TrimRight(word, "),;:.?")
	_, err := units.Parse(word)
	return word != "" && err == nil
}

// value spells a value as it is read.
func (m *maker) value(v *answer.Value) string {
	switch {
	case v == nil:
		return "no answer"
	case v.Column():
		var all []string
		for r := range min(v.Rows(), 5) {
			all = append(all, v.Label(r)+" "+m.value(v.Row(r)))
		}
		if n := v.Rows() - 5; n > 0 {
			all = append(all, count(n, "more", "more"))
		}
		return strings.Join(all, ", ")
	case v.Fault(0) == answer.None:
		return answer.None
	case v.Fault(0) != "":
		return "no answer: " + v.Fault(0)
	case v.Type.Kind == types.Text:
		return v.Texts[0]
	case !v.Quantity():
		return v.Cell(0)
	case !v.Literal.IsZero():
		return typed(v.Literal)
	}
	s := v.Number(0)
	if !v.Unit.IsZero() {
		s += " " + v.Unit.Shown()
	}
	if !v.Tol.IsZero() {
		s += " \u00b1 " + typed(v.Tol)
	}
	return s
}

func typed(t answer.Typed) string {
	if t.Unit.IsZero() {
		return t.Number
	}
	return t.Number + " " + t.Unit.Shown()
}

// arm is a signal arm beside a verdict: level for danger, a little raised for caution, high for clear.
func arm(v answer.Verdict) template.HTML {
	angle := map[answer.Verdict]string{answer.Danger: "0", answer.NoVerdict: "0", answer.Caution: "30",
		answer.Clear: "60"}[v]
	return template.HTML(`<svg class="arm" viewBox="0 0 24 24" aria-hidden="true"><path d="M18 1.5v21M13.5 22.5h9"/>` +
		`<g transform="rotate(` + angle + ` 18 12)"><path d="M18 9.4H3l1.6 2.6L3 14.6h15z" stroke="none"/></g></svg>`)
}
