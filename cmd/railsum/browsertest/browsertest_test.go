package browsertest_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"railsum/cmd/railsum/browsertest"
)

// The driver sees what a page asks for, says and shows.
func TestDriver(t *testing.T) {
	b := browsertest.Start(t)
	file := filepath.Join(t.TempDir(), "page.html")
	page := `<!DOCTYPE html><html lang="en"><title>a page</title><h1>One heading</h1><img src="missing.png" alt="gone">
<style>h1{color:rgb(1,2,3)}@media (prefers-color-scheme:dark){h1{color:rgb(4,5,6)}}</style>`
	if err := os.WriteFile(file, []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	p := b.Open(t, file, 500, 400)
	defer p.Close(t)
	if n := len(p.Events("Network.requestWillBeSent")); n != 2 {
		t.Errorf("the page made %d requests, and it makes two", n)
	}
	if len(p.Events("Log.entryAdded")) == 0 {
		t.Error("the missing picture left no entry in the log")
	}
	heading := false
	for _, n := range p.Tree(t) {
		heading = heading || n.Role.Value == "heading" && n.Name.Value == "One heading"
	}
	if !heading {
		t.Error("the heading is not in the tree")
	}
	colour := func() (c string) { p.Eval(t, `getComputedStyle(document.querySelector("h1")).color`, &c); return }
	if got := colour(); got != "rgb(1, 2, 3)" {
		t.Errorf("the heading is %s in the light", got)
	}
	p.Media(t, "", map[string]string{"prefers-color-scheme": "dark"})
	if got := colour(); got != "rgb(4, 5, 6)" {
		t.Errorf("the heading is %s in the dark", got)
	}
	var wide int
	p.Eval(t, "innerWidth", &wide)
	if wide != 500 {
		t.Errorf("the window is %d wide", wide)
	}
	if pdf := p.PDF(t, 8.27, 11.69); !bytes.HasPrefix(pdf, []byte("%PDF")) || !bytes.Contains(pdf, []byte("/StructTreeRoot")) {
		t.Error("the print is no tagged PDF")
	}
	if png := p.Screenshot(t); !bytes.HasPrefix(png, []byte("\x89PNG")) {
		t.Error("the screenshot is no PNG")
	}
}
