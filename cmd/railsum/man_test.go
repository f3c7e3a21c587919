package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

var updateMan = flag.Bool("update-man", false, "write the manual pages")

// manDate stands on the manual pages, so that they are the same whenever they are
// written.
var manDate = time.Date(2026, time.November, 1, 0, 0, 0, 0, time.UTC)

// manual makes the manual pages from the help of the program, by name.
func manual(t *testing.T) map[string][]byte {
	t.Helper()
	a := &app{world: world{stdout: io.Discard, stderr: io.Discard, getenv: func(string) string { return "" }, dir: "."}}
	a.out = newOutput(io.Discard)
	root := a.root(make(chan struct{}))
	root.DisableAutoGenTag = true
	pages := map[string][]byte{}
	var each func(c *cobra.Command)
	each = func(c *cobra.Command) {
		c.InitDefaultHelpFlag()
		var b bytes.Buffer
		head := &doc.GenManHeader{Section: "1", Date: &manDate, Source: "railsum " + edition, Manual: "railsum"}
		if err := doc.GenMan(c, head, &b); err != nil {
			t.Fatal(err)
		}
		if !c.HasParent() {
			section(&b, "EXIT STATUS", exitCodes)
			section(&b, "ENVIRONMENT", environment)
		}
		pages[strings.ReplaceAll(c.CommandPath(), " ", "-")+".1"] = b.Bytes()
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() && sub.Name() != "help" && (c.Name() != "completion") {
				each(sub)
			}
		}
	}
	each(root)
	return pages
}

func section(w io.Writer, title string, entries []entry) {
	fmt.Fprintf(w, "\n.SH %s\n", title)
	for _, e := range entries {
		fmt.Fprintf(w, ".TP\n\\fB%s\\fP\n%s\n", e.name, e.does)
	}
}

// TestManual holds the manual pages in man to the help of the program;
// go test ./cmd/railsum -run Manual -update-man writes them.
func TestManual(t *testing.T) {
	pages := manual(t)
	there, err := filepath.Glob("man/*.1")
	if err != nil {
		t.Fatal(err)
	}
	if *updateMan {
		for _, name := range there {
			os.Remove(name)
		}
		for name, text := range pages {
			if err := os.WriteFile(filepath.Join("man", name), text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return
	}
	if len(there) != len(pages) {
		t.Errorf("%d pages, want %d", len(there), len(pages))
	}
	for name, want := range pages {
		got, err := os.ReadFile(filepath.Join("man", name))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the help says now: go test ./cmd/railsum -run Manual -update-man", name)
		}
	}
}
