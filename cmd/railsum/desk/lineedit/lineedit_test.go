package lineedit

import (
	"errors"
	"strings"
	"testing"
)

func TestPipe(t *testing.T) {
	long := strings.Repeat("Ω", MaxLine)
	for _, c := range []struct {
		in   string
		want []string
	}{
		{"", nil},
		{"a\nb\n", []string{"a", "b"}},
		{"a\r\n\r\nb", []string{"a", "", "b"}},
		{"a\x00b\n", []string{"a\x00b"}},
		{long + "\nb", []string{long, "b"}},
		{long + "x\nb", []string{"long " + long, "b"}},
		{strings.Repeat("x", 1<<20) + "\nb", []string{"long " + strings.Repeat("x", MaxLine), "b"}},
	} {
		e := NewPipe(strings.NewReader(c.in))
		var got []string
		for {
			line, err := e.Prompt("1. ", "offered")
			if errors.Is(err, ErrTooLong) {
				line = "long " + line
			} else if err != nil {
				if err != EOF {
					t.Errorf("%.20q: %v", c.in, err)
				}
				break
			}
			got = append(got, line)
		}
		if strings.Join(got, "\n") != strings.Join(c.want, "\n") || len(got) != len(c.want) {
			t.Errorf("%.20q: %.60q, want %.60q", c.in, got, c.want)
		}
	}
}

func TestCommon(t *testing.T) {
	for _, c := range []struct {
		words []string
		want  string
	}{
		{[]string{"north.lost"}, "north.lost"},
		{[]string{"north.lost", "north.left"}, "north.l"},
		{[]string{"Ω/m", "Ω/km"}, "Ω/"},
		{[]string{"a", "b"}, ""},
	} {
		if got := string(common(c.words)); got != c.want {
			t.Errorf("%q: %q, want %q", c.words, got, c.want)
		}
	}
}

func TestListing(t *testing.T) {
	words := []string{"north.lost", "north.left", "north.heat_of", "south"}
	want := "north.lost     north.left\nnorth.heat_of  south\n"
	if got := listing(words, 40); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// A terminal narrower than any word still gets them all.
	if got := listing(words, 3); strings.Count(got, "\n") != len(words) {
		t.Errorf("%q", got)
	}
}
