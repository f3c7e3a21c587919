//go:build unix

package desk

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func begun(t *testing.T, text string) (home, file string, write func(string)) {
	t.Helper()
	home = t.TempDir()
	file = filepath.Join(home, "bay.sums")
	write = func(text string) {
		t.Helper()
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(text)
	return home, file, write
}

// What somebody else has done to the file is taken in by save, line by line.
func TestSaveMerges(t *testing.T) {
	home, file, write := begun(t, "railsum 1\nx = 3 V\ny = 1 V\nz = x + y\n")
	term := sitIn(t, home, file)
	term.Wait("5. ")
	term.Type("x = 4 V\r")
	term.Wait("5. ")
	write("railsum 1\nx = 3 V\ny = 1 V\n# theirs\nz = x + y\n")
	term.Type("save\r")
	term.Expect("+    # theirs")
	term.Wait("merge, replace or no: ")
	term.Type("merge\r")
	term.Expect("Saved as")
	term.Wait("6. ")
	if text, _ := os.ReadFile(file); string(text) != "railsum 1\nx = 4 V\ny = 1 V\n# theirs\nz = x + y\n" {
		t.Errorf("saved %q", text)
	}
	term.Type("undo\r")
	term.Wait("5. ")
	term.Type("list\r")
	term.Expect("4. z = x + y")
	term.Wait("5. ")
}

// Rows that both have changed are asked for; Ctrl-C takes nothing.
func TestReloadAsks(t *testing.T) {
	home, file, write := begun(t, "railsum 1\nx = 3 V\n")
	term := sitIn(t, home, file)
	term.Wait("3. ")
	term.Type("reload\r")
	term.Expect("is as it was read")
	term.Wait("3. ")
	term.Type("x = 4 V\r")
	term.Wait("3. ")
	write("railsum 1\nx = 5 V\n")
	term.Type("reload\r")
	term.Expect("Both have changed line 2.")
	term.Wait("Whose? ours, theirs or both: ")
	term.Type("\x03")
	term.Expect("nothing was taken")
	term.Wait("3. ")
	term.Type("reload\r")
	term.Wait("Whose? ours, theirs or both: ")
	term.Type("theirs\r")
	term.Expect("x: 4 V → 5 V")
	term.Wait("3. ")
	term.Type("quit\r") // it holds what the file holds
	if code := term.Exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

// What a desk that died has left goes into a file that has changed since, under its
// own name.
func TestDeadDeskAndChangedFile(t *testing.T) {
	home, file, write := begun(t, "railsum 1\nx = 3 V\n")
	term := sitIn(t, home, file)
	term.Wait("3. ")
	term.Type("y = 2 * x\r")
	term.Wait("4. ")
	term.Signal(syscall.SIGKILL)
	term.Exit()
	write("railsum 1\nx = 7 V\n")
	term = sitIn(t, home, file)
	term.Wait("Take them up again? yes, later or drop: ")
	term.Type("yes\r")
	term.Expect("What was left is taken into it:")
	term.Expect("+    y = 2 * x")
	term.Wait("4. ")
	term.Type("save\r")
	term.Expect("Saved as")
	term.Wait("4. ")
	if text, _ := os.ReadFile(file); string(text) != "railsum 1\nx = 7 V\ny = 2 * x\n" {
		t.Errorf("saved %q", text)
	}
	if strings.Contains(term.Screen(), "without a name") {
		t.Error(term.Screen())
	}
}

// A spreadsheet that has changed beside the notebook is noticed by reload and
// before save, and what it says now is what the notebook says.
func TestSpreadsheetChanged(t *testing.T) {
	home, file, _ := begun(t, "railsum 1\ntable runs from \"runs.csv\"\nsum(runs.length)\n")
	sheet := func(text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(home, "runs.csv"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	sheet("run;length [m]\nquay;12\nyard;3,5\n")
	term := sitIn(t, home, file)
	term.Wait("4. ")
	for _, c := range []struct{ rows, order, notice, sum string }{
		{"quay;12\nyard;4,25\n", "reload", "runs.csv has changed on the disk; the notebook is computed again.", "16.25 m"},
		{"quay;12\nyard;4,25\nmill;20\n", "save", "runs.csv has changed on the disk; the notebook is computed again.", "36.25 m"},
		{"quay;twelve\n", "save", "runs.csv has changed on the disk; the notebook is computed again.", `runs.csv: row 2, column length: "twelve" is no number`},
	} {
		sheet("run;length [m]\n" + c.rows)
		term.Type(c.order + "\r")
		term.Expect(c.notice)
		term.Wait("4. ")
		term.Type("list\r")
		term.Expect(c.sum)
		term.Wait("4. ")
	}
}
