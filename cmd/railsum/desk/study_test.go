//go:build unix

package desk

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"railsum/cmd/railsum/desk/ptytest"
)

var update = flag.Bool("update", false, "write the golden screens")

// studyLines is a notebook to put questions to, without a shipped sheet, so
// that the screens are the same whatever the shelf holds.
const studyLines = `railsum 1
track = 15 V +- 5 %
length = 9.5 m
wire = 1.5 mm2
lost = 2.6 A * 0.0172 ohm*mm2/m * 2 * length / wire
share = lost / track as %
should share <= 5 %  # trains slow down
`

// at opens a desk of the given width on a notebook.
func at(t *testing.T, cols int, text string, env ...string) *ptytest.Terminal {
	t.Helper()
	home := t.TempDir()
	if err := os.WriteFile(filepath.Join(home, "n.sums"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(os.Args[0])
	cmd.Dir = home
	cmd.Env = append(os.Environ(), asDesk+"=n.sums", asPatient+"=1", "TERM=xterm-256color", "LC_ALL=C.UTF-8",
		"XDG_STATE_HOME="+filepath.Join(home, "state"), "XDG_DATA_HOME="+filepath.Join(home, "data"))
	cmd.Env = append(cmd.Env, env...)
	return ptytest.Start(t, cmd, cols, 60)
}

// TestStudyScreens types every study at the prompt, at 80 and at 120 columns,
// with and without colour, and compares the screens with what was looked over
// by eye. Colours change no character of them.
func TestStudyScreens(t *testing.T) {
	for _, cols := range []int{80, 120} {
		path := fmt.Sprintf("testdata/studies_%d.golden", cols)
		for _, env := range []string{"NO_COLOR=1", "CLICOLOR_FORCE=1"} {
			term := at(t, cols, studyLines, env)
			term.Wait("8. ")
			for n, line := range []string{
				"find length so share <= 5 %",
				"vary length from 2 m to 20 m by 2 m show lost",
				"vary length from 2 m to 20 m by 6 m and wire among 1.5 mm2, 2.5 mm2 show share",
				"suppose wire = 2.5 mm2, track = 12 V show lost, share",
				"spread share",
				"working share",
				"measured lost = 0.6 V +- 0.01 V",
			} {
				term.Type(line + "\r")
				term.Wait(fmt.Sprintf("%d. ", 9+n))
			}
			term.Type("length = 14 m\r") // in place of the line that was there
			term.Expect("share: 3.776 % → 5.565 %")
			term.Wait("15. ")
			if coloured := strings.Contains(term.Raw(), ";1mcaution"); coloured != (env != "NO_COLOR=1") {
				t.Errorf("%d columns, %s: coloured is %v", cols, env, coloured)
			}
			got := term.Screen() + "\n"
			if *update && env == "NO_COLOR=1" {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%d columns, %s: the screen has\n%s\nwant\n%s", cols, env, got, want)
			}
			for _, row := range strings.Split(got, "\n") {
				if len([]rune(row)) > cols {
					t.Errorf("%d columns: %q", cols, row)
				}
			}
		}
	}
}

// TestTakingOver: after a find, yes enters the line that was found, undo takes
// it back, and whoever types anything else has left it.
func TestTakingOver(t *testing.T) {
	term := at(t, 100, studyLines, "NO_COLOR=1")
	term.Wait("8. ")
	term.Type("find length so lost = 1 V\r")
	term.Wait("9. ")
	found := regexp.MustCompile(`yes enters (length = 16\.77\d* m)\n`).FindStringSubmatch(term.Screen() + "\n")
	if found == nil {
		t.Fatalf("nothing is offered:\n%s", term.Screen())
	}
	term.Type("yes\r")
	term.Expect("lost: 566.5 mV → 1 V")
	term.Wait("9. ")
	term.Type("list 3\r")
	term.Expect("3. " + found[1])
	term.Wait("9. ")
	term.Type("undo\r")
	term.Expect("lost: 1 V → 566.5 mV")
	term.Wait("9. ")

	term.Type("list 8\r")
	term.Expect("8. find length so lost = 1 V")
	term.Wait("9. ")
	term.Type("1 + 1\r")
	term.Wait("10. ")
	term.Type("yes\r") // a question by now, not an answer
	term.Wait("11. ")
	expectScreen(t, term, "10. yes", "    yes", "11.")
}

// TestFindIsAskedAgain: a find that another line has given another answer is
// shown again; one that finds the same stays quiet.
func TestFindIsAskedAgain(t *testing.T) {
	term := at(t, 100, studyLines+"find length so lost = 1 V\n", "NO_COLOR=1")
	term.Wait("9. ")
	term.Type("wire = 2.5 mm2\r")
	term.Expect("8. find length so lost = 1 V\n    length = 27.95 m")
	term.Wait("9. ")
	before := strings.Count(term.Screen(), "8. find")
	term.Type("length = 20 m\r")
	term.Expect("length: 9.5 m → 20 m")
	term.Wait("9. ")
	if strings.Count(term.Screen(), "8. find") != before {
		t.Errorf("what has not changed is told again:\n%s", term.Screen())
	}
}

// TestLongStudyStops: a study that takes long shows how far it is, Ctrl-C stops
// it, and the line and the notebook are whole.
func TestLongStudyStops(t *testing.T) {
	var table strings.Builder
	table.WriteString("railsum 1\ntable lamps | current\n")
	for i := range 600 {
		fmt.Fprintf(&table, "  lamp %d | %d mA +- 5 %%\n", i, 5+i%50)
	}
	table.WriteString("end\n")
	term := at(t, 80, table.String(), "NO_COLOR=1")
	term.Wait("604. ")
	term.Type("spread sum(lamps.current)\r")
	term.Expect("line 604, spread: ")
	term.Type("\x03")
	term.Expect("Stopped. The line is kept; `list 604` asks again.")
	term.Wait("605. ")
	term.Type("sum(lamps.current)\r")
	term.Expect("    17.7 A")
	term.Wait("606. ")
	for _, row := range term.Lines() {
		if strings.HasPrefix(row, "line 604, spread") {
			t.Errorf("the progress is left on the screen: %q", row)
		}
	}
}
