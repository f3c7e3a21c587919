package desk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/outline"
	"railsum/sessions"
	"railsum/units/words"
)

// begin opens the notebook that the desk is for and gives the exit code if that
// cannot be done.
func (d *desk) begin(file string) int {
	if d.Copy != nil {
		return d.beginCopy()
	}
	if file == "" {
		d.adopt(sessions.New(d.options()))
		d.welcome()
		return codeWell
	}
	d.signals.work() // until the first prompt
	s, err := sessions.Open(d.path(file), d.options())
	if err != nil {
		d.refuse(err)
		return codeOf(err)
	}
	if d.signals.stopped() {
		d.refuse(s.Close())
		return d.signals.left()
	}
	d.adopt(s)
	d.offerRecoveries()
	d.greet()
	if d.Look {
		d.note("This desk looks, and saves nothing; `reload` shows what has been saved elsewhere.")
	}
	return codeWell
}

// beginCopy opens a notebook that has no file until it is saved.
func (d *desk) beginCopy() int {
	d.signals.work()
	s := sessions.New(d.options())
	for _, l := range syntax.ParseFile(d.Copy).Lines {
		if _, header := l.Node.(*syntax.Header); header {
			continue
		}
		if _, err := s.Enter(l.Raw); err != nil {
			d.refuse(err)
			return codeOf(err)
		}
	}
	d.adopt(s)
	d.greet()
	return codeWell
}

func (d *desk) options() sessions.Options {
	return sessions.Options{Library: d.Library, Stop: d.signals.stopped, Look: d.Look}
}

// path is a file's name as it is opened.
func (d *desk) path(name string) string {
	if d.Dir == "" || d.Dir == "." || filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(d.Dir, name)
}

// adopt makes a session the one at the desk.
func (d *desk) adopt(s *sessions.Session) {
	d.s = s
	s.StopWhen(d.signals.stopped)
	d.resume, d.index = s.Drafted(), nil
	d.lookForWaiting()
	d.found, d.slow = nil, map[string]bool{}
	d.askAgain(nil)
	if d.ed.Interactive() {
		go d.indexed().Warm() // while somebody thinks
	}
	if err := s.Warning(); err != nil {
		d.say(err)
	}
}

// look notices sheets of the user's own that have changed on the disk.
func (d *desk) look() {
	changed := d.s.Refresh()
	if len(changed) == 0 {
		return
	}
	d.note("%s changed on the disk; the notebook is computed again.", has(changed))
	d.index = nil
	d.lookForWaiting()
	d.greet()
	d.askAgain(map[int]bool{})
}

func has(names []string) string {
	if len(names) == 1 {
		return names[0] + " has"
	}
	return words.And(names) + " have"
}

// greet says what the notebook comes to, to somebody who sees it.
func (d *desk) greet() {
	if !d.ed.Interactive() {
		return
	}
	if len(d.s.Lines()) <= 1 { // the header, if that
		d.welcome()
		return
	}
	d.out.Verdicts(d.name(), outline.Count(d.answers()))
}

// name is what the notebook is called in messages.
func (d *desk) name() string {
	if n := d.s.Name(); n != "" {
		return n
	}
	return "the notebook"
}

// offerRecoveries offers what desks that died have left of this notebook.
func (d *desk) offerRecoveries() {
	for _, r := range d.s.Recoveries() {
		if r.Aside != "" {
			d.settle(r, d.name(), d.takeUp)
			continue
		}
		if !d.ed.Interactive() {
			d.note("%s; open the notebook at a terminal to take them up.", leftBehind(d.name(), r))
			continue
		}
		if d.settle(r, d.name(), d.takeUp) {
			return
		}
	}
}

func leftBehind(name string, r *sessions.Recovery) string {
	lines := fmt.Sprintf("%d lines that are not saved", r.Lines)
	switch r.Lines {
	case 0:
		lines = "changes that are not saved"
	case 1:
		lines = "1 line that is not saved"
	}
	return fmt.Sprintf("%s was left on %s with %s", name, r.When.Format(time.DateTime), lines)
}

// settle asks what shall become of something left behind; it reports whether it
// was taken up.
func (d *desk) settle(r *sessions.Recovery, name string, take func(*sessions.Recovery) error) bool {
	if r.Aside != "" {
		d.note("%s was left with a journal that is damaged: no line could be read. It is kept as %s.", name, r.Aside)
		return false
	}
	d.note("%s.", leftBehind(name, r))
	if r.Damaged {
		d.note("The journal is damaged: this is what could be read before the damage. The journal itself is kept, whatever you answer.")
		defer func() {
			if r.Aside != "" {
				d.note("The damaged journal is %s now.", r.Aside)
			}
		}()
	}
	answer, _ := d.question("Take them up again? yes, later or drop: ", "yes", "later", "drop")
	switch answer {
	case "yes":
		err := take(r)
		d.refuse(err)
		return err == nil
	case "drop":
		d.refuse(r.Discard())
	default:
		r.Release()
	}
	return false
}

// takeUp makes the notebook what it was when its desk died. If the file has become
// another since, what was left is taken into that.
func (d *desk) takeUp(r *sessions.Recovery) error {
	if r.Changed {
		return d.takeInto(r)
	}
	_, err := d.s.Recover(r)
	d.resume = d.s.Drafted()
	d.lookForWaiting()
	return err
}

// save writes the notebook to its file, or to another.
func (d *desk) save(name string) error {
	if name != "" {
		name = d.path(withEnding(name))
	}
	before := d.s.Name()
	err := d.s.Save(name, false)
	switch changed := errors.Is(err, sessions.ErrChanged); {
	case changed && d.ed.Interactive() && d.own(name):
		err = d.saveChanged(err)
	case (changed || errors.Is(err, sessions.ErrExists)) && d.ed.Interactive():
		d.say(plain(err))
		if answer, _ := d.question("Replace it? yes or no: ", "yes", "no"); answer != "yes" {
			return refusal("nothing was written")
		}
		err = d.s.Save(name, true)
	case changed:
		return cured(err, "there are two ways out: `reload` takes the file's changes in, and `save OTHER.sums` writes this notebook beside it")
	}
	if err != nil {
		return err
	}
	d.lookForWaiting()
	if lost := d.s.Lost(); len(lost) > 0 {
		defer d.note("The file has a new %s: the old could not be kept.", words.And(lost))
	}
	if now := d.s.Name(); before != "" && now != before {
		d.note("Saved as %s. The desk now edits %s; %s stays as it was saved last.", now, now, before)
		return nil
	}
	d.note("Saved as %s.", d.s.Name())
	return nil
}

// own reports whether a name, as it is opened, is that of the notebook's own file.
func (d *desk) own(name string) bool {
	path, err := filepath.Abs(name)
	return name == "" || err == nil && path == d.s.Path()
}

// plain is an error without the cure that only a program could follow.
func plain(err error) error {
	var e *sessions.Error
	if errors.As(err, &e) {
		return errors.New(e.Message)
	}
	return err
}

// cured is an error with another cure.
func cured(err error, cure string) error {
	var e *sessions.Error
	if !errors.As(err, &e) {
		return err
	}
	other := *e
	other.Cure = cure
	return &other
}

// withEnding gives a name the ending of notebooks, unless it has one.
func withEnding(name string) string {
	if filepath.Ext(name) == "" && !strings.HasSuffix(name, string(filepath.Separator)) {
		return name + ".sums"
	}
	return name
}

// open goes on with another notebook.
func (d *desk) open(name string) error {
	if name == "" {
		return misuse("open")
	}
	path := d.path(name)
	if _, err := os.Stat(path); err != nil {
		path = d.path(withEnding(name))
	}
	if same, err := filepath.Abs(path); err == nil && same == d.s.Path() {
		return refusal("%s is open already", d.s.Name())
	}
	if !d.ed.Interactive() && d.s.Dirty() && d.s.Name() != "" {
		return refusal("%s has changes that are not saved", d.s.Name()).With("save it first")
	}
	s, err := sessions.Open(path, d.options())
	if err != nil {
		return err
	}
	if d.signals.stopped() {
		return errors.Join(refusal("interrupted; %s stays open", d.name()), s.Close())
	}
	if err := d.part(); err != nil {
		return errors.Join(err, s.Close())
	}
	d.adopt(s)
	d.offerRecoveries()
	d.greet()
	return nil
}

// quit leaves the desk.
func (d *desk) quit(args string) error {
	if err := bare("quit", args); err != nil {
		return err
	}
	if err := d.part(); err != nil {
		return err
	}
	return errQuit
}

// stay is the wish not to leave after all.
func stay() error { return refusal("not leaving; nothing was saved or lost") }

// part ends the session, after asking what shall become of what is not saved.
// Whatever else happens, that stays in the journal, if there is one.
func (d *desk) part() error {
	if d.signals.code() != 0 || !d.s.Dirty() {
		return d.s.Close()
	}
	kept := d.s.Warning() == nil
	if !d.ed.Interactive() {
		switch {
		case d.s.Name() == "":
			return d.s.Abandon() // what came through a pipe is still where it came from
		case kept:
			d.note("%s has changes that are not saved; they are kept and offered when it is opened again.", d.s.Name())
		default:
			d.note("%s has changes that are not saved, and %s.", d.s.Name(), lost)
			d.code = max(d.code, codeFile)
		}
		return d.s.Close()
	}
	if d.s.Name() == "" {
		if kept {
			d.note("Kept aside: `recover` brings it back at the next start.")
		} else {
			d.note("What was on this paper is lost: no journal could be kept.")
			d.code = max(d.code, codeFile)
		}
		return d.s.Close()
	}
	choices := []string{"save", "later", "drop"}
	if kept {
		d.note("There are changes that are not saved. save writes them to a file; later keeps them in the journal, and the next start offers them; drop throws them away.")
	} else {
		choices = []string{"save", "drop"}
		d.note("There are changes that are not saved, and no journal could be kept. save writes them to a file; drop throws them away.")
	}
	answer, err := d.question(words.Or(choices)+": ", choices...)
	switch {
	case errors.Is(err, lineedit.ErrInterrupted):
		return stay()
	case answer == "save":
		if err := d.save(""); err != nil {
			return err
		}
	case answer == "drop":
		return d.s.Abandon()
	case kept:
		d.note("They are kept, and offered when the notebook is opened again.")
	default:
		d.note("There was no answer, and %s.", lost)
		d.code = max(d.code, codeFile)
	}
	return d.s.Close()
}

// lost is what becomes of changes that are neither saved nor in a journal.
const lost = "they are lost: no journal could be kept"
