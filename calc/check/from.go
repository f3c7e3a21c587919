package check

import (
	"fmt"
	"slices"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

// What a sheet takes from elsewhere: "use drop for runs from house". Each input
// that nobody has set is what house tells under the same name, or under one of
// the input's other words, if that is of the same kind and dimension. Another word
// that may mean something else is heard and found, but takes nothing.

// own is what an input is where nothing is told for it: the sheet's default.
type own struct {
	Origin
	expr syntax.Expr
	tail syntax.Tail
}

// FromOther reports whether a Def is an input whose value the use line takes from
// another placed sheet or a table.
func (d *Def) FromOther() bool { return d.set != nil && d.set.from != nil }

// takeFrom sets the inputs of a placement that nobody has set to what is told by
// what its line names.
func (b *builder) takeFrom(s *Scope, p *Placement) {
	from := p.use.From
	told, ok := b.teller(s, p)
	if !ok {
		p.broken = true
		return
	}
	matched := 0
	var unsure []syntax.Diag
	for _, l := range p.Sheet.File.Lines {
		a, ok := l.Node.(*syntax.Ask)
		if !ok {
			continue
		}
		names := under(a, told)
		vague := len(names) == 1 && names[0] != a.Name.Text && b.vague(a.Name.Text, names[0])
		if len(names) > 0 && !vague {
			matched++
		}
		switch key := a.Name.Text; {
		case len(names) == 0 || p.Settings[key] != nil:
		case len(names) > 1:
			b.sheetLine(s, p.Line, toldTwice(p, key, names))
		case vague:
			unsure = append(unsure, toldVague(p, key, names[0]))
		default:
			at := from.Pos()
			name := &syntax.Name{Parts: append(slices.Clone(from.Parts), syntax.Part{At: at, Text: names[0]})}
			p.told++
			p.Settings[key] = &setting{key: key, at: at, expr: name, in: s, line: p.Line, src: p.src, with: true, from: &own{}}
		}
	}
	if matched == 0 {
		b.sheetLine(s, p.Line, nothingTold(p, told))
		p.broken = true
		return
	}
	for _, d := range unsure {
		b.sheetLine(s, p.Line, d)
	}
}

// teller lists the names under which the place or table that a use line names
// tells something. It reports false, having said why, if there is none.
func (b *builder) teller(s *Scope, p *Placement) (told []string, ok bool) {
	from := p.use.From
	head := from.Parts[0]
	sym := s.Names[head.Text]
	refuse := func(d syntax.Diag) ([]string, bool) {
		b.sheetLine(s, p.Line, d)
		return nil, false
	}
	switch {
	case sym == nil && len(from.Parts) == 1 && b.libraryHasTable(head.Text):
		return b.shippedTable(head.Text).Order[1:], true
	case sym == nil:
		if s.In == nil {
			b.Waits[p.Line] = append(b.Waits[p.Line], head.Text)
		}
		return refuse(b.unknownPlace(s, head))
	case sym.Broken:
		return refuse(notice(head.At, "%s is in error; mend its line first", head.Text))
	case sym.Tab != nil && len(from.Parts) == 1:
		if !b.filled(s, sym) {
			return refuse(notice(head.At, "%s is in error; mend its line first", head.Text))
		}
		return sym.Tab.Order[1:], true
	case sym.Tab != nil:
		return refuse(say(head.At, "%s is a column, and `from` takes the whole table", from).
			With(fmt.Sprintf("write `from %s`", head.Text)))
	case sym.Place == nil:
		return refuse(say(head.At, "%s is a value, and `from` takes a placed sheet or a table", head.Text).
			With(fmt.Sprintf("say which input it is for, as in `use drop for runs with supply = %s`", head.Text)))
	case sym.Place == p:
		return refuse(say(head.At, "this takes from itself").With("name another placed sheet"))
	}
	sheet, err := b.lib.Sheet(sym.Place.use.Sheet, sym.Place.use.Own)
	if err != nil {
		return refuse(notice(head.At, "%s is in error; mend its line first", head.Text))
	}
	if len(from.Parts) == 1 {
		return sheet.tells(), true
	}
	if t := b.toldBy(s, sym.Place, from.Parts[1].Text); t != nil {
		return t.Order[1:], true
	}
	return refuse(say(from.Parts[1].At, "%s has no table %s", head.Text, from.Parts[1].Text).
		With(fmt.Sprintf("for what the sheet itself tells write `from %s`", head.Text)))
}

// tells lists the answers of a sheet.
func (s *Sheet) tells() (names []string) {
	for _, l := range s.File.Lines {
		if t, is := l.Node.(*syntax.Tell); is && !t.Table {
			names = append(names, t.Name.Text)
		}
	}
	return names
}

// under lists the names among those told that mean an input: its own, or else its
// other words.
func under(a *syntax.Ask, told []string) (names []string) {
	if slices.Contains(told, a.Name.Text) {
		return []string{a.Name.Text}
	}
	for _, w := range a.Words {
		if slices.Contains(told, w.Text) {
			names = append(names, w.Text)
		}
	}
	return names
}

// vague reports whether another word of an input may mean something else than the
// input. It does if it says no more than the dimension, as volts or current: the volts
// of a booster are not those of a transformer. It does if sheets of the library ask
// for it by that very name, unless to them the input's name is another word for it: the
// threshold of a detector is not the trip of a booster, but track and supply are one.
// And it does if it is another word for inputs of several names.
func (b *builder) vague(input, word string) bool {
	if units.NamesDimension(word) {
		return true
	}
	if b.wording == nil {
		b.wording = wordingOf(b.lib)
	}
	if others, is := b.wording.words[word]; is {
		return !others[input] || units.NamesDimension(input)
	}
	for name := range b.wording.names[word] {
		if name != input && !b.wording.words[name][input] && !b.wording.words[input][name] {
			return true
		}
	}
	return false
}

// wording has the names of the inputs of all shipped sheets, each with its other words in
// any of them, and the other words, each with the names of its inputs.
type wording struct{ words, names map[string]map[string]bool }

func wordingOf(lib Library) *wording {
	all := &wording{words: map[string]map[string]bool{}, names: map[string]map[string]bool{}}
	put := func(in map[string]map[string]bool, key string, values ...string) {
		if in[key] == nil {
			in[key] = map[string]bool{}
		}
		for _, v := range values {
			in[key][v] = true
		}
	}
	for _, name := range lib.SheetNames() {
		sheet, err := lib.Sheet(name, false)
		if err != nil {
			continue
		}
		for _, l := range sheet.File.Lines {
			a, is := l.Node.(*syntax.Ask)
			if !is {
				continue
			}
			put(all.words, a.Name.Text)
			for _, w := range a.Words {
				put(all.words, a.Name.Text, w.Text)
				put(all.names, w.Text, a.Name.Text)
			}
		}
	}
	return all
}

// leave takes an input back to the sheet's default, since what is told under its
// name is of another kind. The last of them leaves nothing that was taken.
func (b *builder) leave(d *Def, t types.Type) {
	set, p := d.set, d.At
	diag := toldOther(d, t)
	if p.told--; p.told == 0 {
		diag.Notice = false
	}
	if !set.like {
		b.sheetLine(set.in, set.line, diag)
	}
	delete(p.Settings, set.key)
	d.Origin, d.Expr, d.Tail = set.from.Origin, set.from.expr, &set.from.tail
	d.Whole, d.Default, d.input().set, d.Deps = d.Tail.Whole, true, nil, nil
}

func toldTwice(p *Placement, key string, under []string) syntax.Diag {
	of := p.use.From.String()
	return notice(p.use.From.Pos(), "%s tells %s, which are other words for %s of %s: none is taken", of, words.And(under),
		key, p.Sheet.Name).
		With(fmt.Sprintf("say which one, as in `with %s = %s.%s`", key, of, under[0]))
}

func toldVague(p *Placement, key, under string) syntax.Diag {
	of := p.use.From.String()
	return notice(p.use.From.Pos(), "%s tells %s, which may mean something else: it is not taken as %s of %s", of, under, key,
		p.Sheet.Name).
		With(fmt.Sprintf("if it is meant, say so, as in `with %s = %s.%s`", key, of, under))
}

func toldOther(d *Def, t types.Type) syntax.Diag {
	want := d.wanted().typ
	set := d.set
	return notice(set.at, "%s is %s, and %s asks for %s as %s: it is not taken", spell(set.expr), t.Scalar().Words(),
		d.At.Sheet.Name, want.Words(), set.key).
		With(fmt.Sprintf("set it, as in `with %s = %s`", set.key, spell(set.from.expr)))
}

func nothingTold(p *Placement, told []string) syntax.Diag {
	of := p.use.From
	if len(told) == 0 {
		return say(of.Pos(), "%s tells nothing", of).With("leave it out")
	}
	sheet := p.Sheet.Name
	if p.Sheet.Own {
		sheet = fmt.Sprintf("%q", sheet)
	}
	example := fmt.Sprintf("use %s for runs with %s", sheet, p.Sheet.firstInput())
	return say(of.Pos(), "%s tells nothing that %s asks for", of, p.Sheet.Name).
		With(fmt.Sprintf("it tells %s; leave `from %s` out and set what the sheet asks for, as in `%s`", words.And(told), of, example))
}

// firstInput is the first input that a sheet asks for, set as it is by itself.
func (s *Sheet) firstInput() string {
	for _, l := range s.File.Lines {
		if a, is := l.Node.(*syntax.Ask); is {
			return a.Name.Text + " = " + spell(a.Expr)
		}
	}
	return "input = 1"
}
