package study

import "math"

// Several comparisons are each looked for by themselves, over the same grid;
// where all hold is where their stretches overlap.

// together is the outcome of all comparisons: that of the only one, or what the
// stretches have in common.
func together(fs []*finder) *outcome {
	if len(fs) == 1 {
		return fs[0].found
	}
	first := fs[0].found
	all := &outcome{From: first.From, To: first.To, Grown: first.Grown, All: true}
	for i, f := range fs {
		o := f.found
		all.All = all.All && o.All
		all.More = all.More || o.More
		all.Poles = append(all.Poles, o.Poles...)
		spans := make([]stretch, len(o.Spans))
		copy(spans, o.Spans)
		for k := range spans {
			spans[k].Of = i
		}
		if i == 0 {
			all.Spans = spans
		} else {
			all.Spans = overlaps(all.Spans, spans)
		}
	}
	if len(all.Spans) > mostFound {
		all.Spans, all.More = all.Spans[:mostFound], true
	}
	if all.none() {
		for _, f := range fs {
			all.Apart = append(all.Apart, f.found)
			all.More = all.More && !f.found.none()
		}
	}
	return all
}

// overlaps are the stretches that two lists have in common, both in order.
func overlaps(as, bs []stretch) []stretch {
	var all []stretch
	for i, j := 0, 0; i < len(as) && j < len(bs); {
		a, b := as[i], bs[j]
		if s, ok := overlap(a, b); ok {
			all = append(all, s)
		}
		if a.To < b.To {
			i++
		} else {
			j++
		}
	}
	return all
}

// overlap is what two stretches have in common. A single place, which is good to
// its last digits, and a touch, good to half of them, are kept whole.
func overlap(a, b stretch) (stretch, bool) {
	for _, p := range [][2]stretch{{a, b}, {b, a}} {
		if at, in := p[0], p[1]; at.From == at.To {
			within := 1e-12 * math.Abs(at.From)
			if at.Touches || in.Touches {
				within = 1e-6 * math.Abs(at.From)
			}
			return at, in.holds(at.From, within)
		}
	}
	s := a
	if b.From > s.From {
		s.From, s.AtFrom, s.OutFrom = b.From, b.AtFrom, b.OutFrom
	} else if b.From == s.From {
		s.OutFrom = s.OutFrom || b.OutFrom
	}
	if b.To < s.To {
		s.To, s.AtTo, s.OutTo = b.To, b.AtTo, b.OutTo
	} else if b.To == s.To {
		s.OutTo = s.OutTo || b.OutTo
	}
	return s, s.From < s.To || s.From == s.To && !s.OutFrom && !s.OutTo
}

// holds reports whether a place lies in the stretch, or so near.
func (s stretch) holds(x, within float64) bool {
	return (x > s.From || x >= s.From-within && !s.OutFrom) && (x < s.To || x <= s.To+within && !s.OutTo)
}
