package hear

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// letters are the scales that people write with the letter O, and in small
// letters; the ratio differs from what the figure stands for, so it is said.
var letters = map[string][]string{"HO": {"HO_us"}, "ho": {"HO_us"}, "h0": {"H0"}, "OO": {"OO_uk"}, "oo": {"OO_uk"},
	"tt": {"TT"}, "O": {"O_us", "O_uk", "0"}}

// symbolsOf gives the scales that a word may stand for. A figure is none, but
// after at.
func (e *Ear) symbolsOf(w string) []string {
	if found := letters[w]; found != nil && !e.named(w) {
		return found
	}
	if e.ratio(w) == 0 || e.named(w) || strings.IndexFunc(w, unicode.IsLetter) < 0 {
		return nil
	}
	return []string{w}
}

// scaleSaid gives the scales that a word of a question names. A figure, and the
// letter that is who asks, name one beside the word scale or behind at and in.
func (e *Ear) scaleSaid(ts []token, i int) []string {
	t := &ts[i]
	figure := t.kind == number && t.plain && e.ratio(t.text) > 0
	if figure || t.isWord("I") {
		behind := i > 0 && ts[i-1].oneOf("at", "in", "scale", "gauge")
		before := i+1 < len(ts) && ts[i+1].oneOf("scale", "gauge")
		if !behind && !before {
			return nil
		}
	}
	switch {
	case figure:
		return []string{t.text}
	case t.kind == word:
		return e.symbolsOf(t.text)
	}
	return nil
}

// ratio is that of a scale, 0 if there is none of that symbol.
func (e *Ear) ratio(symbol string) float64 {
	i := slices.Index(e.lib.Texts("scales", "label"), symbol)
	if ratios := e.lib.Numbers("scales", "ratio"); i >= 0 && i < len(ratios) {
		return ratios[i]
	}
	return 0
}

// scaleAt reads a scale at i, with the word scale behind it.
func (e *Ear) scaleAt(ts []token, i int) (symbols []string, n int) {
	if i >= len(ts) {
		return nil, 0
	}
	switch t := ts[i]; {
	case t.kind == number && strings.HasPrefix(t.text, "1:"):
		symbols = []string{t.text}
	case t.kind == word:
		symbols = e.symbolsOf(t.text)
	}
	if symbols == nil {
		return nil, 0
	}
	if i+1 < len(ts) && ts[i+1].isWord("scale") {
		return symbols, 2
	}
	return symbols, 1
}

// scales hears a scale at the end of a line: to the model after in and to, from
// one to another, and both ways where nothing says which.
func scales(e *Ear, c cand) []cand {
	body := question(c.ts)
	if body < 0 {
		return nil
	}
	ts := c.ts
	// The unit asked for behind the scale.
	end, tail, units := len(ts), []token(nil), []string(nil)
	for i := len(ts) - 1; i > body; i-- {
		if ts[i].oneOf("to", "in", "into", "as") {
			if found, n, _ := e.unitsAt(ts, i+1); n > 0 && i+1+n == len(ts) {
				if _, m := e.scaleAt(ts, i+1); m == 0 {
					end, units = i, found
				}
				break
			}
		}
	}
	if units != nil {
		tail = []token{{kind: word, text: "as", spaced: true}, {kind: unit, spaced: true}}
	}
	// The scale, and another before it.
	at := e.scaleBefore(ts, end)
	if at <= body {
		return nil
	}
	last, _ := e.scaleAt(ts, at)
	joint := at - 1 // of the word before it
	value := at
	way := ""
	switch {
	case joint > body && ts[joint].oneOf("to", "in", "into"):
		way, value = "there", joint
		if ts[joint].isWord("in") && ts[joint-1].kind == number && ts[joint-1].plain {
			// The in belongs to the number: 5 ft 6 in HO.
			ts = slices.Clone(ts)
			ts[joint] = in
			way, value = "", at
		}
	case ts[joint].isWord("at"):
		if slices.Equal(last, []string{ts[at].text}) {
			return nil // strict's
		}
		way, value = "there", joint
	case joint > body && ts[joint].isWord("from"):
		way, value = "back", joint
	}
	if way == "there" {
		if from := e.scaleBefore(ts, value); from > body {
			first, _ := e.scaleAt(ts, from)
			start := from
			if ts[from-1].isWord("from") {
				start = from - 1
			}
			return e.across(c, ts, body, start, first, last, tail, units)
		}
	}
	if value <= body || !ending(ts[value-1]) {
		return nil
	}
	ask := ""
	if units != nil && way != "back" {
		if way = settled(ts[body:value], units); way == "" {
			ask = "to the model, or back to full size?"
		}
	} else if way == "" {
		ask = "to the model, or back to full size?"
	}
	if len(last) > 1 {
		ask = ts[at].text + " stands for more than one scale"
	}
	var cands []cand
	for _, s := range last {
		for _, w := range []string{"there", "back"} {
			if way != "" && w != way {
				continue
			}
			d := c.with(slices.Concat(ts[:body:body], e.scaled(ts[body:value], s, w)))
			if ask != "" {
				d = d.asking(ask)
			}
			cands = append(cands, e.told(d, ts[at].text, s).tails(tail, units)...)
		}
	}
	if found, n, _ := e.unitsAt(c.ts, at); n > 0 && at+n == len(c.ts) && len(found) > 0 {
		cands = append(cands, c) // N, S and V are units too
	}
	return cands
}

// fullSize hears what is measured in units of full size where a scale is named to
// which it goes: 25 scale feet in N.
func prototypes(e *Ear, c cand) []cand {
	for i := 0; i+2 < len(c.ts); i++ {
		unit := &c.ts[i+2]
		if c.ts[i].kind != number || !c.ts[i+1].isWord("scale") || unit.kind != word || e.named("scale") {
			continue
		}
		for j := i + 4; j < len(c.ts); j++ {
			if _, n := e.scaleAt(c.ts, j); n > 0 && c.ts[j-1].oneOf("in", "at", "to") {
				return []cand{c.change(i+1, i+2)}
			}
		}
	}
	return nil
}

// scaleBefore gives where a scale begins that ends before token end, -1 if none
// does.
func (e *Ear) scaleBefore(ts []token, end int) int {
	for i := max(0, end-2); i < end; i++ {
		if _, n := e.scaleAt(ts, i); n > 0 && i+n == end {
			return i
		}
	}
	return -1
}

// across hears a length of one scale taken to another.
func (e *Ear) across(c cand, ts []token, body, value int, first, last []string, tail []token, units []string) []cand {
	var cands []cand
	for _, f := range first {
		for _, l := range last {
			full := e.scaled(ts[body:value], f, "back")
			at := []token{{kind: word, text: "at", spaced: true}, {kind: done, text: l, spaced: true}}
			d := c.with(slices.Concat(ts[:body:body], full, at))
			if len(first)*len(last) > 1 {
				d = d.asking("O stands for more than one scale")
			}
			cands = append(cands, e.told(e.told(d, "", f), "", l).tails(tail, units)...)
		}
	}
	return cands
}

// scaled is a value taken to a scale or back from it.
func (e *Ear) scaled(value []token, symbol, way string) []token {
	if way == "there" {
		if !single(value) {
			value = slices.Concat([]token{{kind: sign, text: "("}}, value, []token{{kind: sign, text: ")"}})
		}
		return append(slices.Clone(value), token{kind: word, text: "at", spaced: true},
			token{kind: done, text: symbol, spaced: true})
	}
	if e.ratio(symbol) > 0 {
		symbol = "scale_" + symbol
	}
	return slices.Concat([]token{{kind: word, text: "full_size"}, {kind: sign, text: "("}}, value,
		[]token{{kind: sign, text: ","}, {kind: done, text: symbol, spaced: true}, {kind: sign, text: ")"}})
}

// single reports whether tokens are one value that needs no brackets.
func single(ts []token) bool { return len(ts) > 0 && primaryEnd(ts, 0) == len(ts) && !ts[0].is("-") }

// told says the ratio of a scale that is not spelled as it was typed.
func (e *Ear) told(c cand, typed, symbol string) cand {
	if r := e.ratio(symbol); r > 0 && typed != symbol && letters[typed] != nil ||
		typed == "" && strings.Contains(symbol, "_") {
		if typed == "" {
			typed = symbol
		}
		return c.saying(fmt.Sprintf("%s is 1:%s", typed, strconv.FormatFloat(r, 'f', -1, 64)))
	}
	return c
}

// tails gives a candidate the unit asked for, every way that can be heard.
func (c cand) tails(tail []token, units []string) []cand {
	if tail == nil {
		return []cand{c}
	}
	var cands []cand
	for _, u := range units {
		t := slices.Clone(tail)
		t[1].text = u
		cands = append(cands, c.with(slices.Concat(c.ts, t)))
	}
	return cands
}

// Units of full size and of the model: between the two the way is settled.
var (
	fullSize = []string{"m", "ft", "yd", "mile", "km", "km/h", "mph", "mile/h"}
	ofModel  = []string{"mm", "cm", "in", "mm/s", "in/s", "cm/s"}
)

// settled gives the way that the units of a value and the unit asked for leave.
func settled(value []token, asked []string) string {
	side := func(us []string) string {
		switch all := func(list []string) bool {
			return len(us) > 0 && !slices.ContainsFunc(us, func(u string) bool { return !slices.Contains(list, u) })
		}; {
		case all(fullSize):
			return "full"
		case all(ofModel):
			return "model"
		}
		return ""
	}
	var typed []string
	for i, t := range value {
		switch {
		case t.kind == unit && t.text == "in" && i > 1 && value[i-2].kind == unit && value[i-2].text == "ft": // 5 ft 6 in
		case t.kind == unit:
			typed = append(typed, t.text)
		}
	}
	switch from, to := side(typed), side(asked); {
	case from == "full" && to == "model":
		return "there"
	case from == "model" && to == "full":
		return "back"
	}
	return ""
}
