package show

import (
	"io"
	"strconv"
	"strings"

	"github.com/mattn/go-isatty"
	"golang.org/x/term"
)

// Options are what a Printer must know of its writer.
type Options struct {
	Colour bool // SGR colours may be written
	Rich   bool // of 256 colours
	ASCII  bool // units and signs in ASCII: mm2, ohm, uF, degC, ->
	Width  int  // columns; 0 means the usual 80
	High   int  // rows that a chart may take; 0 for as many as it likes

	// Terminal is true where somebody reads what is written as it comes.
	Terminal bool

	// Stacked writes tables a value to a row, as a screen reader takes them
	// best, whatever the width.
	Stacked bool
}

// Choices for Detect, as given with --color.
const (
	Auto   = "auto"
	Always = "always"
	Never  = "never"
)

const usualWidth = 80

// Detect decides for one writer. What is said on the command line (choice:
// auto, always, never; empty is auto) goes before NO_COLOR, that before
// CLICOLOR_FORCE, that before CLICOLOR=0, that before TERM=dumb, and only then
// it matters whether the writer is a terminal.
//
// A locale that is named and is not UTF-8 asks for ASCII. Where none is named,
// as in most containers and on desks other than Unix, UTF-8 is taken.
func Detect(w io.Writer, getenv func(string) string, choice string) Options {
	fd, terminal := terminalOf(w)
	o := Options{ASCII: !utf8Locale(getenv), Width: usualWidth, Terminal: terminal}
	if terminal {
		if width, _, err := term.GetSize(fd); err == nil && width > 0 {
			o.Width = width
		}
	}
	if n, err := strconv.Atoi(getenv("COLUMNS")); err == nil && n > 0 {
		o.Width = min(n, 1000)
	}
	o.Stacked = getenv("RAILSUM_SPOKEN") != "" || getenv("TERM") == "dumb"
	o.Rich = strings.Contains(getenv("TERM"), "256color") || getenv("COLORTERM") != ""
	o.Colour = colour(terminal, getenv, choice)
	return o
}

// IsTerminal reports whether a reader or writer is a terminal.
func IsTerminal(x any) bool {
	_, ok := terminalOf(x)
	return ok
}

func terminalOf(x any) (fd int, ok bool) {
	f, isFile := x.(interface{ Fd() uintptr })
	if !isFile {
		return 0, false
	}
	return int(f.Fd()), isatty.IsTerminal(f.Fd()) || isatty.IsCygwinTerminal(f.Fd())
}

func colour(terminal bool, getenv func(string) string, choice string) bool {
	switch choice {
	case Always:
		return true
	case Never:
		return false
	}
	if getenv("NO_COLOR") != "" {
		return false
	}
	if force := getenv("CLICOLOR_FORCE"); force != "" && force != "0" {
		return true
	}
	return getenv("CLICOLOR") != "0" && getenv("TERM") != "dumb" && terminal
}

func utf8Locale(getenv func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return true
}
