package words

import (
	"strings"
	"testing"
)

func TestNear(t *testing.T) {
	for _, c := range []struct{ word, names, near string }{
		{"sqtr", "sin sqrt start sort", "sqrt"}, // neighbours exchanged
		{"drp", "drop drip trip", "drop drip"},
		{"lots", "list undo", ""}, // two slips in a short word
		{"prefered", "preferred preferable", "preferred"},
		{"headrom", "headroom bedroom", "headroom"},
		{"Drop", "drip drop", "drop"},
		{"kv", "V kV mV", "kV"}, // the other case is no slip
		{"ab", "ac b", ""},
		{"größse", "größe", "größe"},
		{"bus1", "bus2 bus3 bus4 bus5", "bus2 bus3 bus4"},
		{"", "a", ""},
	} {
		if got := strings.Join(Near(c.word, strings.Fields(c.names)), " "); got != c.near {
			t.Errorf("%q among %q: %q, want %q", c.word, c.names, got, c.near)
		}
	}
}

func TestLists(t *testing.T) {
	for words, want := range map[string]string{"": "none", "a": "a", "a b": "a or b", "a b c": "a, b or c"} {
		if got := Or(strings.Fields(words)); got != want {
			t.Errorf("%q: %q, want %q", words, got, want)
		}
		if got, want := And(strings.Fields(words)), strings.ReplaceAll(want, " or ", " and "); got != want {
			t.Errorf("%q: %q, want %q", words, got, want)
		}
	}
	if got := Meant("dorp", []string{"drop", "spread"}); got != "did you mean drop?" {
		t.Error(got)
	}
}
