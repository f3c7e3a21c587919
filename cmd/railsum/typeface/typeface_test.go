package typeface_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"math"
	"math/bits"
	"os"
	"strings"
	"testing"

	"railsum/cmd/railsum/typeface"
	"railsum/cmd/railsum/typeface/subset"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

var faces = []struct {
	name string
	ttf  []byte
	bold bool
}{{"regular", goregular.TTF, false}, {"bold", gobold.TTF, true}}

// What is committed is what the generator makes.
func TestGenerated(t *testing.T) {
	for _, face := range faces {
		font, err := subset.Make(face.ttf, typeface.Letters())
		if err != nil {
			t.Fatal(err)
		}
		for file, want := range map[string][]byte{face.name + ".woff": font.WOFF, face.name + ".tsv": font.Table()} {
			got, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s is not what the generator makes: run `go generate ./cmd/railsum/typeface`", file)
			}
		}
	}
}

// The subset is read back by golang.org/x/image/font/sfnt: each letter has the width and the outline that the whole
// font gives it.
func TestSubsetAgainstWhole(t *testing.T) {
	for _, face := range faces {
		whole, err := sfnt.Parse(face.ttf)
		if err != nil {
			t.Fatal(err)
		}
		woff, err := os.ReadFile(face.name + ".woff")
		if err != nil {
			t.Fatal(err)
		}
		cut, err := sfnt.Parse(unpack(t, woff))
		if err != nil {
			t.Fatal(err)
		}
		var a, b sfnt.Buffer
		ppem := fixed.I(2048)
		kept := 0
		for _, r := range typeface.Letters() {
			g, _ := whole.GlyphIndex(&a, r)
			h, err := cut.GlyphIndex(&b, r)
			if err != nil || (g == 0) != (h == 0) {
				t.Fatalf("%s: %q is glyph %d in the whole font and %d in the subset (%v)", face.name, r, g, h, err)
			}
			if g == 0 {
				continue
			}
			kept++
			want, err := whole.GlyphAdvance(&a, g, ppem, font.HintingNone)
			if err != nil {
				t.Fatal(err)
			}
			got, err := cut.GlyphAdvance(&b, h, ppem, font.HintingNone)
			if err != nil || got != want {
				t.Errorf("%s: %q is %v wide in the subset and %v in the whole font (%v)", face.name, r, got, want, err)
			}
			if width := typeface.Width(string(r), face.bold); math.Abs(width*2048-float64(want)/64) > 0.51 {
				t.Errorf("%s: Width(%q) = %g em, the font has %g", face.name, r, width, float64(want)/64/2048)
			}
			outline, err := whole.LoadGlyph(&a, g, ppem, nil)
			if err != nil {
				t.Fatal(err)
			}
			again, err := cut.LoadGlyph(&b, h, ppem, nil)
			if err != nil || len(outline) != len(again) {
				t.Errorf("%s: the outline of %q has %d pieces in the subset and %d in the whole font (%v)",
					face.name, r, len(again), len(outline), err)
			}
		}
		if kept < 250 {
			t.Errorf("%s: only %d letters are in the subset", face.name, kept)
		}
	}
}

// unpack undoes WOFF.
func unpack(t *testing.T, woff []byte) []byte {
	t.Helper()
	n := int(binary.BigEndian.Uint16(woff[12:]))
	power := 1 << (bits.Len(uint(n)) - 1)
	out := []byte{0, 1, 0, 0}
	for _, v := range []int{n, 16 * power, bits.Len(uint(power)) - 1, 16 * (n - power)} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	var body []byte
	for i := range n {
		entry := woff[44+20*i:]
		from, size := binary.BigEndian.Uint32(entry[4:]), binary.BigEndian.Uint32(entry[8:])
		whole := binary.BigEndian.Uint32(entry[12:])
		table := woff[from : from+size]
		if size < whole {
			r, err := zlib.NewReader(bytes.NewReader(table))
			if err != nil {
				t.Fatal(err)
			}
			if table, err = io.ReadAll(r); err != nil {
				t.Fatal(err)
			}
		}
		out = append(out, entry[:4]...)
		out = append(out, entry[16:20]...)
		out = binary.BigEndian.AppendUint32(out, uint32(12+16*n+len(body)))
		out = binary.BigEndian.AppendUint32(out, whole)
		body = append(body, table...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	file := append(out, body...)
	if want, got := binary.BigEndian.Uint32(woff[16:]), uint32(len(file)); got != want {
		t.Errorf("the file says that it is %d bytes unpacked, and is %d", want, got)
	}
	var total uint32
	for at := 0; at < len(file); at += 4 {
		total += binary.BigEndian.Uint32(file[at:])
	}
	if total != 0xB1B0AFBA {
		t.Errorf("the checksum of the whole file is %#x, and must be 0xB1B0AFBA", total)
	}
	return file
}

func TestWidth(t *testing.T) {
	for _, row := range []struct {
		text string
		bold bool
		want float64
	}{
		{"", false, 0},
		{"\u4e2d", false, 1}, // a letter that the face has not
		{"e\u0301", false, typeface.Width("e", false)},
		{"15 V", true, typeface.Width("15", true) + typeface.Width(" ", true) + typeface.Width("V", true)},
	} {
		if got := typeface.Width(row.text, row.bold); math.Abs(got-row.want) > 1e-9 {
			t.Errorf("Width(%q, %v) = %g, want %g", row.text, row.bold, got, row.want)
		}
	}
}

func TestFaces(t *testing.T) {
	css := typeface.Faces()
	if strings.Count(css, "@font-face") != 2 || !strings.Contains(css, "Copyright (c)") {
		t.Errorf("the style sheet brings %d faces, or no notice", strings.Count(css, "@font-face"))
	}
	if strings.Count(css, "*/") != 1 {
		t.Error("the licence ends its own comment")
	}
	if len(css) > 60_000 {
		t.Errorf("the faces take %d bytes of a page", len(css))
	}
}
