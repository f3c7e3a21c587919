package lineedit

import (
	"bytes"
	"cmp"
	"io"
	"strings"
	"sync/atomic"
	"unicode/utf8"
)

// Keys that the filter hands on under bytes of its own, taken from control
// characters that no key of ours uses.
const (
	keyDelete = 0x1c // the Delete key, which readline takes for Ctrl-D
	keyTab    = 0x1d
	keySearch = 0x1e // Ctrl-R
)

// keys stands between the terminal and readline. It lets through what readline
// understands, rewrites the keys it mistakes, and drops the rest, one byte at a
// time, so that a sequence may arrive in any number of pieces.
//
// It hands out at most one line per Read: what follows a line stays here, not
// in a buffer of readline's, and so it is known whether more has come.
type keys struct {
	in      io.Reader
	most    int         // characters of a line
	buf     []byte      // raw bytes read, not looked at yet
	out     []byte      // bytes for readline
	seq     []byte      // an escape sequence that is not complete
	afterCR bool        // a line feed directly after is the same line end
	typed   int         // characters since the line began
	dropped int         // continuation bytes of a dropped character still to come
	long    atomic.Bool // characters were dropped from this line
	more    atomic.Bool
	pasting atomic.Bool
}

func newKeys(in io.Reader, most int) *keys { return &keys{in: in, most: most} }

// Read gives the keys of at most one line.
func (k *keys) Read(p []byte) (int, error) {
	for len(k.out) == 0 {
		if err := k.fill(); err != nil {
			return 0, err
		}
		for len(k.buf) > 0 && !endsLine(k.out) {
			b := k.buf[0]
			k.buf = k.buf[1:]
			k.feed(b)
		}
	}
	if endsLine(k.out) && bytes.HasPrefix(k.buf, []byte(pasteEnd)) {
		k.buf = k.buf[len(pasteEnd):]
		k.pasting.Store(false)
	}
	n := copy(p, k.out)
	k.out = k.out[n:]
	k.more.Store(len(k.buf) > 0 || len(k.out) > 0)
	return n, nil
}

// Keys that have no character, as key names them.
const (
	PageUp   = "\x1b[5~"
	PageDown = "\x1b[6~"
)

// key gives one key as the terminal sends it, in one piece.
func (k *keys) key() (string, error) {
	if err := k.fill(); err != nil {
		return "", err
	}
	n := 1
	if k.buf[0] == esc && len(k.buf) > 2 && (k.buf[1] == '[' || k.buf[1] == 'O') {
		for n = 2; n < len(k.buf)-1 && k.buf[n] < 0x40; n++ {
		}
		n++
	}
	key := string(k.buf[:n])
	k.buf = k.buf[n:]
	k.more.Store(len(k.buf) > 0)
	return key, nil
}

// fill reads raw bytes if none are left.
func (k *keys) fill() error {
	if len(k.buf) > 0 {
		return nil
	}
	raw := make([]byte, 4096)
	n, err := k.in.Read(raw)
	if n == 0 {
		return cmp.Or(err, io.EOF)
	}
	k.buf = raw[:n]
	return nil
}

// Close lets readline close what it reads from.
func (k *keys) Close() error {
	if c, ok := k.in.(io.Closer); ok {
		return c.Close()
	}
	return nil
}

// pending reports whether more than the line just read has come.
func (k *keys) pending() bool { return k.pasting.Load() || k.more.Load() }

// beginLine forgets the length of the line before.
func (k *keys) beginLine() { k.long.Store(false) }

// endsLine reports whether the last key makes readline give a line back.
func endsLine(out []byte) bool {
	return len(out) > 0 && strings.IndexByte("\r\n\x03\x04", out[len(out)-1]) >= 0
}

const (
	esc      = 0x1b
	pasteEnd = "\x1b[201~"
)

func (k *keys) feed(b byte) {
	wasCR := k.afterCR
	k.afterCR = false
	switch {
	case len(k.seq) > 0:
		k.sequence(b)
	case b == esc:
		k.seq = append(k.seq, b)
	case b == '\n' && wasCR && k.pasting.Load():
		// the second half of a line end of two characters
	case b == '\r' || b == '\n':
		k.afterCR = b == '\r'
		k.typed, k.dropped = 0, 0
		k.out = append(k.out, b)
	case k.pasting.Load() && b == '\t':
		k.plain(' ')
	case b < ' ' || b == 0x7f:
		k.control(b)
	default:
		k.plain(b)
	}
}

// plain hands on a byte of a character, unless the line is full.
func (k *keys) plain(b byte) {
	if !utf8.RuneStart(b) {
		if k.dropped == 0 {
			k.out = append(k.out, b)
		}
		return
	}
	if k.typed >= k.most {
		k.dropped = 1
		k.long.Store(true)
		return
	}
	k.typed++
	k.dropped = 0
	k.out = append(k.out, b)
}

// control hands on the control characters that readline knows; inside a paste
// only an interrupt means what it says.
func (k *keys) control(b byte) {
	if k.pasting.Load() && b != 3 {
		return
	}
	switch b {
	case '\t':
		b = keyTab
	case 18:
		b = keySearch
	case 8, 0x7f:
		k.typed = max(0, k.typed-1)
	case 3, 21:
		k.typed = 0
	case 1, 2, 4, 5, 6, 7, 11, 12, 14, 16, 23, 25, 26:
	default:
		// Nought would end the input, Ctrl-T breaks a line of one character,
		// Ctrl-S leads to a search that breaks the history, and the others would
		// be inserted as they are.
		return
	}
	k.out = append(k.out, b)
}

// sequence takes the next byte of an escape sequence.
func (k *keys) sequence(b byte) {
	k.seq = append(k.seq, b)
	if len(k.seq) == 2 {
		switch b {
		case '[', 'O':
			return
		case 'b', 'f', 'd', 0x7f:
			k.out = append(k.out, k.seq...)
			k.seq = nil
		default: // a lone Escape, then a key: Escape means nothing here
			k.seq = nil
			k.feed(b)
		}
		return
	}
	if b == esc { // broken off
		k.seq = append(k.seq[:0], b)
		return
	}
	if k.seq[1] == '[' && b < 0x40 && len(k.seq) < 32 {
		return
	}
	s := string(k.seq[1:])
	k.seq = nil
	switch s {
	case "[200~":
		k.pasting.Store(true)
	case "[201~":
		k.pasting.Store(false)
	default:
		if !k.pasting.Load() {
			k.out = append(k.out, sequences[s]...)
		}
	}
}

// sequences is what the keys of the usual terminals send, and what readline is
// given for them. A sequence that is not here does nothing.
var sequences = map[string]string{
	"[A": "\x1b[A", "[B": "\x1b[B", "[C": "\x1b[C", "[D": "\x1b[D", "[H": "\x1b[H", "[F": "\x1b[F",
	"OA": "\x1b[A", "OB": "\x1b[B", "OC": "\x1b[C", "OD": "\x1b[D", "OH": "\x1b[H", "OF": "\x1b[F",
	"OM": "\r", "[1~": "\x1b[H", "[7~": "\x1b[H", "[4~": "\x1b[F", "[8~": "\x1b[F",
	"[3~":   string(rune(keyDelete)),
	"[1;5D": "\x1bb", "[1;5C": "\x1bf", "[1;3D": "\x1bb", "[1;3C": "\x1bf", "Od": "\x1bb", "Oc": "\x1bf",
}
