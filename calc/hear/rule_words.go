package hear

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// What people say in words where the language has a sign or a figure.

// counts are small numbers as they are said.
var counts = map[string]string{"a": "1", "an": "1", "one": "1", "two": "2", "three": "3", "four": "4", "five": "5",
	"six": "6", "seven": "7", "eight": "8",
	"nine": "9", "ten": "10", "eleven": "11", "twelve": "12"}

// shares are parts of what follows "of".
var shares = map[string]string{"half": "50", "quarter": "25", "tenth": "10"}

func num(text string) token { return token{kind: number, text: text, spaced: true, plain: true} }
func op(text string) token  { return token{kind: sign, text: text, spaced: true} }

// figures hears numbers in words: one before a unit that is spelled out, and a half
// or a quarter of a value.
func figures(e *Ear, c cand) []cand {
	if question(c.ts) < 0 {
		return nil
	}
	var out []token
	heard := false
	for i := 0; i < len(c.ts); i++ {
		t := c.ts[i]
		low := strings.ToLower(t.text)
		switch {
		case t.kind != word || i+1 >= len(c.ts) || e.named(t.text) || len(out) > 0 && out[len(out)-1].kind == number:
		case shares[low] != "" && c.ts[i+1].isWord("of") && i+2 < len(c.ts) && beginning(c.ts[i+2]):
			if n := len(out); n > 0 && out[n-1].oneOf("a", "one") {
				out = out[:n-1]
			}
			out, heard = append(out, num(shares[low]), token{kind: unit, text: "%", spaced: true}), true
			continue
		case low == "half" && c.ts[i+1].oneOf("a", "an") && e.spelledUnit(c.ts, i+2):
			out, heard = append(out, num("0.5")), true
			i++
			continue
		case counts[low] != "" && e.spelledUnit(c.ts, i+1):
			out, heard = append(out, num(counts[low])), true
			continue
		}
		out = append(out, t)
	}
	if !heard {
		return nil
	}
	return []cand{c.with(out)}
}

// spelledUnit reports whether the name of a unit stands at i, and not a symbol alone.
func (e *Ear) spelledUnit(ts []token, i int) bool {
	if i >= len(ts) || len(ts[i].text) < 3 {
		return false
	}
	_, n, sure := e.unitsAt(ts, i)
	return n > 0 && sure && !isUnit(ts[i].text)
}

// signWords are the signs by what is said for them.
var signWords = []struct {
	said []string
	sign string
}{{[]string{"plus"}, "+"}, {[]string{"minus"}, "-"}, {[]string{"less"}, "-"}, {[]string{"multiplied", "by"}, "*"},
	{[]string{"divided", "by"}, "/"}, {[]string{"over"}, "/"}}

// signs hears plus, minus, divided by and over between two values. Over is a
// division only below what can stand under a line and is no way or time to be
// over; where a sum stands beside it nobody can say how far it reaches.
func signs(e *Ear, c cand) []cand {
	body := question(c.ts)
	if body < 0 {
		return nil
	}
	cands := []cand{c}
	heard := false
	for i := body + 1; i+1 < len(cands[0].ts); i++ {
		ts := cands[0].ts
		said, n := signSaid(ts, i)
		if n == 0 || i+n >= len(ts) || e.named(ts[i].text) || !ending(ts[i-1]) || !beginning(ts[i+n]) {
			continue
		}
		if ts[i].isWord("over") && !e.below(ts, i+1) || ts[i].isWord("less") && e.share(ts, i+1) {
			continue
		}
		heard = true
		var next []cand
		for _, d := range cands {
			plain := d.change(i, i+n, op(said))
			plain.ts[i+1].spaced = true
			if said != "/" || !slices.ContainsFunc(ts[body:],
				func(t token) bool { return t.is("+") || t.is("-") || t.oneOf("plus", "minus", "less") }) {
				next = append(next, plain)
				continue
			}
			end := tail(ts, i+n)
			all := d.with(slices.Concat(ts[:body:body], []token{op("(")}, ts[body:i],
				[]token{{kind: sign, text: ")"}, op("/"), op("(")}, spaced(ts[i+n:end]), []token{{kind: sign, text: ")"}},
				ts[end:]))
			const ask = "how far does the division reach?"
			next = append(next, plain.asking(ask), all.asking(ask))
		}
		if cands = next; len(cands) > 1 {
			for k := range cands { // the signs that are left are heard as they stand
				for j := 0; j < len(cands[k].ts); j++ {
					if s, n := signSaid(cands[k].ts, j); n == 1 && s != "/" && j > body {
						cands[k].ts[j] = op(s)
					}
				}
			}
			break
		}
	}
	if !heard {
		return nil
	}
	return cands
}

func signSaid(ts []token, i int) (sign string, n int) {
	for _, s := range signWords {
		if n := len(s.said); i+n <= len(ts) && ts[i].isWord(s.said[0]) && ts[i+n-1].isWord(s.said[n-1]) {
			return s.sign, n
		}
	}
	return "", 0
}

// tail is where the value of a line ends that goes on at i, and the unit asked for
// begins.
func tail(ts []token, i int) int {
	for ; i < len(ts); i++ {
		if ts[i].oneOf("in", "to", "into", "as", "at") {
			return i
		}
	}
	return i
}

// below reports whether what stands at i can stand under a line: a bare number or
// something electric, and no length or time.
func (e *Ear) below(ts []token, i int) bool {
	if ts[i].is("(") {
		return true
	}
	if ts[i].kind != number || resistance(ts[i].text) {
		return ts[i].kind == number
	}
	if ends(ts, i+1) {
		return true
	}
	found, n, sure := e.unitsAt(ts, i+1)
	return n > 0 && sure && len(found) == 1 && isOf(found[0], "ohm", "V", "A", "W")
}

// share reports whether a share stands at i: 10 % less is of something.
func (e *Ear) share(ts []token, i int) bool {
	if i+1 >= len(ts) {
		return false
	}
	found, n, _ := e.unitsAt(ts, i+1)
	return ts[i+1].is("%") || n > 0 && slices.Contains(found, "%")
}

// functions hears functions that are said: the square root of a value.
func functions(e *Ear, c cand) []cand {
	for i := range c.ts {
		at := i
		if c.ts[i].isWord("square") && i+1 < len(c.ts) {
			at++
		}
		if !c.ts[at].isWord("root") || at+2 >= len(c.ts) || !c.ts[at+1].isWord("of") || e.named("root") ||
			!beginning(c.ts[at+2]) {
			continue
		}
		from, end := at+2, tail(c.ts, at+2)
		start := i
		if i > 0 && c.ts[i-1].isWord("the") {
			start--
		}
		call := func(end int) cand {
			return c.change(start, end, slices.Concat([]token{{kind: word, text: "sqrt", spaced: true}, {kind: sign, text: "("}},
				c.ts[from:end], []token{{kind: sign, text: ")"}})...)
		}
		one := from + 1
		for one < end && c.ts[one].kind != sign {
			one++
		}
		if c.ts[from].is("(") {
			one = primaryEnd(c.ts, from)
		}
		if one >= end {
			return []cand{call(end)}
		}
		const ask = "how far does the root reach?"
		return []cand{call(one).asking(ask), call(end).asking(ask)}
	}
	return nil
}

// together hears what stands together in words: so many alike, or some joined by
// and, in series or in parallel.
func together(e *Ear, c cand) []cand {
	ts, body := c.ts, question(c.ts)
	if body < 0 || len(ts) < body+4 {
		return nil
	}
	call, end := "", len(ts)
	switch last := ts[end-1]; {
	case last.oneOf("series", "parallel") && ts[end-2].isWord("in"):
		call, end = strings.ToLower(last.text), end-2
	case last.isWord("side") && ts[end-2].isWord("by") && ts[end-3].isWord("side"):
		call, end = "parallel", end-3
	default:
		return nil
	}
	var parts [][]token
	from := body
	if t := ts[body]; t.plain && whole(t.text) && end > body+2 {
		at := body + 1
		if ts[at].oneOf("x", "times", "of") {
			at++
		}
		if n, _ := strconv.Atoi(t.text); ts[at].kind == number && 2 <= n && n <= 12 {
			for range n {
				parts = append(parts, e.bare(ts[at:end]))
			}
			from = end
		}
	}
	for i := from; i <= end && from < end; i++ {
		if i == end || ts[i].oneOf("and") || ts[i].is("+") || ts[i].is(",") || ts[i].is("&") {
			if i > from { // ", and"
				parts = append(parts, e.bare(ts[from:i]))
			}
			from = i + 1
		}
	}
	if len(parts) < 2 || slices.ContainsFunc(parts, func(p []token) bool { return len(p) == 0 || p[0].kind != number }) {
		return nil
	}
	out := append(ts[:body:body], token{kind: word, text: call, spaced: true}, token{kind: sign, text: "("})
	for i, p := range parts {
		if i > 0 {
			out = append(out, token{kind: sign, text: ","})
		}
		out = append(out, spaced(p)...)
	}
	return []cand{c.with(append(out, token{kind: sign, text: ")"}))}
}

// bare is a value without the word for the part that has it.
func (e *Ear) bare(ts []token) []token {
	if n := len(ts); n > 1 && ts[n-1].oneOf("resistor", "resistors", "capacitor", "capacitors", "each") &&
		!e.named(ts[n-1].text) {
		return ts[:n-1]
	}
	return ts
}

// footScales hears a scale by its millimetres to the foot, and one that is written
// as a fraction.
func footScales(_ *Ear, c cand) []cand {
	ts := c.ts
	for i := 0; i+2 < len(ts); i++ {
		switch {
		case ts[i].plain && ts[i+1].oneOf("mm", "millimetre", "millimeter") && ts[i+2].isWord("scale"):
			if mm, err := strconv.ParseFloat(ts[i].text, 64); err == nil && mm > 0 {
				ratio := "1:" + strconv.FormatFloat(304.8/mm, 'g', 4, 64)
				end := i + 2
				if i > 0 && ts[i-1].isWord("at") {
					end = i + 3
				}
				return []cand{c.change(i, end, token{kind: number, text: ratio}).saying(fmt.Sprintf("%s mm to the foot is %s",
					ts[i].text, ratio))}
			}
		case i > 0 && ts[i-1].oneOf("at", "in", "to") && ts[i].text == "1" && ts[i+1].is("/") && ts[i+2].plain &&
			!ts[i+2].spaced && ends(ts, i+3):
			return []cand{c.change(i, i+3, token{kind: number, text: "1:" + ts[i+2].text})}
		}
	}
	return nil
}

// equals hears a sign of equality before the unit asked for: 32 in = ? mm.
func equals(e *Ear, c cand) []cand {
	ts := c.ts
	if len(ts) < 4 || ts[0].kind != number && !ts[0].is("(") {
		return nil
	}
	i := slices.IndexFunc(ts, func(t token) bool { return t.is("=") })
	if i < 2 {
		return nil
	}
	at := i + 1
	for at < len(ts) && (ts[at].is("?") || ts[at].oneOf("how", "many", "much", "what")) {
		at++
	}
	if _, n, _ := e.unitsAt(ts, at); n == 0 || at+n != len(ts) {
		return nil
	}
	d := c.change(i, at, token{kind: word, text: "as", spaced: true})
	d.ts[i+1].spaced = true
	return []cand{d}
}

// asking are the words that ask how something came about, and besides those that
// people say with them.
var (
	asking  = strings.Fields("why how explain working workings derivation")
	besides = strings.Fields("is was are did do does the a of for out me you get got we work worked calculate calculated compute computed come comes came about from show to up with made")
)

// why hears a question of how a value came about, where one name alone is left.
func why(e *Ear, c cand) []cand {
	asked, name := false, -1
	for i, t := range c.ts {
		switch {
		case t.kind == word && e.named(t.text) && name < 0:
			name = i
		case t.oneOf(asking...):
			asked = true
		case t.oneOf(besides...) || t.is("?") && i == len(c.ts)-1:
		default:
			return nil
		}
	}
	if !asked || name < 0 || c.ts[0].isWord("working") && name == 1 {
		return nil
	}
	return []cand{c.with([]token{{kind: word, text: "working"}, {kind: done, text: c.ts[name].text, spaced: true}})}
}
