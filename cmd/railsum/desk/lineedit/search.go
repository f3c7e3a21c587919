package lineedit

import (
	"slices"
	"strings"
	"sync"
)

// search looks back through the lines of the history for what has been typed.
// It has no mode: the line found stands there to be edited, and asking again
// goes further back.
type search struct {
	mu     sync.Mutex // lines are added between prompts, looked through within one
	lines  []string
	wanted string // what is looked for
	found  string // the line found last
	at     int    // its place
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
	s.found = ""
}

// back gives the last line before the one found that has the wanted text; what
// stands in the line now is wanted, unless it is what was found.
func (s *search) back(line string) (string, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if line == "" || line != s.found {
		s.wanted, s.found, s.at = line, line, len(s.lines)
	}
	for i := s.at - 1; i >= 0; i-- {
		if s.lines[i] != s.found && strings.Contains(s.lines[i], s.wanted) {
			s.found, s.at = s.lines[i], i
			return s.found, true
		}
	}
	return "", false
}
