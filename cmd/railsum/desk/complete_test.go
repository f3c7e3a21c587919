package desk

import (
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
	"railsum/sessions"
)

func TestComplete(t *testing.T) {
	c := completer{
		lib: library.Shipped(),
		names: func() []string {
			return []string{"track", "track_low", "north.lost", "north.left", "north.runs.draw", "fleet.draw"}
		},
		files: func(prefix string) []string { return matching([]string{"gannet.sums", "plans/"}, prefix) },
		cases: []string{"open_day"},
	}
	for _, q := range []struct {
		before string
		typed  int
		want   string // all of these, in this order, if exact; else at least these
		exact  bool
	}{
		// the opening of a line
		{"str", 3, "strike ", true},
		{"s", 1, "save,sheets,should ,strike ,source \"", false},
		{"un", 2, "undo", true},
		{"", 0, "must ,use ,track", false},
		{"tra", 3, "track,track_low", true},
		// cases
		{"suppose op", 2, "open_day", true},
		{"find track so north.lost = 1 V with op", 2, "open_day", true},
		{"x = op", 2, "", true},
		// names
		{"2 * tr", 2, "track,track_low,trunc(", true},
		{"must no", 2, "north.", false},
		{"x = north.l", 7, "north.left,north.lost", true},
		{"x = north.r", 7, "north.runs.", true},
		{"x = north.runs.", 11, "north.runs.draw", true},
		{"x = (tr", 2, "track,track_low,trunc(", true},
		{"x = -tr", 2, "track,track_low,trunc(", true},
		{"x = sq", 2, "sqrt(", true},
		{"sum(fle", 3, "fleet.", true},
		// units after a number, and only there
		{"9.5 mm", 2, "mm,mm2", false},
		{"x = 9.5mm", 2, "mm,mm2", false},
		{"80 km/", 0, "h,s,m", false},
		{"x2 mm", 2, "", true},
		{"25 m at H0 as mm", 2, "mm,mm2", false},
		{"prefer in, mp", 2, "mph", true},
		// scales
		{"25 m at H", 1, "H0,H0m,H0e,HO_us", false},
		{"25 m at ", 0, "H0,N,TT,track", false},
		// sheets
		{"use dro", 3, "drop", true},
		{"use drop ", 0, "for ,with ", true},
		{"use drop f", 1, "for ", true},
		{"use drop for north ", 0, "with ", true},
		{"use drop for north w", 1, "with ", true},
		{"use drop for north with le", 2, "length = ", true},
		{"use drop for north with length = 9 m, lo", 2, "load = ", true},
		{"use drop for north with length = 9 mm", 2, "mm,mm2", false},
		{"use drop for north with supply = tr", 2, "track,track_low,trunc(", true},
		// orders
		{"about dro", 3, "drop", true},
		{"about pref", 4, "preferred,preferred_up", false},
		{"fill dro", 3, "drop", true},
		{"fill drop ", 0, "for ", true},
		{"list w", 1, "waiting", true},
		{"list no", 2, "north.", true},
		{"open gan", 3, "gannet.sums", true},
		{"rename tr", 2, "track,track_low", true},
		{"rename track ", 0, "to ", true},
		{"move 14 ", 0, "before ", true},
		{"change 14 x = tr", 2, "track,track_low,trunc(", true},
		{"help str", 3, "strike", true},
		// nowhere
		{"x = 1 V  # tr", 0, "", true},
		{`source "tr`, 0, "", true},
	} {
		words, typed := c.complete(q.before)
		want := strings.Split(q.want, ",")
		if q.want == "" {
			want = nil
		}
		ok := typed == q.typed || len(words) == 0
		if q.exact {
			ok = ok && slices.Equal(words, want)
		}
		for _, w := range want {
			ok = ok && slices.Contains(words, w)
		}
		if !ok {
			t.Errorf("%q: %q, %d typed; want %q, %d typed", q.before, words, typed, want, q.typed)
		}
		for _, w := range words {
			if before := []rune(q.before); typed > len(before) || !strings.HasPrefix(w, string(before[len(before)-typed:])) {
				t.Errorf("%q: %q does not go on from what is typed", q.before, w)
			}
		}
	}
}

// Where a notebook can be asked, only what fits is offered.
func TestCompleteByKind(t *testing.T) {
	lines := syntax.ParseFile([]byte("track = 15 V\ntrack_length = 9 m\nuse drop for north with length = 8 m\nuse led for lamp\n")).Lines
	d := &desk{s: sessions.New(sessions.Options{Journals: t.TempDir(), Library: func(string) calc.Library { return library.Shipped() }})}
	for _, l := range lines {
		if _, err := d.s.Enter(l.Raw); err != nil {
			t.Fatal(err)
		}
	}
	defer d.s.Abandon()
	for _, q := range []struct{ before, has, not string }{
		{"use led with feed = ", `"bridge","DC"`, "track"},
		{`use led for x with supply = 3 V, feed = "br`, `"bridge"`, `"DC"`},
		{"lamp.feed = ", `"DC"`, "track"},
		{"use drop with supply = tr", "track,trunc(", "track_length"},
		{"use drop with volts = tr", "track", "track_length"},
		{"north.length = ", "track_length", "track"},
		{"use drop with wire = ", "1.5 mm2,2.5 mm2", "25 mm2"},
		{"north.wire = 2", "2.5 mm2", "1.5 mm2"},
		{"north.length = 9.5 ", "m,ft", "V,A"},
		{"x = 2 * track as ", "V,mV", "m,A"},
		{"track * 3 A as ", "W,mW", "V"},
		{"vary north.length from 1 m to 9 m by 1 m show north.share as ", "%", "V"},
		{"find north.length fr", "from", ""},
		{"help or", "orders", ""},
		{"rec", "recover", ""},
	} {
		words, _ := d.complete(q.before)
		for _, w := range strings.Split(q.has, ",") {
			if !slices.Contains(words, w) {
				t.Errorf("%q lacks %s: %q", q.before, w, words)
			}
		}
		for _, w := range strings.Split(q.not, ",") {
			if slices.Contains(words, w) {
				t.Errorf("%q offers %s: %q", q.before, w, words)
			}
		}
	}
	d.complete("use led with ")
	if d.notes["supply = "] != "15 V" {
		t.Errorf("%q", d.notes)
	}
}

func FuzzComplete(f *testing.F) {
	for _, s := range []string{"use drop for north with le", `use "coil`, "9 km/(", "list ", "x = a.b."} {
		f.Add(s)
	}
	c := completer{lib: library.Shipped(), names: func() []string { return []string{"north.lost"} }, files: func(string) []string { return nil }}
	f.Fuzz(func(t *testing.T, before string) {
		words, typed := c.complete(before)
		r := []rune(before)
		for _, w := range words {
			if typed > len(r) || !strings.HasPrefix(w, string(r[len(r)-typed:])) {
				t.Errorf("%q: %q does not go on from what is typed (%d)", before, w, typed)
			}
		}
	})
}
