package library

import (
	"bytes"
	"slices"
	"strings"
	"sync"
	"testing"

	"railsum/calc/syntax"
)

// maxRows is how long a shipped sheet may be, notes, hazards and sources not
// counted: what is longer is two sheets.
const maxRows = 60

func TestCatalogue(t *testing.T) {
	entries, err := files.ReadDir("sheets")
	if err != nil {
		t.Fatal(err)
	}
	names := Shipped().SheetNames()
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ending); ok && !slices.Contains(names, name) {
			t.Errorf("the catalogue has no row for %s", name)
		}
	}
	for _, e := range Catalogue() {
		if e.Group == "" || e.Edition < 1 || len(e.Words) == 0 {
			t.Errorf("the catalogue is thin on %+v", e)
		}
		s, err := Shipped().Sheet(e.Sheet, false)
		if err != nil {
			t.Fatal(err)
		}
		if s.Name != e.Sheet || s.Group != e.Group || s.Edition != e.Edition || s.Own || s.Meaning == "" {
			t.Errorf("%+v does not follow its row %+v", s, e)
		}
	}
	want := []string{"scale", "stub", "input_resistor", "drop", "headroom"}
	if got := names[:5]; !slices.Equal(got, want) {
		t.Errorf("the heart of the job is %v, want %v", got, want)
	}
}

// Every sheet is a page, says what each of its lines means, and where it has it
// from.
func TestSheetTexts(t *testing.T) {
	for _, name := range Shipped().SheetNames() {
		t.Run(name, func(t *testing.T) {
			sheet, _ := Shipped().Sheet(name, false)
			rows, sources, hazards := 0, 0, 0
			for _, line := range sheet.File.Lines {
				for _, d := range line.Errors {
					t.Errorf("row %d: %v", d.At.Row, d)
				}
				switch line.Node.(type) {
				case *syntax.Remark, *syntax.Hazard, *syntax.Source, *syntax.Picture, *syntax.Slip, *syntax.Needed:
				default:
					rows += line.Rows()
				}
				switch node := line.Node.(type) {
				case *syntax.Ask, *syntax.Tell, *syntax.Rule:
					wantNote(t, line)
				case *syntax.Table:
					if node.Ask {
						wantNote(t, line)
					}
				case *syntax.Source:
					sources++
				case *syntax.Hazard:
					hazards++
				}
			}
			if rows > maxRows {
				t.Errorf("%d rows, at most %d", rows, maxRows)
			}
			if sources == 0 {
				t.Error("no source")
			}
			if hazards > 3 {
				t.Errorf("%d hazards, at most 3", hazards)
			}
			if hazards == 0 && name != "scale" {
				t.Error("no hazard, and somebody can be hurt")
			}
			if _, ok := sheet.File.Lines[0].Node.(*syntax.Header); !ok {
				t.Error("does not begin with its version")
			}
			if _, ok := sheet.File.Lines[1].Node.(*syntax.Remark); !ok {
				t.Error("its meaning does not stand first")
			}
		})
	}
}

// amperes are the sheets in which the current of a booster or of a supply, or
// the mains, is in play: there the local code comes first, and they say so.
var amperes = []string{"drop", "bus", "fault", "rails", "guard", "fuse", "supply", "smoothing", "feed", "accessories", "proof",
	"headroom", "crossing", "reversing", "trip_race", "sections", "coil", "lights", "snubber", "battery", "districts", "turntable", "detector", "common_return",
	"breakers", "limiter", "throttle", "feedback_bus"}

func TestHazards(t *testing.T) {
	for _, name := range amperes {
		sheet, _ := Shipped().Sheet(name, false)
		if !slices.ContainsFunc(sheet.File.Lines, func(line *syntax.Line) bool {
			hazard, ok := line.Node.(*syntax.Hazard)
			return ok && hazard.If == nil && strings.Contains(strings.ToLower(hazard.Text), "local codes come first")
		}) {
			t.Errorf("no hazard of %s leaves the last word to local codes", name)
		}
	}
}

func wantNote(t *testing.T, line *syntax.Line) {
	t.Helper()
	if line.Note == "" {
		t.Errorf("row %d has no meaning: %s", line.Row, line.Raw)
	}
}

// A range stands beside every input that is a number: without one the user is
// not told where the sheet stops being good.
func TestRanges(t *testing.T) {
	for _, name := range Shipped().SheetNames() {
		sheet, _ := Shipped().Sheet(name, false)
		for _, line := range sheet.File.Lines {
			if a, ok := line.Node.(*syntax.Ask); ok && a.Tail.From == nil && len(a.Tail.Among) == 0 {
				t.Errorf("%s, row %d: %s has neither range nor choice", name, line.Row, a.Name.Text)
			}
		}
	}
}

// What ships is in canonical form, so that a copy made by tidy is the same file.
func TestTidy(t *testing.T) {
	for _, e := range Catalogue() {
		text, err := files.ReadFile("sheets/" + e.Sheet + ending)
		if err != nil {
			t.Fatal(err)
		}
		if tidy := syntax.Format(syntax.ParseFile(text)); !bytes.Equal(tidy, text) {
			t.Errorf("%s is not in canonical form; it would be\n%s", e.Sheet, tidy)
		}
	}
}

// Run with -race: everything is parsed once, whoever asks first.
func TestConcurrent(t *testing.T) {
	var wg sync.WaitGroup
	sheets := make([]any, 16)
	for i := range sheets {
		wg.Go(func() {
			s, err := At("").Sheet("drop", false)
			if err != nil {
				t.Error(err)
			}
			sheets[i] = s
			if n := Shipped().Numbers("swg", "diameter"); len(n) != 57 {
				t.Errorf("%d sizes", len(n))
			}
		})
	}
	wg.Wait()
	for _, s := range sheets {
		if s != sheets[0] {
			t.Fatal("the sheet was parsed more than once")
		}
	}
}
