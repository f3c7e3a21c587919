package lineedit

import (
	"slices"
	"strings"
	"sync"
)

// search looks back through the lines of the history, while it is on, for what is
// typed: every key narrows it, and asking again goes further back.
type search struct {
	mu       sync.Mutex // lines are added between prompts, looked through within one
	lines    []string
	on       bool
	original []rune // what stood in the line before
	wanted   string
	found    string // the line that has it; empty if none has been found yet
	at       int    // its place
	missed   bool   // there is none further back
}

// recent gives the lines that can be recalled, oldest first.
func (s *search) recent() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.lines[max(0, len(s.lines)-maxRecalled):])
}

func (s *search) add(line string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.lines = append(s.lines, line)
	if len(s.lines) > 2*maxRecalled {
		s.lines = append([]string(nil), s.lines[maxRecalled:]...)
	}
}

// begin turns it on, unless there is nothing to look through.
func (s *search) begin(line []rune) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.on = len(s.lines) > 0
	s.original, s.wanted, s.found, s.at, s.missed = slices.Clone(line), "", "", len(s.lines), false
}

// want looks for a text from a place on backwards.
func (s *search) want(text string, from int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.wanted, s.missed = text, text != ""
	if text == "" {
		s.found, s.at = "", len(s.lines)
	}
	for i := min(from, len(s.lines)-1); i >= 0 && text != ""; i-- {
		if s.lines[i] != s.found && strings.Contains(s.lines[i], text) || i == s.at && strings.Contains(s.found, text) {
			s.found, s.at, s.missed = s.lines[i], i, false
			return
		}
	}
}

// more, less and again are the keys: a character more to look for, one less, and
// the same further back.
func (s *search) more(r rune) { s.want(s.wanted+string(r), s.at) }

func (s *search) less() {
	text := []rune(s.wanted)
	s.found, s.at = "", len(s.lines)
	s.want(string(text[:max(0, len(text)-1)]), len(s.lines))
}

func (s *search) again() { s.want(s.wanted, s.at-1) }

// shown is the prompt, the line and the place in it that show how far it is.
func (s *search) shown() (prompt string, line []rune, pos int) {
	prompt = "search " + s.wanted + ": "
	if s.missed {
		prompt = "search " + s.wanted + " (no more): "
	}
	if s.found == "" {
		return prompt, s.original, len(s.original)
	}
	before, _, _ := strings.Cut(s.found, s.wanted)
	return prompt, []rune(s.found), len([]rune(before))
}
