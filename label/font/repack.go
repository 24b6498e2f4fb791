package font

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"math/bits"
	"slices"

	gofont "github.com/go-text/typesetting/font"
)

// kept are the tables of a font that are used here: the drawing and spacing of letters, and how they are kerned.
// Left out are pictures and colours of letters, and the axes of a variable font: what stays is the style that it
// shows when no other is asked for, on the screen as in print.
var kept = []string{"GDEF", "GPOS", "GSUB", "OS/2", "cvt ", "fpgm", "gasp", "glyf", "head", "hhea", "hmtx", "kern", "loca", "maxp", "prep"}

// repack returns the font file as it is measured and embedded: the tables that are used, with the few others that
// a TrueType file must have written anew. Outlines of the PostScript kind (the table CFF) become TrueType
// outlines, see [convert].
func repack(data []byte, tables map[string][]byte) ([]byte, error) {
	for _, name := range []string{"cmap", "head", "hhea", "hmtx", "maxp"} {
		if tables[name] == nil {
			return nil, fmt.Errorf("the font file has no table %q, which every font has", name)
		}
	}
	parsed, err := gofont.ParseTTF(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	letters := map[uint16]uint16{} // the letters of two bytes, and the glyph of each
	for cmap := parsed.Cmap.Iter(); cmap.Next(); {
		if r, id := cmap.Char(); r > 0 && r < 0xFFFF && id > 0 && id < 0xFFFF {
			letters[uint16(r)] = uint16(id)
		}
	}
	out := map[string][]byte{"cmap": charmap(letters), "post": unnamed(tables["post"]), "name": make([]byte, 6)} // no name stated
	for _, name := range kept {
		if t := tables[name]; t != nil {
			out[name] = t
		}
	}
	if tables["CFF "] != nil {
		if err := convert(parsed, out, letters); err != nil {
			return nil, err
		}
	}
	if os2 := out["OS/2"]; len(os2) < os2Size || os2[1] > 1 && len(os2) < os2Size2 {
		delete(out, "OS/2") // it may be left out
	}
	if err := complete(out); err != nil {
		return nil, err
	}
	return assemble(out), nil
}

// Sizes of the table OS/2 in its first and in its second version.
const os2Size, os2Size2 = 78, 96

// complete checks that the tables that are read by place are as long as they say, so that no reader runs over
// their ends, and states their formats.
func complete(tables map[string][]byte) error {
	const headSize, hheaSize, maxpSize, upemAt, formatAt, countAt, metricsAt = 54, 36, 6, 18, 50, 4, 34
	short := errors.New("the font file is cut short, or its tables do not fit each other")
	head, hhea, maxp := tables["head"], tables["hhea"], tables["maxp"]
	if len(head) < headSize || len(hhea) < hheaSize || len(maxp) < maxpSize {
		return short
	}
	if upem := binary.BigEndian.Uint16(head[upemAt:]); upem < 16 || upem > 16384 { // as the OpenType specification has it
		return short
	}
	// Each table has one format only; the writer of PDF files asks.
	head, hhea = bytes.Clone(head), bytes.Clone(hhea)
	clear(head[formatAt+2 : formatAt+4])
	binary.BigEndian.PutUint16(head[formatAt:], min(1, binary.BigEndian.Uint16(head[formatAt:])))
	clear(hhea[metricsAt-2 : metricsAt])
	tables["head"], tables["hhea"] = head, hhea
	glyphs, metrics := int(binary.BigEndian.Uint16(maxp[countAt:])), int(binary.BigEndian.Uint16(hhea[metricsAt:]))
	if metrics < 1 || metrics > glyphs || len(tables["hmtx"]) < 4*metrics+2*(glyphs-metrics) {
		return short
	}
	places, ok := placesOf(tables, glyphs)
	if !ok {
		return short
	}
	parts := make([][]uint16, glyphs)
	for i := range parts {
		if parts[i], ok = components(tables["glyf"][places[i]:places[i+1]]); !ok {
			return short
		}
	}
	depths := make([]uint8, glyphs)
	for i := range parts {
		if !shallow(uint16(i), parts, depths, 1) {
			return short
		}
	}
	return nil
}

// placesOf returns where each glyph begins in the table glyf, and where the last ends; false where they cannot be.
func placesOf(tables map[string][]byte, glyphs int) (places []int, ok bool) {
	const formatAt = 50
	loca, long := tables["loca"], binary.BigEndian.Uint16(tables["head"][formatAt:]) != 0
	places = make([]int, glyphs+1)
	for i := range places {
		switch {
		case long && len(loca) >= 4*i+4:
			places[i] = int(binary.BigEndian.Uint32(loca[4*i:]))
		case !long && len(loca) >= 2*i+2:
			places[i] = int(binary.BigEndian.Uint16(loca[2*i:])) * 2
		default:
			return nil, false
		}
		if places[i] > len(tables["glyf"]) || i > 0 && places[i] < places[i-1] {
			return nil, false
		}
	}
	return places, true
}

// components returns the glyphs that a glyph is put together from, such as a letter and its accent; false where it
// is cut short.
func components(glyph []byte) (parts []uint16, ok bool) {
	const head = 10
	if len(glyph) == 0 {
		return nil, true
	}
	if len(glyph) < head {
		return nil, false
	}
	if int16(binary.BigEndian.Uint16(glyph)) >= 0 {
		return nil, true // an outline of its own
	}
	// Flags of the table glyf (OpenType specification): words for bytes, one scale, more to come, two, four.
	const words, scale, more, scales, matrix = 1, 8, 32, 64, 128
	for at, flags := head, more; flags&more != 0; {
		if len(glyph) < at+4 {
			return nil, false
		}
		flags = int(binary.BigEndian.Uint16(glyph[at:]))
		parts = append(parts, binary.BigEndian.Uint16(glyph[at+2:]))
		at += 6
		if flags&words != 0 {
			at += 2
		}
		switch {
		case flags&scale != 0:
			at += 2
		case flags&scales != 0:
			at += 4
		case flags&matrix != 0:
			at += 8
		}
		if len(glyph) < at {
			return nil, false
		}
	}
	return parts, true
}

// shallow reports whether a glyph's parts, and theirs, are glyphs of the font and never itself. Depths of glyphs
// that were seen are kept.
func shallow(id uint16, parts [][]uint16, depths []uint8, depth uint8) bool {
	const deepest = 8
	if int(id) >= len(parts) || depth > deepest {
		return false
	}
	if depth <= depths[id] {
		return true // seen from as deep
	}
	depths[id] = depth
	for _, p := range parts[id] {
		if !shallow(p, parts, depths, depth+1) {
			return false
		}
	}
	return true
}

// unnamed returns the table post in its third version, which names no glyph, with the slant and the line below
// letters as the font states them, if it does.
func unnamed(stated []byte) []byte {
	const size, from, to = 32, 4, 16
	out := make([]byte, size)
	out[1] = 3
	if len(stated) >= size {
		copy(out[from:to], stated[from:to])
	}
	return out
}

// charmap returns a table cmap that holds letters in format 4 (OpenType specification), which every reader knows:
// one run for each row of letters whose glyphs stand in a row too.
func charmap(letters map[uint16]uint16) []byte {
	type run struct{ from, to, glyph uint16 }
	var runs []run
	for _, r := range slices.Sorted(maps.Keys(letters)) {
		if n := len(runs); n > 0 && runs[n-1].to+1 == r && runs[n-1].glyph+(r-runs[n-1].from) == letters[r] {
			runs[n-1].to = r
			continue
		}
		runs = append(runs, run{r, r, letters[r]})
	}
	runs = append(runs, run{0xFFFF, 0xFFFF, 0}) // the end, as the format asks
	n := uint16(len(runs))
	log := uint16(bits.Len16(n) - 1)
	put := binary.BigEndian.AppendUint16
	// Version 0, one table: of platform 3, encoding 1 (Unicode, two bytes), 12 bytes from here.
	out := []byte{0, 0, 0, 1, 0, 3, 0, 1, 0, 0, 0, 12}
	for _, v := range []uint16{4, 16 + 8*n, 0, 2 * n, 2 << log, log, 2*n - 2<<log} {
		out = put(out, v)
	}
	for _, r := range runs {
		out = put(out, r.to)
	}
	out = put(out, 0)
	for _, r := range runs {
		out = put(out, r.from)
	}
	for _, r := range runs {
		out = put(out, r.glyph-r.from)
	}
	return append(out, make([]byte, 2*n)...)
}

// assemble returns a TrueType file of tables.
func assemble(tables map[string][]byte) []byte {
	names := slices.SortedFunc(maps.Keys(tables), cmp.Compare[string])
	n := uint16(len(names))
	log := uint16(bits.Len16(n) - 1)
	out := []byte{0, 1, 0, 0}
	for _, v := range []uint16{n, 16 << log, log, 16 * (n - 1<<log)} {
		out = binary.BigEndian.AppendUint16(out, v)
	}
	at := len(out) + 16*len(names)
	for _, name := range names {
		out = append(out, name...)
		for _, v := range []uint32{checksum(tables[name]), uint32(at), uint32(len(tables[name]))} {
			out = binary.BigEndian.AppendUint32(out, v)
		}
		at += (len(tables[name]) + 3) &^ 3
	}
	for _, name := range names {
		out = append(out, tables[name]...)
		out = append(out, make([]byte, -len(out)&3)...)
	}
	return out
}

// checksum adds up the words of a table, as the directory of a font file states it.
func checksum(table []byte) uint32 {
	var sum uint32
	for i, b := range table {
		sum += uint32(b) << (24 - 8*(i&3))
	}
	return sum
}
