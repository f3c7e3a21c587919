//go:build unix

package lineedit

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Two processes that write at once lose nothing of each other's.
func TestHistoryOfTwoProcesses(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	var cmds []*exec.Cmd
	for _, who := range []string{"a", "b"} {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), typist+"="+who+":"+path)
		cmd.Stderr = os.Stderr
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		cmds = append(cmds, cmd)
	}
	for _, cmd := range cmds {
		if err := cmd.Wait(); err != nil {
			t.Fatal(err)
		}
	}
	h, err := OpenHistory(path)
	seen := map[string]bool{}
	for _, line := range h.Lines() {
		seen[line] = true
	}
	if err != nil || len(h.Lines()) != 200 || len(seen) != 200 || !seen["a99"] || !seen["b99"] {
		t.Errorf("%d lines, %d of them different, %v; want 200", len(h.Lines()), len(seen), err)
	}
}

const typist = "LINEEDIT_TEST_TYPIST"

func typeHistory(who, path string) error {
	h, err := OpenHistory(path)
	if err != nil {
		return err
	}
	for i := range 100 {
		if err := h.Add(fmt.Sprintf("%s%d", who, i)); err != nil {
			return err
		}
	}
	return nil
}

// What lies in the place of a history or its lock, and is not an ordinary file, is
// left alone, and nobody waits for it.
func TestHistoryOfAStranger(t *testing.T) {
	for _, ending := range []string{"", ".lock"} {
		for what, make := range map[string]func(path, victim string) error{
			"a link":            func(path, victim string) error { return os.Symlink(victim, path) },
			"a link to nothing": func(path, victim string) error { return os.Symlink(victim+".new", path) },
			"a pipe":            func(path, _ string) error { return syscall.Mkfifo(path, 0o600) },
		} {
			dir := t.TempDir()
			victim := filepath.Join(dir, "victim")
			os.WriteFile(victim, []byte("precious"), 0o644)
			path := filepath.Join(dir, "history")
			if err := make(path+ending, victim); err != nil {
				t.Fatal(err)
			}
			done := time.AfterFunc(20*time.Second, func() { panic(what + ": waits for ever") })
			h, err := OpenHistory(path)
			if err == nil || h.Add("15 V") == nil || !strings.Contains(err.Error(), "the history cannot be kept: ") {
				t.Errorf("%s for history%s: %v", what, ending, err)
			}
			done.Stop()
			if text, _ := os.ReadFile(victim); string(text) != "precious" {
				t.Errorf("%s for history%s: the victim is %q", what, ending, text)
			}
			if info, _ := os.Stat(victim); info.Mode().Perm() != 0o644 {
				t.Errorf("%s for history%s: the victim has mode %v", what, ending, info.Mode())
			}
			if _, err := os.Stat(victim + ".new"); err == nil {
				t.Errorf("%s for history%s: a file was made behind it", what, ending)
			}
		}
	}
}

// The reason comes without the names of system calls.
func TestHistoryInPlainWords(t *testing.T) {
	dir := t.TempDir()
	os.WriteFile(filepath.Join(dir, "file"), nil, 0o600)
	_, err := OpenHistory(filepath.Join(dir, "file", "history"))
	if err == nil || strings.Contains(err.Error(), "mkdir") || !strings.HasSuffix(err.Error(), ": what should be a folder is a file") {
		t.Error(err)
	}
	os.Mkdir(filepath.Join(dir, "history"), 0o700)
	if _, err = OpenHistory(filepath.Join(dir, "history")); err == nil || !strings.HasSuffix(err.Error(), " is not an ordinary file") {
		t.Error(err)
	}
}
