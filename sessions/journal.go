package sessions

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"

	"github.com/adrg/xdg"
)

// A journal is a file of records, one a row:
//
//	LENGTH CHECKSUM PAYLOAD
//
// LENGTH is that of the payload in bytes and CHECKSUM its CRC-32C, both eight
// hexadecimal digits; the payload is JSON. The first record is a preamble, every
// other an edit, or rows of a table that is still being typed. A record that the
// end of the file breaks off was never acknowledged and does not count; one that is
// wrong in any other way was whole once, and says that the journal is damaged.

// journalFormat goes up when an older railsum could not read the journal.
const journalFormat = 1

const (
	journalEnding = ".journal"
	lockEnding    = ".lock"
	tryEnding     = ".try"
	asideEnding   = ".damaged"
	unnamed       = "unnamed"

	mostJournal = 64 << 20 // bytes that are read of one
	longJournal = 16 << 20 // bytes after which a session begins a new one
	manyEdits   = 20_000   // likewise
)

// preamble says what a journal starts from.
type preamble struct {
	Format  int    `json:"journal"`
	Path    string `json:"path"`             // of the notebook in full, empty if it has none
	Dir     string `json:"dir,omitempty"`    // whose sheets it sees, if it has no path
	File    string `json:"file"`             // the hash of what the file holds, empty if there is none
	Before  string `json:"before,omitempty"` // likewise, where the disk may yet go back to what it held before
	Unsaved bool   `json:"unsaved"`          // the text has edits of an earlier journal in it
	Text    string `json:"text"`             // what the edits are made on
	Base    string `json:"base,omitempty"`   // what the file holds, if the text has unsaved edits in it
}

// edit is a record of one edit. One that has no splices is about a table being
// typed: it adds the rows of Draft, or, without any, drops those before. Any other
// edit drops them too.
type edit struct {
	What  string   `json:"edit"`
	Rows  splices  `json:"rows,omitempty"`
	Draft []string `json:"draft,omitempty"`
}

// journal is one that is being written.
type journal struct {
	disk   disk
	path   string
	file   appended
	lock   *lock
	size   int64 // of what is whole
	edits  int
	broken bool // what lies behind size has to be cut off first
	stale  bool // the file is another than it says
}

// castagnoli is made on first use: a program that opens no notebook does not
// wait for it.
var castagnoli = sync.OnceValue(func() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) })

// record frames a payload.
func record(payload any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // so that a person may read it
	if err := e.Encode(payload); err != nil {
		return nil, err
	}
	text := bytes.TrimSuffix(b.Bytes(), []byte("\n"))
	return fmt.Appendf(nil, "%08x %08x %s\n", len(text), crc32.Checksum(text, castagnoli()), text), nil
}

// frame is how long a record is beside its payload: two numbers of eight
// digits, two blanks, a newline.
const frame = 19

// unframe takes the first record off a journal's bytes; ok is false if it is
// not whole.
func unframe(b []byte) (payload, rest []byte, ok bool) {
	if len(b) < frame {
		return nil, nil, false
	}
	length, ok1 := hex8(b[:8])
	sum, ok2 := hex8(b[9:17])
	if !ok1 || !ok2 || b[8] != ' ' || b[17] != ' ' || uint64(length) > uint64(len(b)-frame) {
		return nil, nil, false
	}
	end := frame - 1 + int(length)
	payload = b[frame-1 : end]
	if b[end] != '\n' || crc32.Checksum(payload, castagnoli()) != sum {
		return nil, nil, false
	}
	return payload, b[end+1:], true
}

func hex8(b []byte) (uint32, bool) {
	var n uint32
	for _, c := range b {
		switch {
		case '0' <= c && c <= '9':
			n = n<<4 | uint32(c-'0')
		case 'a' <= c && c <= 'f':
			n = n<<4 | uint32(c-'a'+10)
		default:
			return 0, false
		}
	}
	return n, true
}

// stateHome is where journals are kept, empty if there is no such place.
func stateHome() string {
	if !filepath.IsAbs(xdg.StateHome) {
		return ""
	}
	return filepath.Join(xdg.StateHome, "railsum", "journals")
}

// journalPrefix begins the names of all journals of a notebook.
func journalPrefix(path string) string {
	if path == "" {
		return unnamed + "-"
	}
	return hash([]byte(path))[:32] + "-"
}

// newJournal begins a journal with its first edit. It is on the disk when this
// returns.
func newJournal(d disk, dir string, from preamble, first *edit) (*journal, error) {
	if err := d.MakeDir(dir); err != nil {
		return nil, err
	}
	name := fmt.Sprintf("%s%d-%08x%s", journalPrefix(from.Path), os.Getpid(), rand.Uint32(), journalEnding)
	j := &journal{disk: d, path: filepath.Join(dir, name)}
	var err error
	if j.lock, err = takeLock(j.path + lockEnding); err != nil {
		return nil, err
	}
	from.Format = journalFormat
	text, err := record(from)
	if err == nil && first != nil {
		var more []byte
		more, err = record(first)
		text = append(text, more...)
	}
	if err == nil {
		j.file, err = d.Append(j.path)
	}
	if err == nil {
		err = j.write(text)
	}
	if err == nil {
		err = d.SyncDir(dir)
	}
	if err != nil {
		return nil, errors.Join(err, j.remove())
	}
	return j, nil
}

// add records an edit. It is on the disk when this returns without error; after
// an error it is as if it had not been.
func (j *journal) add(e *edit) error {
	text, err := record(e)
	if err != nil {
		return err
	}
	return j.write(text)
}

func (j *journal) write(text []byte) error {
	if j.broken {
		if err := j.cut(); err != nil {
			return err
		}
	}
	_, err := j.file.Write(text)
	if err == nil {
		err = j.file.Sync()
	}
	if err != nil {
		j.broken = true
		// What could not be recorded is refused, so it must not turn up in a
		// recovery; if this fails too, it is tried again before the next.
		return errors.Join(err, j.cut())
	}
	j.size += int64(len(text))
	j.edits++
	return nil
}

// over reports whether another journal has to be begun: reading this one would
// begin to take its time, or what it says of the file has become wrong.
func (j *journal) over() bool { return j.stale || j.size > longJournal || j.edits > manyEdits }

// cut takes off what is not whole.
func (j *journal) cut() error {
	if err := j.file.Truncate(j.size); err != nil {
		return err
	}
	if err := j.file.Sync(); err != nil {
		return err
	}
	j.broken = false
	return nil
}

// leave ends the writing and leaves the journal to be found.
func (j *journal) leave() error {
	var err error
	if j.file != nil {
		err = j.file.Close()
	}
	j.lock.release()
	return err
}

// remove takes the journal away, which is no longer needed. It must be gone or
// empty before its lock is.
func (j *journal) remove() error {
	if j.file == nil {
		return j.leave()
	}
	err := j.disk.Remove(j.path)
	if err != nil {
		// Windows takes away no file that is open.
		emptied := j.file.Truncate(0)
		j.file.Close()
		j.file = nil
		if err = j.disk.Remove(j.path); err != nil {
			err = errors.Join(err, emptied)
		}
	}
	return errors.Join(err, j.leave())
}
