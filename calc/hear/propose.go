package hear

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"railsum/calc/syntax"
)

// Proposal is a sheet put to work with the numbers that were typed. It is not
// answered: whoever typed the line looks at it first.
type Proposal struct {
	Line    string
	Sheet   string
	Meaning string
	ByOrder []string // inputs that were filled in the order typed, for no word said which
	Left    []string // what was typed and could not be placed
	Chosen  []string // inputs that choose among texts and are still the sheet's: `feed is "bridge"`
}

// proposals are at most so many.
const mostProposals = 3

// mention is a value in a line, with the words beside it.
type mention struct {
	text          string
	class         class
	value         float64
	before, after []string // the nearest first
	unsure        bool     // it can be heard in more than one way
	own           bool     // a bare number right behind or before a word that says what it counts
	within        string   // the word that it is a part of: cv29
	one           bool     // an article stands before it: a 2 m train
	taken         bool     // the nearest word before it stands right behind another value: 50 mm rise in 2 m
}

// propose finds the sheets that a line speaks of, and fills them in.
func (e *Ear) propose(ts []token) (best []Proposal, strange []string) {
	m := e.index.shelf()
	said, strange := e.saidWords(m, ts)
	mentions := e.mentions(ts)
	if n := len(strange); len(said) == 0 || n > len(said) || n == len(said) && len(mentions) == 0 {
		return nil, nil // more of it is strange than not
	}
	type scored struct {
		*sheet
		score float64
		p     Proposal
	}
	var all []scored
	total := 0.0
	for _, w := range said {
		total += m.weight(w)
	}
	for _, s := range m.sheets {
		score := m.score(s, said)
		score += asks(ts, s, said[0]) * m.weight(said[0])
		if score < 2 || score < 0.5*total {
			continue
		}
		p, fit := e.fill(s, ts, mentions)
		if s.Group == pieces {
			score *= pieceCounts
		}
		all = append(all, scored{s, score + fit*(1+0.1*score), p})
	}
	slices.SortStableFunc(all, func(a, b scored) int { return cmp.Compare(b.score, a.score) })
	for _, s := range all {
		if len(best) < mostProposals && s.score >= 0.4*all[0].score {
			best = append(best, s.p)
		}
	}
	return best, strange
}

// asks is how much a sheet answers what a question in words opens with, or what is
// asked for by its name, as in resistance of 10 m: it tells it or, where so many of
// it are asked for, is found by it and does not ask for it itself.
func asks(ts []token, s *sheet, first string) float64 {
	switch many := len(ts) > 1 && ts[1].isWord("many"); {
	case !ts[0].oneOf("how", "what", "which") && !(len(ts) > 1 && ts[1].isWord("of")):
	case many && s.keys[first] && !s.puts[first]:
		return 2
	case s.tells[first] && !(many && s.puts[first]):
		return 1
	}
	return 0
}

// saidWords are the words of a line that sheets speak of, as they are compared.
// Strange are those that no sheet is about, nor anything near them, as typed.
func (e *Ear) saidWords(m *shelf, ts []token) (said, strange []string) {
	text := ""
	typed := map[string]string{}
	for i, t := range ts {
		if t.kind == word && !(i+1 < len(ts) && ts[i+1].is("(") && !ts[i+1].spaced) ||
			t.kind == number && t.plain && (i+1 >= len(ts) || ts[i+1].kind != unit) {
			w := strings.ReplaceAll(t.text, "_", " ")
			if a := adjectives[strings.ToLower(w)]; a != "" && !idle[w] {
				w = a
			}
			if e.scaleSaid(ts, i) != nil && m.df[stem(strings.ToLower(w))] == 0 {
				w = ";" // a scale in another spelling is nothing strange
			}
			for _, s := range wordsOf(w) {
				typed[s] = t.text
			}
			text += " " + w
		} else {
			text += " ;"
		}
	}
	for _, w := range wordsOf(text) {
		switch {
		case m.df[w] > 0:
		case isDigit(w[len(w)-1]):
			continue
		default:
			near := m.nearest(w)
			if near == "" && !slices.Contains(strange, cmp.Or(typed[w], w)) {
				strange = append(strange, cmp.Or(typed[w], w))
			}
			w = near
		}
		if w != "" && !slices.Contains(said, w) {
			said = append(said, w)
		}
	}
	return said, strange
}

// mentions gathers the values of a line.
func (e *Ear) mentions(ts []token) []mention {
	var all []mention
	for i := 0; i < len(ts); {
		end := i + 1
		switch ts[i].kind {
		case number:
			if e.scaleSaid(ts, i) != nil {
				i++
				continue
			}
			end = primaryEnd(ts, i)
			if i+2 < len(ts) && ts[i].plain && ts[i+1].is("/") && !ts[i+1].spaced && ts[i+2].kind == number { // 3/8 in
				end = primaryEnd(ts, i+2)
			} else if i+3 < end+4 && end < len(ts)-2 && ts[end].is("/") && end == i+1 && i+1 < len(ts) {
				end = i + 1
			}
		case done:
		default:
			if ts[i].kind == word && len(ts[i].text) > 2 { // cv29
				bare := strings.TrimRight(ts[i].text, "0123456789")
				if n := ts[i].text[len(bare):]; n != "" && !strings.Contains(n, ".") {
					all = append(all, mention{text: n, before: stems(bare), within: stem(strings.ToLower(ts[i].text))})
				}
			}
			i++
			continue
		}
		m := mention{text: strings.TrimSpace(joined(ts[i:end]))}
		line, _ := syntax.ParseLine(m.text)
		q, ok := line.Node.(*syntax.Question)
		if !ok || !formed(line) {
			i = end
			continue
		}
		if lit, ok := literalOf(q.Expr); ok {
			m.class, m.value = classOf(lit), lit.Value
		} else if a := e.try(line); a.Value != nil && a.Value.Sound() && len(a.Value.Numbers) == 1 {
			m.class, m.value = class{dim: a.Value.Type.Dim}, a.Value.Numbers[0]
		}
		if at := slices.IndexFunc(ts[i:end], func(t token) bool { return t.doubt != "" }); at >= 0 {
			m.unsure = true
			if t := ts[i+at]; t.doubt != t.text {
				m.text = t.doubt
			}
		}
		m.before, m.after, m.taken = neighbours(ts, i, end)
		m.one = i > 0 && ts[i-1].oneOf("a", "an", "the", "my", "our", "each", "every", "per") && end < len(ts) &&
			ts[end].kind == word && len(m.after) > 0
		if m.class == (class{}) && m.value == 0 && q != nil {
			if lit, ok := literalOf(q.Expr); ok {
				m.value = lit.Value
			}
		}
		m.own = m.class == class{} && (len(m.before)+len(m.after) > 0)
		all = append(all, m)
		i = end
	}
	return all
}

// neighbours gives the words on either side of a value, up to the next value. Taken
// says that the nearest one before it belongs to that value: it stands right behind
// it, and a word that leads on stands behind it.
func neighbours(ts []token, from, end int) (before, after []string, taken bool) {
	first := from - 1 // the nearest word before it that says something
	for ; first >= 0 && ts[first].kind == word && len(stems(ts[first].text)) == 0; first-- {
	}
	if first > 0 && first < from-1 && ts[first].kind == word && !ts[from-1].oneOf("of", "is", "are", "at", "as") {
		taken = slices.Contains([]kind{number, unit, done}, ts[first-1].kind)
	}
	for i := from - 1; i >= 0 && ts[i].kind == word && len(before) < 2; i-- {
		before = append(before, stems(ts[i].text)...)
	}
	for i := end; i < len(ts) && ts[i].kind == word && len(after) < 2; i++ {
		after = append(after, stems(ts[i].text)...)
	}
	return before, after, taken
}

// adjectives are what a measure is called behind a number: 2 m long.
var adjectives = map[string]string{"long": "length", "high": "height", "tall": "height", "wide": "width",
	"thick": "thickness", "heavy": "mass", "apart": "spacing"}

func stems(w string) []string {
	if a := adjectives[strings.ToLower(w)]; a != "" {
		w = a
	}
	return wordsOf(strings.ReplaceAll(w, "_", " "))
}

// quantities are the words for what is measured; the word before one says of
// what: trip current, forward voltage.
var quantities = map[string]bool{}

func init() {
	for _, w := range strings.Fields("voltage volts current amps length distance resistance capacitance power time speed area radius mass weight size rating value height") {
		quantities[stem(w)] = true
	}
}

// fill puts the values of a line to the inputs of a sheet: by the word beside
// them first, by their unit second. Fit says how well that went.
func (e *Ear) fill(s *sheet, ts []token, mentions []mention) (p Proposal, fit float64) {
	p = Proposal{Sheet: s.Name, Meaning: s.Meaning}
	set := make([]string, len(s.inputs))
	placed := make([]bool, len(mentions))
	beside := func(k, i int) int { // how well the words beside a value name an input that can have it
		m, in := mentions[k], &s.inputs[i]
		if m.unsure || in.class != m.class || !in.within(m.value) || s.asks[m.within] {
			return 0
		}
		return in.beside(s, m)
	}
	named := s.named(len(mentions), beside)
	doubtful := map[int]bool{} // inputs of which a word does not say which value is theirs
	for i, k := range named {
		if k < 0 {
			continue
		}
		set[i], placed[k] = mentions[k].text, true
		fit += 0.5 + float64(beside(k, i))/10
		for other := range mentions {
			doubtful[i] = doubtful[i] || other != k && beside(other, i) > 0 && !slices.Contains(named, other)
		}
	}
	counts := maps.Clone(s.columns)
	for i, in := range s.inputs {
		if set[i] == "" && !in.taken && len(in.choices) == 0 {
			counts[in.class]++
		}
	}
	by := map[int]int{} // which value went to an input by its unit alone
	takes := func(i int, m mention) bool {
		in := &s.inputs[i]
		return !in.taken && in.class == m.class && in.within(m.value) &&
			(len(in.choices) == 0 || slices.Contains(in.choices, m.text))
	}
	var place func(k int, tried map[int]bool) bool
	place = func(k int, tried map[int]bool) bool { // one before it makes room if it can stand elsewhere
		for _, room := range []bool{false, true} {
			for i := range s.inputs {
				if tried[i] || !takes(i, mentions[k]) {
					continue
				}
				if j, is := by[i]; set[i] == "" || room && is {
					if tried[i] = true; set[i] == "" || place(j, tried) {
						set[i], placed[k], by[i] = mentions[k].text, true, k
						return true
					}
				}
			}
		}
		return false
	}
	for k, m := range mentions {
		if !placed[k] && !m.unsure && !m.own && !s.asks[m.within] && place(k, map[int]bool{}) {
			fit += 0.3
		}
	}
	for i, in := range s.inputs {
		if _, is := by[i]; is && counts[in.class] > 1 || doubtful[i] {
			p.ByOrder = append(p.ByOrder, in.name)
		}
	}
	chosen, left := e.choose(s, ts, set)
	fit += 0.3 * chosen
	if chosen == 0 && e.scaleNamed(ts) {
		fit -= 0.5 // a scale is named, and it has no use for one
	}
	p.Left = left
	var settings []string
	for i, in := range s.inputs {
		if set[i] != "" {
			settings = append(settings, in.name+" = "+set[i])
		} else if len(in.choices) > 1 && strings.HasPrefix(in.choices[0], `"`) && !in.taken {
			p.Chosen = append(p.Chosen, fmt.Sprintf("%s is %s", in.name, in.given))
		}
	}
	for k, m := range mentions {
		if !placed[k] && !s.asks[m.within] { // what is but a part of an input's name is no value
			if !slices.Contains(p.Left, m.text) {
				p.Left = append(p.Left, m.text)
			}
			fit--
		}
	}
	p.Line = s.use(settings)
	return p, fit
}

// scaleNamed reports whether a line names a scale behind a word that points to it.
func (e *Ear) scaleNamed(ts []token) bool {
	for i := 1; i < len(ts); i++ {
		if ts[i-1].oneOf("in", "at", "for", "to") && len(e.scaleSaid(ts, i)) == 1 {
			return true
		}
	}
	return false
}

// within reports whether an input can have a value: it lies in its range, and is
// whole if the input is.
func (in *input) within(v float64) bool {
	switch {
	case in.whole && v != math.Trunc(v):
		return false
	case in.from == 0 && in.to == 0:
		return true
	}
	lo, hi := min(in.from, in.to), max(in.from, in.to)
	return v >= lo*(1-1e-9) && v <= hi*(1+1e-9)
}

// named puts values to the inputs that the words beside them name: for each input
// which value it has, or -1. The best go first, and one makes room for another where
// its own words name a second input.
func (s *sheet) named(values int, beside func(value, input int) int) []int {
	held := slices.Repeat([]int{-1}, len(s.inputs))
	for {
		best, value, input := 0, -1, -1
		for k := range values {
			for i := range held {
				if held[i] >= 0 || slices.Contains(held, k) {
					continue
				}
				if score := beside(k, i); score > best {
					best, value, input = score, k, i
				}
			}
		}
		if best == 0 {
			break
		}
		held[input] = value
	}
	for k := range values {
		for i, other := range held {
			if slices.Contains(held, k) || other < 0 || beside(k, i) == 0 {
				continue
			}
			best, room := 0, -1
			for j := range held {
				if score := beside(other, j); held[j] < 0 && score > best {
					best, room = score, j
				}
			}
			if room >= 0 && beside(k, i)+best > beside(other, i) {
				held[i], held[room] = k, other
			}
		}
	}
	return held
}

// beside is how well the words beside a value name an input of a sheet: its name
// better than what it means. What names the sheet names no input.
func (in *input) beside(s *sheet, m mention) int {
	if m.one { // the word behind says what it is of, and those before it of what that is
		m.before = nil
		if in.words[m.after[0]] {
			return 10
		}
	}
	for i, w := range m.before {
		if m.taken || i > 0 && !quantities[m.before[0]] {
			break
		}
		if in.words[w] {
			return 10 - i - min(4, len(in.words)-1) // one of the words of a name says less than all of it
		}
	}
	if len(m.after) > 0 && in.words[m.after[0]] {
		return 7 - min(2, len(in.words)-1)
	}
	if m.class == (class{}) && len(m.after) > 1 && in.words[m.after[1]] { // 12 street lamps
		return 5 - min(2, len(in.words)-1)
	}
	for i, w := range m.before {
		if m.taken || i > 0 && !quantities[m.before[0]] {
			break
		}
		if in.speaks[w] && !quantities[w] && s.words[w] < 3 {
			return 4 - i
		}
	}
	if len(m.after) > 0 && in.speaks[m.after[0]] && s.words[m.after[0]] < 3 {
		return 3
	}
	return 0
}

// plainChoices are texts to choose from that people say without meaning them.
var plainChoices = []string{"one", "none", "both", "own", "other", "behind", "ahead", "along", "across", "short",
	"long", "in", "contact", "section", "current", "power"}

// choose sets what chooses among texts where the line says one of them, and the
// scale where it names one. Left are scales that it names and the sheet cannot take.
func (e *Ear) choose(s *sheet, ts []token, set []string) (fit float64, left []string) {
	line := " " + strings.ToLower(joined(ts)) + " "
	for i, in := range s.inputs {
		if set[i] != "" {
			continue
		}
		for _, c := range in.choices {
			text, ok := strings.CutPrefix(c, `"`)
			text = strings.TrimSuffix(text, `"`)
			if ok && !slices.Contains(plainChoices, strings.ToLower(text)) && len(text) > 1 &&
				strings.Contains(line, " "+strings.ToLower(text)+" ") {
				set[i] = c
				fit++
				break
			}
		}
		if in.name != "scale" || set[i] != "" {
			continue
		}
		for k := range ts {
			symbols := e.scaleSaid(ts, k)
			switch {
			case symbols == nil:
				continue
			case len(symbols) == 1 && slices.Contains(in.choices, `"`+symbols[0]+`"`):
				set[i] = `"` + symbols[0] + `"`
			case len(symbols) == 1 && in.class.kind == ":":
				set[i] = "scale_" + symbols[0]
			default: // more than one has that name, or the sheet does not have it
				left = append(left, ts[k].text)
				continue
			}
			fit++
			left = nil
			break
		}
	}
	return fit, left
}
