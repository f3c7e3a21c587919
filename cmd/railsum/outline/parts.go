package outline

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/units"
)

// A Need is something to buy: of one kind and with the same keys, however many placed sheets need it.
type Need struct {
	What   string
	Keys   []answer.CardLine // that have a value
	Count  float64           // pieces; 0 where only a length is wanted
	Length float64           // in metres, of all of them
	Places []string          // placed sheets that need it, each once
	None   []string          // keys for which nothing is made
	Open   []string          // keys that are still a default or assumed: look at this first
}

// Spelled are the keys in words.
func (n *Need) Spelled(unit func(units.Unit) string) string {
	var words []string
	for i := range n.Keys {
		words = append(words, n.Keys[i].Name+" "+shown(n.Keys[i].Value, unit))
	}
	return strings.Join(words, ", ")
}

// Amount is how many pieces, or how long.
func (n *Need) Amount() string {
	switch {
	case n.Length > 0 && n.Count > 1:
		return units.Format(n.Count) + " pieces, " + units.Format(n.Length) + " m"
	case n.Length > 0:
		return units.Format(n.Length) + " m"
	}
	return units.Format(n.Count)
}

func shown(v *answer.Value, unit func(units.Unit) string) string {
	if v.Quantity() && !v.Unit.IsZero() && v.Fault(0) == "" {
		return v.Number(0) + " " + unit(v.Unit)
	}
	return v.Cell(0)
}

// Needs are what notebooks need, what is the same added up. Only the sheets placed in a notebook itself count, never
// those inside them.
type Needs struct {
	All   []*Need
	Each  []*Need // before what is the same was added up, in the order of the notebooks
	known map[string]*Need
}

// Add adds what a notebook needs: its placed sheets and its own part lines. Where is put before the names of places, as
// the name of a file of several.
func (n *Needs) Add(book *calc.Book, where string) {
	lab := book.Lab()
	for i, l := range book.Lines() {
		for _, p := range book.C.Places[i] {
			if p.Scope == nil {
				continue
			}
			name := p.Name
			if name == "" {
				name = p.Sheet.Name
			}
			for _, part := range lab.Parts(p) {
				n.part(part, where+name)
			}
		}
		if node, is := l.Node.(*syntax.Needed); is {
			if s := book.C.Studies[i]; s != nil && s.OK {
				n.part(lab.Need(s, node), fmt.Sprintf("%sline %d", where, l.Row))
			}
		}
	}
}

// part adds a part, of columns one for each row.
func (n *Needs) part(p *answer.Needed, place string) {
	rows, label := 1, func(int) string { return "" }
	for i := range p.Fields {
		if v := p.Fields[i].Value; v != nil && v.Column() {
			rows, label = v.Rows(), v.Label
		}
	}
	for r := range rows {
		one := &Need{What: p.What, Count: 1}
		counted, sound := false, true
		for _, f := range p.Fields {
			v := f.Value
			if v != nil && v.Column() {
				v = v.Row(r)
			}
			switch {
			case v == nil || v.Fault(0) != "":
				sound = false
			case f.Name == "count":
				one.Count, counted = v.Numbers[0], true
			case f.Name == "length":
				one.Length = v.Numbers[0]
			case v.Cell(0) == "none":
				one.None = append(one.None, f.Name)
			default:
				one.Keys = append(one.Keys, answer.CardLine{Name: f.Name, Value: v})
			}
			if f.State == answer.Default || f.State == answer.Assumed {
				one.Open = append(one.Open, f.Name)
			}
		}
		if !sound || counted && one.Count == 0 {
			continue
		}
		if one.Length > 0 && !counted {
			one.Count = 0
		}
		one.Length *= max(one.Count, 1)
		if s := label(r); s != "" {
			one.Places = []string{place + " (" + s + ")"}
		} else {
			one.Places = []string{place}
		}
		each := *one
		n.Each = append(n.Each, &each)
		n.merge(one)
	}
}

// merge adds a need to one that is the same as shown, if there is one.
func (n *Needs) merge(one *Need) {
	if n.known == nil {
		n.known = map[string]*Need{}
	}
	key := one.What + "|" + one.Spelled(units.Unit.String) + "|" + strings.Join(one.None, ",")
	old := n.known[key]
	if old == nil {
		n.known[key] = one
		n.All = append(n.All, one)
		return
	}
	old.Count, old.Length = old.Count+one.Count, old.Length+one.Length
	for _, place := range one.Places {
		if !slices.Contains(old.Places, place) {
			old.Places = append(old.Places, place)
		}
	}
	for _, open := range one.Open {
		if !slices.Contains(old.Open, open) {
			old.Open = append(old.Open, open)
		}
	}
}

// Sorted are all needs by what they are, each kind in the order of the notebooks.
func (n *Needs) Sorted() []*Need {
	all := slices.Clone(n.All)
	slices.SortStableFunc(all, func(a, b *Need) int { return strings.Compare(a.What, b.What) })
	return all
}
