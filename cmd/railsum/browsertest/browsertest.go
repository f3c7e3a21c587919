// Package browsertest drives a real browser for tests: Chromium without a window, told what to do over a pair of pipes
// by the DevTools protocol. It needs nothing but the browser; where there is none the test is skipped, unless CI says
// that it must not be.
package browsertest

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

// Must is the environment variable that turns a missing browser from a reason to skip into a failure.
const Must = "RAILSUM_NEEDS_BROWSER"

// patience is how long a test waits for an answer of the browser before it gives up.
const patience = 60 * time.Second

// A Browser is a running browser.
type Browser struct {
	to      *os.File
	mu      sync.Mutex
	next    int
	answers map[int]chan reply
	events  []Event
	arrived *sync.Cond
	ended   bool
}

// An Event is something that the browser told of itself.
type Event struct {
	Session string
	Method  string
	Params  json.RawMessage
}

type message struct {
	ID      int    `json:"id,omitempty"`
	Session string `json:"sessionId,omitempty"`
	Method  string `json:"method,omitempty"`
	Params  any    `json:"params,omitempty"`
}

type reply struct {
	ID      int             `json:"id"`
	Session string          `json:"sessionId"`
	Method  string          `json:"method"`
	Params  json.RawMessage `json:"params"`
	Result  json.RawMessage `json:"result"`
	Error   *struct {
		Message string `json:"message"`
	} `json:"error"`
}

// Start runs a browser until the test ends.
func Start(t testing.TB) *Browser {
	t.Helper()
	path := find()
	if path == "" {
		if os.Getenv(Must) != "" {
			t.Fatal("there is no browser, and " + Must + " asks for one: install Debian's package chromium")
		}
		t.Skip("no browser on this machine: Debian's package chromium brings one")
	}
	toBrowser, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from, fromBrowser, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	profile, err := os.MkdirTemp("", "railsum-browser")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(path, "--headless=new", "--remote-debugging-pipe", "--no-sandbox", "--disable-gpu",
		"--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
		"--disable-sync", "--disable-dev-shm-usage", "--force-device-scale-factor=1", "--user-data-dir="+profile,
		"about:blank")
	cmd.ExtraFiles = []*os.File{toBrowser, fromBrowser}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	toBrowser.Close()
	fromBrowser.Close()
	b := &Browser{to: to, answers: map[int]chan reply{}}
	b.arrived = sync.NewCond(&b.mu)
	done := make(chan struct{})
	go func() {
		defer close(done)
		b.listen(from)
	}()
	t.Cleanup(func() {
		to.Close()
		if err := cmd.Process.Kill(); err != nil {
			t.Log(err)
		}
		_ = cmd.Wait() // killed: its exit tells nothing
		<-done
		from.Close()
		for range 20 { // its children may still write into it
			if os.RemoveAll(profile) == nil {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
	})
	return b
}

// find is where a browser is, or nothing.
func find() string {
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// listen hands out what the browser says until it is gone.
func (b *Browser) listen(from *os.File) {
	r := bufio.NewReaderSize(from, 1<<20)
	for {
		text, err := r.ReadBytes(0)
		if err != nil {
			b.mu.Lock()
			b.ended = true
			for _, c := range b.answers {
				close(c)
			}
			b.answers = map[int]chan reply{}
			b.arrived.Broadcast()
			b.mu.Unlock()
			return
		}
		var m reply
		if json.Unmarshal(text[:len(text)-1], &m) != nil {
			continue
		}
		b.mu.Lock()
		if c, waited := b.answers[m.ID]; waited && m.ID != 0 {
			delete(b.answers, m.ID)
			c <- m
		} else if m.Method != "" {
			b.events = append(b.events, Event{m.Session, m.Method, m.Params})
			b.arrived.Broadcast()
		}
		b.mu.Unlock()
	}
}

// call asks the browser for something and puts its answer into result, which may be nil.
func (b *Browser) call(t testing.TB, session, method string, params, result any) {
	t.Helper()
	b.mu.Lock()
	b.next++
	id := b.next
	c := make(chan reply, 1)
	if b.ended {
		b.mu.Unlock()
		t.Fatalf("%s: the browser is gone", method)
	}
	b.answers[id] = c
	text, err := json.Marshal(message{ID: id, Session: session, Method: method, Params: params})
	if err == nil {
		_, err = b.to.Write(append(text, 0))
	}
	b.mu.Unlock()
	if err != nil {
		t.Fatalf("%s: %v", method, err)
	}
	select {
	case m, open := <-c:
		if !open {
			t.Fatalf("%s: the browser is gone", method)
		}
		if m.Error != nil {
			t.Fatalf("%s: %s", method, m.Error.Message)
		}
		if result != nil {
			if err := json.Unmarshal(m.Result, result); err != nil {
				t.Fatalf("%s: %v", method, err)
			}
		}
	case <-time.After(patience):
		t.Fatalf("%s: no answer from the browser", method)
	}
}

// await waits for an event of a session from place on and gives it and the place behind it.
func (b *Browser) await(t testing.TB, session, method string, place int) (Event, int) {
	t.Helper()
	late := time.AfterFunc(patience, func() { b.mu.Lock(); b.ended = true; b.arrived.Broadcast(); b.mu.Unlock() })
	defer late.Stop()
	b.mu.Lock()
	defer b.mu.Unlock()
	for {
		for ; place < len(b.events); place++ {
			if e := b.events[place]; e.Session == session && e.Method == method {
				return e, place + 1
			}
		}
		if b.ended {
			t.Fatalf("the browser told of no %s", method)
		}
		b.arrived.Wait()
	}
}

// A Page is a tab of the browser.
type Page struct {
	b       *Browser
	session string
	begun   int // the first event that belongs to it
}

// Open loads a file into a new tab of a width and height in CSS pixels and waits until its fonts are there.
func (b *Browser) Open(t testing.TB, file string, wide, high int) *Page {
	t.Helper()
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	b.mu.Lock()
	begun := len(b.events)
	b.mu.Unlock()
	var target struct{ TargetID string }
	b.call(t, "", "Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.call(t, "", "Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	p := &Page{b, attached.SessionID, begun}
	for _, domain := range []string{"Page", "Network", "Log", "Runtime", "Accessibility"} {
		p.call(t, domain+".enable", nil, nil)
	}
	p.Size(t, wide, high)
	p.call(t, "Page.navigate", map[string]any{"url": "file://" + path}, nil)
	b.await(t, p.session, "Page.loadEventFired", begun)
	p.Eval(t, `document.fonts.ready.then(() => true)`, nil)
	return p
}

// Close closes the tab.
func (p *Page) Close(t testing.TB) {
	t.Helper()
	p.call(t, "Page.close", nil, nil)
}

func (p *Page) call(t testing.TB, method string, params, result any) {
	t.Helper()
	if params == nil {
		params = map[string]any{}
	}
	p.b.call(t, p.session, method, params, result)
}

// Size sets the window's width and height.
func (p *Page) Size(t testing.TB, wide, high int) {
	t.Helper()
	p.call(t, "Emulation.setDeviceMetricsOverride",
		map[string]any{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": false}, nil)
}

// Media sets features of the reader's screen, such as prefers-color-scheme to dark or forced-colors to active, and
// whether the page is shown as on "print".
func (p *Page) Media(t testing.TB, kind string, features map[string]string) {
	t.Helper()
	list := []map[string]string{}
	for name, value := range features {
		list = append(list, map[string]string{"name": name, "value": value})
	}
	p.call(t, "Emulation.setEmulatedMedia", map[string]any{"media": kind, "features": list}, nil)
}

// Eval runs a piece of script from outside of the page, waits for it if it is a promise, and puts its value into
// result.
func (p *Page) Eval(t testing.TB, script string, result any) {
	t.Helper()
	var got struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	p.call(t, "Runtime.evaluate",
		map[string]any{"expression": script, "awaitPromise": true, "returnByValue": true}, &got)
	if e := got.ExceptionDetails; e != nil {
		t.Fatalf("script: %s %s", e.Text, e.Exception.Description)
	}
	if result != nil {
		if err := json.Unmarshal(got.Result.Value, result); err != nil {
			t.Fatalf("script: %v", err)
		}
	}
}

// Events are what the browser told of this page under a name, such as Network.requestWillBeSent or Log.entryAdded.
func (p *Page) Events(method string) []Event {
	p.b.mu.Lock()
	defer p.b.mu.Unlock()
	var found []Event
	for _, e := range p.b.events[p.begun:] {
		if e.Session == p.session && e.Method == method {
			found = append(found, e)
		}
	}
	return found
}

// A Node is one thing in the page as a screen reader is told of it.
type Node struct {
	Ignored bool
	Role    struct{ Value string }
	Name    struct{ Value string }
	Value   struct{ Value any }
}

// Tree is the page as a screen reader is told of it, in order.
func (p *Page) Tree(t testing.TB) []Node {
	t.Helper()
	var got struct{ Nodes []Node }
	p.call(t, "Accessibility.getFullAXTree", nil, &got)
	return got.Nodes
}

// PDF prints the page on paper of a size in inches, tagged for screen readers, and gives the file.
func (p *Page) PDF(t testing.TB, wide, high float64) []byte {
	t.Helper()
	var got struct{ Data string }
	p.call(t, "Page.printToPDF", map[string]any{"paperWidth": wide, "paperHeight": high, "printBackground": true,
		"generateTaggedPDF": true, "preferCSSPageSize": true}, &got)
	return decode(t, got.Data)
}

// Screenshot is the whole page as a PNG.
func (p *Page) Screenshot(t testing.TB) []byte {
	t.Helper()
	var got struct{ Data string }
	p.call(t, "Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": true}, &got)
	return decode(t, got.Data)
}

func decode(t testing.TB, data string) []byte {
	t.Helper()
	b, err := base64.StdEncoding.DecodeString(data)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// String names an event for a failing test.
func (e Event) String() string { return fmt.Sprintf("%s %s", e.Method, e.Params) }
