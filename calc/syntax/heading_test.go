package syntax

import "testing"

func TestRemarks(t *testing.T) {
	for _, row := range []struct{ src, heading, aside string }{
		{"# --- The quay ---", "The quay", ""},
		{"#--- The quay ---", "The quay", ""},
		{"# ---The quay---", "", ""},
		{"# -- The quay --", "", ""},
		{"# ---- The quay ----", "", ""},
		{"# ---  ---", "", ""},
		{"# --- a --- b ---", "a --- b", ""},
		{"# > wait for three guesses", "", "wait for three guesses"},
		{"#> wait", "", "wait"},
		{"# a > b", "", ""},
		{"#", "", ""},
	} {
		l, _ := ParseLine(row.src)
		r := l.Node.(*Remark)
		if r.Heading() != row.heading || r.Aside() != row.aside {
			t.Errorf("%q: heading %q, aside %q", row.src, r.Heading(), r.Aside())
		}
	}
}
