package hear

import (
	"fmt"
	"slices"
	"strings"
)

// around hears the words that make a sum a question, and leaves them off.
func around(e *Ear, c cand) []cand {
	ts, heard := c.ts, false
	phrase := func(words ...string) bool {
		if len(ts) < len(words) {
			return false
		}
		for i, w := range words {
			if !ts[i].isWord(w) {
				return false
			}
		}
		return true
	}
	for len(ts) > 1 && (ts[len(ts)-1].is("=") || ts[len(ts)-1].is("?")) {
		if len(ts) == 2 && ts[0].kind == word && ts[1].is("=") {
			return []cand{c.asking("a name, and no value after it")}
		}
		ts, heard = ts[:len(ts)-1], true
	}
	for _, words := range [][]string{{"what", "is"}, {"what", "are"}, {"what", "'", "s"}, {"what's"}, {"whats"},
		{"how", "much", "is"}, {"how", "much", "are"},
		{"convert"}, {"calculate"}, {"please"}} {
		if phrase(words...) && len(ts) > len(words) && !e.named(words[0]) {
			ts, heard = ts[len(words):], true
			break
		}
		if len(words) == 3 && words[1] == "'" && len(ts) > 3 && ts[0].isWord("what") && ts[1].mark(feetMarks) &&
			ts[2].isWord("s") {
			ts, heard = ts[3:], true
			break
		}
	}
	if phrase("how", "many") && !e.named("how") {
		found, n, _ := e.unitsAt(ts, 2)
		at := 2 + n
		if n == 0 || at+1 >= len(ts) || !ts[at].oneOf("in", "is", "are", "make") {
			return nil
		}
		value := ts[at+1:]
		if ts[at].isWord("are") && value[0].isWord("in") && len(value) > 1 || value[0].isWord("there") && len(value) > 2 {
			value = value[1:]
		}
		if value[0].oneOf("a", "an") && len(value) > 1 {
			value = append([]token{{kind: number, text: "1", plain: true}}, value[1:]...)
		}
		var cands []cand
		for _, f := range found {
			cands = append(cands, c.with(slices.Concat(value,
				[]token{{kind: word, text: "as", spaced: true}, {kind: unit, text: f, spaced: true}})))
		}
		return cands
	}
	if !heard {
		return nil
	}
	return []cand{c.with(slices.Clone(ts))}
}

// hues are the colours of bands by how they are called.
var hues = map[string]string{"black": "black", "brown": "brown", "red": "red", "orange": "orange", "yellow": "yellow",
	"green": "green", "blue": "blue",
	"violet": "violet", "purple": "violet", "grey": "grey", "gray": "grey", "white": "white", "gold": "gold",
	"golden": "gold", "silver": "silver"}

// bands hears a line of nothing but colours as a resistor's.
func bands(e *Ear, c cand) []cand {
	ts := c.ts
	var colours []string
	for i, t := range ts {
		hue := hues[strings.ToLower(t.text)]
		switch {
		case t.kind == word && hue != "" && !e.named(t.text):
			colours = append(colours, hue)
		case t.is(",") || t.is("-") || t.is("/"):
		case t.oneOf("resistor", "bands", "band", "tolerance") && (i == 0 || i == len(ts)-1) && !e.named(t.text):
		default:
			return nil
		}
	}
	if len(colours) < 3 {
		return nil
	}
	as := func(colours []string) cand {
		return c.with([]token{{kind: done, text: `resistor("` + strings.Join(colours, " ") + `")`}})
	}
	cands := []cand{as(colours)}
	if len(colours) > 3 { // three have no band for the tolerance, and begin near the end
		back := slices.Clone(colours)
		slices.Reverse(back)
		if !slices.Equal(back, colours) {
			cands = append(cands, as(back))
		}
	}
	return cands
}

// times hears x and times between two values.
func times(e *Ear, c cand) []cand {
	cands := []cand{c}
	heard := false
	for i := 1; i+1 < len(c.ts); i++ {
		t := c.ts[i]
		if !t.oneOf("x", "times") || e.named(t.text) || !ending(c.ts[i-1]) || !beginning(c.ts[i+1]) {
			continue
		}
		heard = true
		var next []cand
		start, end := primaryStart(c.ts, max(question(c.ts), 0), i), primaryEnd(c.ts, i+1)
		if end+1 < len(c.ts) && c.ts[end].is("/") && !c.ts[end].spaced && c.ts[end+1].kind == number { // 2 x 1/4 in
			end = primaryEnd(c.ts, end+1)
		}
		bareLeft := i-start == 1 && c.ts[start].kind == number && c.ts[start].plain
		bareRight := end == i+2 && c.ts[i+1].kind == number && c.ts[i+1].plain
		left, _, leftArea := shared(c.ts, start, i)
		right, _, rightArea := shared(c.ts, i+1, end)
		star := token{kind: sign, text: "*", spaced: true}
		for _, d := range cands {
			product := d.change(i, i+1, star)
			product.ts[i+1].spaced = true
			both := func(u string, at int) {
				// An area: the unit is of both.
				with := product.with(slices.Insert(slices.Clone(product.ts), at, token{kind: unit, text: u, spaced: true}))
				next = append(next, with.asking("two sides of an area, or so many of a length?"),
					product.asking("two sides of an area, or so many of a length?"))
			}
			switch {
			case !t.isWord("x"):
				next = append(next, product)
			case bareLeft && rightArea, bareRight && leftArea:
				count, one := joined(c.ts[start:i]), joined(c.ts[i+1:end])
				without := d.change(start, i+1)
				if bareRight {
					count, one, without = one, count, d.change(i, end)
				}
				ask := fmt.Sprintf("a cable of %s conductors of %s? Write the area of one", strings.TrimSpace(count),
					strings.TrimSpace(one))
				next = append(next, without.asking(ask), product.asking(ask))
			case bareLeft && right != "":
				both(right, i)
			case bareRight && left != "":
				both(left, end)
			default:
				next = append(next, product)
			}
		}
		if len(cands) == 1 && len(next) == 1 {
			cands, c = next, next[0]
			continue
		}
		cands = next
		break // what follows is heard from the words of the readings
	}
	if !heard {
		return nil
	}
	return cands
}

// ending and beginning report whether a value may end and begin with a token.
func ending(t token) bool {
	return t.kind == number || t.kind == unit || t.kind == done || t.is(")") || t.kind == word && !t.joins()
}

func beginning(t token) bool {
	return t.kind == number || t.kind == done || t.is("(") || t.is("-") || t.kind == word && !t.joins()
}

// beside reports whether a token puts parts side by side.
func beside(e *Ear, t token) bool {
	return t.is("||") || t.is("//") || t.isWord("parallel") && !e.named("parallel")
}

// sideBySide hears two bars, or parallel, between two values. Where signs stand
// beside them, every way to set the brackets is a way to hear it.
func sideBySide(e *Ear, c cand) []cand {
	ts := c.ts
	i := slices.IndexFunc(ts, func(t token) bool { return beside(e, t) })
	if i < 1 || i+1 >= len(ts) || !ending(ts[i-1]) {
		return nil
	}
	next := i + 1
	switch {
	case ts[i].isWord("parallel") && ts[i+1].oneOf("with", "to") && i+2 < len(ts):
		next = i + 2
	}
	if ts[i].isWord("parallel") && i > 1 && ts[i-1].isWord("in") {
		return nil
	}
	if !beginning(ts[next]) {
		return nil
	}
	// A row of them is one call.
	parts := [][2]int{{next, primaryEnd(ts, next)}}
	end := parts[0][1]
	for end < len(ts) && beside(e, ts[end]) && end+1 < len(ts) && beginning(ts[end+1]) {
		parts = append(parts, [2]int{end + 1, primaryEnd(ts, end+1)})
		end = parts[len(parts)-1][1]
	}
	var cands []cand
	body := max(question(ts), 0)
	for _, from := range reaches(ts, body, i, -1) {
		for _, to := range reaches(ts, body, end, 1) {
			call := []token{{kind: word, text: "parallel", spaced: true}, {kind: sign, text: "("}}
			call = append(call, ts[from:i]...)
			for n, p := range parts {
				stop := p[1]
				if n == len(parts)-1 {
					stop = to
				}
				call = append(append(call, token{kind: sign, text: ","}), spaced(ts[p[0]:stop])...)
			}
			call = append(call, token{kind: sign, text: ")"})
			cands = append(cands, c.change(from, to, call...))
		}
	}
	var all []cand
	for _, d := range cands {
		if more := sideBySide(e, d); more != nil {
			all = append(all, more...)
			continue
		}
		all = append(all, d)
	}
	return all
}

// lesser reports whether a unit may follow another in one value: 2 ft 6 in.
func lesser(a, b token) bool {
	if a.kind != unit || b.kind != unit {
		return false
	}
	switch a.text {
	case "mile", "yd", "ft":
		return b.text == "in" || b.text == "ft" && a.text != "ft" || b.text == "yd" && a.text == "mile"
	case "lb":
		return b.text == "oz"
	case "h", "min":
		return b.text == "s" || b.text == "min" && a.text == "h"
	}
	return false
}

func spaced(ts []token) []token {
	ts = slices.Clone(ts)
	if len(ts) > 0 {
		ts[0].spaced = true
	}
	return ts
}

// primaryEnd is where the value that begins at i ends: a number with its unit, a
// name, a call, brackets.
func primaryEnd(ts []token, i int) int {
	if ts[i].is("-") {
		i++
	}
	if i >= len(ts) {
		return i
	}
	at := i + 1
	if ts[i].kind == number && at < len(ts) && ts[at].kind == unit {
		at++
		for at+1 < len(ts) && ts[at].kind == number && lesser(ts[at-1], ts[at+1]) { // 2 ft 6 in
			at += 2
		}
		return at
	}
	if ts[i].kind == word && at < len(ts) && ts[at].is("(") && !ts[at].spaced {
		at, i = at+1, at
	}
	if ts[i].is("(") {
		for depth := 1; at < len(ts) && depth > 0; at++ {
			switch {
			case ts[at].is("("):
				depth++
			case ts[at].is(")"):
				depth--
			}
		}
	}
	return at
}

// primaryStart is where the value begins that ends before at.
func primaryStart(ts []token, body, at int) int {
	start := at - 1
	if ts[start].kind == unit {
		start--
		for start-2 >= body && ts[start-2].kind == number && lesser(ts[start-1], ts[start+1]) {
			start -= 2
		}
	} else if ts[start].is(")") {
		for d := 0; start >= body; start-- {
			if ts[start].is(")") {
				d++
			} else if ts[start].is("(") {
				if d--; d == 0 {
					break
				}
			}
		}
		if start > body && ts[start-1].kind == word && !ts[start].spaced && !ts[start-1].joins() {
			start--
		}
	}
	return max(start, body)
}

// reaches gives how far an operand may reach from at, backward or onward: one
// value, a product, a sum. It stops at brackets, commas and words.
func reaches(ts []token, body, at, way int) []int {
	edges := []int{}
	add := func(i int) {
		if !slices.Contains(edges, i) {
			edges = append(edges, i)
		}
	}
	depth, product, i := 0, true, at
	if way > 0 {
		add(at)
		for ; i < len(ts); i++ {
			t := ts[i]
			switch {
			case t.is("("):
				depth++
			case t.is(")"):
				if depth--; depth < 0 {
					add(i)
					return edges
				}
			case depth == 0 && (t.is(",") || t.joins() && !t.oneOf("of") || t.is("=") || t.is("<") || t.is(">") || t.is("<=") ||
				t.is(">=")):
				if product {
					add(i)
				}
				add(i)
				return edges
			case depth == 0 && (t.is("+") || t.is("-")) && product && i > at:
				add(i)
				product = false
			case depth == 0 && (t.is("+") || t.is("-")):
				product = false
			}
		}
		add(len(ts))
		return edges
	}
	start := primaryStart(ts, body, at)
	add(start)
	for i = start - 1; i >= body; i-- {
		t := ts[i]
		switch {
		case t.is(")"):
			depth++
		case t.is("("):
			if depth--; depth < 0 {
				add(i + 1)
				return edges
			}
		case depth == 0 && (t.is(",") || t.joins() && !t.oneOf("of") || t.is("=") || t.is("<") || t.is(">") || t.is("<=") ||
			t.is(">=")):
			add(i + 1)
			return edges
		case depth == 0 && (t.is("+") || t.is("-")) && product:
			add(i + 1)
			product = false
		}
	}
	add(body)
	return edges
}

// unitAskedFor hears "to mm" and "in mm" at the end as the unit asked for.
func unitAskedFor(e *Ear, c cand) []cand {
	body := question(c.ts)
	if body < 0 {
		return nil
	}
	ts := c.ts
	at := -1
	for i := len(ts) - 1; i > body; i-- {
		if !ts[i].oneOf("to", "in", "into", "as") {
			continue
		}
		if at < 0 {
			at = i
		}
		if _, n, _ := e.unitsAt(ts, i+1); n > 0 && i+1+n == len(ts) { // in in/s
			at = i
			break
		}
	}
	if at < 0 || at+1 >= len(ts) {
		return nil
	}
	if kind := strings.ToLower(ts[at+1].text); at+2 == len(ts) && (kind == "awg" || kind == "swg") {
		return inGauge(c, body, at, strings.ToUpper(kind))
	}
	var found []string
	n, sure := 0, true
	if ts[at+1].kind == unit {
		found, n = []string{ts[at+1].text}, 1
	} else {
		found, n, sure = e.unitsAt(ts, at+1)
		switch strings.TrimLeft(ts[at+1].text, "°") {
		case "F":
			found = []string{"F", "degF"}
		case "C", "c":
			found, n = []string{"degC", "As"}, 1
		}
	}
	bare := ts[at].isWord("in") && ts[at-1].kind == number && ts[at-1].plain
	if n == 0 || at+1+n != len(ts) {
		if bare && ts[at+1].kind == number && at+2 == len(ts) { // 1 in 40
			grade := c.with(slices.Concat(ts[:at:at],
				[]token{{kind: sign, text: "/", spaced: true}, ts[at+1], {kind: word, text: "as", spaced: true},
					{kind: unit, text: "%", spaced: true}}))
			return []cand{grade.asking("a grade of so many in so many?")}
		}
		if ts[at].isWord("in") && ts[at+1].kind == number && ts[at-1].kind == unit { // 200 m in 10 s
			return []cand{c.change(at, at+1, token{kind: sign, text: "/",
				spaced: true}).asking("a distance in a time is a speed, written with a slash")}
		}
		return nil
	}
	if ts[at].isWord("as") && n == 1 && len(found) == 1 && found[0] == ts[at+1].text {
		return nil // strict's
	}
	var cands []cand
	for _, f := range found {
		tail := []token{{kind: word, text: "as", spaced: true}, {kind: unit, text: f, spaced: true}}
		d := c.with(slices.Concat(ts[:at:at], tail))
		if bare {
			d = c.with(slices.Concat(ts[:at:at], []token{in}, tail)).
				asking(fmt.Sprintf("%s may be %s inches, or %s and the unit asked for", joined(ts[at-1:at+1]), ts[at-1].text,
					ts[at-1].text))
		}
		if !sure {
			d = d.asking("m is milli and M is mega: which is meant by " + ts[at+1].text + "?")
		}
		cands = append(cands, d)
	}
	return cands
}

// inGauge hears an area asked for as a gauge. A length is a diameter.
func inGauge(c cand, body, at int, kind string) []cand {
	value := joined(c.ts[body:at])
	as := func(area string) cand {
		return c.with(append(c.ts[:body:body],
			token{kind: done, text: fmt.Sprintf("gauge(%s, %q)", area, kind), spaced: true}))
	}
	return []cand{as(value), as("pi / 4 * (" + value +
		")^2").asking("a gauge is of an area, and this is a length: is it the diameter?")}
}
