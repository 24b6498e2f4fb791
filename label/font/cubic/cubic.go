// Package cubic makes an OpenType font with PostScript outlines (CFF) out of a face of this project, so that tests
// have one whose licence is known. Only tests import it.
//
// The letters are nearly those of the face: each quadratic curve becomes a cubic one that is a little flatter, which
// no quadratic curve equals.
package cubic

import (
	"encoding/binary"
	"maps"
	"slices"

	"panelwright/label/font"
)

// OTF returns the file of such a font. It keeps the kerning of the face, and the glyphs of letters only.
func OTF(f *font.Face, letters string) ([]byte, error) {
	data := f.Data()
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(data[4:])) {
		row := data[12+16*i:]
		from, size := binary.BigEndian.Uint32(row[8:]), binary.BigEndian.Uint32(row[12:])
		tables[string(row[:4])] = data[from : from+size]
	}
	count := int(binary.BigEndian.Uint16(tables["maxp"][4:]))
	for _, name := range []string{"glyf", "loca", "cvt ", "fpgm", "prep", "gasp"} {
		delete(tables, name)
	}
	tables["maxp"] = []byte{0, 0, 0x50, 0, byte(count >> 8), byte(count)}
	glyphs, err := f.Shape(letters)
	if err != nil {
		return nil, err
	}
	strings := make([][]byte, count)
	for i := range strings {
		strings[i] = []byte{endchar}
	}
	for _, g := range glyphs {
		strings[g.ID] = charstring(f.Outline(g))
	}
	tables["CFF "] = cff(strings)
	return file(tables), nil
}

// Operators of charstrings (Type 2 Charstring Format) and dictionaries (Compact Font Format), and the bytes that
// begin long numbers in them.
const (
	rlineto, endchar, rmoveto, rrcurveto, fixed = 5, 14, 21, 8, 255
	charset, charStrings, private, whole        = 15, 17, 18, 29
)

// charstring writes an outline, in steps from point to point of 1/65536 unit.
func charstring(outline []font.Segment) []byte {
	var out []byte
	var pen [2]int64
	step := func(to [2]int64) {
		for i := range 2 {
			out = append(out, fixed)
			out = binary.BigEndian.AppendUint32(out, uint32(int32(to[i]-pen[i])))
		}
		pen = to
	}
	for _, s := range outline {
		var p [3][2]int64
		for i := range p {
			p[i] = [2]int64{int64(s.P[i][0]) * 65536 / font.OutlineScale, int64(s.P[i][1]) * 65536 / font.OutlineScale}
		}
		switch s.Op {
		case font.MoveTo:
			step(p[0])
			out = append(out, rmoveto)
		case font.LineTo:
			step(p[0])
			out = append(out, rlineto)
		case font.QuadTo:
			// Two thirds of the way to the control point would be the same curve.
			from := pen
			for _, end := range [][2]int64{from, p[1]} {
				step([2]int64{end[0] + (p[0][0]-end[0])*11/20, end[1] + (p[0][1]-end[1])*11/20})
			}
			step(p[1])
			out = append(out, rrcurveto)
		}
	}
	return append(out, endchar)
}

// cff returns a font program of one font without names of glyphs.
func cff(strings [][]byte) []byte {
	long := func(v int) []byte {
		return binary.BigEndian.AppendUint32([]byte{whole}, uint32(v))
	}
	top := func(names, chars int) []byte {
		d := append(long(names), charset)
		d = append(append(d, long(chars)...), charStrings)
		return append(append(append(d, long(0)...), long(chars)...), private)
	}
	head := append([]byte{1, 0, 4, 4}, index([]byte("Invented"))...)
	size := len(head) + len(index(top(0, 0))) + 2*len(index())
	names := binary.BigEndian.AppendUint16([]byte{2, 391 >> 8, 391 & 255}, uint16(len(strings)-2)) // one range of unnamed
	out := append(head, index(top(size, size+len(names)))...)
	out = append(append(out, index()...), index()...)
	out = append(out, names...)
	return append(out, index(strings...)...)
}

// index returns a row of items with their places.
func index(items ...[]byte) []byte {
	out := binary.BigEndian.AppendUint16(nil, uint16(len(items)))
	if len(items) == 0 {
		return out
	}
	out = append(out, 4) // bytes a place
	at := uint32(1)
	for _, item := range items {
		out = binary.BigEndian.AppendUint32(out, at)
		at += uint32(len(item))
	}
	out = binary.BigEndian.AppendUint32(out, at)
	for _, item := range items {
		out = append(out, item...)
	}
	return out
}

// file puts tables together. Its sums of tables are left 0, as no reader here looks at them.
func file(tables map[string][]byte) []byte {
	names := slices.Sorted(maps.Keys(tables))
	out := append([]byte("OTTO"), 0, byte(len(names)), 0, 0, 0, 0, 0, 0)
	at := len(out) + 16*len(names)
	for _, name := range names {
		out = append(append(out, name...), 0, 0, 0, 0)
		out = binary.BigEndian.AppendUint32(out, uint32(at))
		out = binary.BigEndian.AppendUint32(out, uint32(len(tables[name])))
		at += (len(tables[name]) + 3) &^ 3
	}
	for _, name := range names {
		out = append(out, tables[name]...)
		out = append(out, make([]byte, -len(out)&3)...)
	}
	return out
}
