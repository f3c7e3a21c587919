package main

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// What the README shows is what the program does: its quick answers, and its
// notebooks, which are in the form that tidy writes.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	quick := regexp.MustCompile(`(?m)^railsum answer '([^']+)'  +(.+)$`).FindAllStringSubmatch(string(text), -1)
	if len(quick) < 6 {
		t.Fatalf("%d quick answers", len(quick))
	}
	for _, m := range quick {
		var out strings.Builder
		code, complaint := call(t.Context(), strings.NewReader(""), &out, "answer", m[1])
		if got := strings.TrimSpace(out.String()); got != m[2] && !(code == 1 && complaint != "" && strings.HasPrefix(m[2], "an error")) {
			t.Errorf("%s: got %q %q, want %q", m[1], got, complaint, m[2])
		}
	}
	for _, m := range regexp.MustCompile("(?s)```\nrailsum 1\n.*?```").FindAllString(string(text), -1) {
		notebook := strings.TrimSuffix(strings.TrimPrefix(m, "```\n"), "```")
		var tidy, read strings.Builder
		if code, complaint := call(t.Context(), strings.NewReader(notebook), &tidy, "tidy", "-"); tidy.String() != notebook || code != 0 {
			t.Errorf("not tidy, %d %s:\n%s\nis\n%s", code, complaint, notebook, tidy.String())
		}
		if code, complaint := call(t.Context(), strings.NewReader(notebook), &read, "read", "-"); code != 0 || complaint != "" {
			t.Errorf("%d %s:\n%s", code, complaint, notebook)
		}
	}
}
