package sessions

import (
	"slices"
	"strings"

	"railsum/calc/syntax"
)

// A splice puts rows in the place of others. A text is worked on as the rows
// between its newlines: one that ends in a newline has an empty last row, so
// that rows say all there is to say about a text and joining them gives it back.
type splice struct {
	At  int      `json:"at"`           // the first row, from 0
	Out int      `json:"out"`          // how many rows go
	In  []string `json:"in,omitempty"` // what comes
}

// splices are made on the same text, in order, none touching another's rows.
type splices []splice

// fit reports whether they can be made on a text of that many rows.
func (ss splices) fit(rows int) bool {
	next := 0
	for _, s := range ss {
		// Each bound by itself, since a sum might overflow.
		if s.At < next || s.At > rows || s.Out < 0 || s.Out > rows-s.At {
			return false
		}
		next = s.At + s.Out
	}
	return true
}

// on makes them on a text, which is used up. They must fit.
func (ss splices) on(rows []string) []string {
	if len(ss) == 1 {
		return slices.Replace(rows, ss[0].At, ss[0].At+ss[0].Out, ss[0].In...)
	}
	out := make([]string, 0, len(rows)+8)
	next := 0
	for _, s := range ss {
		out = append(out, rows[next:s.At]...)
		out = append(out, s.In...)
		next = s.At + s.Out
	}
	return append(out, rows[next:]...)
}

// undoing are the splices that take these back; rows is the text they were
// made on.
func (ss splices) undoing(rows []string) splices {
	back := make(splices, len(ss))
	shift := 0
	for i, s := range ss {
		back[i] = splice{At: s.At + shift, Out: len(s.In), In: slices.Clone(rows[s.At : s.At+s.Out])}
		shift += len(s.In) - s.Out
	}
	return back
}

// size is how many bytes of text they bring.
func (ss splices) size() int {
	n := 0
	for _, s := range ss {
		for _, row := range s.In {
			n += len(row) + 1
		}
	}
	return n
}

// rowsOf cuts a file into rows, its byte order mark left out.
func rowsOf(f *syntax.File) []string {
	rows := make([]string, 0, len(f.Lines)+1)
	for _, l := range f.Lines {
		if strings.Contains(l.Raw, "\n") {
			rows = append(rows, strings.Split(l.Raw, "\n")...)
		} else {
			rows = append(rows, l.Raw)
		}
	}
	if !f.NoFinal || len(f.Lines) == 0 {
		rows = append(rows, "")
	}
	return rows
}

// between are the splices that make one text of another: what is alike at
// either end stays.
func between(old, now []string) splices {
	front := 0
	for front < len(old) && front < len(now) && old[front] == now[front] {
		front++
	}
	back := 0
	for back < len(old)-front && back < len(now)-front && old[len(old)-1-back] == now[len(now)-1-back] {
		back++
	}
	if front == len(old) && front == len(now) {
		return nil
	}
	return splices{{At: front, Out: len(old) - front - back, In: slices.Clone(now[front : len(now)-back])}}
}

// narrowed leaves out the rows at either end of a splice that stay as they are: of a
// table one row may change. One that changes nothing at all stays whole.
func (ss splices) narrowed(rows []string) splices {
	out := make(splices, len(ss))
	for i, s := range ss {
		out[i] = s
		if b := between(rows[s.At:s.At+s.Out], s.In); len(b) > 0 {
			out[i] = splice{At: s.At + b[0].At, Out: b[0].Out, In: b[0].In}
		}
	}
	return out
}

// made gives the file with splices made on its rows, which are used up. What is neither
// touched nor shifted keeps its lines. Once stop says yes it is not the text.
func (ss splices) made(f *syntax.File, rows []string, stop func() bool) *syntax.File {
	if now, ok := ss.inPlace(f, rows, stop); ok {
		return now
	}
	text := strings.Join(ss.on(rows), "\n")
	if f.BOM {
		text = "\ufeff" + text
	}
	now := syntax.ParseFileUntil(stop, []byte(text))
	for i, j := 0, 0; i < len(now.Lines) && j < len(f.Lines); {
		n, o := now.Lines[i], f.Lines[j]
		switch {
		case o.Row < n.Row:
			j++
		case o.Row > n.Row:
			i++
		default:
			// What is wrong with a line may depend on those around it.
			if o.Raw == n.Raw && !broken(o) && !broken(n) {
				now.Lines[i] = o
			}
			i, j = i+1, j+1
		}
	}
	return now
}

// inPlace makes splices that shift nothing and that no other line's reading
// depends on: rows put in the place of as many others of the same line, or lines added
// at the end.
func (ss splices) inPlace(f *syntax.File, rows []string, stop func() bool) (*syntax.File, bool) {
	now := *f
	now.Lines = slices.Clone(f.Lines)
	row := 0
	for _, s := range ss {
		i := lineAt(f.Lines, s.At+1)
		atEnd := s.Out == 0 && s.At == len(rows)-1 && rows[s.At] == ""
		switch {
		case len(s.In) == 0 || row > s.At:
			return nil, false
		case f.NoFinal && i == len(f.Lines)-1 && s.In[len(s.In)-1] == "":
			return nil, false // no row of its own any more, but the end of the one above
		case atEnd:
			i = len(f.Lines)
		case i < 0 || f.Lines[i].Row+f.Lines[i].Rows() < s.At+1+s.Out || len(s.In) != s.Out || broken(f.Lines[i]):
			return nil, false
		}
		if reaches(f.Lines, i) {
			return nil, false
		}
		of, at := s.In, s.At+1
		if !atEnd {
			old := f.Lines[i]
			at = old.Row
			of = slices.Replace(slices.Clone(rows[at-1:at-1+old.Rows()]), s.At+1-at, s.At+1-at+s.Out, s.In...)
		}
		l, open := syntax.ParseLineUntil(stop, strings.Join(of, "\n"), at)
		if _, header := l.Node.(*syntax.Header); header || open || broken(l) || l.Rows() != len(of) {
			return nil, false // rows of more than one line are read as any text is
		}
		if atEnd {
			now.NoFinal = false
			now.Lines = append(now.Lines, l)
		} else {
			if isBlank(l) != isBlank(f.Lines[i]) {
				return nil, false // whether a header is the first row may depend on it
			}
			now.Lines[i] = l
		}
		row = at - 1 + len(of)
	}
	return &now, true
}

// reaches reports whether the reading of a line above may depend on line i: a
// table without end looks for it past what is blank or a remark.
func reaches(lines []*syntax.Line, i int) bool {
	for i--; i >= 0; i-- {
		if _, remark := lines[i].Node.(*syntax.Remark); !remark && !isBlank(lines[i]) {
			return broken(lines[i])
		}
	}
	return false
}

func isBlank(l *syntax.Line) bool {
	_, is := l.Node.(*syntax.Blank)
	return is
}

// lineAt finds the line that a row, counted from 1, belongs to; -1 if none.
func lineAt(lines []*syntax.Line, row int) int {
	i, found := slices.BinarySearchFunc(lines, row, func(l *syntax.Line, row int) int { return l.Row - row })
	if found {
		return i
	}
	if i > 0 && row < lines[i-1].Row+lines[i-1].Rows() {
		return i - 1
	}
	return -1
}

func broken(l *syntax.Line) bool {
	_, is := l.Node.(*syntax.Broken)
	return is
}
