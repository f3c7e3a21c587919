package outline_test

import (
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/picture"
	"railsum/cmd/railsum/typeface"
	"railsum/library"
	"railsum/units"
)

var (
	update = flag.Bool("update", false, "write testdata/pictures anew")
	draws  = flag.Int("draws", 60, "how often the inputs of each sheet are drawn")
)

// drawnSheets are the shipped sheets that have pictures of their own.
func drawnSheets() []string {
	var all []string
	for _, name := range library.Shipped().SheetNames() {
		if s, err := library.Shipped().Sheet(name, false); err == nil && len(s.Pictures()) > 0 {
			all = append(all, name)
		}
	}
	return all
}

// placed puts a sheet to work with some inputs.
func placed(t testing.TB, sheet string, sets []string) (*calc.Book, *check.Placement) {
	t.Helper()
	text := "use " + sheet + " for x"
	if len(sets) > 0 {
		text += " with " + strings.Join(sets, ", ")
	}
	book := calc.Open(syntax.ParseFile([]byte(text+"\n")).Lines, library.Shipped())
	if a := book.Answer(0); len(a.Cards) != 1 {
		t.Fatalf("%s: %v", text, a.Errors)
	}
	return book, book.C.Places[0][0]
}

// drawn are inputs of a placed sheet drawn from their ranges.
func drawn(book *calc.Book, p *check.Placement, rng *rand.Rand) []string {
	var sets []string
	for _, d := range p.Asks {
		name := strings.TrimPrefix(d.Name, "x.")
		switch {
		case len(d.Choice) > 0:
			sets = append(sets, name+" = "+syntax.PrintExpr(d.Choice[rng.IntN(len(d.Choice))].Expr))
		case d.Bounds[0] != nil:
			lo, hi := book.M.Col(d.Bounds[0]).V[0], book.M.Col(d.Bounds[1]).V[0]
			x := lo + (hi-lo)*rng.Float64()
			if lo > 0 && hi/lo > 100 {
				x = lo * math.Pow(hi/lo, rng.Float64())
			}
			if at := rng.IntN(8); at < 2 {
				x = []float64{lo, hi}[at]
			}
			u := book.Value(d).Unit
			y := u.FromSI(x)
			if d.Tail.Whole || u.IsZero() && hi > 3 {
				y = math.Round(y)
			}
			text := strconv.FormatFloat(y, 'g', 6, 64)
			if !u.IsZero() {
				text += " " + u.String()
			}
			sets = append(sets, name+" = "+text)
		}
	}
	return sets
}

// Whatever the inputs, a drawing keeps its texts inside and apart, at both widths, and says the same twice.
func TestDraws(t *testing.T) {
	names := drawnSheets()
	if len(names) < 25 {
		t.Fatalf("only %d sheets have pictures", len(names))
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(uint64(len(name)), 11))
			book, p := placed(t, name, nil)
			drew := 0
			for range *draws {
				sets := drawn(book, p, rng)
				other, place := placed(t, name, sets)
				for _, pic := range other.Lab().Drawn(place) {
					d := outline.Drawing(pic, units.Unit.Shown)
					if d == nil {
						if outline.NoDrawing(pic) == "" {
							t.Fatalf("%v: neither a picture nor a word why", sets)
						}
						continue
					}
					drew++
					if d.Sentence() != outline.Drawing(pic, units.Unit.Shown).Sentence() {
						t.Fatalf("%v: says something else the second time", sets)
					}
					for _, wide := range []int{640, 320} {
						if wrong := untidy(d.SVG(wide, "x")); wrong != "" {
							t.Fatalf("%v, %s, %d wide: %s", sets, pic.Kind, wide, wrong)
						}
					}
					for _, wide := range []int{40, 80} {
						for _, row := range d.Text(wide) {
							if n := len([]rune(row)); n > wide {
								t.Fatalf("%v: a row of %d in %d columns: %s", sets, n, wide, row)
							}
						}
					}
				}
			}
			if drew < *draws/2 {
				t.Errorf("only %d of %d draws have a picture", drew, *draws)
			}
		})
	}
}

type box struct {
	x0, y0, x1, y1 float64
	text           string
}

// untidy says which text of a drawing stands outside of it or on another.
func untidy(svg string) string {
	dec := xml.NewDecoder(strings.NewReader(svg))
	var view []float64
	var all []box
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err.Error()
		}
		start, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]string{}
		for _, a := range start.Attr {
			at[a.Name.Local] = a.Value
		}
		switch start.Name.Local {
		case "svg":
			for _, s := range strings.Fields(at["viewBox"]) {
				v, _ := strconv.ParseFloat(s, 64)
				view = append(view, v)
			}
		case "text":
			var text string
			if err := dec.DecodeElement(&text, &start); err != nil {
				return err.Error()
			}
			x, _ := strconv.ParseFloat(at["x"], 64)
			y, _ := strconv.ParseFloat(at["y"], 64)
			wide := 14.5 * typeface.Width(text, at["class"] == "b")
			switch at["text-anchor"] {
			case "middle":
				x -= wide / 2
			case "end":
				x -= wide
			}
			all = append(all, box{x, y - 11, x + wide, y + 3, text})
		}
	}
	if len(view) != 4 {
		return "no view"
	}
	for i, a := range all {
		if a.x0 < view[0]-0.5 || a.x1 > view[0]+view[2]+0.5 || a.y0 < view[1]-0.5 || a.y1 > view[1]+view[3]+0.5 {
			return fmt.Sprintf("%q stands outside", a.text)
		}
		for _, b := range all[:i] {
			if a.x0 < b.x1-0.5 && b.x0 < a.x1-0.5 && a.y0 < b.y1-0.5 && b.y0 < a.y1-0.5 {
				return fmt.Sprintf("%q stands on %q", a.text, b.text)
			}
		}
	}
	return ""
}

// inputs are those at which the pictures of a sheet are kept: as shipped, and drawn twice.
func inputs(t *testing.T, name string) [][]string {
	book, p := placed(t, name, nil)
	rng := rand.New(rand.NewPCG(3, 5))
	return [][]string{nil, drawn(book, p, rng), drawn(book, p, rng)}
}

// Strips are to scale: every edge of their bars lies within half a pixel of where the numbers put it.
func TestStripToScale(t *testing.T) {
	found := 0
	for _, name := range drawnSheets() {
		for _, sets := range inputs(t, name) {
			book, p := placed(t, name, sets)
			for _, pic := range book.Lab().Drawn(p) {
				if pic.Kind == "strip" {
					found += toScale(t, name, pic)
				}
			}
		}
	}
	if found < 500 {
		t.Errorf("only %d edges", found)
	}
}

// toScale measures the bars of a strip and counts their edges.
func toScale(t *testing.T, name string, pic *answer.Picture) (found int) {
	var ends []float64
	for i := range pic.Rows {
		from, to := pic.Cell(i, "from", 0), pic.Cell(i, "to", 0)
		if from == nil || to == nil || !from.Sound() || !to.Sound() || len(from.Numbers) == 0 || len(to.Numbers) == 0 ||
			!(to.Numbers[0] >= from.Numbers[0]) {
			continue
		}
		ends = append(ends, from.Numbers[0], to.Numbers[0])
	}
	d := outline.Drawing(pic, units.Unit.Shown)
	if d == nil {
		return 0
	}
	lo, hi := ends[0], ends[0]
	for _, v := range ends {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	for _, wide := range []float64{640, 320} {
		for _, piece := range strings.Split(d.SVG(int(wide), "x"), "<rect class=\"bar")[1:] {
			var x, y, w float64
			if _, err := fmt.Sscanf(piece[strings.Index(piece, "x="):], `x="%f" y="%f" width="%f"`, &x, &y, &w); err != nil {
				t.Fatal(err)
			}
			for _, edge := range []float64{x, x + w} {
				value := lo + (edge-18)/(wide-36)*(hi-lo)
				near := math.Inf(1)
				for _, v := range ends {
					near = math.Min(near, math.Abs(v-value))
				}
				if near/(hi-lo)*(wide-36) > 0.5 {
					t.Errorf("%s, %s: an edge at %.2f of %g belongs to no end", name, pic.Caption, edge, wide)
				}
				found++
			}
		}
	}
	return found
}

// The pictures of every sheet at its defaults and at two other inputs, as text and in words.
func TestPictures(t *testing.T) {
	var b, svg strings.Builder
	for _, name := range drawnSheets() {
		for n, sets := range inputs(t, name) {
			other, place := placed(t, name, sets)
			head := fmt.Sprintf("=== %s, %s\n", name, []string{"as shipped", "drawn once", "drawn twice"}[n])
			b.WriteString(head)
			svg.WriteString(head)
			for _, pic := range other.Lab().Drawn(place) {
				write(&b, pic)
				if d := outline.Drawing(pic, units.Unit.Shown); d != nil {
					svg.WriteString(strings.ReplaceAll(d.SVG(640, "x"), "><", ">\n<") + "\n")
				}
			}
		}
	}
	golden(t, "../../../testdata/pictures/sheets.txt", b.String())
	golden(t, "../../../testdata/pictures/sheets_svg.txt", svg.String())
}

// golden holds a text to a file, which -update writes.
func golden(t *testing.T, file, text string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != text {
		got, was := strings.Split(text, "\n"), strings.Split(string(want), "\n")
		for i := range got {
			if i >= len(was) || got[i] != was[i] {
				t.Fatalf("row %d: %q is new; go test ./cmd/railsum/outline -update, and read the difference", i+1, got[i])
			}
		}
		t.Fatal("rows are missing: go test ./cmd/railsum/outline -update, and read the difference")
	}
}

func write(w io.Writer, pic *answer.Picture) {
	d := outline.Drawing(pic, units.Unit.Shown)
	if d == nil {
		fmt.Fprintln(w, outline.NoDrawing(pic))
		return
	}
	for _, row := range d.Text(76) {
		fmt.Fprintln(w, row)
	}
	fmt.Fprintf(w, "%s\n\n", d.Sentence())
}

// The words that the language has for how things are drawn are those that can be drawn.
func TestWords(t *testing.T) {
	same := func(kind, column string, drawn []string) {
		if got := syntax.PictureWords(kind, column); strings.Join(got, " ") != strings.Join(drawn, " ") {
			t.Errorf("%s: the language has %v, drawn are %v", column, got, drawn)
		}
	}
	var symbols, places []string
	for _, s := range picture.Symbols {
		symbols = append(symbols, string(s))
	}
	for _, p := range picture.Places {
		places = append(places, string(p))
	}
	same("circuit", "symbol", symbols)
	same("circuit", "place", places)
}
