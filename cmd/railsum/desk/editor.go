package desk

import (
	"bytes"
	"cmp"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"

	"railsum/sessions/reason"
)

// edit lets the notebook be edited in the editor that the user has chosen, and takes
// back what was changed as one edit. With a number it changes that line.
func (d *desk) edit(args string) error {
	if args != "" {
		return d.change(args)
	}
	stdin, is := d.Stdin.(*os.File)
	stdout, also := d.Stdout.(*os.File)
	if !is || !also || !d.ed.Interactive() {
		return refusal("an editor needs a terminal").With("`change N TEXT` changes a line without one")
	}
	if d.ed.More() {
		return refusal("more has been typed already; it would go to the editor").With("write `edit` by itself")
	}
	before := d.s.Text()
	name, err := d.lay(before)
	if err != nil {
		return refusal("the text cannot be given to an editor: %s", reason.Of(err))
	}
	keep := false
	defer func() {
		if !keep {
			os.RemoveAll(filepath.Dir(name))
		}
	}()
	editor := cmp.Or(d.Getenv("VISUAL"), d.Getenv("EDITOR"), usualEditor())
	cmd := command(editor, name)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = stdin, stdout, d.Stderr
	if err := cmd.Run(); err != nil {
		return refusal("%s did not end well: %s", firstWord(editor), reasonOf(err)).
			With("the notebook is as it was; VISUAL or EDITOR names another editor")
	}
	after, err := os.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refusal("the editor has left no text; the notebook is as it was")
	case err != nil:
		return refusal("what the editor has left cannot be read: %s", reason.Of(err))
	case bytes.Equal(before, after):
		d.note("Nothing was changed.")
		return nil
	}
	edit, err := d.s.Become(after)
	if err != nil {
		keep = true
		d.say(plain(err))
		return refusal("the notebook is as it was").With("what you have written is kept as " + name)
	}
	return d.done(edit, nil)
}

// lay puts a text where an editor finds it, and nobody else.
func (d *desk) lay(text []byte) (string, error) {
	dir, err := os.MkdirTemp("", "railsum-")
	if err != nil {
		return "", err
	}
	name := filepath.Join(dir, filepath.Base(cmp.Or(d.s.Path(), "notebook.sums")))
	if err := os.WriteFile(name, text, 0o600); err != nil {
		os.RemoveAll(dir)
		return "", err
	}
	return name, nil
}

func usualEditor() string {
	if runtime.GOOS == "windows" {
		return "notepad"
	}
	return "vi"
}

// command is a program that the user has named, perhaps with words of its own, on a
// file: the shell takes it apart where there is one.
func command(line, file string) *exec.Cmd {
	if runtime.GOOS == "windows" {
		words := strings.Fields(line)
		return exec.Command(words[0], append(words[1:], file)...)
	}
	return exec.Command("sh", "-c", line+` "$@"`, "sh", file)
}

func reasonOf(err error) string {
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return exit.String()
	}
	return reason.Of(err)
}
