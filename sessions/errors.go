package sessions

import (
	"errors"
	"io/fs"

	"railsum/calc/syntax"
	"railsum/sessions/reason"
	"railsum/units/words"
)

// What can be wrong with a file or a journal. An *Error is one of these, to be
// asked for with errors.Is.
var (
	ErrRead    = errors.New("cannot be read")
	ErrWrite   = errors.New("cannot be written")
	ErrChanged = errors.New("changed underneath")
	ErrLocked  = errors.New("open at another desk")
	ErrExists  = errors.New("exists already")
	ErrNewer   = errors.New("from a newer railsum")
	ErrDamaged = errors.New("damaged")
	ErrJournal = errors.New("cannot be written to the journal")
	ErrUnsafe  = errors.New("not safe to open")
)

// ErrIncomplete says that a table has no "end" yet, and that more rows are to
// follow.
var ErrIncomplete = errors.New("the table has no end yet")

// Error says what is wrong with a file or a journal, in plain words. Names in
// it are as the user gave them; they may hold anything a file's name may.
type Error struct {
	Kind error // one of the Err values
	Path string
	words.Wrong
	Owner Owner // of ErrLocked
	Err   error // what the system says, if it is its fault
}

func (e *Error) diag() syntax.Diag { return syntax.Diag{Wrong: e.Wrong} }

// Unwrap gives the kind, message and cure as a syntax.Diag, and the cause.
func (e *Error) Unwrap() []error {
	if e.Err == nil {
		return []error{e.Kind, e.diag()}
	}
	return []error{e.Kind, e.diag(), e.Err}
}

// Refusal is an edit that was not made. The notebook is as it was.
type Refusal struct {
	Diags []syntax.Diag // at least one; those with places are of Line
	Line  *syntax.Line  // the line as it was given, nil if it is not about one
	Force bool          // it will be made if asked for with force
}

// Error gives the first thing that is wrong.
func (r *Refusal) Error() string { return r.Diags[0].Error() }

// Unwrap gives all that is wrong.
func (r *Refusal) Unwrap() []error {
	errs := make([]error, len(r.Diags))
	for i, d := range r.Diags {
		errs[i] = d
	}
	return errs
}

func refuse(message, cure string) error {
	return &Refusal{Diags: []syntax.Diag{{Wrong: words.Wrong{Message: message, Cure: cure}}}}
}

func cannotRead(name string, err error) error {
	e := &Error{Kind: ErrRead, Path: name, Err: err, Wrong: words.Say("%s cannot be read: %s", name, reason.Of(err))}
	if errors.Is(err, fs.ErrPermission) {
		e.Message = name + " may not be read"
	}
	return e
}

func cannotWrite(name string, err error) error {
	e := &Error{Kind: ErrWrite, Path: name, Err: err, Wrong: words.Say("%s cannot be written: %s", name, reason.Of(err)).
		With("it is as it was; save under another name")}
	switch {
	case reason.Full(err):
		e.Cure = "it is as it was; make room and save again, or save under a name on another disk"
	case reason.Forbidden(err):
		e.Message = name + " cannot be written: its folder may not be written to"
		e.Cure = "it is as it was; save under a name in another folder"
	}
	return e
}

func changed(how, name string) error {
	return &Error{Kind: ErrChanged, Path: name, Wrong: words.Say(how, name).
		With("save under another name")}
}

// unrecorded refuses an edit that the journal in a folder does not take.
func unrecorded(dir string, err error) error {
	e := &Error{Kind: ErrJournal, Path: dir, Err: err,
		Wrong: words.Say("this could not be written to the journal, so nothing was changed: %s", reason.Of(err)).
			With("do it again; what was done before is kept")}
	switch {
	case reason.Full(err):
		e.Cure = "make room on the disk and do it again"
	case reason.Forbidden(err):
		e.Cure = "the journals lie in " + dir + "; let that be written to, and do it again"
	}
	return e
}
