// Package font reads the project's typefaces: how wide a text runs, how tall its letters really are, and
// what they look like.
//
// A [Face] is one style of one family, such as [TextBold]. [Face.Shape] turns a text into glyphs, each with
// its advance and the kerning to the next, in whole font units (so that a width is the same at every size
// and on every machine):
//
//	glyphs, err := font.Text.Shape("Theobroma Cacao Seed Butter")
//	width := font.Width(glyphs) * size / font.Text.UnitsPerEm() // micrometres, as size is
//
// A letter that the face does not have is an error that names it, never a box on the label.
//
// Legal letter heights are heights of printed letters, not sizes of a face. [Face.SizeForHeight] gives the
// size to set so that the measured outline reaches a height, see [Measure].
//
// Faces are read on first use, cost nothing before, and may be used by many goroutines at once.
package font

import (
	"bytes"
	"fmt"
	"path"
	"strings"
	"sync"
	"sync/atomic"

	gofont "github.com/go-text/typesetting/font"

	"panelwright/templates"
)

// Face is one style of a typeface. The faces that come with the project stand in this package's variables,
// others are opened with [Open]; they are compared by address.
type Face struct {
	file string // below templates.Fonts; or the name of an opened one
	own  []byte // the file itself of an opened one
	once sync.Once
	read *table
}

// The text family in three widths, and the display face for product names.
var (
	Text          = face("fonts/barlow/Barlow-Regular.ttf")
	TextBold      = face("fonts/barlow/Barlow-Bold.ttf")
	Semi          = face("fonts/barlow-semi-condensed/BarlowSemiCondensed-Regular.ttf")
	SemiBold      = face("fonts/barlow-semi-condensed/BarlowSemiCondensed-Bold.ttf")
	Condensed     = face("fonts/barlow-condensed/BarlowCondensed-Regular.ttf")
	CondensedBold = face("fonts/barlow-condensed/BarlowCondensed-Bold.ttf")
	Display       = face("fonts/young-serif/YoungSerif-Regular.ttf")
)

// Further faces for product names, one a character: capitals as cut in stone, a bold slab, a soft italic.
var (
	Carved = face("fonts/cinzel/Cinzel-SemiBold.ttf")
	Slab   = face("fonts/zilla-slab/ZillaSlab-Bold.ttf")
	Italic = face("fonts/cormorant-garamond/CormorantGaramond-SemiBoldItalic.ttf")
)

var all []*Face

func face(file string) *Face {
	f := &Face{file: file}
	all = append(all, f)
	return f
}

// All returns every face that comes with the project, in a fixed order.
func All() []*Face { return append([]*Face(nil), all...) }

// Name returns the name of the face, such as "BarlowCondensed-Bold".
func (f *Face) Name() string { return strings.TrimSuffix(path.Base(f.file), path.Ext(f.file)) }

// Data returns a copy of the font file that is embedded, in TrueType format.
func (f *Face) Data() []byte {
	if f.own != nil {
		return bytes.Clone(f.own)
	}
	data, err := templates.Fonts.ReadFile(f.file)
	if err != nil {
		panic(err) // embedded, see TestFaces
	}
	return data
}

// UnitsPerEm returns the number of font units in one em.
func (f *Face) UnitsPerEm() int64 { return f.table().upem }

// table returns what is known of the face, reading the file the first time.
func (f *Face) table() *table {
	f.once.Do(func() {
		t, err := read(f.Data())
		if err != nil {
			panic(fmt.Sprintf("font %s: %v", f.Name(), err)) // embedded, see TestFaces
		}
		f.read = t
	})
	return f.read
}

// read parses a font file and measures every letter in it.
func read(data []byte) (*table, error) {
	parsed, err := gofont.ParseTTF(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	t := &table{face: parsed, upem: int64(parsed.Upem()), glyphs: map[rune]*metric{},
		kerns: make([]atomic.Int32, kernRunes*kernRunes)}
	for cmap := parsed.Cmap.Iter(); cmap.Next(); {
		r, id := cmap.Char()
		if r > 0xFFFF || id > 0xFFFF {
			continue // the PDF file format written here holds two bytes a character
		}
		t.add(r, id)
	}
	for m, letters := range measured {
		for _, r := range letters {
			g, ok := t.metric(r)
			if !ok {
				return nil, fmt.Errorf("it has no letter %q to measure heights on", r)
			}
			if h := inkHeight(t.outline(g.id)); t.heights[m] == 0 || h < t.heights[m] {
				t.heights[m] = h
			}
		}
		if t.heights[m] == 0 {
			return nil, fmt.Errorf("its letters %q have no height", letters)
		}
	}
	for r := 'a'; r <= 'z'; r++ {
		m, _ := t.metric(r)
		t.strut.add(m)
	}
	return t, nil
}
