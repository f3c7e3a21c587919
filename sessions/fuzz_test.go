package sessions

import (
	"bytes"
	"os"
	"testing"
)

// FuzzLoad opens any bytes as a notebook, edits it and saves it: nothing panics,
// and what was not touched is byte for byte what it was.
func FuzzLoad(f *testing.F) {
	for _, s := range []string{
		"", "\n", "railsum 1\n", "railsum 2\n", "\ufeffa = 1\r\nb = a\r\n", "a = 1", "a = = 1\n\x00", "\xff\xfe",
		"table f | n\n  x | 1\n", "table f | n\nend\n1 + 1\nthat\n", "use drop for n with length = 9 m\nn.length = 2 m\n",
		"1 + 1\r\nthat\r", "\r\r\n", "# a\n\n\n", "ask table f | n\n x | 1\nend", "a = 1\na = 2\nb = c\nc = b\n",
	} {
		f.Add([]byte(s), uint8(0), uint8(1))
	}
	f.Fuzz(func(t *testing.T, b []byte, i, j uint8) {
		if len(b) > 4000 {
			t.Skip() // size is the bounds' business; see the tests of those
		}
		p := newPlace(t)
		path := p.path("a.sums")
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
		s, err := Open(path, p.Options)
		if err != nil {
			if got := contents(t, path); got != string(b) {
				t.Errorf("refused, and the file is %q", got)
			}
			return
		}
		defer s.Abandon()
		start := string(s.Text())
		if !s.fresh && start != string(b) {
			t.Fatalf("opened as %q", start)
		}
		edits := 0
		for _, do := range []func() (Edit, error){
			func() (Edit, error) { return s.Enter("zz = 1") },
			func() (Edit, error) { return s.Move(int(i), int(i)+int(j)%3, int(j)) },
			func() (Edit, error) { return s.Strike(true, int(i)) },
			func() (Edit, error) { return s.Change(int(j), "zy = 2") },
			func() (Edit, error) { return s.Keep("zx") },
			func() (Edit, error) { return s.Rename("a", "zw") },
			func() (Edit, error) { return s.Enter("table zv | n\n x | 1\nend") },
			func() (Edit, error) { return s.AddRow("zv", "y | 2") },
			func() (Edit, error) { return s.Enter("zv.x.n = 3") },
			func() (Edit, error) { return s.MoveRow("zv", "y", "x") },
			func() (Edit, error) { return s.StrikeRow("zv", "x") },
		} {
			before := string(s.Text())
			_, err := do()
			if err != nil && string(s.Text()) != before {
				t.Fatalf("refused (%v), and the text is %q", err, s.Text())
			}
			if err == nil {
				edits++
			}
			consistent(t, s)
		}
		edited := string(s.Text())
		for s.CanUndo() != "" {
			if _, err := s.Undo(); err != nil {
				t.Fatal(err)
			}
			consistent(t, s)
		}
		if string(s.Text()) != start {
			t.Errorf("everything undone: %q, want %q", s.Text(), start)
		}
		for s.CanRedo() != "" {
			if _, err := s.Redo(); err != nil {
				t.Fatal(err)
			}
		}
		if string(s.Text()) != edited {
			t.Errorf("everything done again: %q, want %q", s.Text(), edited)
		}
		if err := s.Save("", false); err != nil {
			t.Fatal(err)
		}
		if f, err := Load(path); err == nil && string(f.Text) != string(s.Text()) {
			t.Errorf("saved %q, want %q", f.Text, s.Text())
		}
	})
}

// A row for everything that a fuzzer would need long to find.
func journalSeeds(t testing.TB) [][]byte {
	var seeds [][]byte
	seed := func(payloads ...any) {
		var b []byte
		for _, p := range payloads {
			r, err := record(p)
			if err != nil {
				t.Fatal(err)
			}
			b = append(b, r...)
		}
		seeds = append(seeds, b)
	}
	from := preamble{Format: 1, Text: "a = 1\nb = 2\n"}
	seed(from)
	seed(from, edit{What: "enter", Rows: splices{{At: 2, In: []string{"c = 3"}}}})
	seed(from, edit{What: "strike", Rows: splices{{At: 0, Out: 1}, {At: 1, Out: 1}}})
	seed(from, edit{What: "x", Rows: splices{{At: -1}}})
	seed(from, edit{What: "x", Rows: splices{{At: 1, Out: 1 << 62}}})
	seed(from, edit{What: "x", Rows: splices{{At: 1<<63 - 1, Out: 1<<63 - 1}}})
	seed(from, edit{What: "x", Rows: splices{{At: 0, Out: -5}}})
	seed(from, edit{What: "x", Rows: splices{{At: 2}, {At: 1}}})
	seed(from, edit{What: "x", Rows: splices{{At: 0, Out: 3}}})
	seed(from, edit{What: "x", Rows: splices{{At: 0, In: []string{"a\nb"}}}})
	seed(from, edit{What: "x", Rows: nil})
	seed(from, edit{What: "draft", Draft: []string{"table f | n"}}, edit{What: "draft", Draft: []string{"  x | 1"}})
	seed(from, edit{What: "draft", Draft: []string{"table f | n"}}, edit{What: "draft"})
	seed(from, edit{What: "draft", Draft: []string{"a\nb"}})
	seed(from, "text", 3, nil)
	seed("text")
	seed(preamble{Format: 1, Text: "\ufeff"})
	seed(preamble{})
	seeds = append(seeds, nil, []byte("ffffffff 00000000 \n"), []byte("00000000 00000000 \n"), []byte("0000000"))
	return seeds
}

func FuzzJournal(f *testing.F) {
	for _, s := range journalSeeds(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r := replay(b)
		if r.preamble == nil {
			return
		}
		if len(r.text) > MaxBytes+3 {
			t.Errorf("a text of %d bytes", len(r.text))
		}
		// What follows can take nothing away from what is whole.
		if more := replay(append(bytes.Clone(b), "00000005 0"...)); more.edits != r.edits || !bytes.Equal(more.text, r.text) {
			t.Errorf("%d edits, with a torn end %d", r.edits, more.edits)
		}
	})
}

// FuzzJournalPayload goes past the checksum.
func FuzzJournalPayload(f *testing.F) {
	f.Add("a = 1\n", `{"edit":"enter","rows":[{"at":1,"out":0,"in":["b = 2"]}]}`)
	f.Add("", `{"rows":[{"at":9223372036854775807,"out":9223372036854775807}]}`)
	f.Add("\ufeffx", `{"rows":[{"at":0,"out":1},{"at":0,"out":1}]}`)
	f.Fuzz(func(t *testing.T, text, payload string) {
		first, err := record(preamble{Format: 1, Text: text})
		if err != nil {
			t.Skip()
		}
		second, err := record(rawJSON(payload))
		if err != nil {
			t.Skip()
		}
		if r := replay(append(first, second...)); r.preamble != nil && len(r.text) > MaxBytes+3 {
			t.Errorf("a text of %d bytes", len(r.text))
		}
	})
}

type rawJSON string

func (r rawJSON) MarshalJSON() ([]byte, error) { return []byte(r), nil }
