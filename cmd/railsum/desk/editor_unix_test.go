//go:build unix

package desk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// An editor of a test: it says what it was given and how the terminal is, and does
// what it is told.
const testEditor = `#!/bin/sh
printf 'rights %s, lines %s\n' "$(ls -l "$2" | cut -c1-10)" "$(stty -a | grep -c ' icanon')"
printf 'do what? '
read word
case $word in
change) sed -i -e 's/3 V/5 V/' -e '$a\' -e '# from the editor' -e '$a\' -e 'x + 1 V' "$2" ;;
rename) sed 's/3 V/7 V/' "$2" > "$2.new" && mv "$2.new" "$2" ;;
fail) sed -i 's/3 V/9 V/' "$2"; exit 3 ;;
damage) printf 'x = \377\n' > "$2" ;;
gone) rm "$2" ;;
esac
`

func TestEdit(t *testing.T) {
	home, file, _ := begun(t, "railsum 1\nx = 3 V\ny = 2 * x\n")
	temp := t.TempDir()
	editor := filepath.Join(home, "an editor.sh")
	if err := os.WriteFile(editor, []byte(testEditor), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv("VISUAL", "'"+editor+"' -w") // taken apart as a shell does
	t.Setenv("EDITOR", "false")
	t.Setenv("TMPDIR", temp)
	term := sitIn(t, home, file)
	term.Wait("4. ")
	do := func(word string) {
		term.Type("edit\r")
		term.Expect("rights -rw-------, lines 1")
		term.Wait("do what? ")
		term.Type(word + "\r")
	}
	do("nothing")
	term.Expect("Nothing was changed.")
	term.Wait("4. ")
	do("fail")
	term.Expect("did not end well: exit status 3")
	term.Wait("4. ")
	do("gone")
	term.Expect("the editor has left no text; the notebook is as it was")
	term.Wait("4. ")
	do("change")
	term.Expect("y: 6 V → 10 V")
	term.Expect("6 V")
	term.Wait("6. ")
	term.Type("undo\r") // all of it
	term.Wait("4. ")
	term.Type("x\r") // the line editor has the terminal again
	term.Expect("    3 V")
	term.Wait("5. ")
	term.Type("undo\r")
	term.Wait("4. ")
	do("rename")
	term.Expect("y: 6 V → 14 V")
	term.Wait("4. ")
	left, _ := filepath.Glob(filepath.Join(temp, "*"))
	if len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
	do("damage")
	term.Expect("is not UTF-8 text")
	term.Expect("What you have written is kept as")
	term.Wait("4. ")
	left, _ = filepath.Glob(filepath.Join(temp, "*", "bay.sums"))
	if len(left) != 1 {
		t.Errorf("kept: %v", left)
	}
	term.Type("quit\r")
	term.Wait("save, later or drop: ")
	term.Type("save\r")
	term.Exit()
	if text, _ := os.ReadFile(file); string(text) != "railsum 1\nx = 7 V\ny = 2 * x\n" {
		t.Errorf("saved %q", text)
	}
}

// A desk that looks stands beside one that works, and sees what that has saved.
func TestLook(t *testing.T) {
	home, file, _ := begun(t, "railsum 1\nx = 3 V\n")
	working := sitIn(t, home, file)
	working.Wait("3. ")
	t.Setenv(asLook, "1")
	looking := sitIn(t, home, file)
	looking.Expect("This desk looks, and saves nothing;")
	looking.Wait("3. ")
	working.Type("x = 4 V\r")
	working.Wait("3. ")
	working.Type("save\r")
	working.Expect("Saved as")
	working.Wait("3. ")
	looking.Type("reload\r")
	looking.Expect("x: 3 V → 4 V")
	looking.Wait("3. ")
	looking.Type("z = 9 V\r")
	looking.Wait("4. ")
	looking.Type("save\r")
	looking.Expect("this desk only looks; it saves nothing")
	looking.Wait("4. ")
	looking.Type("quit\r")
	if code := looking.Exit(); code != 0 {
		t.Errorf("exit code %d:\n%s", code, looking.Screen())
	}
	if text, _ := os.ReadFile(file); !strings.HasSuffix(string(text), "x = 4 V\n") {
		t.Errorf("the file is %q", text)
	}
	journals, _ := filepath.Glob(filepath.Join(home, "state", "railsum", "journals", "*"))
	if len(journals) != 0 {
		t.Errorf("left behind: %v", journals)
	}
}
