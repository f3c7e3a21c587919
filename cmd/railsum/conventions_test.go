//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"

	"railsum/cmd/railsum/desk/ptytest"
)

// place is a folder in which the program is called as from a shell.
type place struct {
	*testing.T
	dir string
}

const (
	bayText   = "railsum 1\ntrack = 15 V +- 5 %\nuse drop for north with length = 9.5 m, load = 2.6 A\n3 mm2\nvary north.length from 2 m to 20 m by 2 m show north.lost\n"
	wrongText = "railsum 1\n2 V + 3 m\n"
)

func newPlace(t *testing.T) *place {
	p := &place{t, t.TempDir()}
	p.write("bay.sums", bayText)
	p.write("wrong.sums", wrongText)
	return p
}

func (p *place) write(name, text string) {
	p.Helper()
	if err := os.WriteFile(filepath.Join(p.dir, name), []byte(text), 0o644); err != nil {
		p.Fatal(err)
	}
}

func (p *place) read(name string) string {
	p.Helper()
	text, err := os.ReadFile(filepath.Join(p.dir, name))
	if err != nil {
		p.Fatal(err)
	}
	return string(text)
}

// cmd is a call, its environment nothing but what is said.
func (p *place) cmd(env []string, args ...string) *exec.Cmd {
	p.Helper()
	exe, err := os.Executable()
	if err != nil {
		p.Fatal(err)
	}
	c := exec.Command(exe, args...)
	c.Args[0] = "railsum"
	c.Dir = p.dir
	c.Env = append([]string{"PATH=" + os.Getenv("PATH"), "LC_ALL=C.UTF-8", "TERM=xterm-256color", "HOME=" + p.dir + "/home",
		"XDG_STATE_HOME=" + p.dir + "/state", "XDG_DATA_HOME=" + p.dir + "/data", "TMPDIR=" + p.dir}, env...)
	return c
}

type ran struct {
	code     int
	out, err string
}

func (p *place) run(stdin string, env []string, args ...string) ran {
	p.Helper()
	c := p.cmd(env, args...)
	c.Stdin = strings.NewReader(stdin)
	var out, errs bytes.Buffer
	c.Stdout, c.Stderr = &out, &errs
	c.Run()
	return ran{c.ProcessState.ExitCode(), out.String(), errs.String()}
}

func (p *place) call(args ...string) ran { p.Helper(); return p.run("", nil, args...) }

// at is a call at a terminal of 80 by 24.
func (p *place) at(env []string, args ...string) *ptytest.Terminal {
	p.Helper()
	return ptytest.Start(p.T, p.cmd(env, args...), 80, 24)
}

func (p *place) want(what string, ok bool, got any) {
	p.Helper()
	if !ok {
		p.Errorf("%s: %+v", what, got)
	}
}

var calls = [][]string{{"answer", "25 m at H0 as mm"}, {"read", "bay.sums"}, {"read", "--plain", "bay.sums"}, {"read", "--json", "bay.sums"},
	{"read", "--csv", "bay.sums"}, {"read", "--brief", "bay.sums"}, {"compare", "bay.sums", "wrong.sums"}, {"about", "drop"}, {"sheets"}, {"tidy", "bay.sums"},
	{"parts", "bay.sums"}, {"lessons"}, {"version"}, {"--help"}, {"handout", "bay.sums"}, {"quiz", "drop", "--seed", "1"}, {"desk", "bay.sums"}}

// TestConventions holds the program to what a user of a command line expects. The
// sources are guides and standards that are open to everybody: the command line
// interface guidelines (clig.dev), POSIX XBD 12.2, the GNU standards for --help and
// --version, no-color.org, the XDG base directory specification and published
// guidance on command lines for screen readers.
func TestConventions(t *testing.T) {
	for i, c := range []struct {
		says string
		hold func(p *place)
	}{
		{"answers go to standard output, all else to standard error", func(p *place) {
			r := p.call("answer", "1/0")
			p.want("an error", r.out == "" && r.err != "", r)
			r = p.call("read", "wrong.sums")
			p.want("a notebook with an error", !strings.Contains(r.out, "^ ") && strings.Contains(r.err, "^ a voltage (V) and a length (m) cannot be added"), r)
			r = p.call("answer", "1 V")
			p.want("an answer", r.out == "1 V\n" && r.err == "", r)
		}},
		{"the exit code is 0, or non-zero of a documented class", func(p *place) {
			p.write("newer.sums", "railsum 9\n")
			for code, args := range map[int][]string{0: {"answer", "1 V"}, 1: {"answer", "1/0"}, 2: {"read"}, 3: {"read", "none.sums"}, 4: {"read", "newer.sums"}} {
				r := p.call(args...)
				p.want(strings.Join(args, " "), r.code == code, r)
			}
			help := p.call("--help").out
			for _, code := range []string{"0 ", "1 ", "2 ", "3 ", "4 "} {
				p.want("--help tells code "+code, strings.Contains(help, "\n  "+code), help)
			}
		}},
		{"help and version go to standard output, exit 0 and touch no file; an unknown flag is 2 and meant another", func(p *place) {
			for _, args := range [][]string{{"-h"}, {"--help"}, {"--version"}, {"help"}, {"read", "--help"}, {"desk", "--help"}} {
				r := p.call(args...)
				p.want(strings.Join(args, " "), r.code == 0 && r.out != "" && r.err == "", r)
			}
			for _, made := range []string{"state", "data", "home"} {
				if _, err := os.Stat(filepath.Join(p.dir, made)); err == nil {
					p.Errorf("%s was made", made)
				}
			}
			help := p.call("read", "--help").out
			p.want("examples first", strings.Index(help, "examples") < strings.Index(help, "usage"), help)
			r := p.call("read", "--jsn", "bay.sums")
			p.want("an unknown flag", r.code == 2 && strings.Contains(r.err, "id you mean --json?"), r)
		}},
		{"-- ends options, - is a pipe, flags stand anywhere, and no command is abbreviated", func(p *place) {
			p.write("-odd.sums", "1 V\n")
			r := p.call("read", "--plain", "--", "-odd.sums")
			p.want("--", r.code == 0 && strings.Contains(r.out, "-odd.sums"), r)
			r = p.run(bayText, nil, "read", "-", "--plain")
			p.want("-", r.code == 0 && strings.Contains(r.out, "standard input"), r)
			p.want("order", p.call("read", "bay.sums", "--plain").out == p.call("--no-color", "read", "--plain", "bay.sums").out, "other")
			r = p.call("rea", "bay.sums")
			p.want("abbreviated", r.code == 2 && strings.Contains(r.err, "railsum read"), r)
		}},
		{"without a terminal there is no prompt and no banner", func(p *place) {
			r := p.run("track = 15 V\ntrack * 2\n", nil, "desk")
			p.want("the desk in a pipe", r.out == "    30 V\n" && r.err == "" && r.code == 0, r)
			r = p.run("1 V + 1 V\n", nil)
			p.want("no command in a pipe", strings.Contains(r.out, "2 V") && !strings.Contains(r.out, "Try"), r)
		}},
		{"--no-input asks nothing, and nothing is written over without being asked for", func(p *place) {
			term := p.at(nil, "desk", "--no-input", "bay.sums")
			term.Type("track = 16 V\r")
			term.Expect("15 V")
			p.write("bay.sums", bayText+"# theirs\n")
			term.Type("save\r")
			term.Expect("has been changed since it was read")
			term.Type("\x04")
			p.want("exit code", term.Exit() == 3, term.Screen())
			p.want("no prompt, no question", !strings.Contains(term.Screen(), "? ") && !strings.Contains(term.Screen(), "6. "), term.Screen())
			p.want("the file", p.read("bay.sums") == bayText+"# theirs\n", p.read("bay.sums"))
			r := p.call("--no-input", "quiz", "drop", "--seed", "1")
			p.want("a quiz", strings.Contains(r.out, "1"), r)
			p.write("page.html", "mine")
			r = p.call("handout", "bay.sums", "-o", "page.html")
			p.want("a page that is there", r.code != 0 && p.read("page.html") == "mine", r)
		}},
		{"colour is decided for each stream: NO_COLOR, TERM=dumb and no terminal have none, --color wins", func(p *place) {
			for _, args := range calls {
				r := p.call(args...)
				p.want(strings.Join(args, " "), !strings.Contains(r.out+r.err, "\x1b"), r.out+r.err)
			}
			r := p.run("", []string{"NO_COLOR=1"}, "read", "--color=always", "wrong.sums")
			p.want("--color=always", strings.Contains(r.out, "\x1b[") && strings.Contains(r.err, "\x1b["), r)
			for _, env := range []string{"NO_COLOR=1", "TERM=dumb", "CLICOLOR=0"} {
				term := p.at([]string{env}, "read", "wrong.sums")
				term.Exit()
				p.want(env, !strings.Contains(term.Raw(), "\x1b["), term.Raw())
			}
			term := p.at([]string{"NO_COLOR="}, "read", "wrong.sums")
			term.Exit()
			p.want("an empty NO_COLOR", strings.Contains(term.Raw(), "\x1b["), term.Raw())
		}},
		{"no progress where there is no terminal, and on a terminal on standard error alone", func(p *place) {
			p.write("long.sums", "x = 1\ny = x * x\nvary x from 0 to 1 over 3000000 steps show y\n")
			r := p.call("read", "long.sums")
			p.want("in a pipe", r.err == "" && !strings.Contains(r.out, "\r"), r.err)
		}},
		{"--json is one document with a number for its form, a number apart from its unit, errors as objects; --plain a record a row", func(p *place) {
			for _, args := range [][]string{{"read", "--json", "bay.sums", "wrong.sums", "none.sums"}, {"answer", "--json", "1/0"}, {"compare", "--json", "bay.sums", "wrong.sums"}} {
				var doc struct {
					Schema int
					Files  []struct {
						Lines []struct {
							Value  *struct{ Number, Unit any }
							Errors []struct{ Message string }
						}
						Errors []struct{ Message string }
					}
				}
				d := json.NewDecoder(strings.NewReader(p.call(args...).out))
				err := d.Decode(&doc)
				_, more := d.Token()
				p.want(strings.Join(args, " "), err == nil && more == io.EOF && doc.Schema == 1, err)
				if len(doc.Files) == 3 {
					v, e := doc.Files[0].Lines[3].Value, doc.Files[1].Lines[1].Errors
					p.want("number and unit", v != nil && v.Number == 3.0 && v.Unit == "mm2", v)
					p.want("an error", len(e) == 1 && e[0].Message != "" && len(doc.Files[2].Errors) == 1, e)
				}
			}
			for _, row := range strings.Split(strings.TrimSpace(p.call("read", "--plain", "bay.sums").out), "\n") {
				p.want("eight fields", strings.Count(row, "\t") == 7, row)
			}
		}},
		{"what programs read only ever gains: the keys of --json stand in a file that a test holds", func(p *place) {
			var was any
			text, err := os.ReadFile("../../testdata/schema.json")
			p.want("schema", err == nil && json.Unmarshal(text, &was) == nil, err)
			r := p.call("about", "json")
			for _, key := range []string{"schema", "files", "comparison", "verdict"} {
				p.want(key, strings.Contains(r.out, key), r.out)
			}
		}},
		{"files of the user's lie where XDG says, for him alone; a relative variable is none, and no HOME is no crash", func(p *place) {
			term := p.at(nil, "desk")
			term.Wait("2. ")
			term.Type("1 + 1\r")
			term.Wait("3. ")
			term.Type("quit\r")
			term.Exit()
			for _, name := range []string{"state/railsum", "state/railsum/history", "state/railsum/journals"} {
				info, err := os.Stat(filepath.Join(p.dir, name))
				p.want(name, err == nil && info.Mode().Perm()&0o077 == 0, info)
			}
			for _, env := range [][]string{{"XDG_STATE_HOME=relative", "XDG_DATA_HOME=relative", "HOME="}, {"XDG_STATE_HOME=", "XDG_DATA_HOME=", "HOME="}} {
				r := p.run("1 + 1\n", env, "desk")
				p.want("without a home", strings.Contains(r.out, "2"), r)
			}
			_, err := os.Stat(filepath.Join(p.dir, "relative"))
			p.want("relative", os.IsNotExist(err), err)
		}},
		{"a flag goes before the environment", func(p *place) {
			r := p.run("", []string{"RAILSUM_SPOKEN=1", "NO_COLOR=1", "CLICOLOR_FORCE=1"}, "read", "--color=never", "wrong.sums")
			p.want("--color=never", !strings.Contains(r.out+r.err, "\x1b"), r)
			p.want("--spoken is RAILSUM_SPOKEN", p.call("--spoken", "read", "bay.sums").out == p.run("", []string{"RAILSUM_SPOKEN=1"}, "read", "bay.sums").out, "other")
		}},
		{"there are manual pages, and completion for four shells that writes nothing", func(p *place) {
			page, err := os.ReadFile("man/railsum.1")
			p.want("railsum(1)", err == nil && bytes.HasPrefix(page, []byte(".nh\n.TH \"RAILSUM\" \"1\"")) && bytes.Contains(page, []byte(".SH EXIT STATUS")), err)
			for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
				r := p.call("completion", shell)
				p.want(shell, r.code == 0 && strings.Contains(r.out, "__complete"), r)
			}
			r := p.call("__complete", "about", "dro")
			p.want("a name", strings.Contains(r.out, "\ndrop\n"), r.code)
			_, err = os.Stat(filepath.Join(p.dir, "state"))
			p.want("nothing written", os.IsNotExist(err), err)
			p.bash()
		}},
		{"VISUAL goes before EDITOR, is taken apart as a shell does, and what it leaves is one edit", func(p *place) {
			p.write("ed", "#!/bin/sh\nsed -i 's/15 V/17 V/' \"$2\"\n")
			os.Chmod(filepath.Join(p.dir, "ed"), 0o755)
			term := p.at([]string{"VISUAL='" + p.dir + "/ed' -w", "EDITOR=false"}, "desk", "bay.sums")
			term.Wait("6. ")
			term.Type("edit\r")
			term.Expect("2. track = 17 V")
			term.Wait("6. ")
			term.Type("undo\r")
			term.Expect("2. track = 15 V")
			term.Wait("6. ")
			left, _ := filepath.Glob(filepath.Join(p.dir, "railsum-*"))
			p.want("left behind", len(left) == 0, left)
		}},
		{"a pager shows what is longer than the window, PAGER says which; none in a pipe", func(p *place) {
			p.write("pager", "#!/bin/sh\necho paged $(wc -l)\n")
			os.Chmod(filepath.Join(p.dir, "pager"), 0o755)
			pager := "PAGER='" + p.dir + "/pager'"
			term := p.at([]string{pager}, "about", "drop", "whole")
			term.Expect("paged ")
			term.Exit()
			term = p.at([]string{pager}, "about", "mph") // fits
			term.Exit()
			p.want("a short page", !strings.Contains(term.Screen(), "paged"), term.Screen())
			term = p.at([]string{pager}, "--no-pager", "about", "drop", "whole")
			term.Exit()
			p.want("--no-pager", !strings.Contains(term.Screen(), "paged"), term.Screen())
			term = p.at([]string{"PAGER=/nowhere/pager"}, "about", "drop", "whole")
			p.want("a pager that is not there", term.Exit() == 0 && strings.Contains(term.Screen(), "drop"), term.Screen())
			r := p.run("", []string{pager}, "about", "drop", "whole")
			p.want("in a pipe", !strings.Contains(r.out, "paged"), r.out)
		}},
		{"Ctrl-C clears a line at the prompt; Ctrl-D, SIGTERM and SIGHUP leave with the terminal in order and every line kept", func(p *place) {
			term := p.at(nil, "desk", "new.sums")
			term.Wait("2. ")
			term.Type("half a li")
			term.Wait("2. half a li")
			term.Type("\x03")
			term.Wait("2. ")
			term.Type("x = 1\r")
			term.Wait("3. ")
			for _, sig := range []os.Signal{syscall.SIGTERM, syscall.SIGHUP} {
				term.Signal(sig)
				n, _ := sig.(syscall.Signal)
				p.want(fmt.Sprint(sig), term.Exit() == 128+int(n), term.Screen())
				term = p.at(nil, "desk", "new.sums")
				term.Wait("Take them up again? yes, later or drop: ")
				term.Type("yes\r")
				term.Wait("3. ")
			}
			term.Type("\x04")
			term.Wait("save, later or drop: ")
			term.Type("save\r")
			p.want("Ctrl-D", term.Exit() == 0 && p.read("new.sums") == "railsum 1\nx = 1\n", term.Screen())
		}},
		{"a reader that leaves ends the program without a word", func(p *place) {
			p.write("many.sums", strings.Repeat("1 V\n", 9000))
			c := p.cmd(nil, "read", "many.sums")
			out, err := c.StdoutPipe()
			if err != nil {
				p.Fatal(err)
			}
			var errs bytes.Buffer
			c.Stderr = &errs
			if err := c.Start(); err != nil {
				p.Fatal(err)
			}
			io.ReadFull(out, make([]byte, 10))
			out.Close()
			c.Wait()
			p.want("standard error", errs.Len() == 0, errs.String())
		}},
		{"a save is whole or not at all, and says what was written", func(p *place) {
			r := p.run("track = 16 V\nsave\n", nil, "desk", "bay.sums")
			p.want("what was written", strings.Contains(r.err, "Saved as bay.sums.") && strings.Contains(p.read("bay.sums"), "track = 16 V"), r)
			before := p.read("bay.sums")
			os.Chmod(filepath.Join(p.dir, "bay.sums"), 0o444)
			r = p.run("track = 17 V\nsave\n", nil, "desk", "bay.sums")
			p.want("a save that fails", r.code == 3 && p.read("bay.sums") == before && strings.Contains(r.err, "marked as not to be written"), r)
		}},
		{"the text says its edition; a newer one is left alone; byte order mark and CRLF are read; saving what was not edited changes no byte", func(p *place) {
			odd := "\ufeffrailsum 1\r\nx   =  3 V\r\n\r\nx"
			p.write("odd.sums", odd)
			r := p.run("save\n", nil, "desk", "odd.sums")
			p.want("not edited", r.code == 0 && p.read("odd.sums") == odd, p.read("odd.sums"))
			p.write("newer.sums", "railsum 2\nx\n")
			r = p.run("x = 1\nsave\n", nil, "desk", "newer.sums")
			p.want("newer", r.code == 4 && p.read("newer.sums") == "railsum 2\nx\n", r)
			p.run("x = 1\nsave new\n", nil, "desk")
			p.want("new", p.read("new.sums") == "railsum 1\nx = 1\n", p.read("new.sums"))
		}},
		{"for a screen reader a chart is a table of values, states are words, and 40 columns are enough", func(p *place) {
			for _, env := range [][]string{{"RAILSUM_SPOKEN=1"}, {"TERM=dumb"}} {
				r := p.run("", env, "read", "bay.sums")
				p.want("no drawing", !regexp.MustCompile(`[\x{2500}-\x{28ff}]|-{8}`).MatchString(r.out), r.out)
				p.want("words", strings.Contains(r.out, "caution") || strings.Contains(r.out, "clear"), r.out)
			}
			for _, row := range strings.Split(p.run("", []string{"COLUMNS=40"}, "read", "--brief", "bay.sums").out, "\n") {
				p.want("40 columns", len([]rune(row)) <= 40, row)
			}
		}},
		{"nothing goes over a network: no package for it is imported, and a page names no address", func(p *place) {
			r := p.call("handout", "bay.sums")
			fetched := regexp.MustCompile(`(?i)(src|href|action)\s*=\s*["']?\s*https?:|url\(\s*["']?https?:|@import`).FindString(r.out)
			p.want("a page", r.code <= 1 && strings.Contains(r.out, "<html") && fetched == "", fetched)
			if _, err := exec.LookPath("go"); err != nil {
				return
			}
			deps, err := exec.Command("go", "list", "-deps", ".").Output()
			for _, dep := range strings.Fields(string(deps)) {
				p.want("imports", err == nil && dep != "net/http", dep)
			}
		}},
		{"the version has its number, the commit and the Go it was built with", func(p *place) {
			r := p.call("--version")
			p.want("--version", regexp.MustCompile(`^railsum \d+\.\d+\.\d+( \([0-9a-f]{12}(, changed)?\))?, go1\.\S+\n$`).MatchString(r.out) && strings.Contains(r.out, runtime.Version()), r)
			p.want("the same", p.call("version").out == r.out, r)
			for want, settings := range map[string][]debug.BuildSetting{
				"": nil, " (0123456789ab)": {{Key: "vcs.revision", Value: "0123456789abcdef0123"}, {Key: "vcs.modified", Value: "false"}},
				" (0123456789ab, changed)": {{Key: "vcs.revision", Value: "0123456789abcdef0123"}, {Key: "vcs.modified", Value: "true"}},
			} {
				got := commitOf(&debug.BuildInfo{Settings: settings})
				p.want("commit", got == want, got)
			}
		}},
		{"output is the same in every locale, and in ASCII in one that is not UTF-8", func(p *place) {
			for _, args := range calls {
				zone := "TZ=Asia/Tokyo" // of both, for a page has the day on it
				base := p.run("", []string{zone}, args...)
				for _, locale := range []string{"de_DE.UTF-8", "tr_TR.UTF-8", "ja_JP.UTF-8"} {
					r := p.run("", []string{"LC_ALL=" + locale, zone}, args...)
					p.want(strings.Join(args, " ")+" in "+locale, r == base, "other")
				}
				if args[0] == "handout" {
					continue // a page says itself how it is encoded
				}
				for _, locale := range []string{"C", "de_DE.ISO-8859-1"} {
					r := p.run("", []string{"LC_ALL=" + locale}, args...)
					for _, text := range []string{r.out, r.err} {
						if i := strings.IndexFunc(text, func(r rune) bool { return r > 126 }); i >= 0 && args[len(args)-2] != "--json" {
							p.Errorf("%s in %s: %q", strings.Join(args, " "), locale, text[max(0, i-30):min(len(text), i+30)])
						}
					}
				}
			}
			r := p.run("", []string{"LC_ALL=C"}, "answer", "1/0", "2 V + 3 m", "if 1 > 0 then 2", "sqrt")
			p.want("messages", strings.IndexFunc(r.err, func(r rune) bool { return r > 126 }) < 0, r.err)
		}},
		{"a fault of the program is a row that says where to report it, and RAILSUM_DEBUG=1 shows where it was", func(p *place) {
			for _, d := range []string{"", "1"} {
				var errs bytes.Buffer
				a := &app{world: world{args: []string{"version"}, stdout: io.Discard, stderr: &errs, getenv: func(name string) string {
					if name == "RAILSUM_DEBUG" {
						return d
					}
					return ""
				}}}
				a.out = newOutput(faulty{})
				a.out.b.WriteString(strings.Repeat("x", 1<<16-1))
				code := a.guarded(p.Context(), make(chan struct{}))
				p.want("a fault", code == codeWrong && strings.HasPrefix(errs.String(), "railsum: something unexpected happened") &&
					(d == "") == strings.Contains(errs.String(), "please report it") && (d != "") == strings.Contains(errs.String(), "goroutine"), errs.String())
			}
		}},
	} {
		t.Run(fmt.Sprintf("%02d", i+1), func(t *testing.T) {
			t.Log(c.says)
			c.hold(newPlace(t))
		})
	}
}

// faulty is a writer with a fault of its own.
type faulty struct{}

func (faulty) Write([]byte) (int, error) { panic("a fault") }

// bash completes a few words with bash alone, without any package beside it.
func (p *place) bash() {
	bash, err := exec.LookPath("bash")
	if err != nil {
		return
	}
	exe, err := os.Executable()
	if err != nil {
		p.Fatal(err)
	}
	bin := filepath.Join(p.dir, "bin")
	if err := os.MkdirAll(bin, 0o755); err != nil {
		p.Fatal(err)
	}
	p.write("bin/railsum", "#!/bin/bash\nexec -a railsum '"+exe+"' \"$@\"\n")
	os.Chmod(filepath.Join(bin, "railsum"), 0o755)
	for line, want := range map[string]string{
		"railsum re": "read", "railsum about dro": "drop", "railsum read --js": "--json", "railsum --color=al": "always", "railsum completion ": "bash fish powershell zsh",
	} {
		c := p.cmd([]string{"PATH=" + bin + ":" + os.Getenv("PATH")}, "")
		script := `source <(railsum completion bash); COMP_LINE="$1"; COMP_POINT=${#1}; _railsum; echo "${COMPREPLY[*]}"`
		c.Path, c.Args = bash, []string{"bash", "--norc", "-c", script, "bash", line}
		out, err := c.CombinedOutput()
		p.want(line, err == nil && strings.TrimSpace(string(out)) == want, string(out))
	}
}
