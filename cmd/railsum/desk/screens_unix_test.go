//go:build unix

package desk

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"railsum/cmd/railsum/desk/ptytest"
)

// screens is the folder of the screens that somebody at the desk sees at 80 by 24.
// UPDATE_SCREENS=1 writes them; look at them before they are committed.
const screens = "../../../testdata/screens"

// A scene is what is typed, and the last row that shows that it has been answered.
type step struct{ typed, last string }

var scenes = []struct {
	name  string
	steps []step
}{
	{"first_start", nil},
	{"wrong_line", []step{{"track = 15 V *\r", "2. "}, {"12 votls * 2 A\r", "2. "}, {"250 mm H0\r", "2. "}}},
	{"proposal", []step{{"led 16 V 10 mA\r", "2. "}, {"\x1b[A", "2. use led with supply = 16 V, current = 10 mA"}}},
	{"proposal_taken", []step{{"led 16 V 10 mA\r", "2. "}, {"\x1b[A", "2. use led with supply = 16 V, current = 10 mA"}, {"\r", "3. "}}},
	{"card", []step{{"use drop for quay with length = 12 m, wire = 0.5 mm2, trip = 3 A\r", "3. "}}},
	{"help", []step{{"help\r", "2. "}}},
	{"help_lines", []step{{"help lines\r", "2. "}}},
	{"long_text", []step{{"about drop whole\r", "rows 1 to 23 of "}}},
	{"search", []step{{"track = 15 V\r", "3. "}, {"track * 2 A\r", "4. "}, {"\x1215", "search 15: track = 15 V"}}},
	{"words", []step{{"open circuit voltage of a 12 V supply\r", "2. "}, {"keep alive\r", "2. "}, {"gribble booster 3 A\r", "2. "}}},
	{"fill", []step{{"fill stub for quay\r", "    1 of 5  scale (\"H0\"):"}, {"\r", "    2 of 5  length (30 mm):"}, {"?\r", "    2 of 5  length (30 mm):"},
		{"4 m\r", "    2 of 5  length (30 mm):"}, {"40 mm\r", "    3 of 5  span (40 mm):"}, {"<\r", "    2 of 5  length (40 mm):"}}},
	{"quit_and_back", []step{{"track = 15 V\r", "3. "}, {"quit\r", "Kept aside: `recover` brings it back at the next start."}, {"", "2. "}, {"recover\r", "3. "}}},
}

func atScreen(t *testing.T, home string, env ...string) *ptytest.Terminal {
	cmd := exec.Command(os.Args[0])
	cmd.Dir = home
	cmd.Env = append(os.Environ(), append(env, asDesk+"=", "TERM=xterm-256color", "LC_ALL=C.UTF-8", "PAGER=",
		"XDG_STATE_HOME="+filepath.Join(home, "state"), "XDG_DATA_HOME="+filepath.Join(home, "data"))...)
	term := ptytest.Start(t, cmd, 80, 24)
	term.Wait("2. ")
	return term
}

// press types, and waits until a line that is entered has been taken.
func press(term *ptytest.Terminal, keys string) {
	before := len(term.Raw())
	term.Type(keys)
	for end := time.Now().Add(ptytest.Patience); strings.HasSuffix(keys, "\r") && !strings.Contains(term.Raw()[before:], "\n") && time.Now().Before(end); {
		time.Sleep(time.Millisecond)
	}
}

// window is what the terminal shows: its last rows, without what differs from day
// to day.
func window(term *ptytest.Terminal) string {
	lines := term.Lines()
	text := strings.Join(lines[max(0, len(lines)-24):], "\n") + "\n"
	return regexp.MustCompile(`left at \d\d:\d\d`).ReplaceAllString(text, "left at 20:15")
}

// unreadable are colours that cannot be read on black or on white: a background, black
// and white, bright or not.
var unreadable = regexp.MustCompile("\x1b\\[(?:[0-9;]*;)?(?:30|37|90|97|4[0-7]|10[0-7])(?:;[0-9;]*)?m")

func TestScreens(t *testing.T) {
	for _, scene := range scenes {
		for _, env := range []string{"NO_COLOR=1", "CLICOLOR_FORCE=1"} {
			t.Run(scene.name+" "+env, func(t *testing.T) {
				home := t.TempDir()
				term := atScreen(t, home, env)
				for _, s := range scene.steps {
					if s.typed == "" { // he has left and comes back
						term.Exit()
						term = atScreen(t, home, env)
						continue
					}
					press(term, s.typed)
					if strings.HasPrefix(s.last, "rows ") {
						term.Expect(s.last)
					} else {
						term.Wait(s.last)
					}
				}
				got := window(term)
				file := filepath.Join(screens, scene.name+".txt")
				if os.Getenv("UPDATE_SCREENS") != "" && env == "NO_COLOR=1" {
					if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
						t.Fatal(err)
					}
				}
				want, err := os.ReadFile(file)
				if err != nil || got != string(want) {
					t.Errorf("%v; the screen is\n%s\nand should be\n%s", err, got, want)
				}
				if bad := unreadable.FindString(term.Raw()); bad != "" {
					t.Errorf("%q cannot be read on black or on white", bad)
				}
			})
		}
	}
}

// The picture of the desk in the README is what the desk shows.
func TestReadmePicture(t *testing.T) {
	const readme = "../../../README.md"
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	picture := regexp.MustCompile("(?s)```\n(railsum, a notebook.*?)```").FindStringSubmatch(string(text))
	if picture == nil {
		t.Fatal("the README has no picture of the desk")
	}
	term := atScreen(t, t.TempDir(), "NO_COLOR=1")
	rows := regexp.MustCompile(`(?m)^(\d+\.) ?(.*)$`).FindAllStringSubmatch(picture[1], -1)
	if len(rows) < 5 {
		t.Fatalf("%d questions", len(rows))
	}
	for i, row := range rows[1 : len(rows)-1] {
		press(term, row[2]+"\r")
		term.Wait(rows[i+2][1])
	}
	got := term.Screen() + "\n"
	if os.Getenv("UPDATE_SCREENS") != "" {
		os.WriteFile(readme, []byte(strings.Replace(string(text), picture[1], got, 1)), 0o644)
		return
	}
	if got != picture[1] {
		t.Errorf("the desk shows\n%s\nthe README\n%s", got, picture[1])
	}
}
