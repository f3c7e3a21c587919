package sessions

import (
	"slices"

	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// nothing and noThat stand for a question's index where there is none.
const (
	nothing = -1 // "that" on this line means nothing
	noThat  = -2 // there is no "that" on this line
)

// thats gives, for each line, the question that its "that" means: the nearest
// above.
func thats(lines []*syntax.Line) []int {
	means := make([]int, len(lines))
	question := nothing
	for i, l := range lines {
		means[i] = noThat
		if len(thatsOn(l)) > 0 {
			means[i] = question
		}
		if _, is := l.Node.(*syntax.Question); is {
			question = i
		}
	}
	return means
}

// thatsOn lists where "that" stands on a line.
func thatsOn(l *syntax.Line) []syntax.Pos {
	var at []syntax.Pos
	syntax.Walk(l.Node, func(e syntax.Expr) {
		if t, ok := e.(*syntax.That); ok {
			at = append(at, t.At)
		}
	})
	return at
}

// rebound tells of every "that" that has come to mean another question. It goes
// by where the lines went, not by their identity, which shifting them changes.
func rebound(old, now []*syntax.Line, went []int) []answer.Rebound {
	came := make([]int, len(now))
	for i := range came {
		came[i] = -1
	}
	for o, n := range went {
		if n >= 0 {
			came[n] = o
		}
	}
	before, after := thats(old), thats(now)
	var moved []answer.Rebound
	for n, o := range came {
		if o < 0 || after[n] == noThat || before[o] == noThat {
			continue
		}
		was := before[o]
		if was >= 0 {
			was = went[was]
		} else if after[n] == nothing {
			continue
		}
		if was != after[n] || was < 0 {
			moved = append(moved, answer.Rebound{Line: n, Was: was, Now: after[n]})
		}
	}
	return moved
}

// follow says where each line went when splices were made, -1 for one that is
// gone. A line changed in place stays itself, and one that was taken out and put
// in again has moved.
func follow(old, now []*syntax.Line, ss splices) []int {
	went := make([]int, len(old))
	taken := make([]bool, len(now))
	var lost []int
	shift, k := 0, 0
	for i, l := range old {
		for k < len(ss) && ss[k].At+ss[k].Out < l.Row {
			shift += len(ss[k].In) - ss[k].Out
			k++
		}
		went[i] = -1
		within := k < len(ss) && ss[k].Out > 0 && ss[k].At < l.Row
		if within && ss[k].Out != len(ss[k].In) {
			lost = append(lost, i)
			continue
		}
		j, found := slices.BinarySearchFunc(now, l.Row+shift, func(l *syntax.Line, row int) int { return l.Row - row })
		if !found {
			lost = append(lost, i)
			continue
		}
		went[i], taken[j] = j, true
	}
	spare := map[string][]int{}
	if len(lost) > 0 {
		for j, l := range now {
			if !taken[j] {
				spare[l.Raw] = append(spare[l.Raw], j)
			}
		}
	}
	for _, i := range lost {
		if js := spare[old[i].Raw]; len(js) > 0 {
			went[i], spare[old[i].Raw] = js[0], js[1:]
		}
	}
	return went
}
