package desk

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/show"
)

// fill puts a sheet to work, asking for one input after the other: those that differ
// from case to case, then, if wanted, those that the sheet takes for granted. What
// comes of it is one use line, as if it had been typed; a tolerance or a pinned unit,
// which that line has no room for, becomes a line of its own behind it.
func (d *desk) fill(args string) error {
	sheet, name, err := d.toFill(args)
	if err != nil {
		return err
	}
	chief, granted := inputsOf(sheet.File, d.s.Library())
	f := &filling{desk: d, sheet: sheet, name: name}
	d.note("%s: %s", sheet.Name, sheet.Meaning)
	d.note("Enter keeps what is in brackets; ? tells more, < goes back, . ends the asking.")
	ended, err := f.askAll(chief)
	if err == nil && !ended && len(granted) > 0 {
		var stay string
		if stay, err = d.question(stays(len(granted)), "yes", "no"); stay != "yes" && err == nil {
			_, err = f.askAll(granted)
		}
	}
	switch {
	case errors.Is(err, lineedit.ErrInterrupted):
		return refusal("left off; nothing was entered")
	case errors.Is(err, lineedit.EOF):
		return refusal("the input ended before the last question; nothing was entered")
	case err != nil:
		return err
	}
	for _, text := range f.lines() {
		d.note("%s%s", d.number(d.s.NextRow()), text)
		if err := d.enter(text); err != nil {
			return err
		}
	}
	return nil
}

func stays(n int) string {
	if n == 1 {
		return "The other input stays as it is? yes or no: "
	}
	return fmt.Sprintf("The other %d inputs stay as they are? yes or no: ", n)
}

// toFill reads "SHEET for NAME" and finds the sheet.
func (d *desk) toFill(args string) (*calc.Sheet, string, error) {
	word, rest, _ := cutSheet(args)
	if word == "" {
		return nil, "", misuse("fill")
	}
	name := ""
	if rest != "" {
		what, n, _ := strings.Cut(rest, " ")
		if name = strings.TrimSpace(n); what != "for" || name == "" || strings.Contains(name, " ") {
			return nil, "", misuse("fill")
		}
		if l, _ := syntax.ParseLine(name + " = 1"); mistaken(l) {
			return nil, "", refusal("%s", l.Errors[0].Message).With(l.Errors[0].Cure)
		}
	}
	own := strings.HasPrefix(word, `"`) || strings.HasSuffix(word, ".sums")
	sheet, err := d.s.Library().Sheet(strings.Trim(word, `"`), own)
	if err != nil {
		return nil, "", err
	}
	return sheet, name, nil
}

// filling is a sheet being filled in.
type filling struct {
	desk   *desk
	sheet  *calc.Sheet
	name   string // empty for a question answered with a card
	filled []filled
}

// filled is an answer that has been taken.
type filled struct {
	input string
	value string // as it is set on the use line
	line  string // for what the use line has no room for
}

// What the answer to a question for an input asks for.
const (
	forth = iota
	back
	leave
)

// askAll asks for inputs in turn; it reports whether the rest shall keep what it has.
func (f *filling) askAll(inputs []input) (ended bool, err error) {
	for i := 0; i < len(inputs); {
		turn, err := f.ask(&inputs[i], i+1, len(inputs))
		switch {
		case err != nil || turn == leave:
			return true, err
		case turn == forth:
			i++
		case i > 0:
			i--
		}
	}
	return false, nil
}

// ask asks for one input until the answer can be taken.
func (f *filling) ask(in *input, step, of int) (turn int, err error) {
	d := f.desk
	d.note("  %s", in.asks())
	if d.choices = in.choices; d.choices == nil {
		d.choices = in.usual
	}
	defer func() { d.choices = nil }()
	insisted := ""
	for {
		text, err := d.prompt(show.Safe(fmt.Sprintf("    %d of %d  %s (%s): ", step, of, in.name, f.keeps(in))), "")
		switch {
		case errors.Is(err, lineedit.ErrTooLong):
			d.refuse(tooLong())
			continue
		case err != nil:
			return 0, err
		}
		switch text = strings.TrimSpace(text); text {
		case "":
			return forth, nil
		case ".":
			return leave, nil
		case "<":
			return back, nil
		case "?":
			d.note("  %s", in.explained())
			continue
		}
		if f.take(in, text, text == insisted) {
			return forth, nil
		}
		if insisted = text; !d.ed.Interactive() {
			return 0, refusal("nothing was entered")
		}
	}
}

// keeps is what an empty answer keeps.
func (f *filling) keeps(in *input) string {
	for _, s := range f.filled {
		if s.input == in.name {
			return s.value
		}
	}
	return in.keeps()
}

// take keeps an answer, or shows why it cannot be kept. One outside the range that
// the sheet is good for is kept when it is insisted on.
func (f *filling) take(in *input, text string, insisted bool) bool {
	d := f.desk
	target := "sheet." + in.name // behind a point any word can be a name
	if f.name != "" {
		target = f.name + "." + in.name
	}
	line, _ := syntax.ParseLineAt(target+" = "+text, 1)
	if mistaken(line) && d.ed.Interactive() {
		h := d.beside(d.s.Lines()).Hear(text)
		if h.Line == nil && !h.Nothing() {
			d.err.Unheard(line, h)
			return false
		}
		if h.Line != nil {
			d.out.Heard(h)
			line, _ = syntax.ParseLineAt(target+" = "+h.Text(), 1)
		}
	}
	if mistaken(line) {
		d.err.Complaint(line, line.Errors[0])
		return false
	}
	define, ok := line.Node.(*syntax.Define)
	if !ok || line.Note != "" {
		d.refuse(refusal("%q is no value", text).With("write a value"))
		return false
	}
	tail := define.Tail
	pinned := tail.Tol != nil || tail.As != nil
	if pinned && f.name == "" {
		d.refuse(refusal("a question has no room for a tolerance or for as").
			With(fmt.Sprintf("`fill %s for NAME` keeps it on a line of its own", f.sheet.Name)))
		return false
	}
	if !f.fits(in.name, define.Expr, insisted) {
		return false
	}
	taken := filled{input: in.name, value: syntax.PrintExpr(define.Expr)}
	if pinned {
		taken.line = syntax.Print(line)
	}
	f.filled = append(slices.DeleteFunc(f.filled, func(s filled) bool { return s.input == in.name }), taken)
	return true
}

// fits tries an answer out: the notebook as it would be with the sheet put to
// work on it. Names not known yet are no reason to ask again.
func (f *filling) fits(name string, value syntax.Expr, insisted bool) bool {
	d := f.desk
	line, _ := syntax.ParseLine(f.use([]string{name + " = " + syntax.PrintExpr(value)}))
	if mistaken(line) {
		d.err.Complaint(line, line.Errors[0])
		return false
	}
	book := calc.Open(append(append([]*syntax.Line(nil), d.s.Lines()...), line), d.s.Library())
	a := book.Answer(len(d.s.Lines()))
	for _, e := range a.Errors {
		d.err.Complaint(line, e)
	}
	for _, c := range a.Cards {
		for _, in := range c.Asks {
			if in.Name == name && in.Outside && !insisted && d.ed.Interactive() {
				d.note("  %s is good for %s to %s; the same again takes it all the same.", name,
					syntax.PrintExpr(in.Range.From), syntax.PrintExpr(in.Range.To))
				return false
			}
		}
	}
	return len(a.Errors) == 0
}

// use is the use line with the given settings.
func (f *filling) use(settings []string) string {
	text := "use " + f.sheet.Name
	if f.sheet.Own {
		text = `use "` + f.sheet.Name + `"`
	}
	if f.name != "" {
		text += " for " + f.name
	}
	if len(settings) > 0 {
		text += " with " + strings.Join(settings, ", ")
	}
	return text
}

// lines are what comes of it.
func (f *filling) lines() []string {
	var settings, behind []string
	for _, s := range f.filled {
		if s.line != "" {
			behind = append(behind, s.line)
		} else {
			settings = append(settings, s.input+" = "+s.value)
		}
	}
	return append([]string{f.use(settings)}, behind...)
}
