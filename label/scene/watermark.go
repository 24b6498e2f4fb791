package scene

import "panelwright/label/font"

// watermarkInk is light enough to read small letters over it, and dark enough to survive a copier.
var watermarkInk = Ink{K: 14}

// Watermark returns words as one large grey outline rising across a drawing of size w by h. It is an
// outline and no text, so that the text of the drawing stays what it is for whoever copies it out.
func Watermark(w, h Um, words string) (*Path, error) {
	face := font.TextBold
	glyphs, err := face.Shape(words)
	if err != nil {
		return nil, err
	}
	upem := Um(face.UnitsPerEm())
	width, tall := Um(font.Width(glyphs)), Um(face.Height(font.Capitals))
	if width == 0 {
		return &Path{}, nil
	}
	// The text lies along the diagonal: by three quarters of it, but no taller than a third of the height.
	diagonal := Um(Root(int64(w*w + h*h)))
	size := min(diagonal*3/4*upem/width, min(w, h)*upem/(3*tall))
	t := &Text{Face: face, Size: size, Glyphs: glyphs}
	t.X, t.Y = -width*size/upem/2, tall*size/upem/2
	p := &Path{Segments: t.Outlines(), Fill: &watermarkInk}
	for i := range p.Segments {
		for j, q := range p.Segments[i].P {
			p.Segments[i].P[j] = Point{
				X: w/2 + nearest(q.X*w+q.Y*h, diagonal),
				Y: h/2 + nearest(q.Y*w-q.X*h, diagonal),
			}
		}
	}
	return p, nil
}
