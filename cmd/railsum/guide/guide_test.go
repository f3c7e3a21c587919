package guide

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
	"railsum/library"
	"railsum/units"
)

func TestAbout(t *testing.T) {
	for _, c := range []struct {
		name string
		want []string
	}{
		// A sheet: what it asks, gives, its rules, hazards and sources.
		{"drop whole", []string{"drop, edition ", "\nasks\n", "(distance) = 8 m", "\ntells\n", "lost", "\nchecks\n", "must ", "\nhazards\n", "\nsources\n", "\nto use it: use drop for north with "}},
		{"preferred", []string{"preferred(", "\nsources\n", "IEC 60063"}},
		{"sqrt", []string{"sqrt("}},
		// 1 mile = 1609.344 m (international yard, 1959), 1 h = 3600 s.
		{"mph", []string{"a unit of speed", "1 mph = 0.44704 m/s"}},
		// A pound is 0.45359237 kg (international, 1959).
		{"lb", []string{"0.45359237 kg"}},
		{"Ω", []string{"ohm: "}},
		// 0 degC is 273.15 K and 0 degF is 459.67 of 9/5 K (SI Brochure 2.3.1; NIST SP 811).
		{"degC", []string{"273.15 K", "difference"}},
		{"ohm/km", []string{"1 ohm/km = 0.001 ohm/m"}},
		{"conductors", []string{"conductors: ", "\ncolumns\n", "IEC 60228", "\nsources\n"}},
		{"scales", []string{"H0", " 87", "NEM 010"}},
	} {
		var out bytes.Buffer
		if err := About(&out, library.Shipped(), c.name); err != nil {
			t.Errorf("about %s: %v", c.name, err)
			continue
		}
		for _, want := range c.want {
			if !strings.Contains(out.String(), want) {
				t.Errorf("about %s lacks %q:\n%s", c.name, want, out.String())
			}
		}
	}
}

// Everything in the library has a page, and no page is empty.
func TestEverythingHasAPage(t *testing.T) {
	lib := library.Shipped()
	names := append(append([]string{}, lib.SheetNames()...), lib.TableNames()...)
	for _, f := range function.All() {
		names = append(names, f.Name)
	}
	for _, u := range units.All() {
		names = append(names, u.Unit.String())
	}
	for _, n := range names {
		var out bytes.Buffer
		if err := About(&out, lib, n); err != nil || strings.Count(out.String(), "\n") < 3 {
			t.Errorf("about %s: %v\n%s", n, err, out.String())
		}
	}
}

func TestAboutUnknown(t *testing.T) {
	for _, c := range []struct{ name, cure string }{
		{"drpo", "did you mean drop"},
		{"Drop", "did you mean drop?"},
		{"headrom", "did you mean headroom?"},
		{"prefered", "did you mean preferred"},
		{"mhp", "did you mean mph"},
		{"booster", "headroom"}, // speaks of it
		{"zzzzzz", "`sheets` lists the sheets"},
	} {
		var out bytes.Buffer
		err := About(&out, library.Shipped(), c.name)
		var d syntax.Diag
		if !errors.As(err, &d) || !strings.Contains(d.Cure, c.cure) || out.Len() > 0 {
			t.Errorf("about %s: %q, cure %q, want %q; it wrote %q", c.name, d.Message, d.Cure, c.cure, out.String())
		}
	}
}

func TestSheets(t *testing.T) {
	var out bytes.Buffer
	if err := Sheets(&out, library.Shipped(), ""); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.String(), heart+"\n") {
		t.Errorf("the heart of the job does not come first:\n%s", out.String())
	}
	for _, name := range library.Shipped().SheetNames() {
		if !strings.Contains(out.String(), "\n  "+name+" ") {
			t.Errorf("%s is not listed", name)
		}
	}
}

func TestSheetsByWord(t *testing.T) {
	for _, c := range []struct{ word, has, not string }{
		{"booster", "headroom", "scale"},
		{"resistor", "input_resistor", "stub"},
		{"DROP", "drop", "stub"},
		{"reversing sensor", "stub", "headroom"},
	} {
		var out bytes.Buffer
		err := Sheets(&out, library.Shipped(), c.word)
		if err != nil || !strings.Contains(out.String(), "  "+c.has+" ") || strings.Contains(out.String(), "  "+c.not+" ") {
			t.Errorf("sheets %s: %v\n%s", c.word, err, out.String())
		}
	}
	var out bytes.Buffer
	var d syntax.Diag
	if err := Sheets(&out, library.Shipped(), "quantum"); !errors.As(err, &d) || d.Cure == "" {
		t.Errorf("sheets quantum: %v", err)
	}
}

// A sheet from a stranger is text, whatever is in it.
func TestOwnSheetIsSafe(t *testing.T) {
	dir := t.TempDir()
	evil := "# coil\x1b]0;evil\x07\nask turns = 100  # \u202eturns\ntell wire = turns * 1 m\nhazard \"hot\u009b31m\"\n"
	if err := os.WriteFile(filepath.Join(dir, "coil.sums"), []byte(evil), 0o600); err != nil {
		t.Fatal(err)
	}
	lib := library.At(dir)
	for _, name := range []string{"coil.sums", `"coil.sums"`} {
		var out bytes.Buffer
		if err := About(&out, lib, name); err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(out.String(), "\x1b\x07\u202e\u009b") {
			t.Errorf("%q", out.String())
		}
	}
	var out bytes.Buffer
	if err := Sheets(&out, lib, ""); err != nil || !strings.Contains(out.String(), "your own\n  coil.sums") || strings.Contains(out.String(), "\x1b") {
		t.Errorf("%v\n%q", err, out.String())
	}
	if err := About(&out, lib, `"../coil.sums"`); err == nil {
		t.Error("a name reaches out of the folder")
	}
}

// A sheet's page in short fits a window of 80 by 24, beside the line that was typed and
// the prompt, and says how the whole is asked for; the whole fits a screen of 120 by 50.
func TestSheetsFitAScreen(t *testing.T) {
	lib := library.Shipped()
	for _, name := range lib.SheetNames() {
		s, err := lib.Sheet(name, false)
		if err != nil {
			t.Fatal(err)
		}
		var page, short strings.Builder
		whole := write(show.New(&page, show.Options{Width: 120}))
		whole.whole = true
		writeSheet(whole, s)
		if rows := strings.Count(page.String(), "\n"); rows > 50 {
			t.Errorf("about %s whole takes %d rows", name, rows)
		}
		writeSheet(write(show.New(&short, show.Options{Width: 80})), s)
		if rows := strings.Count(short.String(), "\n"); rows > 22 {
			t.Errorf("about %s takes %d rows", name, rows)
		}
		for _, word := range []string{"asks\n", "tells\n", "to use it: use " + name, "`about " + name + " whole`"} {
			if !strings.Contains(short.String(), word) {
				t.Errorf("about %s does not say %q", name, word)
			}
		}
	}
}
