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

	text    []byte
	disk    disk
	journal string
	lock    *lock
}

// Text is the notebook with all that the journal holds.
func (r *Recovery) Text() []byte { return slices.Clone(r.text) }

// Discard gives up what the journal holds.
func (r *Recovery) Discard() error {
	if r.lock == nil {
		return nil
	}
	err := r.disk.Remove(r.journal)
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	r.Release()
	if err != nil {
		return &Error{Kind: ErrJournal, Path: r.journal, Err: err, Wrong: words.Say("the journal cannot be removed: %s", reason.Of(err))}
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
	return o.leftovers(func(name string) bool { return true }, func(p *preamble) bool {
		if p.Path == "" {
			return true
		}
		_, err := o.disk.Lstat(p.Path)
		return errors.Is(err, fs.ErrNotExist)
	})
}

// leftoversOf finds what has been left of one notebook.
func (o Options) leftoversOf(path string) []*Recovery {
	prefix := journalPrefix(path)
	return o.leftovers(func(name string) bool { return strings.HasPrefix(name, prefix) },
		func(p *preamble) bool { return p.Path == path })
}

// leftovers finds journals whose sessions have died, latest first. What holds
// nothing that its file has not is taken away.
func (o Options) leftovers(named func(string) bool, wanted func(*preamble) bool) []*Recovery {
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
		if orphan, ok := strings.CutSuffix(e.Name(), journalEnding+lockEnding); ok && named(orphan) {
			o.sweepLock(filepath.Join(o.Journals, orphan+journalEnding))
		}
		if !isJournal || !e.Type().IsRegular() || !named(name) {
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
func (o Options) leftover(path string, wanted func(*preamble) bool) *Recovery {
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
	switch {
	case p.unknown:
		return nil // from a newer railsum: not ours to judge
	case p.preamble == nil:
		r.Discard() // it died before its first edit was acknowledged
		return nil
	case !wanted(p.preamble):
		return nil
	}
	var file []byte
	if p.Path != "" {
		if file, err = o.disk.Read(p.Path, MaxBytes+1); err != nil && !errors.Is(err, fs.ErrNotExist) {
			file = nil
		}
		if file != nil && bytes.Equal(file, p.text) {
			r.Discard() // it died between saving and taking its journal away
			return nil
		}
		r.Changed = (file == nil) != (p.File == "") || file != nil && hash(file) != p.File
	}
	if p.Text == string(p.text) && !p.Unsaved {
		r.Discard() // everything was undone again
		return nil
	}
	r.When, r.Path, r.Edits, r.Torn, r.text = info.ModTime(), p.Path, p.edits, p.torn, p.text
	r.Lines = news(file, p.text)
	offered = true
	return r
}

// replayed is a journal that has been read.
type replayed struct {
	*preamble
	text    []byte
	edits   int
	torn    bool
	unknown bool // of a later format
}

// replay makes the edits of a journal on the text it starts from, as far as it
// is whole.
func replay(b []byte) replayed {
	var r replayed
	payload, b, ok := unframe(b)
	if !ok {
		r.torn = true
		return r
	}
	var p preamble
	if err := json.Unmarshal(payload, &p); err != nil || len(p.Text) > MaxBytes {
		r.torn = true
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
	for len(b) > 0 {
		var e edit
		payload, b, ok = unframe(b)
		if !ok || json.Unmarshal(payload, &e) != nil || !e.Rows.fit(len(rows)) || !e.Rows.whole() {
			r.torn = true
			break
		}
		back := e.Rows.undoing(rows)
		if size += e.Rows.size() - back.size(); size > MaxBytes || r.edits > 2*manyEdits {
			r.torn = true
			break
		}
		rows = e.Rows.on(rows)
		r.edits++
	}
	joined := strings.Join(rows, "\n")
	if bom {
		joined = "\ufeff" + joined
	}
	r.text = []byte(joined)
	return r
}

// whole reports whether the rows are rows.
func (ss splices) whole() bool {
	for _, s := range ss {
		for _, row := range s.In {
			if strings.ContainsAny(row, "\n\x00") || !utf8.ValidString(row) {
				return false
			}
		}
	}
	return true
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
