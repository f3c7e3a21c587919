package sessions

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railsum/calc/answer"
)

// LANGUAGE B8: a "that" which an edit gives another meaning is told of.
func TestThatIsToldOf(t *testing.T) {
	for name, c := range map[string]struct {
		before string
		do     func(*Session) (Edit, error)
		want   []answer.Rebound
	}{
		"question moved in between": {"1 + 1\nb = that\n2 + 2\n", func(s *Session) (Edit, error) { return s.Move(2, 2, 1) }, []answer.Rebound{{Line: 2, Was: 0, Now: 1}}},
		"question moved away":       {"1 + 1\n2 + 2\nb = that\n", func(s *Session) (Edit, error) { return s.Move(1, 1, 3) }, []answer.Rebound{{Line: 1, Was: 2, Now: 0}}},
		"question struck":           {"1 + 1\n2 + 2\nb = that\n", func(s *Session) (Edit, error) { return s.Strike(true, 1) }, []answer.Rebound{{Line: 1, Was: -1, Now: 0}}},
		"only question struck":      {"1 + 1\nb = that\n", func(s *Session) (Edit, error) { return s.Strike(true, 0) }, []answer.Rebound{{Line: 0, Was: -1, Now: -1}}},
		"value changed to question": {"1 + 1\na = 2\nb = that\n", func(s *Session) (Edit, error) { return s.Change(1, "2 + 2") }, []answer.Rebound{{Line: 2, Was: 0, Now: 1}}},
		"lines shifted":             {"a = 1\n1 + 1\nb = that\n", func(s *Session) (Edit, error) { return s.Strike(false, 0) }, nil},
		"the that moved itself":     {"1 + 1\nb = that\n2 + 2\n", func(s *Session) (Edit, error) { return s.Move(1, 1, 3) }, []answer.Rebound{{Line: 2, Was: 0, Now: 1}}},
		"question changed":          {"1 + 1\nb = that\n", func(s *Session) (Edit, error) { return s.Change(0, "1 + 2") }, nil},
		"kept":                      {"1 + 1\nb = that\n", func(s *Session) (Edit, error) { return s.Keep("two") }, nil},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlace(t)
			p.write(t, "a.sums", c.before)
			s := p.open(t, "a.sums")
			done, err := c.do(s)
			if err != nil {
				t.Fatal(err)
			}
			if !cmp.Equal(done.Moved, c.want) {
				t.Errorf("told of %v, want %v", done.Moved, c.want)
			}
		})
	}
}

func TestUndoHasBounds(t *testing.T) {
	var h history
	for i := range mostSteps + 10 {
		h.done(step{what: "enter", on: splices{{At: i, In: []string{"x"}}}})
	}
	if len(h.steps) != mostSteps || h.at != mostSteps || h.steps[0].on[0].At != 10 {
		t.Errorf("%d steps, at %d, the first %v", len(h.steps), h.at, h.steps[0])
	}
	big := strings.Repeat("x", mostBytes/2)
	for range 5 {
		h.done(step{on: splices{{In: []string{big}}}})
	}
	total := 0
	for _, t := range h.steps {
		total += t.size()
	}
	if total != h.bytes || h.bytes > mostBytes+len(big) {
		t.Errorf("%d bytes held, %d counted", total, h.bytes)
	}
}

func TestUndoThenEdit(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "a.sums")
	if _, err := s.Undo(); err == nil {
		t.Error("undone, and there was nothing")
	}
	enter(t, s, "a = 1", "b = 2")
	if s.CanUndo() != "enter" || s.CanRedo() != "" {
		t.Errorf("can undo %q, redo %q", s.CanUndo(), s.CanRedo())
	}
	for range 2 {
		if _, err := s.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if s.Dirty() {
		t.Error("everything is undone, and the notebook is dirty")
	}
	enter(t, s, "c = 3")
	if _, err := s.Redo(); err == nil {
		t.Error("done again after another edit")
	}
	if text(s) != "c = 3\n" {
		t.Errorf("got %q", text(s))
	}
}
