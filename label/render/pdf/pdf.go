// Package pdf writes scenes to a PDF file, one page a scene, each page as large as its scene.
//
//	err := pdf.Write(w, scenes, pdf.Options{Date: printed})
//
// Nothing is decided here: every letter stands where the scene has it, kerning included. Text is real text
// in reading order, so that it can be searched, read aloud and copied; the letters used are embedded. Tags say
// which words are one statement, in which language, and what symbols and pictures show.
// Colours are CMYK as the scene has them: black text is pure black.
//
// The file depends on nothing but the scenes and the options: the same give the same bytes.
package pdf

import (
	"io"
	"time"

	"github.com/go-pdf/fpdf"

	"panelwright/label/scene"
)

// Options says what to write besides the scenes.
type Options struct {
	Title string // of the document; the first scene's if empty
	Lang  string // of the document, such as "en"; the first scene's if empty

	// Date is written as the date the file was made. The format must have one: the zero Date is written as
	// 1 January 2000.
	Date time.Time

	// Watermark is drawn large and grey across every page, behind all else; "" for none.
	Watermark string

	// Plain leaves the drawing operators uncompressed, for reading.
	Plain bool
}

// undated stands where the file format asks for a date and none is given.
var undated = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Write writes scenes to w as one PDF file. It fails where there are no scenes and where w fails.
func Write(w io.Writer, scenes []scene.Scene, o Options) error {
	out := NewWriter(o)
	for i := range scenes {
		if err := out.Page(&scenes[i]); err != nil {
			return err
		}
	}
	return out.Finish(w)
}

// pageSize returns the size of a scene in points, for the library's measures.
func pageSize(s *scene.Scene) fpdf.SizeType {
	return fpdf.SizeType{Wd: inPoints(s.W + 2*s.Bleed), Ht: inPoints(s.H + 2*s.Bleed)}
}

func inPoints(u scene.Um) float64 { return float64(u) * 72 / 25400 }

// letters is a set of runes in the order they came.
type letters struct {
	seen [1 << 16 / 64]uint64
	list []rune
}

func (l *letters) add(r rune) {
	if word, bit := r/64, uint64(1)<<(r%64); l.seen[word]&bit == 0 {
		l.seen[word] |= bit
		l.list = append(l.list, r)
	}
}
