package hear

import (
	"slices"
	"strings"
	"unicode/utf8"

	"railsum/calc"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// most is how many ways to hear one line are tried.
const most = 16

// Heard is what came of listening to a line. At most one of Line, Readings,
// Correction, Proposals and Named says what to do; Message says why nothing was
// taken, where strict's own words do not.
type Heard struct {
	Typed      string
	Line       *syntax.Line  // what the line was heard as, nil if it was not
	Said       []string      // what is worth saying of how it was heard
	Message    string        // the question, or what stands in the way
	Readings   []Reading     // what the line may mean, none of which was taken
	Correction string        // the one line that is certainly meant, for a slip; it checks
	Mistakes   []Mistake     // what was corrected
	Proposals  []Proposal    // sheets that are about it, best first
	Unknown    []string      // words of it that nothing here is about
	Named      []Entry       // what a name alone, or the words for an order, stand for
	Faults     []syntax.Diag // of a line that was read but does not hold: what is wrong with it
	Tried      *syntax.Line  // that line
}

// Reading is a line that can be typed, and what it gives.
type Reading struct{ Line, Value string }

// Mistake is a word that was corrected.
type Mistake struct{ Typed, Meant string }

// Nothing reports whether there is nothing to say but what strict says.
func (h *Heard) Nothing() bool {
	return h.Line == nil && h.Message == "" && h.Correction == "" && h.Faults == nil &&
		len(h.Readings)+len(h.Proposals)+len(h.Named) == 0
}

// Cure is what to write in place of a line that strict refuses, empty if hearing
// knows of nothing.
func (h *Heard) Cure() string {
	switch {
	case h.Line != nil:
		return "write `" + h.Text() + "`"
	case h.Correction != "":
		return "write `" + h.Correction + "`, if that is meant"
	case len(h.Readings) > 0:
		lines := make([]string, len(h.Readings))
		for i, r := range h.Readings {
			lines[i] = "`" + r.Line + "`"
		}
		return "write " + words.Or(lines)
	case len(h.Proposals) > 0:
		return "a sheet is about it: `" + h.Proposals[0].Line + "`"
	}
	return ""
}

// Text is the line that was heard, as it is kept.
func (h *Heard) Text() string {
	if h.Line == nil {
		return ""
	}
	return h.Line.Raw
}

// Ear listens beside a notebook.
type Ear struct {
	index *Index
	lines []*syntax.Line
	lib   calc.Library
	book  *calc.Book      // of the lines, and of what was tried
	tried int             // how many lines of it were only tried
	names map[string]bool // of the notebook, in small letters
	gauge string          // "AWG" or "SWG", if the notebook prefers one
	stop  func() bool
}

// Beside makes an Ear for a notebook of these lines.
func Beside(lines []*syntax.Line, lib calc.Library, index *Index) *Ear {
	return &Ear{index: index, lines: lines, lib: lib, stop: func() bool { return false }}
}

// StopWhen sets a question to ask while the lines are opened. Once it says yes, what
// is heard means nothing.
func (e *Ear) StopWhen(stop func() bool) { e.stop = stop }

// open makes the book in which lines are tried, when the first is.
func (e *Ear) open() {
	if e.book != nil {
		return
	}
	e.book = calc.OpenUntil(e.stop, e.lines, e.lib)
	e.names = map[string]bool{}
	for _, l := range e.lines {
		for _, d := range syntax.Defines(l.Node) {
			e.names[strings.ToLower(d.Parts[0].Text)] = true
		}
		if p, ok := l.Node.(*syntax.Prefer); ok && p.Gauge != "" {
			e.gauge = p.Gauge
		}
		if b, ok := l.Node.(*syntax.Broken); ok {
			for _, n := range b.Targets {
				e.names[strings.ToLower(n.Parts[0].Text)] = true
			}
		}
	}
}

func (e *Ear) named(word string) bool {
	first, _, _ := strings.Cut(word, ".")
	return e.names[strings.ToLower(first)]
}

// cand is one way to hear a line.
type cand struct {
	ts   []token
	ask  string   // why it is not taken but shown
	said []string // of what was heard
}

func (c cand) with(ts []token) cand {
	return cand{ts, c.ask, slices.Clip(c.said)}
}

// change puts tokens in the place of those from i to j.
func (c cand) change(i, j int, ts ...token) cand {
	if len(ts) > 0 && i < len(c.ts) {
		ts = slices.Clone(ts)
		ts[0].spaced = ts[0].spaced || c.ts[i].spaced
	}
	return c.with(slices.Concat(c.ts[:i], ts, c.ts[j:]))
}

func (c cand) asking(question string) cand {
	if c.ask == "" {
		c.ask = question
	}
	return c
}

func (c cand) saying(what string) cand {
	if !slices.Contains(c.said, what) {
		c.said = append(slices.Clip(c.said), what)
	}
	return c
}

// Listens reports whether a line is one to listen to beside a notebook: strict
// refuses its form, or it is a question and speaks of what there is not. What
// gives a name a meaning and waits for another name is left to wait.
func Listens(book *calc.Book, l *syntax.Line) bool {
	if !formed(l) {
		return !strings.Contains(l.Raw, "\n")
	}
	q, ok := l.Node.(*syntax.Question)
	if !ok {
		return false
	}
	c := book.C
	if n, ok := q.Expr.(*syntax.Name); ok && len(n.Parts) == 1 && !c.Defines(n.Parts[0].Text) {
		if lone := n.Parts[0].Text; lone != "pi" && !strings.HasPrefix(lone, "scale_") {
			return true // no value: a table as a whole, or nothing at all
		}
	}
	strange := false
	syntax.Walk(q, func(x syntax.Expr) {
		switch x := x.(type) {
		case *syntax.Name:
			strange = strange || !c.Means(x.Parts[0].Text)
		case *syntax.Call:
			strange = strange || function.Find(x.Name) == nil
		case *syntax.ScaleName:
			strange = strange || !c.Means("scale_"+x.Symbol) && !c.Means(x.Symbol)
		}
	})
	return strange
}

// Hear listens to one line that strict refuses.
func (e *Ear) Hear(line string) *Heard {
	h := &Heard{Typed: line}
	if utf8.RuneCountInString(line) > syntax.MaxRunes || strings.ContainsAny(line, "\n\r") {
		return h
	}
	e.open()
	body, note := noteOff(line)
	ts, ok := tokens(body)
	if !ok || len(ts) == 0 || len(ts) > maxTokens {
		return h
	}
	if e.byName(h, ts) {
		return h
	}
	cands, message := e.rewrite(cand{ts: ts})
	e.judge(h, line, note, cands)
	if h.Line == nil && len(h.Readings) == 0 && message != "" {
		h.Message = message
	}
	if h.Line == nil && len(h.Readings) == 0 {
		strict, _ := syntax.ParseLine(line)
		e.lookUp(h, ts, note, formed(strict) && len(ts) > 1)
	}
	return h
}

// maxTokens bounds what is listened to: nobody says more in one breath.
const maxTokens = 200

// noteOff takes the note off a line.
func noteOff(line string) (body, note string) {
	in := false
	for i := 0; i < len(line); i++ {
		switch {
		case line[i] == '"' && (in || i == 0 || !isDigit(line[i-1])):
			in = !in
		case line[i] == '#' && !in:
			return line[:i], line[i:]
		}
	}
	return line, ""
}

// rewrite takes a line through all rules.
func (e *Ear) rewrite(c cand) (cands []cand, message string) {
	cands = []cand{c}
	for _, r := range rules() {
		var next []cand
		for _, c := range cands {
			heard := r.hear(e, c)
			if heard == nil {
				heard = []cand{c}
			}
			next = append(next, heard...)
		}
		if cands = next; len(cands) > most {
			return nil, "this can be heard in too many ways: write it with the signs and units of the language"
		}
	}
	return cands, ""
}

// judge tries what the rules made of a line, and settles what was heard.
func (e *Ear) judge(h *Heard, typed, note string, cands []cand) {
	type sound struct {
		cand
		line  *syntax.Line
		value string
	}
	var all []sound
	seen := map[string]bool{}
	for _, c := range cands {
		text := joined(c.ts)
		if note != "" {
			text += "  " + note
		}
		line, _ := syntax.ParseLine(text)
		if !formed(line) {
			if c.ask != "" && h.Message == "" {
				h.Message = c.ask
			}
			continue
		}
		text = syntax.Print(line)
		if seen[text] {
			continue
		}
		seen[text] = true
		a := e.try(line)
		if len(a.Errors)+len(a.Waiting) > 0 {
			if h.Faults == nil && len(a.Waiting) == 0 {
				h.Tried, h.Faults = line, a.Errors
			}
			if c.ask != "" && h.Message == "" {
				h.Message = c.ask
			}
			continue
		}
		line, _ = syntax.ParseLine(text)
		all = append(all, sound{c, line, valueOf(a)})
	}
	if len(all) == 0 {
		return
	}
	if len(all) == 1 && all[0].ask == "" {
		if all[0].line.Raw != strings.TrimSpace(typed) {
			h.Line, h.Said = all[0].line, all[0].said
		}
		h.Tried, h.Faults, h.Message = nil, nil, ""
		return
	}
	h.Tried, h.Faults, h.Message = nil, nil, "this can be heard in more than one way"
	for _, s := range all {
		if s.ask != "" {
			h.Message = s.ask
		}
		h.Readings = append(h.Readings, Reading{s.line.Raw, s.value})
	}
}

// formed reports whether a line has a sound form.
func formed(l *syntax.Line) bool {
	if _, broken := l.Node.(*syntax.Broken); broken {
		return false
	}
	return !slices.ContainsFunc(l.Errors, func(d syntax.Diag) bool { return !d.Notice })
}

// triedMost is how many lines are tried in one book before it is opened anew.
const triedMost = 64

// try gives what the notebook would say to a line at its end. The line gets no
// name there, so that nothing else depends on it.
func (e *Ear) try(line *syntax.Line) *calc.Answer {
	line = nameless(line)
	if e.tried >= triedMost || e.tried > 0 && strings.Contains(line.Raw, "that") {
		e.book, e.tried = calc.Open(e.lines, e.lib), 0
	}
	e.tried++
	lines := append(slices.Clone(e.book.Lines()), line)
	e.book.Update(lines)
	return e.book.Answer(len(lines) - 1)
}

// nameless is a line as a question, or under no name.
func nameless(l *syntax.Line) *syntax.Line {
	text := ""
	switch n := l.Node.(type) {
	case *syntax.Define:
		if n.Tail.Tol == nil {
			text = syntax.Print(&syntax.Line{Node: &syntax.Question{Expr: n.Expr, Tail: n.Tail}})
		} else {
			text = syntax.Print(&syntax.Line{Node: &syntax.Question{Expr: n.Expr}})
		}
	case *syntax.Use:
		use := *n
		use.Names = nil
		text = syntax.Print(&syntax.Line{Node: &use})
	default:
		return l
	}
	q, _ := syntax.ParseLine(text)
	return q
}

// valueOf is what a reading gives, in few words.
func valueOf(a *calc.Answer) string {
	switch {
	case a.Value != nil && !a.Value.Column():
		return a.Value.String()
	case a.Value != nil:
		return "a column"
	case a.Rule != nil:
		return a.Rule.Verdict.String()
	case len(a.Cards) > 0:
		return a.Cards[0].Verdict.String()
	}
	return ""
}
