package calc_test

import (
	"slices"
	"testing"

	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// Every study that the language knows has an answer of its own and says what it
// is for, and its examples are lines of its own.
func TestStudiesAreWhole(t *testing.T) {
	var asked, answered []string
	for _, s := range answer.Studies {
		answered = append(answered, s.Word())
	}
	for _, s := range syntax.Studies() {
		asked = append(asked, s.Word())
		help := s.Help()
		if help.Meaning == "" || len(help.Forms)*len(help.Says)*len(help.Examples) == 0 {
			t.Errorf("%s is not explained", s.Word())
		}
		for _, text := range help.Examples {
			l, _ := syntax.ParseLine(text)
			if is, ok := l.Node.(syntax.Study); !ok || is.Word() != s.Word() || syntax.Print(l) != text {
				t.Errorf("%s: %v, printed as %s", text, l.Errors, syntax.Print(l))
			}
		}
	}
	if !slices.Equal(asked, answered) {
		t.Errorf("the language has %q, answers are of %q", asked, answered)
	}
}
