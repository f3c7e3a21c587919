// Package subset cuts a TrueType font down to the letters that a page needs and packs it as WOFF.
//
// It knows as much of the OpenType tables as that takes: the outlines of some letters and of the glyphs that they are
// composed of, their widths, and a character map. Hinting, kerning and all else that a page at print size does not
// show is left behind. It runs when the typefaces are generated and when a test makes them anew, never in railsum.
//
// Source: OpenType 1.9 (ISO/IEC 14496-22), WOFF File Format 1.0 (W3C).
package subset

import (
	"encoding/binary"
	"fmt"
	"maps"
	"slices"
)

// A Font is a subset: the file and the advance width of each of its letters, in units of which PerEm make an em.
type Font struct {
	WOFF     []byte
	Advances map[rune]int
	PerEm    int
}

// Make cuts ttf, a TrueType font with a character map of format 4, down to the letters wanted. A letter that the font
// has not is left out, so that a browser falls back for it.
func Make(ttf []byte, wanted []rune) (Font, error) {
	src, err := open(ttf)
	if err != nil {
		return Font{}, err
	}
	glyphs := []uint16{0}
	chars := map[rune]uint16{}
	for _, r := range wanted {
		g := src.glyph(r)
		if g == 0 {
			continue
		}
		at := slices.Index(glyphs, g)
		if at < 0 {
			at = len(glyphs)
			glyphs = append(glyphs, g)
		}
		chars[r] = uint16(at)
	}
	var glyf []byte
	loca := []uint32{0}
	for i := 0; i < len(glyphs); i++ { // glyphs grows by what composites are made of
		outline := slices.Clone(src.outline(glyphs[i]))
		eachComponent(outline, func(at int) {
			part := binary.BigEndian.Uint16(outline[at:])
			to := slices.Index(glyphs, part)
			if to < 0 {
				to = len(glyphs)
				glyphs = append(glyphs, part)
			}
			binary.BigEndian.PutUint16(outline[at:], uint16(to))
		})
		glyf = append(glyf, withoutHints(outline)...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
		loca = append(loca, uint32(len(glyf)))
	}

	font := Font{Advances: map[rune]int{}, PerEm: int(binary.BigEndian.Uint16(src.tables["head"][18:]))}
	var hmtx []byte
	for _, g := range glyphs {
		advance, bearing := src.metrics(g)
		hmtx = binary.BigEndian.AppendUint16(hmtx, advance)
		hmtx = binary.BigEndian.AppendUint16(hmtx, bearing)
	}
	for r, g := range chars {
		font.Advances[r] = int(binary.BigEndian.Uint16(hmtx[4*g:]))
	}

	head := slices.Clone(src.tables["head"])
	binary.BigEndian.PutUint16(head[50:], 1) // long offsets
	hhea := slices.Clone(src.tables["hhea"])
	binary.BigEndian.PutUint16(hhea[34:], uint16(len(glyphs)))
	maxp := slices.Clone(src.tables["maxp"])
	binary.BigEndian.PutUint16(maxp[4:], uint16(len(glyphs)))
	for at := 14; at < 28; at += 2 { // what only hinting needs
		binary.BigEndian.PutUint16(maxp[at:], 0)
	}
	binary.BigEndian.PutUint16(maxp[14:], 2)
	post := slices.Clone(src.tables["post"][:32])
	binary.BigEndian.PutUint32(post, 0x00030000) // no glyph names
	var offsets []byte
	for _, o := range loca {
		offsets = binary.BigEndian.AppendUint32(offsets, o)
	}
	font.WOFF, err = pack(map[string][]byte{
		"head": head, "hhea": hhea, "maxp": maxp, "post": post, "hmtx": hmtx, "glyf": glyf, "loca": offsets,
		"cmap": characterMap(chars), "OS/2": src.tables["OS/2"],
		"name": {0, 0, 0, 0, 0, 6}, // no names: the style sheet gives one, and the licence with it
	})
	return font, err
}

// A source is the font that is cut down.
type source struct {
	tables map[string][]byte
	cmap   []byte // the subtable of format 4
	long   bool   // loca has offsets of four bytes
	widths int    // how many glyphs have a width of their own
}

func open(ttf []byte) (*source, error) {
	s := &source{tables: map[string][]byte{}}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		entry := ttf[12+16*i:]
		from, size := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		s.tables[string(entry[:4])] = ttf[from : from+size]
	}
	for _, name := range []string{"head", "hhea", "maxp", "post", "hmtx", "glyf", "loca", "cmap", "OS/2"} {
		if s.tables[name] == nil {
			return nil, fmt.Errorf("the font has no table %s", name)
		}
	}
	s.long = binary.BigEndian.Uint16(s.tables["head"][50:]) == 1
	s.widths = int(binary.BigEndian.Uint16(s.tables["hhea"][34:]))
	cmap := s.tables["cmap"]
	for i := range int(binary.BigEndian.Uint16(cmap[2:])) {
		sub := cmap[binary.BigEndian.Uint32(cmap[4+8*i+4:]):]
		if binary.BigEndian.Uint16(sub) == 4 {
			s.cmap = sub
		}
	}
	if s.cmap == nil {
		return nil, fmt.Errorf("the font has no character map of format 4")
	}
	return s, nil
}

// glyph is the glyph of a letter of the basic plane, 0 if the font has none.
func (s *source) glyph(r rune) uint16 {
	word := func(at int) int { return int(binary.BigEndian.Uint16(s.cmap[at:])) }
	twice := word(6)
	for i := 0; i < twice; i += 2 {
		if int(r) > word(14+i) {
			continue
		}
		start := word(16 + twice + i)
		if int(r) < start {
			return 0
		}
		delta, at := word(16+2*twice+i), 16+3*twice+i
		if word(at) == 0 {
			return uint16(int(r) + delta)
		}
		g := word(at + word(at) + 2*(int(r)-start))
		if g == 0 {
			return 0
		}
		return uint16(g + delta)
	}
	return 0
}

func (s *source) outline(g uint16) []byte {
	loca := s.tables["loca"]
	at := func(i int) int {
		if s.long {
			return int(binary.BigEndian.Uint32(loca[4*i:]))
		}
		return 2 * int(binary.BigEndian.Uint16(loca[2*i:]))
	}
	return s.tables["glyf"][at(int(g)):at(int(g)+1)]
}

func (s *source) metrics(g uint16) (advance, bearing uint16) {
	hmtx, i := s.tables["hmtx"], int(g)
	if i < s.widths {
		return binary.BigEndian.Uint16(hmtx[4*i:]), binary.BigEndian.Uint16(hmtx[4*i+2:])
	}
	return binary.BigEndian.Uint16(hmtx[4*(s.widths-1):]), binary.BigEndian.Uint16(hmtx[4*s.widths+2*(i-s.widths):])
}

// Flags of a composite glyph's component.
const (
	wordArguments = 1 << 0
	oneScale      = 1 << 3
	moreParts     = 1 << 5
	twoScales     = 1 << 6
	matrix        = 1 << 7
	instructions  = 1 << 8
)

// eachComponent calls f with the place of each component's glyph in a composite outline, and returns where the
// components end; 0 for a simple outline.
func eachComponent(outline []byte, f func(at int)) int {
	if len(outline) < 10 || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return 0
	}
	at := 10
	for {
		flags := binary.BigEndian.Uint16(outline[at:])
		f(at + 2)
		at += 6
		if flags&wordArguments != 0 {
			at += 2
		}
		switch {
		case flags&oneScale != 0:
			at += 2
		case flags&twoScales != 0:
			at += 4
		case flags&matrix != 0:
			at += 8
		}
		if flags&moreParts == 0 {
			return at
		}
	}
}

// withoutHints is the outline without the instructions that hint it.
func withoutHints(outline []byte) []byte {
	if end := eachComponent(outline, func(at int) { outline[at-2] &^= instructions >> 8 }); end > 0 {
		return outline[:end]
	}
	if len(outline) < 10 {
		return outline
	}
	count := 10 + 2*int(binary.BigEndian.Uint16(outline))
	size := int(binary.BigEndian.Uint16(outline[count:]))
	binary.BigEndian.PutUint16(outline[count:], 0)
	return slices.Delete(outline, count+2, count+2+size)
}

// Table is the widths as text: the units in an em, then a letter's code point and its width, a row each.
func (f Font) Table() []byte {
	b := fmt.Appendf(nil, "em\t%d\n", f.PerEm)
	for _, r := range slices.Sorted(maps.Keys(f.Advances)) {
		b = fmt.Appendf(b, "%04X\t%d\n", r, f.Advances[r])
	}
	return b
}
