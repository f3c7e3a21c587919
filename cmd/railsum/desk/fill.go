package desk

import (
	"errors"
	"fmt"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/show"
)

// fill puts a sheet to work, asking for one input after the other. What comes
// of it is one use line, as if it had been typed; a tolerance or a pinned unit,
// which that line has no room for, becomes a line of its own behind it.
func (d *desk) fill(args string) error {
	sheet, name, err := d.toFill(args)
	if err != nil {
		return err
	}
	f := &filling{desk: d, sheet: sheet, name: name}
	d.note("%s: %s", sheet.Name, sheet.Meaning)
	d.note("An empty answer keeps what stands in brackets, a full stop keeps all that are left.")
	for _, in := range inputsOf(sheet.File) {
		more, err := f.ask(&in)
		if err != nil {
			return err
		}
		if !more {
			break
		}
	}
	for _, text := range f.lines() {
		d.note("%s%s", d.number(d.s.NextRow()), text)
		if err := d.enter(text); err != nil {
			return err
		}
	}
	return nil
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
	desk     *desk
	sheet    *calc.Sheet
	name     string // empty for a question answered with a card
	settings []string
	behind   []string // lines for what the use line has no room for
}

// ask asks for one input until the answer can be taken; more is false when the
// rest shall keep what it has.
func (f *filling) ask(in *input) (more bool, err error) {
	d := f.desk
	d.note("  %s", in.asks())
	d.choices = in.choices
	defer func() { d.choices = nil }()
	for {
		text, err := d.prompt(show.Safe(in.prompt()), "")
		switch {
		case errors.Is(err, lineedit.ErrInterrupted):
			return false, refusal("left off; nothing was entered")
		case errors.Is(err, lineedit.ErrTooLong):
			d.refuse(tooLong())
			continue
		case err != nil:
			return false, refusal("the input ended before the last question; nothing was entered")
		}
		switch text = strings.TrimSpace(text); text {
		case "":
			return true, nil
		case ".":
			return false, nil
		}
		if f.take(in, text) {
			return true, nil
		}
		if !d.ed.Interactive() {
			return false, refusal("nothing was entered")
		}
	}
}

// take keeps an answer, or shows why it cannot be kept.
func (f *filling) take(in *input, text string) bool {
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
	if !f.fits(in.name, define.Expr) {
		return false
	}
	if pinned {
		f.behind = append(f.behind, syntax.Print(line))
		return true
	}
	f.settings = append(f.settings, in.name+" = "+syntax.PrintExpr(define.Expr))
	return true
}

// fits tries an answer out: the notebook as it would be with the sheet put to
// work on it. Names not known yet are no reason to ask again.
func (f *filling) fits(name string, value syntax.Expr) bool {
	text := f.use([]string{name + " = " + syntax.PrintExpr(value)})
	line, _ := syntax.ParseLine(text)
	if mistaken(line) {
		f.desk.err.Complaint(line, line.Errors[0])
		return false
	}
	d := f.desk
	book := calc.Open(append(append([]*syntax.Line(nil), d.s.Lines()...), line), d.s.Library())
	answer := book.Answer(len(d.s.Lines()))
	for _, e := range answer.Errors {
		d.err.Complaint(line, e)
	}
	return len(answer.Errors) == 0
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

func (f *filling) lines() []string {
	return append([]string{f.use(f.settings)}, f.behind...)
}
