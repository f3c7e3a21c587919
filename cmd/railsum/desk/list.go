package desk

import (
	"cmp"
	"fmt"
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
	"railsum/units/words"
)

// list shows lines and answers: all, or those that a word picks.
func (d *desk) list(which string) error { return d.paged(func() error { return d.listed(which) }) }

func (d *desk) listed(which string) error {
	if len(d.s.Lines()) == 0 {
		d.note("The notebook is empty.")
		return nil
	}
	switch which {
	case "":
		d.listAll(func(*calc.Answer) bool { return true }, d.brief)
		return nil
	case "danger":
		d.out.Verdicts(d.name(), outline.Count(d.answers()))
		return nil
	case "waiting":
		if !d.listAll(func(a *calc.Answer) bool { return len(a.Waiting) > 0 || len(a.Errors) > 0 }, d.brief) {
			d.note("No line waits, and none is in error.")
		}
		return nil
	case "unsettled":
		return d.listUnsettled()
	case "measured":
		d.listMeasured()
		return nil
	case "parts":
		var needs outline.Needs
		needs.Add(d.s.Book(), "")
		d.out.Needs(&needs)
		return nil
	}
	which, whole := strings.CutSuffix(which, " whole")
	tell := d.answer
	if whole {
		tell = func(a *calc.Answer) {
			for _, c := range a.Cards {
				d.s.Book().Draw(a.Line, c)
			}
			d.answerAs(a, show.CardForm{Length: show.Whole})
		}
	}
	if n, err := strconv.Atoi(strings.TrimSuffix(which, ".")); err == nil && n > 0 {
		return d.listLine(which, tell)
	}
	if !d.listAll(func(a *calc.Answer) bool { return outline.Names(a, which) }, tell) {
		return refusal("no line is about %s", which).With("`list` shows all lines")
	}
	return nil
}

// listLine shows a line with its answer.
func (d *desk) listLine(word string, tell func(*calc.Answer)) error {
	n, err := d.rowNumber(word)
	if err != nil {
		return err
	}
	i, _ := d.s.At(n)
	d.numbered(i, 0)
	a := d.studied(i)
	tell(a)
	d.offerTake(a)
	return nil
}

// listAll shows the lines that are picked, and of each what tell says; it
// reports whether there is any.
func (d *desk) listAll(pick func(*calc.Answer) bool, tell func(*calc.Answer)) bool {
	d.again = true
	defer func() { d.again = false }()
	any := false
	d.cut = false
	width := len(d.number(d.s.NextRow()))
	for i, a := range d.answers() {
		if d.cut {
			break
		}
		if pick(a) {
			any = true
			d.numbered(i, width)
			if short(a.Line) && !d.slow[a.Line.Raw] {
				a = d.studied(i)
			}
			tell(a)
		}
	}
	return any
}

// answers goes through what the lines have to say, until that is stopped.
func (d *desk) answers() iter.Seq2[int, *calc.Answer] {
	return func(yield func(int, *calc.Answer) bool) {
		for i, a := range d.s.Book().All() {
			if d.signals.stopped() {
				return
			}
			if _, is := a.Line.Node.(*syntax.Agree); is { // one that has lapsed is to be told
				a = d.studied(i)
			}
			if !yield(i, a) {
				return
			}
		}
	}
}

// listMeasured shows what has been measured, the oldest first and what has no date
// last.
func (d *desk) listMeasured() {
	d.again, d.cut = true, false
	defer func() { d.again = false }()
	var all []*calc.Answer
	line := map[*calc.Answer]int{}
	for i, l := range d.s.Lines() {
		if _, is := l.Node.(*syntax.Measured); !is {
			continue
		}
		if d.signals.stopped() || d.cut {
			return
		}
		a := d.studied(i)
		line[a], all = i, append(all, a)
	}
	if all == nil {
		d.note("Nothing has been measured: `measured NAME = VALUE on DATE` sets the meter beside the sum.")
		return
	}
	slices.SortStableFunc(all, func(a, b *calc.Answer) int { return cmp.Compare(measuredOn(a), measuredOn(b)) })
	width := len(d.number(d.s.NextRow()))
	for _, a := range all {
		d.numbered(line[a], width)
		d.answer(a)
	}
}

// measuredOn is the date of what a line measures, without end if it has none.
func measuredOn(a *calc.Answer) float64 {
	if m, is := a.Study.(*answer.Measured); is && m.On != nil {
		return m.On.Numbers[0]
	}
	return math.Inf(1)
}

// brief shows an answer with no more than the verdict of its cards.
func (d *desk) brief(a *calc.Answer) {
	less := *a
	less.Cards = nil
	switch {
	case long(a) || d.slow[a.Line.Raw]:
		fmt.Fprintf(d.out, "    `list %d` shows its answer\n", a.Line.Row)
	case len(a.Cards) == 0 || len(a.Errors)+len(a.Waiting) > 0:
		d.answer(&less)
	}
	for _, c := range a.Cards {
		d.out.CardTitle(c)
	}
}

// numbered shows the rows of line i, each with its number set right in a
// column of the given width.
func (d *desk) numbered(i, width int) { d.out.Numbered(d.s.Lines()[i], width) }

// brought shows line i after an edit: of a long table its head and the rows that are new
// or another now.
func (d *desk) brought(i int, rows []int) {
	l := d.s.Lines()[i]
	if l.Rows() <= longTable {
		d.numbered(i, 0)
		return
	}
	d.out.NumberedRows(l, rows[:min(len(rows), longTable)])
}

// longTable is from how many rows on a table that was changed is not shown whole.
const longTable = 40

// listUnsettled shows the inputs that nobody has settled: those that are still
// the sheet's own, and guesses. What a sheet takes for granted and nobody has
// agreed to is named in a few rows. A sheet that could not be put to work asks what
// nobody knows.
func (d *desk) listUnsettled() error {
	any := false
	var mute []string
	for i, a := range d.answers() {
		if unsettled(a) {
			any = true
			d.numbered(i, 0)
			for _, c := range a.Cards {
				d.unsettled(c)
			}
		}
		if _, is := a.Line.Node.(*syntax.Use); is && len(a.Cards) == 0 {
			mute = append(mute, strconv.Itoa(a.Line.Row))
		}
	}
	switch {
	case len(mute) == 1:
		d.note("Line %s is in error, and what its sheet asks is not known.", mute[0])
	case len(mute) > 1:
		d.note("Lines %s are in error, and what their sheets ask is not known.", words.And(mute))
	case !any:
		d.note("Every input is settled.")
	}
	return nil
}

// unsettled reports whether there is something about a line that nobody has
// settled.
func unsettled(a *calc.Answer) bool {
	return a.Assumed || slices.ContainsFunc(a.Cards, func(c *answer.Card) bool {
		return slices.ContainsFunc(c.Asks, func(in answer.CardLine) bool { return !in.State.Settled() })
	})
}

// unsettled lists the inputs of a card that are the sheet's own, or guesses.
func (d *desk) unsettled(c *answer.Card) {
	var granted []string
	for _, in := range c.Asks {
		if in.State.Settled() {
			continue
		}
		if in.Granted && in.State == answer.Default {
			text := in.Name
			if in.Value != nil {
				text += " " + d.out.Value(in.Value)
			}
			granted = append(granted, text)
			continue
		}
		text := in.Name
		if c.Name != "" {
			text = c.Name + "." + in.Name
		}
		if in.Value != nil {
			text += " = " + d.out.Value(in.Value)
		}
		if in.State == answer.Assumed {
			text += " (assumed)"
		}
		if in.Meaning != "" {
			text = in.Meaning + ": " + text
		}
		d.out.Hanging("    " + text)
	}
	if len(granted) > 0 {
		text := "granted: " + strings.Join(granted, ", ")
		if c.Name != "" {
			text += "; `agree " + c.Name + "` settles them as they stand"
		}
		d.out.Hanging("    " + text)
	}
}
