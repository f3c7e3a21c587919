package hear

import (
	"strconv"
	"strings"
)

// commas hears the decimal comma. It listens where a comma parts nothing: not
// among the arguments of a call, in a list or in the head of a table.
func commas(_ *Ear, c cand) []cand {
	for _, t := range c.ts {
		if t.oneOf("among", "show", "prefer") || t.is("|") {
			return nil
		}
	}
	cands := []cand{c.with(nil)}
	add := func(ts ...token) {
		for i := range cands {
			cands[i].ts = append(cands[i].ts[:len(cands[i].ts):len(cands[i].ts)], ts...)
		}
	}
	heard, ask := false, ""
	thousands := false // a point with three digits behind it stands in the line
	var calls []bool   // of the brackets that are open
	for i := 0; i < len(c.ts); i++ {
		t := c.ts[i]
		switch {
		case t.is("("):
			calls = append(calls, i > 0 && c.ts[i-1].kind == word && !t.spaced && !c.ts[i-1].joins())
		case t.is(")") && len(calls) > 0:
			calls = calls[:len(calls)-1]
		}
		if len(calls) > 0 && contains(calls, true) || !commaAt(c.ts, i) {
			add(t)
			if _, behind, ok := strings.Cut(t.text, "."); ok && t.plain && len(behind) == 3 {
				thousands = true
			}
			continue
		}
		heard = true
		groups := []string{t.text}
		for commaAt(c.ts, i) {
			groups = append(groups, c.ts[i+2].text)
			i += 2
		}
		whole, last := groups[0], groups[len(groups)-1]
		value := func(s string) token { return token{kind: number, text: s, spaced: t.spaced, plain: true} }
		all := strings.Join(groups, "")
		switch {
		case strings.Contains(whole, "."), strings.Contains(last, "."), len(groups) > 2:
			ask = "a number has one mark: which of them is the decimal point?"
			if at := strings.LastIndexAny(joined(c.ts[:i+1]), ".,"); len(groups) == 2 && at >= 0 {
				whole = strings.ReplaceAll(whole, ".", "")
				if strings.Contains(last, ".") { // 1,500.5
					add(value(whole + last))
				} else { // 1.500,5
					add(value(whole + "." + last))
				}
				continue
			}
			add(value(strings.ReplaceAll(all, ".", "")))
		case len(last) == 3 && whole != "0":
			ask = "a comma before three digits may part thousands or be the decimal point"
			two := make([]cand, 0, 2*len(cands))
			for _, c := range cands {
				two = append(two, c.with(append(c.ts[:len(c.ts):len(c.ts)], value(all))),
					c.with(append(c.ts[:len(c.ts):len(c.ts)], value(whole+"."+last))))
			}
			cands = two
		default:
			add(value(whole + "." + last))
		}
		if len(cands) > most {
			return cands
		}
	}
	if !heard {
		return nil
	}
	if thousands && ask == "" {
		ask = "beside a decimal comma a point may part thousands"
		for _, c := range cands[:len(cands):len(cands)] {
			ts := append([]token{}, c.ts...)
			for i, t := range ts {
				if before, behind, ok := strings.Cut(t.text, "."); ok && t.plain && len(behind) == 3 {
					ts[i].text = before + behind
				}
			}
			cands = append(cands, c.with(ts))
		}
	}
	if ask != "" {
		for i := range cands {
			cands[i] = cands[i].asking(ask)
		}
	}
	return cands
}

func contains(list []bool, x bool) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// commaAt reports whether digits, a comma and digits stand glued at i.
func commaAt(ts []token, i int) bool {
	return i+2 < len(ts) && ts[i].plain && ts[i+1].is(",") && ts[i+2].plain && !ts[i+1].spaced && !ts[i+2].spaced &&
		!strings.HasPrefix(ts[i+2].text, ".") && !strings.ContainsAny(ts[i+2].text, "eE")
}

// feetMarks and inchMarks are what stands behind feet and inches.
const feetMarks, inchMarks = "'’′", "\"”″"

func (t *token) mark(marks string) bool {
	return t.kind == sign && !t.spaced && strings.Contains(marks, t.text)
}

// marks hears feet and inches, and the fractions that strict does not have.
func marks(e *Ear, c cand) []cand {
	ts := c.ts
	marked, turned := false, false
	for i := range ts {
		marked = marked || i > 0 && ts[i-1].kind == number && (ts[i].mark(feetMarks) || ts[i].mark(inchMarks))
		if strings.Contains(ts[i].text, "°") || ts[i].oneOf("deg", "degree", "degrees") {
			turned = true
		} else if i > 0 && ts[i].kind == word && ts[i-1].kind == number {
			found, _, _ := e.unitsAt(ts, i)
			turned = turned || len(found) == 1 && isOf(found[0], "s", "A", "As")
		}
	}
	if marked && turned {
		return []cand{c.asking("' and \" may be feet and inches, or minutes and seconds: write the units")}
	}
	for i := 1; i+3 < len(ts); i++ { // 5'-6"
		if ts[i].mark(feetMarks) && ts[i-1].plain && ts[i+1].is("-") && !ts[i+1].spaced && ts[i+2].plain && !ts[i+2].spaced &&
			(ts[i+3].mark(inchMarks) || ts[i+3].oneOf("in", "inch", "inches")) {
			const ask = "feet and inches, as on a drawing, or a difference?"
			apart := c.change(i+1, i+2, op("-"))
			apart.ts[i+2].spaced = true
			var all []cand
			for _, d := range []cand{c.change(i+1, i+2), apart} {
				if more := marks(e, d); more != nil {
					all = append(all, more[0].asking(ask))
				}
			}
			return all
		}
	}
	var out []token
	heard := false
	for i := 0; i < len(ts); {
		l := inchesAt(ts, i)
		if l.n == 0 {
			out = append(out, ts[i])
			i++
			continue
		}
		l.out[0].spaced = ts[i].spaced
		out = append(out, l.out...)
		heard = heard || l.heard
		i += l.n
	}
	if !heard {
		return nil
	}
	return []cand{c.with(out)}
}

// span is what was heard of the n tokens at a place.
type span struct {
	out   []token
	n     int
	heard bool // other than strict reads it
}

var (
	ft = token{kind: unit, text: "ft", spaced: true}
	in = token{kind: unit, text: "in", spaced: true}
)

// inchesAt reads a length in feet and inches at i.
func inchesAt(ts []token, i int) span {
	if ts[i].kind != number || !ts[i].plain {
		return span{}
	}
	if i+1 < len(ts) && ts[i+1].mark(feetMarks) {
		feet := span{out: []token{ts[i], ft}, n: 2, heard: true}
		at := i + 2
		if at >= len(ts) || !ts[at].plain {
			return feet
		}
		rest := inchPart(ts, at)
		if rest.n == 0 && at+1 < len(ts) && ts[at+1].oneOf("in", "inch", "inches") && ends(ts, at+2) { // 6' 2 in
			rest = span{out: []token{ts[at], in}, n: 2}
		}
		if rest.n == 0 && ends(ts, at+1) && !strings.Contains(ts[at].text, ".") && len(ts[at].text) < 3 &&
			(at+1 >= len(ts) || ts[at+1].joins() || ts[at+1].is(")")) {
			rest = span{out: []token{ts[at], in}, n: 1} // 5' 6
		}
		if rest.n > 0 && len(rest.out) > 0 && !rest.out[0].is("(") {
			rest.out[0].spaced = true
			return span{out: append(feet.out, rest.out...), n: 2 + rest.n, heard: true}
		}
		return feet
	}
	return inchPart(ts, i)
}

// inchPart reads inches at i: 6", 3/4", 3 1/2", 3-1/2 in, 1/3 in.
func inchPart(ts []token, i int) span {
	inch := func(at int) (n int, heard bool) {
		switch {
		case at < len(ts) && ts[at].mark(inchMarks):
			return 1, true
		case at < len(ts) && ts[at].oneOf("in", "inch", "inches") && ends(ts, at+1):
			return 1, !ts[at].isWord("in")
		}
		return 0, false
	}
	fraction := func(at int) (top, bottom int) {
		if at+2 < len(ts) && ts[at].plain && ts[at+1].is("/") && !ts[at+1].spaced && ts[at+2].plain && !ts[at+2].spaced {
			top, _ = strconv.Atoi(ts[at].text)
			bottom, _ = strconv.Atoi(ts[at+2].text)
		}
		return top, bottom
	}
	num := func(n int) token { return token{kind: number, text: strconv.Itoa(n), plain: true, spaced: true} }
	length := func(whole, top, bottom, n int, heard bool) span {
		switch {
		case top < 1 || bottom < 2 || whole >= 0 && top >= bottom:
			return span{}
		case bottom&(bottom-1) == 0 && bottom <= 64:
			out := []token{num(top), {kind: sign, text: "/"}, {kind: number, text: strconv.Itoa(bottom)}, in}
			if whole >= 0 {
				out = append([]token{num(whole)}, out...)
			}
			return span{out, n, heard}
		}
		return span{[]token{{kind: sign, text: "("}, {kind: number, text: strconv.Itoa(max(whole, 0)*bottom + top)}, in,
			{kind: sign, text: "/", spaced: true}, num(bottom), {kind: sign, text: ")"}}, n, true}
	}
	if top, bottom := fraction(i); bottom > 0 {
		if i > 0 && (ts[i-1].is("/") || ts[i-1].is("^")) {
			return span{}
		}
		if n, heard := inch(i + 3); n > 0 {
			return length(-1, top, bottom, 3+n, heard)
		}
		return span{}
	}
	if whole, err := strconv.Atoi(ts[i].text); err == nil && i+1 < len(ts) {
		at, hyphen := i+1, false
		if ts[at].is("-") && !ts[at].spaced && at+1 < len(ts) && !ts[at+1].spaced {
			at, hyphen = at+1, true
		}
		if top, bottom := fraction(at); bottom > 0 && (hyphen || ts[at].spaced) {
			if n, heard := inch(at + 3); n > 0 {
				return length(whole, top, bottom, at+3+n-i, heard || hyphen)
			}
			if !hyphen && at+3 < len(ts) && ts[at+3].kind == word && !ts[at+3].joins() && 0 < top && top < bottom &&
				bottom&(bottom-1) == 0 && bottom <= 64 {
				// 1 1/2 pounds: only inches are written in fractions.
				value := strconv.FormatFloat(float64(whole)+float64(top)/float64(bottom), 'f', -1, 64)
				return span{[]token{{kind: number, text: value, plain: true}}, at + 3 - i, true}
			}
		}
	}
	if i+1 < len(ts) && ts[i+1].mark(inchMarks) {
		return span{[]token{ts[i], in}, 2, true}
	}
	return span{}
}

// gauges hears the gauge of a wire.
func gauges(e *Ear, c cand) []cand {
	cands := []cand{c}
	heard := false
	for at := 0; ; {
		at = gaugeAfter(cands[0].ts, at)
		if at < 0 {
			break
		}
		var next []cand
		ts := cands[0].ts
		w := strings.ToLower(ts[at].text)
		first, n, size := gaugeSize(ts, at)
		kinds := []string{strings.TrimRight(w, "0123456789")}
		spoken := w == "gauge" || w == "ga" || w == "gage"
		loose := spoken
		if spoken {
			kinds = []string{"awg", "swg"}
			if e.gauge != "" {
				kinds, loose = []string{strings.ToLower(e.gauge)}, false
			}
		}
		if n == 0 || e.named(w) {
			at++
			continue
		}
		heard = true
		for _, c := range cands {
			if spoken && (strings.Trim(size, "0") == "" || size == "1" || size == "N") {
				next = append(next, c.asking("a gauge of track, or of wire? Of wire write `awg(0)` or `awg(1)`"))
				continue
			}
			for _, kind := range kinds {
				d := c.change(first, first+n, token{kind: done, text: kind + "(" + size + ")"})
				if loose {
					d = d.asking("which gauge of wire: American (AWG) or imperial (SWG)?")
				}
				next = append(next, d)
			}
		}
		cands = next
		if cands[0].ts[first].kind != done || len(cands) > most {
			break
		}
		at = first + 1
	}
	if !heard {
		return nil
	}
	return cands
}

// gaugeAfter finds the next word for a gauge.
func gaugeAfter(ts []token, from int) int {
	for i := from; i < len(ts); i++ {
		w := strings.ToLower(ts[i].text)
		if ts[i].kind == word && (strings.TrimRight(w, "0123456789") == "awg" ||
			strings.TrimRight(w, "0123456789") == "swg" || w == "gauge" || w == "ga" || w == "gage") {
			return i
		}
	}
	return -1
}

// gaugeSize reads the size beside the word at at: before it, behind it or in it.
func gaugeSize(ts []token, at int) (first, n int, size string) {
	w := ts[at].text
	bare := strings.TrimRight(w, "0123456789")
	called := at+1 < len(ts) && ts[at+1].is("(") && !ts[at+1].spaced
	switch {
	case called:
		return 0, 0, ""
	case bare != w:
		return at, 1, w[len(bare):]
	case at > 2 && ts[at-1].text == "0" && ts[at-2].is("/") && ts[at-3].plain: // 2/0 AWG
		return at - 3, 4, ts[at-3].text + "/0"
	case at > 0 && ts[at-1].plain && whole(ts[at-1].text):
		return at - 1, 2, ts[at-1].text
	case at == 1 && ts[0].text == "N":
		return 0, 2, "N"
	case at+3 < len(ts) && ts[at+1].plain && ts[at+2].is("/") && ts[at+3].text == "0":
		return at, 4, ts[at+1].text + "/0"
	case at+1 < len(ts) && ts[at+1].plain && whole(ts[at+1].text):
		return at, 2, ts[at+1].text
	}
	return 0, 0, ""
}

func whole(s string) bool { _, err := strconv.Atoi(s); return err == nil }

// temperatures hears a temperature that is turned over from one scale to the
// other: there alone F and C can be no farad and no coulomb.
func temperatures(_ *Ear, c cand) []cand {
	from := question(c.ts)
	if from < 0 {
		return nil
	}
	ts := c.ts[from:]
	i := 0
	if len(ts) > 0 && (ts[0].is("-") || ts[0].is("−")) {
		i = 1
	}
	if i >= len(ts) || !ts[i].plain {
		return nil
	}
	first, n := degreesAt(ts, i+1)
	at := i + 1 + n
	if n == 0 || at >= len(ts) || !ts[at].oneOf("to", "in", "into", "as") {
		return nil
	}
	second, m := degreesAt(ts, at+1)
	if m == 0 || at+1+m != len(ts) || first == second {
		return nil
	}
	out := append(c.ts[:from+i+1:from+i+1], token{kind: unit, text: first, spaced: true},
		token{kind: word, text: "as", spaced: true}, token{kind: unit, text: second, spaced: true})
	return []cand{c.with(out)}
}

// degreesAt reads C, °F, degrees Celsius and the like.
func degreesAt(ts []token, i int) (string, int) {
	n := 1
	if i < len(ts) && ts[i].oneOf("degrees", "degree", "deg", "°") {
		i, n = i+1, 2
	}
	if i < len(ts) && ts[i].kind == word {
		switch strings.ToLower(strings.TrimLeft(strings.TrimPrefix(ts[i].text, "deg"), "°")) {
		case "c", "celsius", "℃":
			return "degC", n
		case "f", "fahrenheit", "℉":
			return "degF", n
		}
	}
	return "", 0
}

// unitNames hears the units of numbers: their names, and their symbols in
// another case.
func unitNames(e *Ear, c cand) []cand {
	cands := []cand{c.with(nil)}
	heard := false
	ts := c.ts
	for i := 0; i < len(ts); {
		n := 1
		alternatives := [][]token{{ts[i]}}
		ask := ""
		if i > 0 && ts[i].oneOf("ohm", "ohms", "Ω") && ts[i-1].kind == number && resistance(ts[i-1].text) &&
			!e.named(ts[i].text) {
			heard = true // 4k7 ohms: the code says ohms already
			i++
			continue
		}
		if i > 0 && ts[i].kind == word && ts[i-1].kind == number && !codes(ts, i) {
			if found, m, sure := e.unitsAt(ts, i); m > 0 && !(ts[i].isWord("in") && !inchHere(e, ts, i)) {
				n, alternatives = m, nil
				for _, f := range found {
					alternatives = append(alternatives, []token{{kind: unit, text: f, spaced: true}})
				}
				if !sure {
					ask = "m is milli and M is mega: which is meant by " + ts[i].text + "?"
				}
				if len(found) > 1 && (len(ts[i].text) == 1 || found[0] == "uF") {
					ask = ts[i].text + " stands for more than one unit"
				}
				heard = heard || m != 1 || found[0] != ts[i].text
			} else if code := codeLetter(ts[i].text); code != "" && ends(ts, i+1) && !e.named(ts[i].text) {
				// A letter alone is not a unit: as a code it is glued.
				heard = true
				ask = "a letter after a blank is not a unit: the code is written in one word"
				for j := range cands {
					last := len(cands[j].ts) - 1
					cands[j] = cands[j].change(last, last+1, token{kind: number, text: ts[i-1].text + code}).asking(ask)
				}
				i++
				continue
			}
		}
		var next []cand
		for _, c := range cands {
			for _, a := range alternatives {
				d := c.with(append(c.ts[:len(c.ts):len(c.ts)], a...))
				if ask != "" {
					d = d.asking(ask)
				}
				next = append(next, d)
			}
		}
		if cands = next; len(cands) > most {
			return cands
		}
		i += n
	}
	if !heard {
		// Units that strict reads too are units to the rules that follow.
		return []cand{c.with(cands[0].ts)}
	}
	return cands
}

// codes reports whether the number before i has its unit already.
func codes(ts []token, i int) bool {
	return !ts[i-1].plain && strings.ContainsAny(ts[i-1].text, "RkKMGuµnp")
}

// resistance reports whether a number is a code of IEC 60062 for ohms.
func resistance(text string) bool {
	return !strings.Contains(text, "x") && strings.ContainsAny(text, "RkMG")
}

// codeLetter is the letter of IEC 60062 that a letter alone may be meant as.
func codeLetter(w string) string {
	switch w {
	case "k", "K", "M", "G", "u", "µ", "n", "p", "R":
		return w
	case "r":
		return "R"
	}
	return ""
}

// inchHere reports whether "in" behind a number is the inch: what follows does
// not begin a unit or a number.
func inchHere(e *Ear, ts []token, i int) bool {
	if i+1 >= len(ts) {
		return true
	}
	if ts[i+1].kind == number {
		return mixedInch(ts, i)
	}
	if len(e.symbolsOf(ts[i+1].text)) > 0 && ts[i+1].kind == word {
		return true
	}
	_, n, _ := e.unitsAt(ts, i+1)
	return n == 0 || ts[i+1].isWord("in") || mixedInch(ts, i)
}

// mixedInch reports whether inches follow feet.
func mixedInch(ts []token, i int) bool {
	return i > 1 && (ts[i-2].text == "ft" || ts[i-2].oneOf("feet", "foot"))
}
