package font

import (
	"fmt"
	"strings"
	"unicode"
)

// Glyph is one letter of a shaped text. Advance and Kern are in font units. Kern is added after the glyph,
// before the next one; at the end of a line it does not count.
type Glyph struct {
	Rune    rune
	ID      uint16
	Advance int16
	Kern    int16
}

// Missing is the error for a letter that a face does not have.
type Missing struct {
	Rune rune
	Text string // the text it was met in
	Face string
}

func (e *Missing) Error() string {
	if unicode.Is(unicode.Mn, e.Rune) {
		return fmt.Sprintf("the typeface %s cannot set the accent %U in %q; type the accented letter as one character",
			e.Face, e.Rune, e.Text)
	}
	if leftward(e.Rune) {
		return fmt.Sprintf("%q (%U) in %q runs from right to left, which cannot be set here; write it with letters that run to the right",
			e.Rune, e.Rune, e.Text)
	}
	return fmt.Sprintf("the typeface %s has no letter %q (%U), needed in %q; write it with other letters",
		e.Face, e.Rune, e.Rune, e.Text)
}

// leftward reports whether a letter is of a script that runs from right to left: lines are set the other way, and would
// hold it in the wrong order.
func leftward(r rune) bool {
	return r >= 0x590 && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko, unicode.Samaritan, unicode.Mandaic, unicode.Adlam)
}

// Shape returns the glyphs of text, one for each letter. A letter followed by a combining accent is set as
// the one accented letter; any other letter that the face lacks gives an error of type *[Missing], and so does one
// of a script that runs from right to left. Line breaks and tabs are no letters: split text before.
func (f *Face) Shape(text string) ([]Glyph, error) {
	glyphs, _, err := f.AppendShape(make([]Glyph, 0, len(text)), text)
	return glyphs, err
}

// firstMark is the lowest combining mark of Unicode.
const firstMark = 0x300

// AppendShape appends the glyphs of text to dst, as Shape gives them, and tells how far their ink reaches.
func (f *Face) AppendShape(dst []Glyph, text string) ([]Glyph, Reach, error) {
	t := f.table()
	start := len(dst)
	var reach Reach
	for _, r := range text {
		m, ok := t.metric(r)
		if r >= firstMark && unicode.Is(unicode.Mn, r) && len(dst) > start {
			if c, composed := t.compose(dst[len(dst)-1].Rune, r); composed {
				dst = dst[:len(dst)-1]
				r = c
				m, ok = t.metric(r)
			} else {
				ok = false
			}
		}
		if !ok || unicode.IsControl(r) || leftward(r) {
			return dst[:start], Reach{}, &Missing{Rune: r, Text: text, Face: f.Name()}
		}
		dst = append(dst, Glyph{Rune: r, ID: m.id, Advance: m.advance})
		reach.add(m)
	}
	for i := start; i+1 < len(dst); i++ {
		dst[i].Kern = t.kern(dst[i].Rune, dst[i+1].Rune)
	}
	return dst, reach, nil
}

// Reach is how far the ink of any letter of a text rises above the baseline and falls below it, and by how much it
// sticks out of its own advance at the side where it does most, all in font units; 0 where none does.
type Reach struct{ Up, Down, Side int16 }

// Strut returns how far the face reaches up and down in words of small letters without accents: lines that are given
// that room stand at even distances whatever their letters.
func (f *Face) Strut() Reach { return f.table().strut }

func (r *Reach) add(m *metric) {
	r.Up, r.Down = max(r.Up, m.top), max(r.Down, -m.bottom)
	r.Side = max(r.Side, -m.left, m.right-m.advance)
}

// Has reports whether the face has a letter for every rune of text.
func (f *Face) Has(text string) bool {
	_, err := f.Shape(text)
	return err == nil
}

// Width returns the width of glyphs in font units. The kerning after the last one does not count.
func Width(glyphs []Glyph) int64 {
	var w int64
	for _, g := range glyphs {
		w += int64(g.Advance) + int64(g.Kern)
	}
	if n := len(glyphs); n > 0 {
		w -= int64(glyphs[n-1].Kern)
	}
	return w
}

// String returns the text that glyphs were shaped from.
func String(glyphs []Glyph) string {
	var b strings.Builder
	b.Grow(len(glyphs))
	for _, g := range glyphs {
		b.WriteRune(g.Rune)
	}
	return b.String()
}

// Extent is the box around the ink of a text, in font units from the start of its baseline, upwards
// positive.
type Extent struct{ Left, Right, Bottom, Top int64 }

// Extent returns the box around the ink of glyphs, or the zero Extent where there is no ink.
func (f *Face) Extent(glyphs []Glyph) Extent {
	t := f.table()
	var e Extent
	var x int64
	first := true
	for _, g := range glyphs {
		m, _ := t.metric(g.Rune)
		if m.right > m.left {
			l, r := x+int64(m.left), x+int64(m.right)
			if first {
				e = Extent{l, r, int64(m.bottom), int64(m.top)}
				first = false
			}
			e.Left, e.Right = min(e.Left, l), max(e.Right, r)
			e.Bottom, e.Top = min(e.Bottom, int64(m.bottom)), max(e.Top, int64(m.top))
		}
		x += int64(g.Advance) + int64(g.Kern)
	}
	return e
}
