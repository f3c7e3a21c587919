package quiz

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/calc/view"
	"railsum/cmd/railsum/marking"
	"railsum/cmd/railsum/outline"
	"railsum/units/words"
)

// What a fair question is held to.
const (
	mostKnown  = 6    // things that it tells
	mostDraws  = 200  // until there is none to be found
	mixedDraws = 50   // for one that is not judged as the others are
	apart      = 0.03 // between the answer and what mistakes make of it, as a share
	same       = 1e-9 // of one value worked out in two ways, as a share
	farthest   = 1000 // from what the answer is at the defaults
)

// place is what a sheet is put to work as.
const place = "x"

// Maker makes the questions of one exercise, a set as often as it is asked to.
type Maker struct {
	ctx  context.Context
	lib  Library
	ex   *answer.Exercise
	base *work
	can  []string // answers that can be asked
}

// work is a sheet at work.
type work struct {
	line string
	book *calc.Book
	p    *check.Placement
	card *answer.Card
}

// New is the maker of an exercise.
func New(ctx context.Context, lib Library, ex *answer.Exercise) (*Maker, error) {
	m := &Maker{ctx: ctx, lib: lib, ex: ex}
	var err error
	if m.base, err = m.work(nil); err != nil {
		return nil, err
	}
	for _, d := range m.base.p.Gives {
		name := view.ShortName(d)
		if (len(ex.Asking) == 0 || slices.Contains(ex.Asking, name)) && m.askable(m.base, d) {
			m.can = append(m.can, name)
		}
	}
	return m, nil
}

// Set makes the questions of the set with a number. It is an error where no fair
// question can be made.
func (m *Maker) Set(seed int) (*outline.Set, error) {
	set := &outline.Set{Title: fmt.Sprintf("%s, set %d", m.ex.Sheet, seed), Hazards: m.base.card.Hazards}
	if edition := m.base.p.Sheet.Edition; edition > 0 {
		set.Title = fmt.Sprintf("%s, edition %d, set %d", m.ex.Sheet, edition, seed)
	}
	for n := range m.ex.Count {
		q := m.question(seed, set.Questions, n+1)
		if q == nil {
			w := words.Say("no fair question could be made from %s", m.ex.Sheet)
			return nil, syntax.Diag{Wrong: w.With("ask for other answers of it, or try another set")}
		}
		set.Questions = append(set.Questions, q)
	}
	return set, nil
}

// work puts the sheet to work with some inputs set.
func (m *Maker) work(drawn []string) (*work, error) {
	sheet := m.ex.Sheet
	if m.ex.Own {
		sheet = answer.Quote(sheet)
	}
	set := slices.Clone(drawn)
	for _, l := range m.ex.With {
		set = append(set, l.Name+" = "+l.Value.String())
	}
	w := &work{line: "use " + sheet + " for " + place}
	if len(set) > 0 {
		w.line += " with " + strings.Join(set, ", ")
	}
	w.book = calc.Open(syntax.ParseFile([]byte(w.line+"\n")).Lines, m.lib)
	a := w.book.Answer(0)
	if len(a.Errors) > 0 {
		return nil, a.Errors[0]
	}
	if len(a.Cards) != 1 || len(w.book.C.Places[0]) != 1 {
		return nil, syntax.Diag{Wrong: words.Say("%s cannot be put to work by itself", m.ex.Sheet)}
	}
	w.p, w.card = w.book.C.Places[0][0], a.Cards[0]
	return w, nil
}

// askable reports whether an answer can be asked for: one value, worked out from
// what can be told.
func (m *Maker) askable(w *work, d *check.Def) bool {
	v := w.book.Value(d)
	if slices.Contains(w.p.Asks, named(d)) || !fair(v) {
		return false
	}
	return len(m.known(w, d)) > 0
}

// fair reports whether a value can be asked for: there is one, and it is not 0.
func fair(v *answer.Value) bool {
	if v == nil || v.Column() || !v.Sound() || v.Fault(0) != "" {
		return false
	}
	return v.Type.Kind == types.Text || v.Type.Kind == types.Truth ||
		v.Quantity() && len(v.Numbers) == 1 && v.Numbers[0] != 0
}

// known is what is needed for an answer, at the deepest level at which that is not
// too much, or at the level asked for; nil where it is too much at any.
func known(places []*check.Placement, d *check.Def, levels int) []*check.Def {
	var best []*check.Def
	target := named(d)
	level := needs(places, []*check.Def{target})
	for n := 1; !slices.Contains(level, target); n++ {
		if len(level) <= mostKnown && !slices.ContainsFunc(level,
			func(k *check.Def) bool { return called(places, k) == "" }) {
			best = level
		}
		if n == levels {
			break
		}
		next := needs(places, level)
		if slices.Equal(next, level) {
			break
		}
		level = next
	}
	return best
}

// known is what a question about an answer of the sheet at work tells.
func (m *Maker) known(w *work, d *check.Def) []*check.Def {
	return known([]*check.Placement{w.p}, d, m.ex.Levels)
}

// needs replaces what is worked out by what that is made of, each once. What is looked
// up in a table of the library is told as it is, for the table would have to be; so is
// what a notebook sets an input to, for its line may hold figures that have no name.
func needs(places []*check.Placement, level []*check.Def) []*check.Def {
	var out []*check.Def
	add := func(d *check.Def) {
		if d = named(d); d.Role != check.Constant && !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	for _, d := range level {
		set := slices.ContainsFunc(places, func(p *check.Placement) bool { return slices.Contains(p.Asks, d) })
		if d.Role == check.Column || d.Role == check.Cell || len(d.Deps) == 0 || set || looked(d) || ofLibrary(d.Same()) {
			add(d)
			continue
		}
		for _, dep := range d.Deps {
			add(dep)
		}
	}
	return out
}

// named is what hands a value on last and has a name in the notebook or a sheet.
func named(d *check.Def) *check.Def {
	for d.Node != nil && d.Node.Op == check.Ref && !ofLibrary(d.Node.Def) {
		d = d.Node.Def
	}
	return d
}

// ofLibrary reports whether a value is a constant or a cell of a table that ships.
func ofLibrary(d *check.Def) bool { return d.Line < 0 || d.Role == check.Constant }

// looked reports whether a value is looked up in a table of the library.
func looked(d *check.Def) bool {
	return slices.ContainsFunc(d.Deps, func(dep *check.Def) bool {
		return dep.Same().Line < 0 && dep.Same().Role == check.Column
	})
}

// question makes the nth question of a set: about an answer that was not asked for
// yet if there is one, and judged otherwise than all before where that can be found.
func (m *Maker) question(seed int, before []*outline.Question, n int) *outline.Question {
	if len(m.can) == 0 {
		return nil
	}
	names := slices.DeleteFunc(slices.Clone(m.can), func(name string) bool {
		return slices.ContainsFunc(before, func(q *outline.Question) bool { return q.Name == name })
	})
	if len(names) == 0 {
		names = m.can
	}
	edition := m.base.p.Sheet.Edition
	pick := drawsFor(seed, m.ex.Sheet, edition, "", n)
	each := map[string]draws{}
	var spare *outline.Question
	for tries, fair := 0, 0; tries < mostDraws && fair < mixedDraws; tries++ {
		name := names[pick.one(len(names))]
		if _, begun := each[name]; !begun {
			each[name] = drawsFor(seed, m.ex.Sheet, edition, name, n)
		}
		q := m.draw(each[name], name)
		switch {
		case q == nil:
			continue
		case n < m.ex.Count || mixed(before, q): // the last makes the set a mixed one
			return q
		case spare == nil:
			spare = q
		}
		fair++
	}
	return spare
}

// mixed reports whether with this question a set has some that are clear and some
// that are not; one alone is as it is.
func mixed(before []*outline.Question, q *outline.Question) bool {
	if len(before) == 0 {
		return true
	}
	good := q.Verdict <= answer.Clear
	other := func(b *outline.Question) bool { return (b.Verdict <= answer.Clear) != good }
	if slices.ContainsFunc(before, other) {
		return true
	}
	first := before[0].Verdict <= answer.Clear
	return slices.ContainsFunc(before, func(b *outline.Question) bool { return (b.Verdict <= answer.Clear) != first })
}

// draw makes a question with inputs drawn, nil where it is not fair.
func (m *Maker) draw(r draws, name string) *outline.Question {
	target := give(m.base.p, name)
	var drawn []string
	for _, d := range m.drawn(target) {
		if text := r.input(&m.base.book.View, m.lib, d); text != "" {
			drawn = append(drawn, view.ShortName(d)+" = "+text)
		}
	}
	w, err := m.work(drawn)
	if err != nil {
		return nil
	}
	for i := range w.card.Rules {
		if w.card.Rules[i].Verdict == answer.NoVerdict {
			return nil
		}
	}
	for i := range w.card.Asks {
		if w.card.Asks[i].Outside {
			return nil
		}
	}
	d := give(w.p, name)
	right, usual := w.book.Value(d), m.base.book.Value(target)
	if !fair(right) || !slices.Contains(m.can, name) || far(right, usual) {
		return nil
	}
	q := &outline.Question{Sheet: m.ex.Sheet, Name: name, Right: right, Verdict: w.card.Verdict, Source: w.line}
	for _, s := range w.book.Lab().Slips(w.p) {
		// what comes to the same here is no mistake
		if d, ok := marking.Apart(s.Wrong, right); s.Name == name && !(ok && d < same) {
			q.Slips = append(q.Slips, s)
		}
	}
	if !distinct(right, q.Slips) || !(marking.Asked{Name: name, Right: right, Slips: q.Slips}).TellsApart() {
		return nil
	}
	if d.Src != nil {
		q.Meaning = Words(d.Src.Note)
	}
	q.Ask = fmt.Sprintf("What is %s: %s?", name, strings.TrimSuffix(q.Meaning, "."))
	if q.Meaning == "" {
		q.Ask = fmt.Sprintf("What is %s?", name)
	}
	for _, k := range m.known(w, d) {
		q.Given = append(q.Given, outline.Given{Name: strings.TrimPrefix(k.Name, place+"."),
			Meaning: called([]*check.Placement{w.p}, k), Value: w.book.Value(k)})
	}
	q.Working = func() []answer.Step { return w.working(m.ctx, m.lib, name) }
	return q
}

// drawn are the inputs that are drawn for a question: those that it tells. Where it
// tells what others are worked out from, for it goes only so deep, those, too.
func (m *Maker) drawn(target *check.Def) []*check.Def {
	level := m.known(m.base, target)
	for m.ex.Levels > 0 {
		next := needs([]*check.Placement{m.base.p}, level)
		if slices.Equal(next, level) {
			break
		}
		level = next
	}
	return slices.DeleteFunc(slices.Clone(level), func(d *check.Def) bool {
		return !slices.Contains(m.base.p.Asks, d) || m.held(view.ShortName(d))
	})
}

func (m *Maker) held(name string) bool {
	return slices.ContainsFunc(m.ex.With, func(l answer.CardLine) bool { return l.Name == name })
}

func give(p *check.Placement, name string) *check.Def {
	for _, d := range p.Gives {
		if view.ShortName(d) == name {
			return d
		}
	}
	return nil
}

// far reports whether an answer is far from what it is at the defaults.
func far(v, usual *answer.Value) bool {
	if !v.Quantity() || v.Type.Kind == types.Point {
		return false
	}
	ratio := math.Abs(v.Numbers[0] / usual.Numbers[0])
	return ratio > farthest || ratio < 1./farthest
}

// distinct reports whether the answer and what mistakes make of it can be told from
// one another.
func distinct(right *answer.Value, slips []*answer.Slip) bool {
	all := []*answer.Value{right}
	for _, s := range slips {
		if s.Wrong == nil || !s.Wrong.Sound() || s.Wrong.Fault(0) != "" {
			return false
		}
		all = append(all, s.Wrong)
	}
	for i, a := range all {
		for _, b := range all[:i] {
			if d, ok := marking.Apart(a, b); ok && d <= apart {
				return false
			}
		}
	}
	return true
}

// called is what a thing is called in words, empty where nothing says.
func called(places []*check.Placement, d *check.Def) string {
	if d.Role == check.Asked {
		for _, p := range places {
			for _, q := range p.Whole() {
				if slices.Contains(q.Asks, d) {
					return meaningIn(q.Sheet.File, view.ShortName(d))
				}
			}
		}
	}
	if d.Src == nil || d.Line < 0 {
		return ""
	}
	return Words(d.Src.Note)
}

// meaningIn is what a sheet says of one of its inputs.
func meaningIn(f *syntax.File, name string) string {
	for _, l := range f.Lines {
		if ask, ok := l.Node.(*syntax.Ask); ok && ask.Name.Text == name[strings.LastIndex(name, ".")+1:] {
			return Words(l.Note)
		}
	}
	return ""
}

// Words is what a meaning calls a thing: what stands before the first colon or
// semicolon.
func Words(meaning string) string {
	if i := strings.IndexAny(meaning, ":;"); i >= 0 {
		meaning = meaning[:i]
	}
	return strings.TrimSpace(meaning)
}

// working is how an answer arose.
func (w *work) working(ctx context.Context, lib Library, name string) []answer.Step {
	lines := syntax.ParseFile([]byte(w.line + "\nworking " + place + "." + name + "\n")).Lines
	a, err := calc.Open(lines, lib).AnswerStudied(ctx, 1)
	if err != nil {
		return nil
	}
	worked, ok := a.Study.(*answer.Working)
	if !ok {
		return nil
	}
	for i := range worked.Steps {
		s := &worked.Steps[i]
		s.Name = strings.TrimPrefix(s.Name, place+".")
		if s.Meaning == "" {
			s.Meaning = meaningIn(w.p.Sheet.File, s.Name)
		}
	}
	return worked.Steps
}
