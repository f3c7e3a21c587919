package answer

import "iter"

// Found is the answer of a find line.
type Found struct {
	Name    string   `json:"name" doc:"of the input"`
	Cond    Expr     `json:"condition"`
	With    []string `json:"with,omitempty" doc:"what else is supposed meanwhile, as written"`
	Holds   bool     `json:"holds" doc:"anywhere"`
	All     bool     `json:"all" doc:"everywhere it looked"`
	Places  []Place  `json:"places"`
	More    bool     `json:"more,omitempty" doc:"there are more places than these"`
	Looked  []*Value `json:"looked,omitempty" doc:"from where to where"`
	Grown   bool     `json:"grown,omitempty" doc:"nobody said where to look"`
	Poles   []*Value `json:"poles,omitempty" doc:"where the sides pass one another at infinity"`
	Near    *Near    `json:"nearest,omitempty" doc:"if it holds nowhere"`
	Apart   []Apart  `json:"apart,omitempty" doc:"of several comparisons that nowhere hold together: each by itself"`
	Chosen  *Value   `json:"chosen,omitempty" doc:"of a list: the first value that holds"`
	Label   string   `json:"label,omitempty" doc:"of the row chosen"`
	Tried   int      `json:"tried,omitempty" doc:"of a list: how many values there are"`
	Fit     int      `json:"fit,omitempty" doc:"of a list: how many of them hold"`
	Order   Order    `json:"order,omitempty" doc:"of a list: the order in which it was looked through"`
	Current *Value   `json:"now,omitempty" doc:"the input as it is"`
	Judged  []Offer  `json:"judged,omitempty" doc:"values that are offered and with which a rule turns, or a must fails"`
	Take    string   `json:"take,omitempty" doc:"the line that would take the value over"`
}

// Place is a stretch where a comparison holds: From to To, the same for a single
// place. The ends of a stretch are spelled with so many digits, and rounded
// inward, that what is printed makes the comparison hold; their Numbers are the
// ends as found.
type Place struct {
	From    *Value   `json:"from"`
	To      *Value   `json:"to" doc:"the same for a single place"`
	FromOut bool     `json:"from_left_out,omitempty" doc:"it holds right after from, but not at it"`
	ToOut   bool     `json:"to_left_out,omitempty" doc:"it holds right up to to, but not at it"`
	ToStart bool     `json:"to_start,omitempty" doc:"it reaches the lower end of where was looked"`
	ToEnd   bool     `json:"to_end,omitempty" doc:"it reaches the upper end"`
	Touches bool     `json:"touches,omitempty" doc:"the two sides touch and do not cross"`
	Jump    bool     `json:"jump,omitempty" doc:"the value jumps"`
	Before  []*Value `json:"before,omitempty" doc:"of a jump: the two sides before it"`
	Behind  []*Value `json:"behind,omitempty" doc:"of a jump: the two sides after it"`
}

// Single reports whether the place is one value.
func (p *Place) Single() bool { return p.From.Numbers[0] == p.To.Numbers[0] }

// Offer is a value that a search offers, with the rules that have another
// verdict there than now, and each must that fails there.
type Offer struct {
	X     *Value `json:"at"`
	Turns []Turn `json:"turns"`
}

// Near is how near a comparison comes to holding.
type Near struct {
	X     *Value `json:"at"`
	Left  *Value `json:"left"`
	Right *Value `json:"right"`
}

// Apart is one comparison of several, by itself.
type Apart struct {
	Cond   Expr    `json:"condition"`
	Holds  bool    `json:"holds" doc:"anywhere"`
	All    bool    `json:"all" doc:"everywhere it looked"`
	Places []Place `json:"places"`
	More   bool    `json:"more,omitempty" doc:"there are more places than these"`
	Near   *Near   `json:"nearest,omitempty" doc:"if it holds nowhere"`
	Fit    int     `json:"fit,omitempty" doc:"of a list: how many of its values hold"`
}

// Order is the order in which the values of a list were looked through.
type Order string

// The orders there are.
const (
	AsGiven      Order = "in the order given"
	Rising       Order = "in the order given, the smallest first"
	Falling      Order = "in the order given, the largest first"
	FromSmallest Order = "from the last, which is the smallest"
)

// Word is find.
func (*Found) Word() string { return "find" }

// Visit is the visitor's Find.
func (f *Found) Visit(v Visitor) { v.Find(f) }

// LeftOut is what is said of an end at which a comparison does not hold.
const LeftOut = "itself left out"

// Facts are the places, or that there are none.
func (f *Found) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		cond, more := f.Cond.String(), true
		fact := func(label string, v *Value, remark string) {
			more = more && yield(Fact{Name: f.Name, Label: label, Value: v, Remark: remark})
		}
		end := func(label string, v *Value, out bool) {
			if out {
				label += ", " + LeftOut
			}
			fact(label, v, cond)
		}
		if len(f.With) > 0 {
			more = yield(within(f.Name, f.With))
		}
		switch {
		case f.Chosen != nil:
			fact("at", f.Chosen, f.Label)
		case !f.Holds:
			fact("none", nil, cond)
		default:
			for i := range f.Places {
				switch p := &f.Places[i]; {
				case p.Jump:
					fact("jump", p.From, cond)
				case p.Single():
					fact("at", p.From, cond)
				default:
					end("from", p.From, p.FromOut)
					end("to", p.To, p.ToOut)
				}
			}
		}
		for _, pole := range f.Poles {
			fact("pole", pole, cond)
		}
		if f.Near != nil {
			fact("nearest", f.Near.X, cond)
		}
		for i := range f.Apart {
			a := &f.Apart[i]
			if cond = a.Cond.String(); a.Near != nil {
				fact("nearest", a.Near.X, cond)
			}
			for k := range a.Places {
				end("apart, from", a.Places[k].From, a.Places[k].FromOut)
				end("apart, to", a.Places[k].To, a.Places[k].ToOut)
			}
		}
		for _, o := range f.Judged {
			for _, t := range o.Turns {
				fact(t.Now.String(), o.X, t.Rule())
			}
		}
		if f.Take != "" {
			fact("take", nil, f.Take)
		}
	}
}
