package font

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"
)

// altered returns a font file with two bytes of its OS/2 table, the licence bits, set to bits.
func altered(t *testing.T, bits uint16) []byte {
	t.Helper()
	data := Text.Data()
	tables, err := directory(data)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(data, tables["OS/2"])
	binary.BigEndian.PutUint16(data[at+8:], bits)
	return data
}

// damaged returns a font file whose outlines are said to lie outside of it.
func damaged(t *testing.T) []byte {
	t.Helper()
	data := Text.Data()
	tables, err := directory(data)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(data, tables["loca"])
	for i := range 16 {
		data[at+64+i] = 0xFF
	}
	return data
}

func TestOpen(t *testing.T) {
	f, err := Open("fonts/mine.ttf", Text.Data())
	if err != nil {
		t.Fatal(err)
	}
	if f.Name() != "mine" || f.Height(LowerO) != Text.Height(LowerO) || len(f.Outline(Glyph{ID: 40})) != len(Text.Outline(Glyph{ID: 40})) {
		t.Errorf("%s with an o of %d units is not the font it was read from", f.Name(), f.Height(LowerO))
	}
}

// The bits are those of fsType in the OpenType specification, table OS/2.
func TestOpenRefuses(t *testing.T) {
	for name, tt := range map[string]struct {
		data []byte
		want string
	}{
		"restricted":       {altered(t, 0x2), "forbid embedding it"},
		"bitmap only":      {altered(t, 0x200), "only pictures"},
		"no subsetting":    {altered(t, 0x100), "a part of it"},
		"OTF without CFF":  {append([]byte("OTTO"), Text.Data()[4:]...), "no outlines"},
		"damaged":          {damaged(t), "cannot be used"},
		"packed for web":   {[]byte("wOF2 and twenty bytes more"), "WOFF"},
		"several":          {[]byte("ttcf and twenty bytes more"), "TTC"},
		"text":             {[]byte("not a font at all, a letter"), "no font file (TTF or OTF)"},
		"empty":            {nil, "no font file"},
		"cut short":        {Text.Data()[:2000], "cut short"},
		"cut in its table": {Text.Data()[:40], "cut short"},
	} {
		_, err := Open("mine.ttf", tt.data)
		if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "mine.ttf") {
			t.Errorf("%s: error = %v, want one that says %q", name, err, tt.want)
		}
	}
	for _, bits := range []uint16{0, 0x4, 0x8, 0x2 | 0x8} { // installable; preview; editable; the least strict of two binds
		if _, err := Open("mine.ttf", altered(t, bits)); err != nil {
			t.Errorf("bits %#x: %v", bits, err)
		}
	}
}

// The figures of a fraction, read off the outline of the letter: about 55 to 70 % of a figure by itself.
func TestFractionHeight(t *testing.T) {
	for _, f := range []*Face{Text, TextBold, Semi, SemiBold, Condensed, CondensedBold} {
		for _, r := range "½¼¾" {
			got, whole := f.FractionHeight(r), f.Height(Numerals)
			if got*100 < whole*45 || got*100 > whole*75 {
				t.Errorf("%s: figures of %c are %d high, a figure by itself %d", f.Name(), r, got, whole)
			}
		}
	}
	if got := Text.FractionHeight('石'); got != 0 {
		t.Errorf("a letter the face does not have has figures %d high", got)
	}
}
