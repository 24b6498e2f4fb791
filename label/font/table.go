package font

import (
	"sync"
	"sync/atomic"

	gofont "github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"
)

// table is a face read into memory. Everything but the kerning is fixed once it is read.
type table struct {
	upem    int64
	heights [measures]int64
	strut   Reach
	low     [lowRunes]metric // Latin letters, where a look-up should cost nothing
	glyphs  map[rune]*metric // all others

	mu    sync.Mutex // guards face and shape, which are not safe for concurrent use
	face  *gofont.Face
	shape *harfbuzz.Font
	buf   *harfbuzz.Buffer

	// kerns caches the kerning of pairs of the first lowRunes runes and of punctuation, as
	// value + kernKnown; 0 is not yet known. It is filled pair by pair, as pairs come up.
	kerns []atomic.Int32
	rare  sync.Map // kerning of all other pairs: [2]rune -> int16
}

// metric is what is known of one glyph, in font units.
type metric struct {
	id                       uint16
	known                    bool
	advance                  int16
	left, right, bottom, top int16 // of the outline; all 0 for a space
}

const (
	lowRunes  = 0x180 // Basic Latin, Latin-1 and Latin Extended-A
	punctFrom = 0x2010
	punctTo   = 0x2030
	kernRunes = lowRunes + punctTo - punctFrom
	kernKnown = 1 << 20
)

// add measures the glyph of r.
func (t *table) add(r rune, id gofont.GID) {
	m := metric{id: uint16(id), known: true, advance: int16(t.face.HorizontalAdvance(id))}
	if e, ok := t.face.GlyphExtents(id); ok {
		m.left, m.right = int16(e.XBearing), int16(e.XBearing+e.Width)
		m.top, m.bottom = int16(e.YBearing), int16(e.YBearing+e.Height)
	}
	if r < lowRunes {
		t.low[r] = m
		return
	}
	t.glyphs[r] = &m
}

// metric returns what is known of the glyph of r, and whether the face has it: the zero metric where it has not.
func (t *table) metric(r rune) (*metric, bool) {
	if r >= 0 && r < lowRunes {
		m := &t.low[r]
		return m, m.known
	}
	if m, ok := t.glyphs[r]; ok {
		return m, true
	}
	return &noMetric, false
}

var noMetric metric

// slot returns the place of r in the kerning cache, or -1.
func slot(r rune) int {
	switch {
	case r < lowRunes:
		return int(r)
	case punctFrom <= r && r < punctTo:
		return int(r) - punctFrom + lowRunes
	}
	return -1
}

// kern returns the kerning between a and b, in font units.
func (t *table) kern(a, b rune) int16 {
	i, j := slot(a), slot(b)
	if i < 0 || j < 0 {
		if k, ok := t.rare.Load([2]rune{a, b}); ok {
			return k.(int16)
		}
		k := t.pair(a, b)
		t.rare.Store([2]rune{a, b}, k)
		return k
	}
	cell := &t.kerns[i*kernRunes+j]
	if k := cell.Load(); k != 0 {
		return int16(k - kernKnown)
	}
	k := t.pair(a, b)
	cell.Store(int32(k) + kernKnown)
	return k
}

// kernOnly switches off every feature that would replace a letter by another glyph: the PDF file is written
// letter by letter, and what is copied from it has to be what stands in it.
var kernOnly = func() []harfbuzz.Feature {
	var fs []harfbuzz.Feature
	for _, off := range []string{"-liga", "-clig", "-calt", "-rlig", "-locl", "-ccmp"} {
		f, err := harfbuzz.ParseFeature(off)
		if err != nil {
			panic(err)
		}
		fs = append(fs, f)
	}
	return fs
}()

// shaped runs the shaper over text with the given features and leaves the result in t.buf. The caller holds
// t.mu.
func (t *table) shaped(text []rune, features []harfbuzz.Feature) {
	if t.shape == nil {
		t.shape = harfbuzz.NewFont(t.face)
		t.buf = harfbuzz.NewBuffer()
	}
	t.buf.Clear()
	t.buf.Props.Direction = harfbuzz.LeftToRight
	t.buf.Props.Script = language.Latin
	t.buf.Props.Language = "en"
	t.buf.AddRunes(text, 0, len(text))
	t.buf.Shape(t.shape, features)
}

// pair asks the shaper for the kerning of a pair.
func (t *table) pair(a, b rune) int16 {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.shaped([]rune{a, b}, kernOnly)
	if len(t.buf.Pos) != 2 {
		return 0
	}
	m, _ := t.metric(a)
	return int16(t.buf.Pos[0].XAdvance) - m.advance
}

// compose returns the one letter that stands for base with a combining mark after it, as the face draws it,
// or false.
func (t *table) compose(base, mark rune) (rune, bool) {
	t.mu.Lock()
	t.shaped([]rune{base, mark}, nil)
	n, id := len(t.buf.Info), uint16(0)
	if n == 1 {
		id = uint16(t.buf.Info[0].Glyph)
	}
	t.mu.Unlock()
	if n != 1 {
		return 0, false
	}
	for r := rune(0xC0); r < 0x250; r++ {
		if m, ok := t.metric(r); ok && m.id == id {
			return r, true
		}
	}
	return 0, false
}
