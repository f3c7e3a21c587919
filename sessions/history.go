package sessions

// Bounds on what can be undone.
const (
	mostSteps = 10_000
	mostBytes = 32 << 20
)

// step is an edit that can be undone.
type step struct {
	what     string
	on, back splices
}

func (t step) size() int { return 100 + t.on.size() + t.back.size() }

// history is what can be undone and what can be done again.
type history struct {
	steps []step
	at    int // steps before are done, those from here on are undone
	bytes int
}

// done adds a step; what was undone can then no longer be done again.
func (h *history) done(t step) {
	for _, gone := range h.steps[h.at:] {
		h.bytes -= gone.size()
	}
	h.steps = append(h.steps[:h.at], t)
	h.bytes += t.size()
	first := 0
	for first < len(h.steps)-1 && (h.bytes > mostBytes || len(h.steps)-first > mostSteps) {
		h.bytes -= h.steps[first].size()
		first++
	}
	if first > 0 {
		h.steps = append([]step(nil), h.steps[first:]...)
	}
	h.at = len(h.steps)
}

// Undo takes the last edit back. Undoing is an edit, and as safe as any other.
func (s *Session) Undo() (Edit, error) {
	if s.past.at == 0 {
		return Edit{}, refuse("there is nothing to undo", "")
	}
	done, err := s.again("undo", s.past.steps[s.past.at-1].back)
	if err == nil {
		s.past.at--
	}
	return done, err
}

// Redo does again what Undo took back last.
func (s *Session) Redo() (Edit, error) {
	if s.past.at == len(s.past.steps) {
		return Edit{}, refuse("there is nothing to redo", "")
	}
	done, err := s.again("redo", s.past.steps[s.past.at].on)
	if err == nil {
		s.past.at++
	}
	return done, err
}

// CanUndo and CanRedo say what the next Undo or Redo is about: "enter",
// "strike" and so on; empty if there is nothing.
func (s *Session) CanUndo() string {
	if s.past.at == 0 {
		return ""
	}
	return s.past.steps[s.past.at-1].what
}

// CanRedo says what the next Redo is about.
func (s *Session) CanRedo() string {
	if s.past.at == len(s.past.steps) {
		return ""
	}
	return s.past.steps[s.past.at].what
}
