package progress

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// TestRow follows the row with a clock of its own: nothing at first, then a row
// drawn over itself, and at the end no trace of it.
func TestRow(t *testing.T) {
	var out bytes.Buffer
	now := time.Unix(0, 0)
	r := &Row{w: &out, now: func() time.Time { return now }}
	r.begin("line 7, vary")
	for range 30 { // three seconds: told for one, silent for two
		if i := now.Sub(r.began) / redraw; i < 10 {
			r.Tell(float64(i) / 10)
		}
		r.draw()
		now = now.Add(redraw)
	}
	r.End()
	text := out.String()
	if strings.ContainsAny(text, "\x1b\n") {
		t.Errorf("something else than one row is written: %q", text)
	}
	if !strings.HasPrefix(text, "\rline 7, vary: 50 %") || !strings.Contains(text, "\rline 7, vary: 90 %") {
		t.Errorf("the share is not told from half a second on: %q", text)
	}
	if !strings.Contains(text, "90 %\rline 7, vary: 1 s \rline 7, vary: 2 s\r") {
		t.Errorf("the time is not told once the share is old: %q", text)
	}
	if left := strings.TrimSpace(lastRow(text)); left != "" {
		t.Errorf("%q is left on the row", left)
	}
}

// TestQuick: what is quick shows nothing.
func TestQuick(t *testing.T) {
	var out bytes.Buffer
	r := &Row{w: &out, now: time.Now}
	for range 3 {
		r.Begin("line %d", 8)
		r.Tell(0.5)
		time.Sleep(redraw + redraw/2)
		r.End()
	}
	if out.Len() != 0 {
		t.Errorf("what is quick shows %q", out.String())
	}
}

// TestNobodyLooks: a writer that is no terminal gets nothing.
func TestNobodyLooks(t *testing.T) {
	var out bytes.Buffer
	r := On(&out, func(string) string { return "" })
	r.Begin("line 1")
	r.Tell(0.5)
	if r.stop != nil {
		t.Error("something is drawing")
	}
	r.End()
	new(Row).End()
	if out.Len() != 0 {
		t.Errorf("%q", out.String())
	}
}

// lastRow is what stands on a row after carriage returns.
func lastRow(text string) string {
	row := []byte{}
	for _, part := range strings.Split(text, "\r") {
		row = append([]byte(part), row[min(len(part), len(row)):]...)
	}
	return string(row)
}
