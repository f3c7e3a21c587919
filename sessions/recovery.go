package sessions

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"railsum/calc/syntax"
	"railsum/sessions/reason"
	"railsum/units/words"
)

// A Recovery is what a session that died has left in its journal. As long as it
// is neither applied nor discarded nor released, no other session is offered it.
type Recovery struct {
	When    time.Time // of the last edit
	Path    string    // the notebook's, empty if it had none yet
	Edits   int       // that are recorded
	Lines   int       // that the file has not, or has otherwise
	Changed bool      // the file does not hold what the session started from
	Torn    bool      // the end of the journal was not whole; it was never acknowledged
	Damaged bool      // the journal has been damaged: this is what could be read before the place
	Draft   []string  // rows of a table that was still being typed
	Dir     string    // whose sheets the notebook saw

	// Aside is where a damaged journal is kept once it is no longer offered. It is
	// set from the start if there was nothing in it to offer.
	Aside string

	text    []byte
	base    []byte // what the file held then, nil if that is not known
	disk    disk
	journal string
	lock    *lock
}

// Text is the notebook with all that the journal holds.
func (r *Recovery) Text() []byte { return slices.Clone(r.text) }

// Discard gives up what the journal holds. One that is damaged is kept aside: who
// knows more of it may yet read what we cannot.
func (r *Recovery) Discard() error {
	if r.lock == nil {
		return nil
	}
	var err error
	what := "removed"
	if r.Damaged {
		what = "kept aside"
		if err = r.disk.Rename(r.journal, r.journal+asideEnding); err == nil {
			r.Aside = r.journal + asideEnding
		}
	} else if err = r.disk.Remove(r.journal); errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	r.Release()
	if err != nil {
		return &Error{Kind: ErrJournal, Path: r.journal, Err: err,
			Wrong: words.Say("the journal cannot be %s: %s", what, reason.Of(err))}
	}
	return nil
}

// Release leaves the journal to be offered again.
func (r *Recovery) Release() {
	r.lock.release()
	r.lock = nil
}

// Leftovers finds what has been left of notebooks that have no file: those that
// were never named, and those whose file is not there.
func Leftovers(o Options) []*Recovery {
	o = o.filled()
	return o.leftovers("", func(name string, p *preamble) bool {
		if p == nil || p.Path == "" {
			return strings.HasPrefix(name, journalPrefix(""))
		}
		_, err := o.disk.Lstat(p.Path)
		return errors.Is(err, fs.ErrNotExist)
	})
}

// leftoversOf finds what has been left of one notebook.
func (o Options) leftoversOf(path string) []*Recovery {
	return o.leftovers(journalPrefix(path), func(_ string, p *preamble) bool { return p == nil || p.Path == path })
}

// leftovers finds journals whose sessions have died, latest first, among those
// whose names begin with a prefix. Wanted is asked of a file's name and what it
// starts from, nil if that cannot be read. What holds nothing that its file has not
// is taken away.
func (o Options) leftovers(prefix string, wanted func(string, *preamble) bool) []*Recovery {
	if o.Journals == "" {
		return nil
	}
	entries, err := o.disk.List(o.Journals)
	if err != nil {
		return nil
	}
	var found []*Recovery
	for _, e := range entries {
		name, isJournal := strings.CutSuffix(e.Name(), journalEnding)
		if strings.HasSuffix(e.Name(), tryEnding) {
			o.disk.Remove(filepath.Join(o.Journals, e.Name())) // see try
		}
		if orphan, ok := strings.CutSuffix(e.Name(), journalEnding+lockEnding); ok && strings.HasPrefix(orphan, prefix) {
			o.sweepLock(filepath.Join(o.Journals, orphan+journalEnding))
		}
		if !isJournal || !e.Type().IsRegular() || !strings.HasPrefix(name, prefix) {
			continue
		}
		if r := o.leftover(filepath.Join(o.Journals, e.Name()), wanted); r != nil {
			found = append(found, r)
		}
	}
	slices.SortStableFunc(found, func(a, b *Recovery) int { return b.When.Compare(a.When) })
	return found
}

// sweepLock takes away the lock file of a session that died without a journal.
func (o Options) sweepLock(journal string) {
	if _, err := o.disk.Lstat(journal); !errors.Is(err, fs.ErrNotExist) {
		return
	}
	if l, err := takeLock(journal + lockEnding); err == nil {
		l.release()
	}
}

// leftover reads one journal; nil if it is in use, not wanted, or empty of news.
func (o Options) leftover(path string, wanted func(string, *preamble) bool) *Recovery {
	l, err := takeLock(path + lockEnding)
	if err != nil {
		return nil
	}
	r := &Recovery{disk: o.disk, journal: path, lock: l}
	offered := false
	defer func() {
		if !offered {
			r.Release()
		}
	}()
	info, err := o.disk.Stat(path)
	if err != nil {
		return nil
	}
	b, err := o.disk.Read(path, mostJournal)
	if err != nil {
		return nil
	}
	p := replay(b)
	r.Torn, r.Damaged = p.torn, p.damaged
	switch {
	case p.unknown:
		return nil // from a newer railsum: not ours to judge
	case p.preamble == nil && !p.damaged:
		r.Discard() // it died before its first edit was acknowledged
		return nil
	case !wanted(filepath.Base(path), p.preamble):
		return nil
	}
	r.When = info.ModTime()
	if p.preamble == nil || !o.holdsNews(r, &p) {
		r.Discard()
		if !r.Damaged {
			return nil
		}
	}
	offered = true
	return r
}

// holdsNews fills in what a journal holds; it reports whether there is anything
// that the notebook's file has not.
func (o Options) holdsNews(r *Recovery, p *replayed) bool {
	r.Path, r.Dir, r.Edits, r.Draft, r.text = p.Path, p.Dir, p.edits, p.draft, p.text
	switch {
	case hash([]byte(p.Base)) == p.File:
		r.base = []byte(p.Base)
	case hash([]byte(p.Text)) == p.File:
		r.base = []byte(p.Text)
	}
	var file []byte
	if p.Path != "" {
		r.Dir = filepath.Dir(p.Path)
		var err error
		if file, err = o.disk.Read(p.Path, MaxBytes+1); err != nil {
			file = nil
		}
		if file != nil && bytes.Equal(file, p.text) && len(p.draft) == 0 {
			return false // it died between saving and taking its journal away
		}
		r.Changed = (file == nil) != (p.File == "") || file != nil && hash(file) != p.File && hash(file) != p.Before
	}
	r.Lines = news(file, p.text)
	return p.Text != string(p.text) || p.Unsaved || len(p.draft) > 0 // or else everything was undone again
}

// replayed is a journal that has been read.
type replayed struct {
	*preamble
	text    []byte
	draft   []string
	edits   int
	torn    bool // broken off by its end
	damaged bool // wrong in any other way
	unknown bool // of a later format
}

// replay makes the edits of a journal on the text it starts from, as far as they
// can be read.
func replay(b []byte) replayed {
	var r replayed
	payload, rest, ok := unframe(b)
	if !ok {
		r.torn = brokenOff(b)
		r.damaged = !r.torn
		return r
	}
	var p preamble
	if err := json.Unmarshal(payload, &p); err != nil || len(p.Text) > MaxBytes {
		r.damaged = true
		return r
	}
	if p.Format > journalFormat {
		r.unknown = true
		return r
	}
	r.preamble = &p
	text, bom := strings.CutPrefix(p.Text, "\ufeff")
	rows := strings.Split(text, "\n")
	size := len(text)
	for records := 0; len(rest) > 0; records++ {
		var e edit
		b = rest
		if payload, rest, ok = unframe(b); !ok {
			r.torn = brokenOff(b)
			r.damaged = !r.torn
			break
		}
		if json.Unmarshal(payload, &e) != nil || !e.Rows.fit(len(rows)) || !e.Rows.whole() || !whole(e.Draft) {
			r.damaged = true
			break
		}
		if len(e.Rows) == 0 {
			r.draft = append(r.draft, e.Draft...)
			if len(e.Draft) == 0 {
				r.draft = nil
			}
			continue
		}
		back := e.Rows.undoing(rows)
		if size += e.Rows.size() - back.size(); size > MaxBytes || records > 2*manyEdits {
			r.damaged = true
			break
		}
		rows = e.Rows.on(rows)
		r.draft = nil
		r.edits++
	}
	joined := strings.Join(rows, "\n")
	if bom {
		joined = "\ufeff" + joined
	}
	r.text = []byte(joined)
	return r
}

// brokenOff reports whether the rest of a journal is the beginning of a record, as
// a kill leaves it, or a power cut, which may leave noughts for what it lost. A
// record that was written to its end, newline and all, is wrong for another reason.
func brokenOff(b []byte) bool {
	b = bytes.TrimRight(b, "\x00")
	if len(b) < 8 {
		return bytes.IndexByte(b, '\n') < 0
	}
	length, ok := hex8(b[:8])
	return ok && bytes.IndexByte(b, '\n') < 0 && uint64(len(b)) < uint64(length)+frame
}

// whole reports whether the rows are rows.
func (ss splices) whole() bool {
	return !slices.ContainsFunc(ss, func(s splice) bool { return !whole(s.In) })
}

func whole(rows []string) bool {
	return !slices.ContainsFunc(rows, func(row string) bool {
		return strings.ContainsAny(row, "\n\x00") || !utf8.ValidString(row)
	})
}

// news counts the lines of a text that a file has not.
func news(file, text []byte) int {
	has := map[string]int{}
	for _, l := range syntax.ParseFile(file).Lines {
		has[l.Raw]++
	}
	n := 0
	for _, l := range syntax.ParseFile(text).Lines {
		if has[l.Raw]--; has[l.Raw] < 0 && strings.TrimSpace(l.Raw) != "" {
			n++
		}
	}
	return n
}
