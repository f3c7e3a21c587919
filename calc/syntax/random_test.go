package syntax

import (
	"math/rand"
	"strings"
	"testing"
)

// pieces are put together at random, with and without blanks: what a byte
// fuzzer takes long to find.
var pieces = strings.Fields(`a b N x1 track fleet.draw fleet."a|b".x Ω source hazard "text" "a|b" 3 8 2 64 0 00 0e 1 1.5 .5 1e3 0x1F 1:87 15V 5m m mm2 in ft
	2ft 6in 3/8 ½ 2⅜ % 5% degC -5 ° 3k3 10k 100n 2u2 K R h min s lb oz km/h J/(kg*K) W/m*K + - * / ^ ^ ( ) ( ) , = = < <= > != +- ± × · ÷ − ≤ of at as from to
	among and or not if then else that yes no none f( sqrt( ask take tell whole must should use for with table end prefer assume like house show railsum find list guess picture slip exercise part asking leaving count seed spare with strip circuit agree case edition open_day on date below exactly 2026-11-25 date("2024-02-29") 25/11/2026 | | # : . ; ! " ' 1,5`)

func randomLine(r *rand.Rand) string {
	var b strings.Builder
	for range 1 + r.Intn(12) {
		b.WriteString(pieces[r.Intn(len(pieces))])
		if r.Intn(4) > 0 {
			b.WriteByte(' ')
		}
	}
	return b.String()
}

// TestRandomLines reads lines put together at random: none panics, and those
// that are sound print to the same tree.
func TestRandomLines(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	good := 0
	for range 200_000 {
		src := randomLine(r)
		l, _ := ParseLine(src)
		checkLine(t, l)
		if _, broken := l.Node.(*Broken); broken {
			continue
		}
		good++
		checkPrint(t, l)
	}
	if good < 2000 {
		t.Errorf("only %d sound lines: too few to show anything", good)
	}
}

// checkPrint prints a sound line, reads it and prints it again.
func checkPrint(t *testing.T, l *Line) {
	t.Helper()
	once := Print(l)
	again, open := ParseLine(once)
	if open {
		t.Fatalf("%q prints %q, which is not complete", l.Raw, once)
	}
	if twice := Print(again); once != twice {
		t.Fatalf("%q prints %q, then %q", l.Raw, once, twice)
	}
	if d := sameTree(l.Node, again.Node); d != "" {
		t.Fatalf("%q prints %q, which reads otherwise: %v\n%s", l.Raw, once, again.Errors, d)
	}
	if l.Note != again.Note {
		t.Fatalf("%q has the note %q, then %q", l.Raw, l.Note, again.Note)
	}
}

var rows = []string{"", "", " ", "# note", "#", "table t | a", "table t | a | b as mA # n", "ask table u | c", "table | x", "end", "end # done", "  x | 1", "y | 2 # z",
	`"a|b" | 3`, "x | 1 | 2", "| 1", "track = 15 V", "a = b # c | d", "must a < b", "2 + 3 # x | y", "railsum 1", "railsum 2", "railsum x", "use drop for n with a = 1",
	"x = 1,5", "tell way | 2", "take way | 2", "take table v | n whole | m as mA whole", "table d | a = 3 +- 5 % whole | b = x as mA | c", "  p | | 2 | 3", "q | 1 | |", "r |||  # n", "\ttab | 5", "z\r", "find | 3", "find x # |", `"# | "`, `source "a | b"`, "list", "table w | seen as date", "x | 2026-11-25", "y | none"}

// TestRandomFiles tidies texts put together of random rows.
func TestRandomFiles(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range 50_000 {
		var src []string
		for range 1 + r.Intn(9) {
			src = append(src, rows[r.Intn(len(rows))])
		}
		text := strings.Join(src, "\n")
		f := ParseFile([]byte(text))
		if got := string(f.Bytes()); got != text {
			t.Fatalf("%q comes back as %q", text, got)
		}
		for _, l := range f.Lines {
			checkLine(t, l)
		}
		checkFormat(t, f)
	}
}
