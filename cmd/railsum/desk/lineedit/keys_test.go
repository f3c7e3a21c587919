package lineedit

import (
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

func TestKeys(t *testing.T) {
	long := strings.Repeat("Ω", MaxLine)
	for _, c := range []struct{ name, in, want string }{
		{"text", "track = 15 V\r", "track = 15 V\r"},
		{"signs beyond ASCII", "10 Ω ± 1 % µ²\r", "10 Ω ± 1 % µ²\r"},
		{"nul is not the end of input", "a\x00b\r", "ab\r"},
		{"delete is not Ctrl-D", "\x1b[3~", "\x1c"},
		{"the byte that stands for delete cannot be typed", "a\x1cb\x1d\x1ec", "abc"},
		{"tab", "tr\t", "tr\x1d"},
		{"home and end of other terminals", "\x1b[1~\x1b[7~\x1b[4~\x1b[8~\x1bOH\x1bOF", "\x1b[H\x1b[H\x1b[F\x1b[F\x1b[H\x1b[F"},
		{"a word at a time", "\x1b[1;5D\x1b[1;5C", "\x1bb\x1bf"},
		{"arrows", "\x1b[A\x1b[B\x1b[C\x1b[D\x1bOA", "\x1b[A\x1b[B\x1b[C\x1b[D\x1b[A"},
		{"a lone Escape does nothing", "\x1bx\r", "x\r"},
		{"a sequence broken off", "\x1b[3\x1b[A", "\x1b[A"},
		{"unknown sequences do nothing", "\x1b[15~\x1b[?1;2c\x1b[24;80R\x1b[I\x1bOpx", "x"},
		{"unknown control characters do nothing", "\x0f\x16\x18\x1e\x1fx", "x"},
		{"transpose does nothing", "a\x1b\x14\x14", "a"},
		{"search", "\x12\x13", "\x1e"},
		{"keys that readline knows", "\x01\x05\x0b\x17\x0c", "\x01\x05\x0b\x17\x0c"},
		{"a tab in a paste is a blank", "\x1b[200~a\t| b\x1b[201~\t", "a | b\x1d"},
		{"line ends of two characters in a paste", "\x1b[200~a\r\n\r\nb\x1b[201~", "a\r\rb"},
		{"keys in a paste are dropped", "\x1b[200~a\x1b[A\x01b\x1b[201~", "ab"},
		{"a line is full", long + "xy\rz", long + "\rz"},
	} {
		for way, read := range map[string]func(io.Reader) io.Reader{
			"at once":        func(r io.Reader) io.Reader { return r },
			"byte for byte":  iotest.OneByteReader,
			"half at a time": iotest.HalfReader,
		} {
			got, err := io.ReadAll(newKeys(read(strings.NewReader(c.in)), MaxLine))
			if err != nil || string(got) != c.want {
				t.Errorf("%s, %s: %q gives %q (%v), want %q", c.name, way, c.in, got, err, c.want)
			}
		}
	}
}

func TestKeysGiveOneLinePerRead(t *testing.T) {
	k := newKeys(strings.NewReader("\x1b[200~one\rtwo\rthree\r\x1b[201~"), MaxLine)
	for _, step := range []struct {
		want string
		more bool
	}{{"one\r", true}, {"two\r", true}, {"three\r", false}} {
		p := make([]byte, 100)
		n, err := k.Read(p)
		if err != nil || string(p[:n]) != step.want || k.pending() != step.more {
			t.Errorf("read %q, more %v, err %v; want %q, more %v", p[:n], k.pending(), err, step.want, step.more)
		}
	}
}

func TestKeysLong(t *testing.T) {
	k := newKeys(strings.NewReader(strings.Repeat("x", MaxLine+1)+"\r"), MaxLine)
	io.ReadAll(k)
	if !k.long.Load() {
		t.Error("a character was dropped without a word")
	}
	k = newKeys(strings.NewReader(strings.Repeat("x\x7f", 3*MaxLine)+"\r"), MaxLine)
	io.ReadAll(k)
	if k.long.Load() {
		t.Error("characters that were taken back still fill the line")
	}
}

func FuzzKeys(f *testing.F) {
	f.Add("\x1b[200~a\tb\r\n\x1b[201~\x1b[3~\x00Ω")
	f.Add("\x1b[1;5D\x1bOM\x1b\x1b[")
	f.Fuzz(func(t *testing.T, in string) {
		whole, err := io.ReadAll(newKeys(strings.NewReader(in), 20))
		if err != nil {
			t.Fatal(err)
		}
		bytes, _ := io.ReadAll(newKeys(iotest.OneByteReader(strings.NewReader(in)), 20))
		if string(whole) != string(bytes) {
			t.Errorf("%q gives %q at once and %q byte for byte", in, whole, bytes)
		}
		if strings.ContainsAny(string(whole), "\x00") {
			t.Errorf("%q lets a NUL through", in)
		}
	})
}
