package present

import (
	"strings"

	"railsum/calc/answer"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/marking"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
)

// mostGuesses is how many guesses a question keeps.
const mostGuesses = 12

// guess keeps what somebody in the room says, if it can be the answer.
func (r *room) guess(text string) {
	s := r.deck.steps[r.at]
	v, wrong := r.reader.Read(text)
	right := s.guess.Answer
	switch {
	case right.Type.Kind == types.Text && (wrong != nil || v.Type.Kind != types.Text):
		v = &answer.Value{Type: right.Type.Scalar(), Texts: []string{text}}
	case wrong != nil:
		r.message = wrong.Message
		return
	case !marking.Alike(v, right):
		r.message = "it is " + right.Type.Words() + " that is asked for, and this is " + v.Type.Words()
		return
	}
	all := r.guesses[s.question]
	if len(all) == mostGuesses {
		r.message = "no more guesses are kept"
		return
	}
	r.guesses[s.question] = append(all, guessed{text, v})
}

// try puts a line to work beside the notebook: a setting or a value in the place of
// the one there is, anything else behind all others. It is shown what that changes.
func (r *room) try(text string) {
	line, _ := syntax.ParseLine(text)
	before := r.Book.Lines()
	if hear.Listens(r.Book, line) {
		if h := hear.Beside(before, r.Library, hear.NewIndex(r.Library, nil)).Hear(text); h.Line != nil {
			line, _ = syntax.ParseLine(h.Text())
		}
	}
	if len(line.Errors) > 0 {
		r.tell(block{draw: func(p *show.Printer) { p.Complaint(line, line.Errors[0]) }})
		return
	}
	lines, at := outline.With(before, line)
	change := r.Book.Update(lines)
	a, err := r.Book.AnswerStudied(r.ctx, at)
	switch {
	case err != nil || len(a.Errors) > 0 || len(a.Waiting) > 0:
		r.Book.Update(before)
		r.tell(block{draw: func(p *show.Printer) {
			for _, e := range a.Errors {
				p.Complaint(line, e)
			}
			if len(a.Errors) == 0 {
				p.Say("nothing is called %s", strings.Join(a.Waiting, ", "))
			}
		}})
		return
	case !kept(line):
		r.Book.Update(before)
		r.tell(block{draw: func(p *show.Printer) { p.Hanging(text); p.Answer(a, show.CardForm{}) }})
		return
	}
	o, err := r.Outline(r.Book)
	if err != nil {
		r.Book.Update(before)
		return
	}
	r.tried = true
	r.renew(newDeck(o, &r.Config))
	r.tell(block{draw: func(p *show.Printer) { p.Hanging(text); p.Change(change, lines) }})
}

// kept reports whether a line that is tried stays until all is put back: one that
// gives a value. A question is answered once.
func kept(l *syntax.Line) bool {
	_, is := l.Node.(*syntax.Define)
	return is
}

// putBack makes the notebook what it is on disk.
func (r *room) putBack() {
	if !r.tried {
		r.message = "nothing was tried"
		return
	}
	r.Book.Update(r.lines)
	o, err := r.Outline(r.Book)
	if err != nil {
		return
	}
	r.tried, r.aside = false, nil
	r.renew(newDeck(o, &r.Config))
	r.message = "all is as it was"
}

// renew takes another deck and stays at the step of the same line.
func (r *room) renew(d *deck) {
	old := r.deck.steps[r.at]
	grown := r.grown
	r.deck = d
	at := r.at
	for i, s := range d.steps {
		if s.line != nil && old.line != nil && s.line.Raw == old.line.Raw && s.revealed == old.revealed {
			at = i
			break
		}
	}
	r.show(at)
	r.grown = max(r.grown, grown)
}

func (r *room) tell(blocks ...block) { r.aside, r.part = blocks, 0 }
