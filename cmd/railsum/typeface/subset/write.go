package subset

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"maps"
	"math/bits"
	"slices"
)

// characterMap writes a table cmap with one subtable of format 4: a segment for each run of letters whose glyphs run on
// with them, and the last one that the format asks for.
func characterMap(chars map[rune]uint16) []byte {
	type segment struct{ start, end, delta uint16 }
	var segments []segment
	for _, r := range slices.Sorted(maps.Keys(chars)) {
		c, delta := uint16(r), chars[r]-uint16(r)
		if n := len(segments); n > 0 && segments[n-1].end+1 == c && segments[n-1].delta == delta {
			segments[n-1].end = c
			continue
		}
		segments = append(segments, segment{c, c, delta})
	}
	segments = append(segments, segment{0xFFFF, 0xFFFF, 1})

	n := len(segments)
	var b []byte
	word := func(values ...uint16) {
		for _, v := range values {
			b = binary.BigEndian.AppendUint16(b, v)
		}
	}
	word(0, 1, 3, 1, 0, 12) // one subtable, for Unicode's basic plane on all systems, at byte 12
	power := 1 << (bits.Len(uint(n)) - 1)
	word(4, uint16(16+8*n), 0, uint16(2*n), uint16(2*power), uint16(bits.Len(uint(power))-1), uint16(2*(n-power)))
	for _, s := range segments {
		word(s.end)
	}
	word(0)
	for _, s := range segments {
		word(s.start)
	}
	for _, s := range segments {
		word(s.delta)
	}
	for range segments {
		word(0)
	}
	return b
}

// pack writes tables as a WOFF file, each compressed where that makes it smaller.
func pack(tables map[string][]byte) ([]byte, error) {
	names := slices.Sorted(maps.Keys(tables))
	head := tables["head"]
	binary.BigEndian.PutUint32(head[8:], 0)
	size := 12 + 16*len(names)
	total := sum(directory(names, tables))
	for _, name := range names {
		total += sum(tables[name])
		size += (len(tables[name]) + 3) &^ 3
	}
	adjusted := sum(head)
	binary.BigEndian.PutUint32(head[8:], 0xB1B0AFBA-total)

	var entries, body []byte
	at := 44 + 20*len(names)
	for _, name := range names {
		table := tables[name]
		packed, err := deflate(table)
		if err != nil {
			return nil, err
		}
		check := sum(table)
		if name == "head" {
			check = adjusted
		}
		entries = append(entries, name...)
		for _, v := range []int{at + len(body), len(packed), len(table), int(check)} {
			entries = binary.BigEndian.AppendUint32(entries, uint32(v))
		}
		body = append(body, packed...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	file := []byte("wOFF\x00\x01\x00\x00")
	file = binary.BigEndian.AppendUint32(file, uint32(at+len(body)))
	file = binary.BigEndian.AppendUint16(file, uint16(len(names)))
	file = binary.BigEndian.AppendUint16(file, 0)
	file = binary.BigEndian.AppendUint32(file, uint32(size))
	file = append(file, make([]byte, 24)...) // version 0.0, no metadata, no private block
	return slices.Concat(file, entries, body), nil
}

// directory is the table directory as an unpacked font has it, over which its checksum goes.
func directory(names []string, tables map[string][]byte) []byte {
	n := len(names)
	power := 1 << (bits.Len(uint(n)) - 1)
	b := []byte{0, 1, 0, 0}
	for _, v := range []int{n, 16 * power, bits.Len(uint(power)) - 1, 16 * (n - power)} {
		b = binary.BigEndian.AppendUint16(b, uint16(v))
	}
	at := 12 + 16*n
	for _, name := range names {
		b = append(b, name...)
		for _, v := range []int{int(sum(tables[name])), at, len(tables[name])} {
			b = binary.BigEndian.AppendUint32(b, uint32(v))
		}
		at += (len(tables[name]) + 3) &^ 3
	}
	return b
}

// sum is OpenType's checksum: the words of a table added up.
func sum(table []byte) (total uint32) {
	for at := 0; at < len(table); at += 4 {
		var word [4]byte
		copy(word[:], table[at:])
		total += binary.BigEndian.Uint32(word[:])
	}
	return total
}

func deflate(table []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := zlib.NewWriterLevel(&b, zlib.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(table); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	if b.Len() >= len(table) {
		return table, nil
	}
	return b.Bytes(), nil
}
