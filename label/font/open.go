package font

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// largestFile bounds a font file: fonts of all the world's scripts have 20 MB.
const largestFile = 32 << 20

// Open reads a font file of the maker's own, a TTF or an OTF, for setting and for embedding. Name is the file's
// name, for messages. The outlines of an OTF font become TrueType outlines that depart from them by less than a
// thousandth of an em; heights are measured on what is printed. The error says why the file cannot be used: it is
// no such font, its maker forbids embedding, or it lacks the letters that heights are measured on.
func Open(name string, data []byte) (*Face, error) {
	if len(data) > largestFile {
		return nil, fmt.Errorf("%s: %d MB is too large for a font", name, len(data)>>20)
	}
	tables, err := directory(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if err := embeddable(tables["OS/2"]); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	f, err := open(name, data, tables)
	if err != nil {
		return nil, fmt.Errorf("%s: the font cannot be used: %w", name, err)
	}
	return f, nil
}

func open(name string, data []byte, tables map[string][]byte) (f *Face, err error) {
	defer func() { // the library that reads outlines panics where a table leads out of the file
		if r := recover(); r != nil {
			f, err = nil, fmt.Errorf("the font file is damaged (%v)", r)
		}
	}()
	if data, err = repack(data, tables); err != nil {
		return nil, err
	}
	t, err := read(data)
	if err != nil {
		return nil, err
	}
	f = &Face{file: name, own: data}
	f.once.Do(func() { f.read = t })
	return f, nil
}

// directory returns the tables of a font file.
func directory(data []byte) (map[string][]byte, error) {
	const head, row = 12, 16
	if len(data) < head {
		return nil, errors.New("this is no font file")
	}
	switch string(data[:4]) {
	case "\x00\x01\x00\x00", "true", "OTTO":
	case "ttcf":
		return nil, errors.New("the file holds several fonts (TTC); save the one you mean as a TTF file")
	case "wOFF", "wOF2":
		return nil, errors.New("this is a font packed for web pages (WOFF); take the TTF or OTF file of the same font")
	default:
		return nil, errors.New("this is no font file (TTF or OTF)")
	}
	out := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(data[4:])) {
		at := head + i*row
		if at+row > len(data) {
			return nil, errors.New("the font file is cut short")
		}
		from, size := int64(binary.BigEndian.Uint32(data[at+8:])), int64(binary.BigEndian.Uint32(data[at+12:]))
		if from+size > int64(len(data)) {
			return nil, errors.New("the font file is cut short")
		}
		out[string(data[at:at+4])] = data[from : from+size]
	}
	switch {
	case out["CFF2"] != nil:
		return nil, errors.New("the font is of the variable kind (CFF2); take the file of one style of it")
	case string(data[:4]) == "OTTO" && out["CFF "] == nil || out["glyf"] == nil && out["CFF "] == nil || out["cmap"] == nil:
		return nil, errors.New("the font file has no outlines, or no table of letters")
	}
	return out, nil
}

// embeddable reads the maker's licence bits, fsType of the OS/2 table as the OpenType specification defines
// it: restricted (2) and bitmap only (0x200) forbid embedding, 0x100 forbids cutting the font down to the
// letters used, which is how faces are embedded here. A font without the table sets no bit.
func embeddable(os2 []byte) error {
	const at = 8
	if len(os2) < at+2 {
		return nil
	}
	const restricted, preview, editable, whole, bitmap = 0x2, 0x4, 0x8, 0x100, 0x200
	bits := binary.BigEndian.Uint16(os2[at:])
	switch {
	case bits&restricted != 0 && bits&(preview|editable) == 0:
		return errors.New("the font's own licence bits forbid embedding it in a file (fsType: restricted); use another font, or ask its maker")
	case bits&bitmap != 0:
		return errors.New("the font's own licence bits allow only pictures of its letters (fsType: bitmap only); use another font, or ask its maker")
	case bits&whole != 0:
		return errors.New("the font's own licence bits forbid embedding a part of it (fsType: no subsetting), and only the letters used are embedded here; use another font, or ask its maker")
	}
	return nil
}
