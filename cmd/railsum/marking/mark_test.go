package marking

import (
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/library"
)

func value(t testing.TB, text string) *answer.Value {
	t.Helper()
	line, _ := syntax.ParseLine(text)
	v := calc.Open([]*syntax.Line{line}, library.Shipped()).Answer(0).Value
	if v == nil {
		t.Fatalf("%s has no value", text)
	}
	v.Literal = answer.Typed{}
	return v
}

// What each answer is told: the first case that fits. Expected by hand.
func TestMark(t *testing.T) {
	reader := Reader{Library: library.Shipped()}
	for _, c := range []struct {
		right, slip, typed string
		kind               Kind
		says               string
	}{
		{"548.1 mV", "", "volts", Unread, ""},
		{"548.1 mV", "", "", Unread, ""},
		{"548.1 mV", "", "1 m1", Unread, ""},
		{"548.1 mV", "", "yes", Unread, "no number"},
		{"548.1 mV", "", "idk", Unread, "there is no number in that"},
		{"548.1 mV", "", "about 548 mV?", Right, ""},
		{"548.1 mV", "", "I think it is 0,548 Volt.", Right, ""},
		{"548.1 mV", "", "lost = 548 mV", Right, ""},
		{"548.1 mV", "", "not 548 mV", Unread, ""},
		{"548.1 mV", "", "1 k", Unread, ""},
		{"548.1 mV", "", "0.55", NoUnit, "0.55 what? lost is a voltage, in V or mV"},
		{"548.1 mV", "", "0.55 mA", Dimension, "not yet: mA is a current; lost is a voltage, in V or mV"},
		{"548.1 mV", "", "548.1 mV", Right, "right: 548.1 mV."},
		{"548.1 mV", "", "0.5481 V", Right, "right: 548.1 mV."},
		{"548.1 mV", "", "0,55 V", Right, "(0,55 V is that to two figures.)"},
		{"548.1 mV", "", "0.55 volts", Right, "right: 548.1 mV."},
		{"548.1 mV", "", "550 mV", Right, "right: 548.1 mV."},
		{"548.1 mV", "", "0.5 V", Rounded, "two figures at least"},
		{"548.1 mV", "", "535 mV", Nearly, "keep four figures"},
		{"548.1 mV", "", "5.481 V", Else, "yours is 10 times as much"},
		{"548.1 mV", "", "548.1 V", Thousand, "not yet: a factor of 1000. Is it V or mV?"},
		{"548.1 mV", "", "548.1 uV", Thousand, "a factor of 1000"},
		{"548.1 mV", "274.05 mV", "0.274 V", Slipped, "not yet: one way only"},
		{"548.1 mV", "300 mV", "0.274 V", Twice, "half the answer"},
		{"548.1 mV", "", "1.096 V", Twice, "twice the answer"},
		{"5 %", "", "5", Hundred, "not yet: 5 % is 0.05"},
		{"5 %", "", "0.05", Right, ""},
		{"40", "", "0.025", Upside, "upside down"},
		{"12 V", "", "-12 V", Wrong, "the wrong way round"},
		{"12 V", "", "20 V", Else, "yours is 1.7 times as much"},
		{"30 degC", "", "30 K", Dimension, ""},
		{"30 degC", "", "303.15 degC", Wrong, "degrees Celsius or kelvin?"},
		{"30 degC", "", "86 degF", Right, ""},
		{"1.8 kohm", "", "0.5 ohm", Else, "the answer is 3600 times as much"},
		{"3", "", "3", Right, ""},
		{"3", "2", "2", Slipped, "one way only"},
		{"1.03 kohm", "", "1000 ohm", Right, ""},
		{"1.03 kohm", "", "1 kohm", Rounded, ""},
		{"1.03 kohm", "", "1.0 kohm", Right, ""},
		{"1.142 mm2", "", "1.1 mm2", Right, "(1.1 mm2 is that to two figures.)"},
		{"1.142 mm2", "", "1 mm2", Rounded, "two figures at least"},
		{"1 > 2", "", "no", Right, ""},
		{"1 > 2", "", "yes", Else, ""},
		{"1 > 2", "", "Nope.", Right, ""},
		{"1 > 2", "", "2 V", Unread, "neither yes nor no"},
		{`"orange orange red gold"`, "", "Orange, orange red  GOLD", Right, ""},
		{`"orange orange red gold"`, "", "orange red red gold", Else, ""},
	} {
		q := Asked{Name: "lost", Right: value(t, c.right)}
		if c.slip != "" {
			q.Slips = []*answer.Slip{{Name: "lost", Why: "one way only", Wrong: value(t, c.slip)}}
		}
		m := reader.Mark(c.typed, q)
		if m.Kind != c.kind || !strings.Contains(m.Says, c.says) || m.Says == "" {
			t.Errorf("%s for %s: %+v, want %d %s", c.typed, c.right, m, c.kind, c.says)
		}
	}
}

// Two readings are asked back and not marked.
func TestTwoReadings(t *testing.T) {
	reader := Reader{Library: library.Shipped()}
	q := Asked{Name: "model", Right: value(t, "2.874 mm")}
	if m := reader.Mark("250 mm H0", q); m.Counts() || !strings.Contains(m.Says, "in two ways") {
		t.Errorf("%+v", m)
	}
}

// Nothing that can be typed ends the program, and nothing that is not a number is
// right.
func FuzzMark(f *testing.F) {
	for _, s := range []string{"0,55 V", "1e3 mV", "-5 degC", "", "\x00", "1:87", "3k3", "2 ft 6 in", "∞ V", strings.Repeat("(", 300)} {
		f.Add(s)
	}
	reader := Reader{Library: library.Shipped()}
	q := Asked{Name: "lost", Right: value(f, "548.1 mV")}
	f.Fuzz(func(t *testing.T, text string) {
		if m := reader.Mark(text, q); m.Good() && !strings.ContainsAny(text, "0123456789") {
			t.Errorf("%q is %+v", text, m)
		}
	})
}
