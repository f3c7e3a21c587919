package outline

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/check"
	calcstudy "railsum/calc/study"
	"railsum/calc/syntax"
	"railsum/units"
)

// A Need is something to buy: of one kind and with the same keys, however many placed sheets need it.
type Need struct {
	What   string
	Keys   []answer.CardLine // that have a value
	Count  float64           // pieces; 0 where only a length is wanted
	Length float64           // in metres, of all of them, with the spare
	Spares []float64         // the shares of spare in that length, each once; of 0 without
	Places []string          // placed sheets that need it, each once
	None   []string          // keys for which nothing is made
	Open   []string          // keys that are still a default or assumed: look at this first
	bare   float64           // the length without the spare
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

// Spare says how much of a length is spare, empty for pieces.
func (n *Need) Spare() string {
	var words []string
	for _, share := range n.Spares {
		if share == 0 {
			words = append(words, "without spare")
		} else {
			words = append(words, "with "+units.Format(share*100)+" % spare")
		}
	}
	return strings.Join(words, ", some ")
}

// Said says where a need is that is not bought for itself.
func (a Aside) Said(unit func(units.Unit) string) string {
	return fmt.Sprintf("%s needs %s of %s: it is in that of %s, and not bought twice", strings.Join(a.Places, ", "), a.Amount(),
		strings.TrimSuffix(a.What+", "+a.Spelled(unit), ", "), a.From)
}

// Said says what may be in the list twice, and what to write if it is.
func (d Doubt) Said() string {
	return d.Where + fmt.Sprintf("%s of %s and of %s are both reckoned from %s, and both are listed; if they are one, write `part %s of %s from %s`",
		d.What, d.A, d.B, d.By, d.What, d.A, d.B)
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
	All    []*Need
	Each   []*Need // before what is the same was added up and the spare came on top, in the order of the notebooks
	Aside  []Aside // what is in something else of the list, by a line that says so
	Doubts []Doubt // what may be in the list twice
	known  map[string]*Need

	Unknown []string // what is not known of the list
}

// Says is what has to be said of the list, beside what is in it.
func (n *Needs) Says(unit func(units.Unit) string) []string {
	all := slices.Clone(n.Unknown)
	for _, a := range n.Aside {
		all = append(all, a.Said(unit))
	}
	for _, d := range n.Doubts {
		all = append(all, d.Said())
	}
	return all
}

// Aside is a need that is not bought for itself, since what another place needs has it.
type Aside struct {
	*Need
	From string
}

// Doubt is a pair of places that need parts of one word, which are reckoned from one length and may be one.
type Doubt struct {
	What, A, B string
	By         string // the length
	Where      string // the file, of several
}

// placed is a part of a placed sheet, or of a line of the notebook's own, whose sheet is nil then.
type placed struct {
	calcstudy.Part
	name  string
	sheet *check.Sheet
}

// partsOf are the parts of a notebook, and by place and word which place has them, where a line says so.
func partsOf(book *calc.Book) (parts []placed, has map[[2]string]string) {
	lab := book.Lab()
	has = map[[2]string]string{}
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
				parts = append(parts, placed{part, name, p.Sheet})
			}
		}
		node, is := l.Node.(*syntax.Needed)
		if !is || book.C.Studies[i] == nil || !book.C.Studies[i].OK {
			continue
		}
		for _, of := range node.Of {
			has[[2]string{of.Text, node.What.Text}] = node.From.Text
		}
		if node.Of == nil {
			need := lab.Need(book.C.Studies[i], node)
			parts = append(parts, placed{Part: calcstudy.Part{Needed: need}, name: fmt.Sprintf("line %d", l.Row)})
		}
	}
	return parts, has
}

// Add adds what a notebook needs: its placed sheets and its own part lines. Where is put before the names of places, as
// the name of a file of several.
func (n *Needs) Add(book *calc.Book, where string) {
	parts, has := partsOf(book)
	spare := map[string]float64{}
	for _, p := range parts {
		for _, f := range p.Fields {
			if f.Name == "spare" && f.Value != nil && f.Value.Sound() {
				spare[p.What] = max(spare[p.What], slices.Max(f.Value.Numbers))
			}
		}
	}
	needs := make([][]*Need, len(parts))
	for i, p := range parts {
		var unknown bool
		if needs[i], unknown = n.part(p, where+p.name, spare[p.What]); unknown {
			n.Unknown = append(n.Unknown, fmt.Sprintf("%s of %s has no answer, or not all of it, and is not listed", p.What, where+p.name))
		}
	}
	claimed := map[string]float64{} // of what another place has
	for i, p := range parts {
		from, aside := has[[2]string{p.name, p.What}]
		for _, one := range needs[i] {
			if aside {
				there := 0.0
				for j, q := range parts {
					if q.name == from && q.What == p.What {
						there += covering(needs[j], one)
					}
				}
				key := from + "|" + p.What + "|" + one.Spelled(units.Unit.String)
				if claimed[key] += one.Length; one.Length > 0 && claimed[key] <= there*(1+1e-9) {
					n.Aside = append(n.Aside, Aside{one, where + from})
					continue
				}
				n.Unknown = append(n.Unknown, fmt.Sprintf("%s is said to be in that of %s, which has %s m of it for %s m: it is listed all the same",
					p.What+" of "+where+p.name, where+from, units.Format(there), units.Format(claimed[key])))
			}
			each := *one
			n.Each = append(n.Each, &each)
			for _, share := range one.Spares {
				one.Length *= 1 + share
			}
			n.merge(one)
		}
		for _, q := range parts[:i] {
			_, other := has[[2]string{q.name, q.What}]
			if by := shared(p, q); by != nil && !aside && !other {
				n.Doubts = append(n.Doubts, Doubt{p.What, q.name, p.name, by.Name, where})
			}
		}
	}
}

// covering is the length of those needs that have all the keys which they share with one as it has them, before any
// spare.
func covering(needs []*Need, one *Need) (length float64) {
	for _, n := range needs {
		same := true
		for i := range one.Keys {
			for k := range n.Keys {
				a, b := &one.Keys[i], &n.Keys[k]
				same = same && (a.Name != b.Name || shown(a.Value, units.Unit.String) == shown(b.Value, units.Unit.String))
			}
		}
		if same {
			length += n.bare
		}
	}
	return length
}

// shared is a length that parts of two sheets are reckoned from, nil if there is none. Of one sheet twice nobody would
// say so: two runs of one length are two runs.
func shared(p, q placed) *check.Def {
	if p.What != q.What || p.sheet == q.sheet {
		return nil
	}
	for _, d := range p.Lengths {
		if slices.Contains(q.Lengths, d) {
			return d
		}
	}
	return nil
}

// part gives a part as needs, of columns one for each row; their lengths are still without spare. It reports
// whether there are some that have no answer.
func (n *Needs) part(p placed, place string, spare float64) (needs []*Need, unknown bool) {
	rows, label := 1, func(int) string { return "" }
	for i := range p.Fields {
		if v := p.Fields[i].Value; v != nil && v.Column() {
			rows, label = v.Rows(), v.Label
		}
	}
	for r := range rows {
		one := &Need{What: p.What, Count: 1}
		counted, sound := false, true
		share := spare
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
			case f.Name == "spare":
				share = v.Numbers[0]
			case v.Cell(0) == "none":
				one.None = append(one.None, f.Name)
			default:
				one.Keys = append(one.Keys, answer.CardLine{Name: f.Name, Value: v})
			}
			if f.State == answer.Default || f.State == answer.Assumed {
				one.Open = append(one.Open, f.Name)
			}
		}
		if unknown = unknown || !sound; !sound || counted && one.Count == 0 {
			continue
		}
		if one.Length > 0 {
			one.Spares = []float64{share}
			if !counted {
				one.Count = 0
			}
		}
		one.Length *= max(one.Count, 1)
		one.bare = one.Length
		one.Places = []string{place}
		if s := label(r); s != "" {
			one.Places[0] += " (" + s + ")"
		}
		needs = append(needs, one)
	}
	return needs, unknown
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
	for _, share := range one.Spares {
		if !slices.Contains(old.Spares, share) {
			old.Spares = append(old.Spares, share)
		}
	}
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
