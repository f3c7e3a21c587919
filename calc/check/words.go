package check

import "railsum/calc/syntax"

// Other words for the inputs of a sheet: those in brackets behind an input's
// name, "ask track (supply, volts) = 15 V". Whoever puts the sheet to work may
// use them for the name; within the sheet they mean nothing.

// FirstWords gives the places on line i where another word stands for an input,
// with the input's name.
func (c *Checked) FirstWords(i int) map[syntax.Pos]string { return c.otherWords[i] }

// firstWord is the name of the input of a sheet that a word stands for: the
// word itself, unless it is one of the other words.
func (b *builder) firstWord(sheet *Sheet, word string) string {
	firsts, known := b.firsts[sheet]
	if !known {
		firsts = sheet.firstWords()
		b.firsts[sheet] = firsts
	}
	if name := firsts[word]; name != "" {
		return name
	}
	return word
}

// firstWords gives the names of the inputs by their other words, nil if none has
// any.
func (s *Sheet) firstWords() map[string]string {
	var firsts map[string]string
	for _, l := range s.File.Lines {
		a, ok := l.Node.(*syntax.Ask)
		if !ok {
			continue
		}
		for _, w := range a.Words {
			if firsts == nil {
				firsts = map[string]string{}
			}
			firsts[w.Text] = a.Name.Text
		}
	}
	return firsts
}

// SameInput reports whether two words stand for one input of the sheet.
func (s *Sheet) SameInput(a, b string) bool {
	firsts := s.firstWords()
	for _, w := range []*string{&a, &b} {
		if name := firsts[*w]; name != "" {
			*w = name
		}
	}
	return a == b
}

// first is the same of a part of a name that is about p; it notes where in the
// notebook another word stands.
func (b *builder) first(s *Scope, p *Placement, line int, part syntax.Part) string {
	name := b.firstWord(p.Sheet, part.Text)
	if name != part.Text && s.In == nil && b.trial == 0 {
		if b.otherWords == nil {
			b.otherWords = map[int]map[syntax.Pos]string{}
		}
		if b.otherWords[line] == nil {
			b.otherWords[line] = map[syntax.Pos]string{}
		}
		b.otherWords[line][part.At] = name
	}
	return name
}

// firstWords gives the settings of a placement the names of the inputs they are
// for. A setting that another one names already is in error.
func (b *builder) firstWords(s *Scope, p *Placement, sheet *Sheet) {
	p.Sheet = sheet
	for _, set := range p.rows {
		set.key = b.first(set.in, p, set.line, syntax.Part{At: set.at, Text: set.key})
	}
	for key, set := range p.Settings {
		name := b.firstWord(sheet, key)
		if name == key {
			continue
		}
		delete(p.Settings, key)
		set.key = b.first(set.in, p, set.line, syntax.Part{At: set.at, Text: key})
		if old := p.Settings[name]; old != nil {
			if old.line > set.line || old.line == set.line && old.at.Col > set.at.Col {
				old, set = set, old
			}
			b.sheetLine(s, set.line, settingTwice(p, set, old))
			p.Settings[name] = old
			continue
		}
		p.Settings[name] = set
	}
}

// wordsInTheWay refuses words for an input of a sheet that name something else
// there.
func wordsInTheWay(sheet *Sheet, to *[]syntax.Diag) {
	names := map[string]bool{}
	for _, l := range sheet.File.Lines {
		switch n := l.Node.(type) {
		case *syntax.Ask:
			names[n.Name.Text] = true
		case *syntax.Tell:
			names[n.Name.Text] = true
		case *syntax.Table:
			names[n.Name.Text] = names[n.Name.Text] || n.Ask
		}
	}
	of := map[string]string{}
	for _, l := range sheet.File.Lines {
		a, ok := l.Node.(*syntax.Ask)
		if !ok {
			continue
		}
		for _, w := range a.Words {
			switch {
			case names[w.Text]:
				*to = append(*to, wordIsName(w, a.Name))
			case of[w.Text] != "":
				*to = append(*to, wordOfTwo(w, a.Name, of[w.Text]))
			default:
				of[w.Text] = a.Name.Text
			}
		}
	}
}

func wordIsName(w, name syntax.Part) syntax.Diag {
	return say(w.At, "%s is another word for %s here, and also a name of this sheet's own", w.Text, name.Text).
		With("take it out, or choose another word")
}

func wordOfTwo(w, name syntax.Part, other string) syntax.Diag {
	return say(w.At, "%s is another word for %s and for %s", w.Text, other, name.Text).With("take one of them out")
}
