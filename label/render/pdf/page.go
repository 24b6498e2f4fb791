package pdf

import (
	"strconv"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// page writes the drawing operators of one page. It remembers what is set, and sets only what changes.
type page struct {
	fonts map[*font.Face]string
	buf   []byte
	h     scene.Um // height of the page from the edge of the label: PDF counts y upwards
	bleed scene.Um // from the edge of the page to that of the label

	face   *font.Face
	size   scene.Um
	fill   scene.Ink
	stroke scene.Ink
	width  scene.Um
	pen    scene.Pen
	limit  bool // of sharp corners is set
	part   int  // the element whose part is being drawn
}

// begin empties the page for the next one, of height h.
func (p *page) begin(h, bleed scene.Um) {
	none := scene.Ink{C: 255}
	*p = page{fonts: p.fonts, buf: p.buf[:0], h: h + bleed, bleed: bleed, fill: none, stroke: none, width: -1, part: between}
}

// text writes one line of text as one text object.
func (p *page) text(t *scene.Text) {
	if len(t.Glyphs) == 0 {
		return
	}
	p.setFill(t.Ink)
	p.buf = append(p.buf, "BT"...)
	if t.Face != p.face || t.Size != p.size {
		p.face, p.size = t.Face, t.Size
		p.buf = append(p.buf, ' ')
		p.buf = append(p.buf, p.fonts[t.Face]...)
		p.points(t.Size)
		p.buf = append(p.buf, " Tf"...)
	}
	switch {
	case t.Quarter && t.Turned:
		p.buf = append(p.buf, " 0 -1 1 0"...)
	case t.Quarter:
		p.buf = append(p.buf, " 0 1 -1 0"...)
	case t.Turned:
		p.buf = append(p.buf, " -1 0 0 -1"...)
	}
	p.point(scene.Point{X: t.X, Y: t.Y})
	if t.Turned || t.Quarter {
		p.buf = append(p.buf, " Tm [<"...)
	} else {
		p.buf = append(p.buf, " Td [<"...)
	}
	upem := t.Face.UnitsPerEm()
	for i, g := range t.Glyphs {
		const hex = "0123456789abcdef"
		p.buf = append(p.buf, hex[g.Rune>>12&15], hex[g.Rune>>8&15], hex[g.Rune>>4&15], hex[g.Rune&15])
		if i == len(t.Glyphs)-1 {
			break
		}
		// The reader advances by the width in the file, which is in whole thousandths of an em; what the
		// scene wants beyond it is set right here, counted backwards as the TJ operator does.
		width := (int64(g.Advance)*1000 + upem/2) / upem
		if back := width*upem - (int64(g.Advance)+int64(g.Kern))*1000; back != 0 {
			p.buf = append(p.buf, '>')
			p.buf = appendRatio(p.buf, back, upem)
			p.buf = append(p.buf, '<')
		}
	}
	if t.Space {
		p.buf = append(p.buf, "0020"...)
	}
	p.buf = append(p.buf, ">] TJ ET\n"...)
}

// image writes a picture, which the file calls by a name.
func (p *page) image(m *scene.Image, name string) {
	w, h, corner := m.Box.Right-m.Box.Left, m.Box.Bottom-m.Box.Top, scene.Point{X: m.Box.Left, Y: m.Box.Bottom}
	if m.Turned {
		w, h, corner = -w, -h, scene.Point{X: m.Box.Right, Y: m.Box.Top}
	}
	p.buf = append(p.buf, 'q')
	if m.Quarter {
		corner.X = m.Box.Left + m.Box.Right - corner.X
		p.buf = append(p.buf, " 0"...)
		p.points(h)
		p.points(-w)
		p.buf = append(p.buf, " 0"...)
	} else {
		p.points(w)
		p.buf = append(p.buf, " 0 0"...)
		p.points(h)
	}
	p.point(corner)
	p.buf = append(p.buf, " cm "...)
	p.buf = append(p.buf, name...)
	p.buf = append(p.buf, " Do Q\n"...)
}

// path writes an outline.
func (p *page) path(q *scene.Path) {
	if len(q.Segments) == 0 || q.Fill == nil && q.Stroke == nil {
		return
	}
	if q.Fill != nil {
		p.setFill(*q.Fill)
	}
	if q.Stroke != nil {
		p.setStroke(*q.Stroke, q.Width)
		p.setPen(q.Pen)
	}
	for _, s := range q.Segments {
		switch s.Op {
		case scene.MoveTo:
			p.point(s.P[0])
			p.buf = append(p.buf, " m"...)
		case scene.LineTo:
			p.point(s.P[0])
			p.buf = append(p.buf, " l"...)
		case scene.CurveTo:
			p.point(s.P[0])
			p.point(s.P[1])
			p.point(s.P[2])
			p.buf = append(p.buf, " c"...)
		case scene.Close:
			p.buf = append(p.buf, " h"...)
		}
	}
	switch {
	case q.Fill != nil && q.Stroke != nil:
		p.buf = append(p.buf, " B"...)
	case q.Fill != nil:
		p.buf = append(p.buf, " f"...)
	default:
		p.buf = append(p.buf, " S"...)
	}
	if q.Holes && q.Fill != nil {
		p.buf = append(p.buf, '*')
	}
	p.buf = append(p.buf, '\n')
}

func (p *page) setFill(ink scene.Ink) {
	if ink != p.fill {
		p.fill = ink
		p.ink(ink)
		p.buf = append(p.buf, "k\n"...)
	}
}

func (p *page) setStroke(ink scene.Ink, width scene.Um) {
	if ink != p.stroke {
		p.stroke = ink
		p.ink(ink)
		p.buf = append(p.buf, "K\n"...)
	}
	if width != p.width {
		p.width = width
		p.points(width)
		p.buf = append(p.buf, " w\n"...)
	}
}

// setPen sets how strokes end and turn. The numbers of caps and joins are those of the file format.
func (p *page) setPen(pen scene.Pen) {
	if !p.limit {
		p.limit = true
		p.buf = append(strconv.AppendInt(p.buf, scene.MiterLimit, 10), " M\n"...)
	}
	if pen != p.pen {
		p.pen = pen
		p.buf = append(p.buf, '0'+byte(pen.Cap), ' ', 'J', ' ', '0'+byte(pen.Join), ' ', 'j', '\n')
	}
}

func (p *page) ink(ink scene.Ink) {
	for _, percent := range [...]uint8{ink.C, ink.M, ink.Y, ink.K} {
		p.buf = append(appendRatio(p.buf, int64(percent), 100), ' ')
	}
}

// point writes a place, as x and y in points.
func (p *page) point(q scene.Point) {
	p.points(p.bleed + q.X)
	p.points(p.h - q.Y)
}

// points writes a length in points of 1/72 inch, after a space.
func (p *page) points(u scene.Um) {
	p.buf = append(p.buf, ' ')
	p.buf = appendRatio(p.buf, int64(u)*72, 25400)
}

// decimals is how finely numbers are written: a ten-thousandth of a point is 0.04 micrometres.
const decimals = 10000

// appendRatio appends a/b in decimals, rounded to the nearest, without needless zeros.
func appendRatio(buf []byte, a, b int64) []byte {
	if a < 0 {
		n := (-a*decimals + b/2) / b
		if n == 0 {
			return append(buf, '0')
		}
		buf = append(buf, '-')
		a = -a
	}
	n := (a*decimals + b/2) / b
	buf = strconv.AppendInt(buf, n/decimals, 10)
	if n %= decimals; n != 0 {
		buf = append(buf, '.', byte('0'+n/1000), byte('0'+n/100%10), byte('0'+n/10%10), byte('0'+n%10))
		for buf[len(buf)-1] == '0' {
			buf = buf[:len(buf)-1]
		}
	}
	return buf
}
