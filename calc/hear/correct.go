package hear

import (
	"slices"
	"strings"

	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/units"
	"railsum/units/words"
)

// byName hears a line that is but the name of something, or words for an order.
func (e *Ear) byName(h *Heard, ts []token) bool {
	var words []string
	for _, t := range ts {
		if t.kind == text || t.kind == unit {
			return false
		}
		if t.kind != sign {
			words = append(words, strings.ToLower(t.text))
		}
	}
	if len(ts) == 1 && ts[0].kind == word && !e.named(ts[0].text) {
		return e.alone(h, ts[0])
	}
	if len(ts) == 1 && ts[0].is("?") {
		words = []string{"?"}
	}
	if len(words) == 0 || e.named(words[0]) || e.index.Speaks(strings.Join(words, " ")) {
		return false
	}
	h.Named = e.index.ordersFor(words)
	return len(h.Named) > 0
}

// alone hears a name that stands alone.
func (e *Ear) alone(h *Heard, t token) bool {
	found := slices.Clone(e.index.ordersFor([]string{strings.ToLower(t.text)}))
	for _, n := range e.index.called(t.text) {
		if n.Kind == "order" && slices.ContainsFunc(found, func(f Entry) bool { return f.Name == n.Name }) {
			continue
		}
		if n.Kind == "unit" && n.Name != t.text {
			continue
		}
		found = append(found, n)
	}
	if len(found) == 0 {
		if symbols, _ := units.Spoken(t.text); len(symbols) > 0 {
			for _, s := range symbols {
				found = append(found, slices.DeleteFunc(e.index.called(s),
					func(n Entry) bool { return n.Name != s || n.Kind != "unit" })...)
			}
		}
	}
	if len(found) == 0 {
		return false
	}
	h.Named = found
	// a sheet, or a word that sheets speak of
	if !slices.ContainsFunc(found, func(n Entry) bool { return n.Kind != "sheet" }) {
		h.Proposals, h.Unknown = e.propose([]token{t})
	}
	return true
}

// ordersFor gives the orders that words say: a phrase that is listed for one,
// with words beside it that say nothing.
func (x *Index) ordersFor(words []string) []Entry {
	line := strings.Join(words, " ")
	var found []Entry
	for _, o := range x.orders {
		if written(words, o.Form) {
			return []Entry{o}
		}
		for _, phrase := range o.Words {
			if line == phrase {
				return []Entry{o}
			}
			if rest, ok := strings.CutPrefix(line, phrase+" "); ok && saysNothing(rest) ||
				strings.HasSuffix(line, " "+phrase) && saysNothing(strings.TrimSuffix(line, " "+phrase)) {
				if !slices.ContainsFunc(found, func(f Entry) bool { return f.Name == o.Name }) {
					found = append(found, o)
				}
			}
		}
	}
	return found
}

// written reports whether words are an order as its form has it, "rename A to B":
// capitals stand for one word, and what is in brackets may be left out.
func written(words []string, form string) bool {
	parts := strings.Fields(form)
	if len(words) < 2 || len(words) != len(parts) {
		return false
	}
	for i, p := range parts {
		if p != words[i] && p != strings.ToUpper(p) {
			return false
		}
	}
	return true
}

// saysNothing reports whether words beside an order leave it what it is.
func saysNothing(words string) bool {
	for _, w := range strings.Fields(words) {
		if !idle[w] && !slices.Contains([]string{"line", "lines", "last", "file", "notebook", "program", "now", "sums",
			"sheet", "everything", "it", "again", "previous"}, w) {
			return false
		}
	}
	return true
}

// lookUp says what it can of a line that no rule has mended: the one correction
// that is certain, or the sheets that are about it.
func (e *Ear) lookUp(h *Heard, ts []token, note string, formed bool) {
	e.correct(h, ts, note, formed)
	if h.Correction != "" {
		h.Tried, h.Faults, h.Message = nil, nil, ""
		return
	}
	if h.Faults == nil && (!formed && (question(ts) == 0 || sentence(ts)) || e.quantityOf(ts)) {
		h.Proposals, h.Unknown = e.propose(e.numbersOf(cand{ts: ts}))
	}
}

// quantityOf reports whether a line asks for something by its name, as in resistance
// of 10 m: that has the form of a share of a value.
func (e *Ear) quantityOf(ts []token) bool {
	return len(ts) > 2 && ts[0].kind == word && !e.named(ts[0].text) && ts[1].isWord("of")
}

// sentence reports whether a line that begins with a word of the language goes on as
// people talk: find me a fuse.
func sentence(ts []token) bool {
	return len(ts) > 2 && ts[0].kind == word && ts[1].kind == word && ts[1].spaced && idle[strings.ToLower(ts[1].text)] &&
		!ts[1].oneOf("x", "not", "if")
}

// numbersOf takes a line through the rules for numbers alone. What can be heard in
// more than one way is in doubt, and the rest of the line is not.
func (e *Ear) numbersOf(c cand) []token {
	for _, hear := range []func(*Ear, cand) []cand{figures, footScales, prototypes, commas, marks, gauges, unitNames} {
		heard := hear(e, c)
		if len(heard) == 0 {
			continue
		}
		if len(heard) > 1 || heard[0].ask != c.ask {
			heard[0].ts = doubted(c.ts, heard)
		}
		c = heard[0]
	}
	return c.ts
}

// doubted are the tokens of the first way to hear a line, those in doubt in which
// the ways differ, or, of one way alone, in which it differs from what was typed;
// all of them if there is no difference.
func doubted(typed []token, heard []cand) []token {
	ts := slices.Clone(heard[0].ts)
	others := [][]token{typed}
	if len(heard) > 1 {
		others = nil
		for _, c := range heard[1:] {
			others = append(others, c.ts)
		}
	}
	head, tail := len(ts), len(ts)
	for _, o := range others {
		head, tail = min(head, alike(ts, o, false)), min(tail, alike(ts, o, true))
	}
	if head+tail >= len(ts) {
		for i := range ts {
			ts[i].doubt = ts[i].text
		}
		return ts
	}
	said := joined(ts[head : len(ts)-tail])
	if head+tail < len(typed) && alike(ts, typed, false) >= head && alike(ts, typed, true) >= tail {
		said = joined(typed[head : len(typed)-tail])
	}
	for i := head; i < len(ts)-tail; i++ {
		ts[i].doubt = strings.TrimSpace(said)
	}
	return ts
}

// alike is how many tokens of two lines are the same, from their beginning or
// from their end.
func alike(a, b []token, end bool) int {
	for n := range min(len(a), len(b)) {
		i, j := n, n
		if end {
			i, j = len(a)-1-n, len(b)-1-n
		}
		if a[i].kind != b[j].kind || a[i].text != b[j].text {
			return n
		}
	}
	return min(len(a), len(b))
}

// correct tries what a line with slips may have been meant as. It is certain
// only if one correction alone makes a line that holds.
func (e *Ear) correct(h *Heard, ts []token, note string, formed bool) {
	type try struct {
		ts       []token
		mistakes []Mistake
	}
	tries := []try{{ts: ts}}
	if fixed := brackets(ts); fixed != nil {
		tries[0] = try{fixed, []Mistake{{"a bracket", "a bracket"}}}
	}
	m := e.index.shelf()
	for i, t := range ts {
		if t.kind != word || e.known(ts, i) || formed && !(i+1 < len(ts) && ts[i+1].is("(")) ||
			m.df[stem(strings.ToLower(t.text))] > 0 && !(i > 0 && ts[i-1].kind == number) {
			continue
		}
		meant := e.meant(ts, i)
		if len(meant) == 0 || len(tries)*len(meant) > most {
			return
		}
		var next []try
		for _, tr := range tries {
			for _, w := range meant {
				fixed := slices.Clone(tr.ts)
				fixed[i].text = w
				next = append(next, try{fixed, append(slices.Clip(tr.mistakes), Mistake{t.text, w})})
			}
		}
		tries = next
	}
	if len(tries) == 1 && len(tries[0].mistakes) == 0 {
		return
	}
	var sound []Heard
	for _, tr := range tries {
		var g Heard
		cands, _ := e.rewrite(cand{ts: tr.ts})
		e.judge(&g, "", note, cands)
		if g.Line != nil && !slices.ContainsFunc(sound, func(s Heard) bool { return s.Line.Raw == g.Line.Raw }) {
			g.Mistakes = tr.mistakes
			sound = append(sound, g)
		}
	}
	if len(sound) == 1 {
		h.Correction, h.Mistakes = sound[0].Line.Raw, sound[0].Mistakes
		h.Message = ""
	}
}

// brackets adds the bracket that is missing at the end, or takes one off that
// closes nothing.
func brackets(ts []token) []token {
	depth := 0
	for i, t := range ts {
		switch {
		case t.is("("):
			depth++
		case t.is(")"):
			if depth--; depth < 0 && i == len(ts)-1 {
				return ts[:i]
			}
		}
	}
	if depth == 1 {
		return append(slices.Clone(ts), token{kind: sign, text: ")"})
	}
	return nil
}

// known reports whether the word at i means something where it stands.
func (e *Ear) known(ts []token, i int) bool {
	w := ts[i].text
	if ts[i].joins() || syntax.IsReserved(w) || e.named(w) || strings.Contains(w, ".") {
		return true
	}
	if i > 0 && ts[i-1].kind == number || i > 0 && (ts[i-1].joins() || ts[i-1].is("/")) {
		if _, n, _ := e.unitsAt(ts, i); n > 0 {
			return true
		}
	}
	if len(e.symbolsOf(w)) > 0 {
		return true
	}
	return !(i > 0 && ts[i-1].kind == number) &&
		(function.Find(w) != nil || e.lib.Table(w) != nil || w == "pi" || w == "e")
}

// meant gives what the word at i may have been typed for.
func (e *Ear) meant(ts []token, i int) []string {
	w := ts[i].text
	switch {
	case i > 0 && ts[i-1].kind == number, i > 0 && ts[i-1].oneOf("to", "in", "into", "as", "per"):
		// Only a name that is spelled out, and begins as it was typed: a slip in a
		// symbol, or in front of a name, is another prefix.
		var symbols, names []string
		for _, name := range slices.Concat(units.SpokenWords(), prefixes) {
			if len(name) > 3 && strings.EqualFold(name[:1], w[:1]) {
				names = append(names, name)
			}
		}
		for _, near := range words.Near(w, names) {
			meant, sure := units.Spoken(near)
			if !sure {
				meant = []string{near}
			}
			for _, s := range meant {
				if !slices.Contains(symbols, s) {
					symbols = append(symbols, s)
				}
			}
		}
		return symbols
	case i+1 < len(ts) && ts[i+1].is("(") && !ts[i+1].spaced:
		var names []string
		for _, f := range function.All() {
			names = append(names, f.Name)
		}
		return words.Near(w, names)
	}
	var names []string
	for _, n := range e.book.Names() {
		if !strings.Contains(n, ".") {
			names = append(names, n)
		}
	}
	return words.Near(w, names)
}
