package present

import (
	"io"
	"strings"
	"unicode/utf8"
)

// key is one key, or a text that was pasted.
type key struct {
	r     rune
	name  string // of one that is no character: "next", "back", "escape"
	paste string
}

var named = map[string]string{
	"[C": "next", "OC": "next", "[6~": "next", "[B": "next", "OB": "next",
	"[D": "back", "OD": "back", "[5~": "back", "[A": "back", "OA": "back",
}

// The marks around what is pasted.
const pasteBegin, pasteEnd = "\x1b[200~", "\x1b[201~"

// keys reads what is pressed until the terminal ends, which closes the channel.
func keys(in io.Reader) <-chan key {
	ch := make(chan key)
	go func() {
		defer close(ch)
		var left []byte
		b := make([]byte, 4096)
		for {
			n, err := in.Read(b)
			left = append(left, b[:n]...)
			for len(left) > 0 {
				k, used := decode(string(left))
				if used == 0 {
					break // the rest of it is still to come
				}
				left = left[used:]
				ch <- k
			}
			if err != nil {
				return
			}
		}
	}()
	return ch
}

// decode takes the first key of what has come and how many bytes it has, 0 if it is
// not all there.
func decode(s string) (key, int) {
	if text, ok := strings.CutPrefix(s, pasteBegin); ok {
		text, _, whole := strings.Cut(text, pasteEnd)
		if !whole {
			if len(s) > 1<<16 {
				return key{name: "other"}, len(s)
			}
			return key{}, 0
		}
		return key{paste: text}, len(pasteBegin) + len(text) + len(pasteEnd)
	}
	if s[0] == 0x1b {
		if len(s) == 1 || s[1] != '[' && s[1] != 'O' {
			return key{name: "escape"}, 1
		}
		for i := 2; i < len(s); i++ {
			if s[i] >= '@' && s[i] <= '~' {
				return key{name: or(named[s[1:i+1]], "other")}, i + 1
			}
		}
		return key{name: "escape"}, len(s)
	}
	if !utf8.FullRuneInString(s) {
		return key{}, 0
	}
	if s[0] == '\n' { // pressed before the terminal was ours
		return key{r: '\r'}, 1
	}
	r, n := utf8.DecodeRuneInString(s)
	return key{r: r}, n
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
