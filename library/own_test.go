package library

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/adrg/xdg"

	"railsum/calc/syntax"
)

// house makes a data home of its own and gives the folder of sheets in it and a
// folder for a notebook.
func house(t *testing.T) (home, beside string) {
	t.Helper()
	data := t.TempDir()
	setHome(t, "XDG_DATA_HOME", data)
	home = filepath.Join(data, "railsum", "sheets")
	if err := os.MkdirAll(home, 0o700); err != nil {
		t.Fatal(err)
	}
	return home, t.TempDir()
}

// setHome sets a variable that the data home follows, for one test.
func setHome(t *testing.T, name, value string) {
	t.Helper()
	t.Cleanup(xdg.Reload) // runs after Setenv has put the old value back
	t.Setenv(name, value)
	xdg.Reload()
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

const coil = "railsum 1\n# Coil of a point motor\nask n = 2  # coils\ntell twice = 2 * n  # of them\n"

func TestOwnSheet(t *testing.T) {
	home, beside := house(t)
	write(t, filepath.Join(home, "coil.sums"), coil)
	write(t, filepath.Join(home, "both.sums"), "# in the data home\n")
	write(t, filepath.Join(beside, "both.sums"), "# beside the notebook\n")
	write(t, filepath.Join(beside, "club", "house rules.sums"), "# of the club\n")
	write(t, filepath.Join(beside, "drop.sums"), "# not the shipped one\n")

	lib := At(beside)
	for _, c := range []struct{ name, meaning, dir string }{
		{"coil.sums", "Coil of a point motor", home},
		{"both.sums", "beside the notebook", beside},
		{"club/house rules.sums", "of the club", beside},
		{"drop.sums", "not the shipped one", beside},
	} {
		s, err := lib.Sheet(c.name, true)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !s.Own || s.Name != c.name || s.Meaning != c.meaning || s.Edition != 0 || s.Group != "" || s.Path != filepath.Join(c.dir, filepath.FromSlash(c.name)) {
			t.Errorf("%s: %+v", c.name, s)
		}
		if again, _ := lib.Sheet(c.name, true); again != s {
			t.Errorf("%s was read twice", c.name)
		}
	}
	if s, err := lib.Sheet("drop", false); err != nil || s.Own {
		t.Errorf("the user's drop.sums has taken the shipped sheet's place: %+v, %v", s, err)
	}
	if s, err := At("").Sheet("both.sums", true); err != nil || s.Meaning != "in the data home" {
		t.Errorf("a notebook not saved yet: %+v, %v", s, err)
	}
	if got := strings.Join(lib.OwnNames(), " "); got != "both.sums coil.sums drop.sums" {
		t.Errorf("own names: %s", got)
	}
	write(t, filepath.Join(beside, "gannet.sums"), "railsum 1\nuse \"coil.sums\" for points\nteller = 2\n")
	write(t, filepath.Join(beside, "large.sums"), coil+"tell w = 2\n"+strings.Repeat("# much\n", maxListedSheet/7))
	var listed []string
	for _, s := range lib.OwnSheets() {
		listed = append(listed, s.Name+": "+s.Meaning)
	}
	if got := strings.Join(listed, ", "); got != "coil.sums: Coil of a point motor" {
		t.Errorf("own sheets, notebooks beside them left out: %s", got)
	}
	if got := lib.Changed(); slices.Contains(got, "gannet.sums") {
		t.Errorf("what was only listed is watched: %s", got)
	}
}

// wantDiag checks that an error is a Diag with these words in its message and
// cure.
// A table is read from a file beside the notebook alone, and a file that has
// changed since is noticed, as an own sheet is.
func TestTableFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "runs.csv")
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("run,length [m]\na,1\n")
	lib := At(dir)
	table, faults := lib.TableFile("runs.csv")
	if table == nil || len(faults) > 0 || len(table.Rows) != 1 {
		t.Fatalf("%v, %v", table, faults)
	}
	if changed := lib.Changed(); len(changed) > 0 {
		t.Errorf("%v changed", changed)
	}
	write("run,length [m]\na,1\nb,2\n")
	if changed := lib.Changed(); !slices.Equal(changed, []string{"runs.csv"}) {
		t.Errorf("%v changed", changed)
	}
	for _, name := range []string{"../runs.csv", "/etc/passwd", "runs.sums", "none.csv"} {
		if table, faults := lib.TableFile(name); table != nil || len(faults) != 1 {
			t.Errorf("%s: %v", name, faults)
		}
	}
}

func wantDiag(t *testing.T, err error, message, cure string) {
	t.Helper()
	var d syntax.Diag
	if !errors.As(err, &d) {
		t.Errorf("error %v is no Diag", err)
		return
	}
	if !strings.Contains(d.Message, message) || !strings.Contains(d.Cure, cure) {
		t.Errorf("got %q with the cure %q, want %q and %q", d.Message, d.Cure, message, cure)
	}
}

func TestNotFound(t *testing.T) {
	home, beside := house(t)
	write(t, filepath.Join(home, "coil.sums"), coil)
	write(t, filepath.Join(home, "westerhaven.sums"), coil)
	lib := At(beside)

	_, err := lib.Sheet("coyl.sums", true)
	wantDiag(t, err, "in "+beside+" or "+home, "did you mean coil.sums?")
	_, err = lib.Sheet("drop.sums", true)
	wantDiag(t, err, "no sheet", "without quotes: use drop")
	_, err = lib.Sheet("westerhaven", false)
	wantDiag(t, err, `no sheet "westerhaven"`, `use "westerhaven.sums"`)
	_, err = lib.Sheet("dorp", false)
	wantDiag(t, err, `no sheet "dorp"`, "did you mean drop")
	_, err = lib.Sheet("xyzzy", false)
	wantDiag(t, err, `no sheet "xyzzy"`, "")
	_, err = Shipped().Sheet("coil.sums", true)
	wantDiag(t, err, "no folder", "save the notebook")

	// A folder that does not exist holds nothing; that is no error of its own.
	_, err = At(filepath.Join(beside, "gone")).Sheet("other.sums", true)
	wantDiag(t, err, "no sheet", "")
}

// A sheet that was asked for and is another now is told; one that nobody asked
// for is not.
func TestChanged(t *testing.T) {
	home, beside := house(t)
	at := func(dir, name string) string { return filepath.Join(dir, name) }
	write(t, at(home, "coil.sums"), coil)
	write(t, at(home, "other.sums"), coil)
	lib := At(beside)
	lib.Sheet("coil.sums", true)
	lib.Sheet("missing.sums", true)
	changed := func(want string) {
		t.Helper()
		if got := strings.Join(lib.Changed(), " "); got != want {
			t.Errorf("changed: %q, want %q", got, want)
		}
	}
	changed("")
	write(t, at(home, "other.sums"), "# another\n")
	changed("")
	write(t, at(home, "coil.sums"), coil+"# more\n")
	changed("coil.sums")
	write(t, at(beside, "missing.sums"), coil)
	changed("coil.sums missing.sums")
	lib = At(beside)
	lib.Sheet("coil.sums", true)
	changed("")
	write(t, at(beside, "coil.sums"), coil) // takes the other's place
	changed("coil.sums")
	lib = At(beside)
	lib.Sheet("coil.sums", true)
	os.Remove(at(beside, "coil.sums"))
	changed("coil.sums")
}

func TestNameAttacks(t *testing.T) {
	home, beside := house(t)
	outside := filepath.Join(filepath.Dir(beside), "secret.sums")
	write(t, outside, "# secret\n")
	write(t, filepath.Join(home, "coil.sums"), coil)
	lib := At(beside)
	for _, name := range []string{
		"", ".", "..", ".sums", "../secret.sums", "a/../../secret.sums", "a/../secret.sums", "./coil.sums",
		outside, "/etc/passwd", "//host/x.sums", `..\secret.sums`, `a\b.sums`, `C:\x.sums`, "C:x.sums", "c:/x.sums",
		"coil.sums\x00", "coil\x00.sums", "coil.sums/", "a//b.sums", "/.sums", "a/.sums", ".hidden.sums", "a/.git/b.sums",
		"-rf.sums", " coil.sums", "coil.sums ", "a /b.sums", "a./b.sums", "coil", "coil.txt", "coil.SUMS",
		"con.sums", "NUL.sums", "a/aux.x.sums", "com1.sums", "con .sums", "coil.sums:stream", "x?.sums", "x*.sums", "$HOME.sums", "~/x.sums", "a|b.sums",
		"x\n.sums", "x\x1b[31m.sums", "x\u202e.sums", "x\u200b.sums", "\xff.sums",
		strings.Repeat("a", 200) + ".sums", "a/b/c/d/e.sums",
	} {
		s, err := lib.Sheet(name, true)
		if err == nil {
			t.Errorf("%q was read: %+v", name, s)
			continue
		}
		var d syntax.Diag
		if !errors.As(err, &d) || strings.ContainsAny(err.Error(), "\x00\x1b\n\u202e\u200b") {
			t.Errorf("%q: error %q", name, err)
		}
		if strings.Contains(d.Message, "there is no sheet") {
			t.Errorf("%q was let through to the folders: %s", name, d.Message)
		}
	}
	for _, name := range []string{"coil.sums", "Weiche süd.sums", "2-rail.sums", "v1.2.sums", "club/2026/loop.sums", "conical.sums"} {
		if err := checkName(name); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
}

func TestLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a privilege there")
	}
	home, beside := house(t)
	other := t.TempDir()
	write(t, filepath.Join(other, "secret.sums"), "# secret\n")
	write(t, filepath.Join(beside, "coil.sums"), coil)
	write(t, filepath.Join(home, "out.sums"), "# must not stand in for the link\n")
	for link, target := range map[string]string{
		"out.sums":  filepath.Join(other, "secret.sums"),
		"up.sums":   "../" + filepath.Base(other) + "/secret.sums",
		"in.sums":   "coil.sums",
		"self.sums": "self.sums",
		"away":      other,
	} {
		if err := os.Symlink(target, filepath.Join(beside, link)); err != nil {
			t.Fatal(err)
		}
	}
	lib := At(beside)
	for _, name := range []string{"out.sums", "up.sums", "away/secret.sums"} {
		_, err := lib.Sheet(name, true)
		wantDiag(t, err, "is a link that leaves", "put the file itself")
	}
	if _, err := lib.Sheet("self.sums", true); err == nil {
		t.Error("a link to itself was read")
	}
	if s, err := lib.Sheet("in.sums", true); err != nil || s.Meaning != "Coil of a point motor" {
		t.Errorf("a link that stays in the folder: %+v, %v", s, err)
	}
}

func TestNotAFile(t *testing.T) {
	_, beside := house(t)
	if err := os.Mkdir(filepath.Join(beside, "dir.sums"), 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(beside, "file.sums"), coil)
	write(t, filepath.Join(beside, "big.sums"), strings.Repeat("# much\n", maxSheet/7+1))
	write(t, filepath.Join(beside, "full.sums"), strings.Repeat("\n", maxSheet))
	lib := At(beside)
	_, err := lib.Sheet("dir.sums", true)
	wantDiag(t, err, "is not a file", "")
	_, err = lib.Sheet("big.sums", true)
	wantDiag(t, err, "1 MB", "split it")
	if _, err := lib.Sheet("file.sums/x.sums", true); err == nil {
		t.Error("a file was taken for a folder")
	}
	if _, err := lib.Sheet("full.sums", true); err != nil {
		t.Errorf("a sheet of exactly 1 MB: %v", err)
	}
}

func TestWithoutHome(t *testing.T) {
	for _, data := range []string{"", "relative/path"} {
		setHome(t, "HOME", "")
		setHome(t, "XDG_DATA_HOME", data)
		if home := Home(); home != "" && !filepath.IsAbs(home) {
			t.Errorf("XDG_DATA_HOME=%q: home is %q", data, home)
		}
		if _, err := At("").Sheet("coil.sums", true); err == nil {
			t.Error("found a sheet nowhere")
		}
	}
}
