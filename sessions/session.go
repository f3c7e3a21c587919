package sessions

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
	"railsum/sessions/reason"
	"railsum/units/words"
)

// Options are what a session takes from outside. The zero Options are those of
// a user at his machine.
type Options struct {
	// Library is the library as seen from a notebook in a folder, which is
	// empty for one that has no file yet.
	Library func(dir string) calc.Library

	// Journals is the folder that journals are kept in; if empty, that is
	// railsum/journals in the XDG state home.
	Journals string

	// Look opens notebooks to be looked at beside who has them open: without a lock
	// and a journal, never to be saved.
	Look bool

	// Stop is the question that StopWhen gives a session, from the start.
	Stop func() bool

	disk disk
}

func (o Options) filled() Options {
	if o.Library == nil {
		o.Library = func(dir string) calc.Library { return library.At(dir) }
	}
	if o.Journals == "" {
		o.Journals = stateHome()
	}
	if o.Stop == nil {
		o.Stop = func() bool { return false }
	}
	if o.disk == nil {
		o.disk = realDisk{}
	}
	return o
}

// A Session is a notebook being worked on. It is not for concurrent use.
type Session struct {
	options Options
	file    *File // nil for a notebook without a name
	text    *syntax.File
	book    *calc.Book
	library calc.Library
	stop    func() bool
	fresh   bool // its file was not there, or was empty: it is saved with a header
	crlf    bool
	start   []byte // what it was before the first edit
	opened  state  // what it was when it was opened
	saved   state  // and when it was saved last
	unsafe  bool   // it was saved, but the disk did not say that it is safe
	before  string // then, the hash of what the disk may go back to
	dir     string // whose sheets it sees, while it has no file
	draft   []string
	journal *journal
	warning error
	past    history
	offers  []*Recovery
	taken   []*Recovery // whose text is here and in no journal of ours
	closed  bool
}

// New begins a notebook without a name.
func New(o Options) *Session { return newIn("", o) }

// newIn begins one that sees the sheets of a folder.
func newIn(dir string, o Options) *Session {
	s := &Session{options: o.filled(), fresh: true, dir: dir}
	s.begin(nil)
	return s
}

// Open opens a notebook, or begins one that is to have that name. What a
// session that died has left of it is then offered by Recoveries.
func Open(name string, o Options) (*Session, error) {
	o = o.filled()
	path, exists, err := resolve(o.disk, name)
	if err != nil {
		return nil, err
	}
	f := &File{Name: name, Path: path, Exists: exists, disk: o.disk}
	// Locked before it is read, or another desk might save in between.
	if !o.Look {
		if err := f.Lock(); err != nil {
			return nil, err
		}
	}
	read, err := load(o.disk, name)
	if err != nil {
		f.Unlock()
		return nil, err
	}
	f.Text, f.Exists = read.Text, read.Exists
	s := &Session{options: o, file: f, fresh: len(bytes.TrimSpace(f.Text)) == 0}
	s.begin(f.Text)
	if !o.Look {
		s.offers = o.leftoversOf(f.Path)
	}
	return s, nil
}

// header is the first row of a notebook that is begun here.
var header = "railsum " + strconv.Itoa(syntax.Edition)

func (s *Session) begin(text []byte) {
	if !s.options.Look {
		s.warning = s.options.guard()
	}
	s.stop = s.options.Stop
	if s.fresh {
		text = []byte(header + "\n")
	}
	s.start = text
	s.opened, s.saved = state{text: text}, state{text: text}
	s.text = syntax.ParseFileUntil(s.stop, text)
	s.crlf = len(s.text.Lines) > 0 && bytes.HasSuffix([]byte(s.text.Lines[0].Raw), []byte("\r"))
	s.open()
}

// open has the book made anew, as when it comes to see another folder's sheets.
func (s *Session) open() {
	s.library = s.options.Library(s.Dir())
	s.book = calc.OpenUntil(s.stop, s.text.Lines, s.library)
}

// guard says why nothing will be kept in a journal, nil if it will be. A folder
// that is there is tried: it may be one that cannot be written to.
func (o Options) guard() error {
	e := &Error{Kind: ErrJournal, Wrong: words.Say(unkept + "there is no folder for it").
		With("set XDG_STATE_HOME to a folder of your own")}
	if o.Journals == "" {
		return e
	}
	what := " cannot be made: "
	err := o.disk.MakeDir(o.Journals)
	if err == nil {
		what = " cannot be written to: "
		err = o.try()
	}
	if err == nil {
		return nil
	}
	e.Path, e.Err, e.Message = o.Journals, err, unkept+o.Journals+what+reason.Of(err)
	if reason.Full(err) {
		e.Cure = "make room and open the notebook again"
	}
	return e
}

const unkept = "what you enter is not kept safe until it is saved: "

// try makes a file where the journals are, and takes it away again.
func (o Options) try() error {
	name := filepath.Join(o.Journals, fmt.Sprintf("%d-%08x"+tryEnding, os.Getpid(), rand.Uint32()))
	f, err := o.disk.Append(name)
	if err != nil {
		return err
	}
	err = f.Close() // first, for Windows takes away no file that is open
	if gone := o.disk.Remove(name); !errors.Is(gone, fs.ErrNotExist) {
		err = errors.Join(err, gone)
	}
	return err
}

// Lines are the notebook's lines in order. Neither they nor the slice may be
// changed.
func (s *Session) Lines() []*syntax.Line { return s.text.Lines }

// Book has the answers. It stays the same but for a Refresh that finds sheets
// changed, and a Save under a name in another folder.
func (s *Session) Book() *calc.Book { return s.book }

// Library is the library that the book sees.
func (s *Session) Library() calc.Library { return s.library }

// Refresh makes the book anew if sheets of the user's own that it has seen have
// changed on the disk since, and names them.
func (s *Session) Refresh() (changed []string) {
	if l, ok := s.library.(interface{ Changed() []string }); ok {
		if changed = l.Changed(); len(changed) > 0 {
			s.opened.compute(s.library)
			s.saved.compute(s.library)
			s.open()
		}
	}
	return changed
}

// StopWhen gives the book a question to ask while it computes; see calc.Book.
func (s *Session) StopWhen(stop func() bool) {
	s.stop = stop
	s.book.StopWhen(stop)
}

// Name is the notebook's name as it was given, empty if it has none.
func (s *Session) Name() string {
	if s.file == nil {
		return ""
	}
	return s.file.Name
}

// Path is the notebook's file in full, empty if it has none.
func (s *Session) Path() string {
	if s.file == nil {
		return ""
	}
	return s.file.Path
}

// Dir is the folder whose sheets the notebook sees: that of its file. One without
// a file has none, unless it was left behind by another that had.
func (s *Session) Dir() string {
	if s.file == nil {
		return s.dir
	}
	return filepath.Dir(s.file.Path)
}

// Text is the notebook as it would be saved.
func (s *Session) Text() []byte { return s.text.Bytes() }

// Dirty reports whether the notebook has what its file has not.
func (s *Session) Dirty() bool {
	if s.options.Look {
		return false // what is tried out here is not to be kept
	}
	if s.unsafe {
		return true
	}
	return !bytes.Equal(s.text.Bytes(), s.start)
}

// Warning says why what is entered is not kept in a journal, nil if it is.
func (s *Session) Warning() error { return s.warning }

// RowOf is the number of the row that line i begins at, from 1. For i one more
// than there are lines it is the row that the next line will have.
func (s *Session) RowOf(i int) int {
	lines := s.text.Lines
	switch {
	case i < len(lines):
		return lines[i].Row
	case len(lines) == 0:
		return 1
	}
	last := lines[len(lines)-1]
	return last.Row + last.Rows()
}

// NextRow is the number of the row that the next line will have.
func (s *Session) NextRow() int { return s.RowOf(len(s.text.Lines)) }

// At finds the line that a row belongs to, and which of its rows it is, from 0.
// The line is -1 if there is no such row.
func (s *Session) At(row int) (line, within int) {
	i := lineAt(s.text.Lines, row)
	if i < 0 {
		return -1, 0
	}
	return i, row - s.text.Lines[i].Row
}

// Save writes the notebook to its file, or, if a name is given, to that one,
// which is the notebook's from then on. Another file that exists, and one that
// has changed since it was read, are replaced only if forced.
func (s *Session) Save(name string, force bool) error {
	if s.options.Look {
		return &Error{Kind: ErrWrite, Path: s.Name(), Wrong: words.Say("this desk only looks; it saves nothing").
			With("open the notebook without --look")}
	}
	if name == "" && s.file == nil {
		return &Error{Kind: ErrWrite, Wrong: words.Say("the notebook has no name yet").
			With("give one, as in `save gannet.sums`")}
	}
	to := s.file
	if name != "" {
		other, err := s.other(name, force)
		if err != nil {
			return err
		}
		if other != nil {
			to = other
		}
	}
	err := s.saveTo(to, force)
	if err != nil && to != s.file {
		to.Unlock()
	}
	return err
}

// other is the file that a name leads to, locked; nil if it is the notebook's
// own.
func (s *Session) other(name string, force bool) (*File, error) {
	path, exists, err := resolve(s.options.disk, name)
	if err != nil {
		return nil, err
	}
	if s.file != nil && isSame(path, s.file.Path) {
		return nil, nil
	}
	if exists && !force {
		return nil, &Error{Kind: ErrExists, Path: name, Wrong: words.Say("%s exists already", name).
			With("choose another name")}
	}
	f := &File{Name: name, Path: path, Exists: exists, disk: s.options.disk}
	return f, f.Lock()
}

func (s *Session) saveTo(f *File, force bool) error {
	if err := s.addHeader(); err != nil {
		return err
	}
	text := s.text.Bytes()
	before := ""
	if f.Exists {
		before = hash(f.Text)
	}
	err := f.Save(text, force)
	written := err == nil || bytes.Equal(f.Text, text)
	if !written {
		return err
	}
	moved := s.Dir() != filepath.Dir(f.Path)
	if f != s.file {
		if s.file != nil {
			s.file.Unlock()
		}
		s.file = f
	}
	s.start, s.fresh, s.unsafe, s.before = text, false, err != nil, ""
	s.saved = state{text: text}
	if moved {
		s.open()
	}
	if err != nil {
		// The journal stays, but what it says the file holds is no longer so: else
		// our own saving would be taken for a stranger's.
		s.before = before
		if s.journal != nil {
			s.journal.stale = true
		}
		return err
	}
	return s.endJournal()
}

// Lost names what the last saving could not keep of the file beside its text;
// see File.
func (s *Session) Lost() []string {
	if s.file == nil {
		return nil
	}
	return s.file.Lost
}

// addHeader gives a notebook that is new its header, should it have lost it.
func (s *Session) addHeader() error {
	if !s.fresh || headed(s.text.Bytes()) {
		return nil
	}
	row := header
	if s.crlf {
		row += "\r"
	}
	_, err := s.do("header", splices{{At: 0, In: []string{row}}})
	return err
}

// endJournal takes the journal away once the file has all of it.
func (s *Session) endJournal() error {
	var err error
	if s.journal != nil {
		err = s.journal.remove()
		s.journal = nil
	}
	for _, r := range s.taken {
		err = errors.Join(err, r.Discard())
	}
	s.taken = nil
	if err != nil {
		return &Error{Kind: ErrJournal, Err: err,
			Wrong: words.Say("the notebook is saved, but its journal cannot be taken away: %s", reason.Of(err))}
	}
	return nil
}

// Close ends the session. What is not saved stays in the journal, to be offered
// by the next session.
func (s *Session) Close() error { return s.end(s.Dirty() || len(s.draft) > 0) }

// Abandon ends the session and gives up what is not saved.
func (s *Session) Abandon() error { return s.end(false) }

func (s *Session) end(keep bool) error {
	if s.closed {
		return nil
	}
	s.closed = true
	for _, r := range s.offers {
		r.Release()
	}
	var err error
	if keep {
		for _, r := range s.taken {
			r.Release()
		}
		s.taken = nil
		if s.journal != nil {
			err = s.journal.leave()
			s.journal = nil
		}
	}
	err = errors.Join(err, s.endJournal())
	if s.file != nil {
		s.file.Unlock()
	}
	return err
}

// Recoveries are what sessions that died have left of this notebook, the latest
// first.
func (s *Session) Recoveries() []*Recovery { return s.offers }

// Recover makes the notebook what a session that died had made of it. That is
// one edit, which can be undone. It is refused if the file is another than that
// session started from (see Recovered), or if this session has edits of its own.
func (s *Session) Recover(r *Recovery) (Edit, error) {
	switch {
	case r.lock == nil:
		return Edit{}, refuse("this is not offered any more", "")
	case r.Changed:
		return Edit{}, &Error{Kind: ErrChanged, Path: r.Path,
			Wrong: words.Say("the file is another than the one these lines were added to").
				With("take them into what the file holds now")}
	case s.Dirty():
		return Edit{}, refuse("the notebook has been changed meanwhile", "save it or undo the changes first")
	}
	done, err := s.become(r)
	if err != nil {
		return done, err
	}
	return done, s.take(r)
}

// take gives up a recovery once our own journal holds what it held. Without a
// journal it stays until the notebook is saved.
func (s *Session) take(r *Recovery) error {
	if s.warning == nil {
		return r.Discard()
	}
	s.taken = append(s.taken, r)
	return nil
}

// Recovered opens what a session that died has left under its name, if its file is
// not there, and else as a notebook without one. It sees the same sheets as before.
func Recovered(r *Recovery, o Options) (*Session, error) {
	if r.lock == nil {
		return nil, refuse("this is not offered any more", "")
	}
	s := newIn(r.Dir, o)
	if r.Path != "" {
		switch named, err := Open(r.Path, o); {
		case err != nil: // its folder has gone, or somebody has it open
		case named.file.Exists:
			named.Close()
		default:
			s = named
		}
	}
	if _, err := s.become(r); err != nil {
		return nil, errors.Join(err, s.Abandon())
	}
	s.past = history{}
	return s, s.take(r)
}

// become takes the text of a recovery. It is in this session's journal before
// the other is discarded.
func (s *Session) become(r *Recovery) (Edit, error) {
	now := syntax.ParseFile(r.text)
	var done Edit
	var err error
	if change := between(rowsOf(s.text), rowsOf(now)); change != nil {
		done, err = s.doUnchecked("recover", change)
	}
	if err == nil {
		err = s.Draft(r.Draft...)
	}
	return done, err
}
