package study

import (
	"slices"

	"railsum/calc/check"
	"railsum/calc/function"
)

// A part that was chosen stays chosen: tolerances act after it was bought. So
// what chooses, on a line of its own, keeps its nominal answer while tolerances
// move.

// chosen gives the nominal answers of the Defs that choose, of those that the
// wanted ones depend on and that tolerances move.
func (l *Lab) chosen(want []*check.Def) map[*check.Def][]float64 {
	held := map[*check.Def][]float64{}
	for _, p := range want {
		for i, needed := range l.upstream(p) {
			d := l.C.Order[i]
			if !needed || !d.Loose || !l.chooses(d.Node) {
				continue
			}
			if c := l.M.Col(d); c != nil && c.Marks == nil {
				held[d] = slices.Clone(c.V)
			}
		}
	}
	return held
}

// chooses reports whether an answer is that of a function that chooses.
func (l *Lab) chooses(n *check.Node) bool {
	if n == nil {
		return false
	}
	switch n.Op {
	case check.Call:
		return n.Fn.Chooses()
	case check.OrNone:
		return l.chooses(n.Kids[0])
	case check.Either: // it is the first that is not none
		for _, k := range n.Kids {
			if !l.isNone(k) {
				return l.chooses(k)
			}
		}
	}
	return false
}

// isNone reports whether a name has no value at present.
func (l *Lab) isNone(n *check.Node) bool {
	if n.Op == check.Call && n.Fn == function.Nothing {
		return true
	}
	if n.Op != check.Ref {
		return false
	}
	c := l.M.Col(n.Def)
	return c != nil && len(c.Marks) == 1 && c.Marks[0].Fault() == function.None
}
