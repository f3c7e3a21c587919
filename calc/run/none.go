package run

import "railsum/calc/function"

// Operations on what may be none. They see to the marks themselves.

// either computes the first of the operands that is not none.
func either(st *step, in []*Col) {
	out := st.out
	for i := range out.V {
		for j, c := range in {
			m := c.markAt(i)
			if m.Fault() == function.None && j < len(in)-1 {
				continue
			}
			out.V[i] = c.V[i]
			if m != 0 {
				out.set(i, m)
			}
			break
		}
	}
}

// isNone tells in every row whether the operand is none.
func isNone(st *step, in []*Col) {
	for i := range st.out.V {
		m := in[0].markAt(i)
		none := m.Fault() == function.None
		st.out.V[i] = truth(none)
		if m != 0 && !none {
			st.out.set(i, m)
		}
	}
}

// remark hands the operand on, with one fault in the place of another.
func remark(st *step, x *Col, was, now function.Fault) {
	copy(st.out.V, x.V)
	for i, m := range x.Marks {
		switch {
		case m == 0:
		case m.Fault() == was:
			st.out.set(i, mark(st.site, now))
		default:
			st.out.set(i, m)
		}
	}
}

// missed gives none where a look-up has found nothing.
func missed(st *step, in []*Col) { remark(st, in[0], function.NoMatch, function.None) }

// there is an error where the operand is none.
func there(st *step, in []*Col) { remark(st, in[0], function.None, function.IsNone) }
