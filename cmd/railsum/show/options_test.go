package show

import (
	"bytes"
	"testing"
)

// TestColourDecision: the command line before NO_COLOR before CLICOLOR_FORCE
// before CLICOLOR=0 before TERM=dumb before what the writer is.
// Source: no-color.org for NO_COLOR; the order of the others is that which two
// documented implementations of the CLICOLOR variables share.
func TestColourDecision(t *testing.T) {
	for _, c := range []struct {
		name     string
		terminal bool
		env      map[string]string
		choice   string
		want     bool
	}{
		{"a terminal", true, nil, "", true},
		{"a pipe", false, nil, Auto, false},
		{"always into a pipe", false, map[string]string{"NO_COLOR": "1"}, Always, true},
		{"never on a terminal", true, map[string]string{"CLICOLOR_FORCE": "1"}, Never, false},
		{"NO_COLOR", true, map[string]string{"NO_COLOR": "1", "CLICOLOR_FORCE": "1"}, Auto, false},
		{"NO_COLOR empty says nothing", true, map[string]string{"NO_COLOR": ""}, Auto, true},
		{"forced", false, map[string]string{"CLICOLOR_FORCE": "1", "CLICOLOR": "0", "TERM": "dumb"}, Auto, true},
		{"force 0 says nothing", false, map[string]string{"CLICOLOR_FORCE": "0"}, Auto, false},
		{"CLICOLOR=0", true, map[string]string{"CLICOLOR": "0"}, Auto, false},
		{"dumb", true, map[string]string{"TERM": "dumb"}, Auto, false},
	} {
		if got := colour(c.terminal, func(n string) string { return c.env[n] }, c.choice); got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

func TestLocale(t *testing.T) {
	for _, c := range []struct {
		env   map[string]string
		ascii bool
	}{
		{map[string]string{"LANG": "de_DE.UTF-8"}, false},
		{map[string]string{"LANG": "tr_TR.utf8"}, false},
		{map[string]string{"LANG": "C"}, true},
		{map[string]string{"LANG": "de_DE.ISO-8859-1"}, true},
		{map[string]string{"LANG": "en_GB.UTF-8", "LC_ALL": "POSIX"}, true},
		{map[string]string{"LANG": "C", "LC_CTYPE": "C.UTF-8"}, false},
		{nil, false},
	} {
		o := Detect(&bytes.Buffer{}, func(n string) string { return c.env[n] }, "")
		if o.ASCII != c.ascii {
			t.Errorf("%v: ASCII is %v", c.env, o.ASCII)
		}
	}
}

func TestWidth(t *testing.T) {
	for columns, want := range map[string]int{"": 80, "40": 40, "x": 80, "-3": 80, "99999": 1000} {
		o := Detect(&bytes.Buffer{}, func(n string) string { return map[string]string{"COLUMNS": columns}[n] }, "")
		if o.Width != want {
			t.Errorf("COLUMNS=%s: %d, want %d", columns, o.Width, want)
		}
	}
}
