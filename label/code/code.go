// Package code draws barcodes and two-dimensional codes as paths of a scene.
//
//	n, err := code.Parse("9520000000004")     // the check digit is verified
//	s, err := code.Bars(n, 0)                 // at the size that the specification calls normal
//	s, err := code.QR("https://fernhollow.example/hay", 0)
//	items := s.At(x, y)                       // its top left corner, quiet zone included, at (x, y)
//	items = s.Turned().At(x, y)               // its bars like the rungs of a ladder
//
// A symbol knows how large it is with the light margins that a scanner needs: whoever places it keeps that box
// clear. Sizes below what the GS1 General Specifications allow are refused. Numbers of law and standard stand in
// the package's data, each with its source.
package code

import (
	"fmt"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// Symbol is a drawn code with its quiet zones.
type Symbol struct {
	W, H  scene.Um // quiet zones and the digits below included
	X     scene.Um // width of a module, the narrowest bar
	Text  string   // what a scanner reads
	items []scene.Item
}

// At returns the drawing with its top left corner at (x, y).
func (s *Symbol) At(x, y scene.Um) []scene.Item {
	out := make([]scene.Item, len(s.items))
	for i, item := range s.items {
		switch item := item.(type) {
		case *scene.Text:
			t := *item
			t.X, t.Y = t.X+x, t.Y+y
			out[i] = &t
		case *scene.Path:
			p := *item
			p.Segments = make([]scene.Segment, len(item.Segments))
			for k, seg := range item.Segments {
				for j := range seg.P {
					seg.P[j].X += x
					seg.P[j].Y += y
				}
				p.Segments[k] = seg
			}
			out[i] = &p
		}
	}
	return out
}

// box appends a filled box to the segments of a path.
func box(dst []scene.Segment, left, top, right, bottom scene.Um) []scene.Segment {
	return append(dst, scene.Rounded(scene.Rect{Left: left, Top: top, Right: right, Bottom: bottom}, 0)...)
}

// digits returns text whose figures are tall high, with its width.
func digits(text string, tall scene.Um) (*scene.Text, error) {
	face := font.Semi
	g, err := face.Shape(text)
	if err != nil {
		return nil, err
	}
	return &scene.Text{Face: face, Size: scene.Um(face.SizeForHeight(int64(tall), font.Numerals)), Glyphs: g, Ink: scene.Black}, nil
}

// SizeError is a code asked for in a size that the specification does not allow.
type SizeError struct {
	Symbol      string
	X           scene.Um
	Least, Most scene.Um
	Source      string
}

func (e *SizeError) Error() string {
	return fmt.Sprintf("a module of %v for %s; it must be from %v to %v (%s)", e.X, e.Symbol, e.Least, e.Most, e.Source)
}
