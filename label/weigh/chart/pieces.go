package chart

import (
	"cmp"
	"slices"

	"panelwright/formula/exact"
	"panelwright/label/font"
	"panelwright/label/scene"
)

// pieces draws each piece as a dot, the mean of each batch as a line across it,
// and the name of the batch below.
func (d *drawing) pieces() {
	radius := min(max((right-left)*9/scene.Um(d.n)/20, leastDot), mostDot)
	var line exact.Rat // the highest of the limits: what is below counts in some market
	for _, l := range d.c.Limits {
		line = exact.Max(line, l.Amount)
	}
	i := 0
	for k, b := range d.c.Batches {
		from := left + (right-left)*scene.Um(i)/scene.Um(d.n)
		to := left + (right-left)*scene.Um(i+len(b.Pieces))/scene.Um(d.n)
		for _, x := range b.Pieces {
			colour := good
			if x.Less(line) {
				colour = bad
			}
			d.dot(d.x(i), x, radius, colour)
			i++
		}
		mean := d.y(b.Mean)
		d.line(from, mean, to, mean, strong, level)
		if k > 0 {
			d.line(from, top, from, bottom+2*scene.Mm, hair, grey)
		}
		d.batchName(b, from, to)
		if len(d.c.Batches) == 1 {
			d.beside = append(d.beside, word{"mean " + b.Mean.Decimal(2, exact.Down).String() + " " + d.c.Unit, mean, level, font.Text})
		}
	}
}

func (d *drawing) dot(x scene.Um, weight exact.Rat, radius scene.Um, colour scene.Ink) {
	y := d.y(weight)
	if !d.slip(weight) {
		d.items = append(d.items, &scene.Path{Segments: scene.Oval(scene.Point{X: x, Y: y}, radius, radius, 0), Fill: &colour})
		return
	}
	// Off the field: an arrow at the edge, with the weight.
	point, base := bottom-300, bottom-2300
	if d.c.Stated.Less(weight) {
		point, base = top+300, top+2300
	}
	d.items = append(d.items, &scene.Path{Fill: &colour, Segments: []scene.Segment{
		{Op: scene.MoveTo, P: [3]scene.Point{{X: x, Y: point}}},
		{Op: scene.LineTo, P: [3]scene.Point{{X: x - 1000, Y: base}}},
		{Op: scene.LineTo, P: [3]scene.Point{{X: x + 1000, Y: base}}},
		{Op: scene.Close},
	}})
	words := weight.Decimal(2, exact.Nearest).String()
	if x > (left+right)/2 {
		d.text(font.Text, small, colour, x-1500, (point+base)/2+1000, toRight, words)
		return
	}
	d.text(font.Text, small, colour, x+1500, (point+base)/2+1000, toLeft, words)
}

// batchName sets the name and the mean under a batch, as far as they fit.
func (d *drawing) batchName(b Batch, from, to scene.Um) {
	mean := "mean " + b.Mean.Decimal(2, exact.Down).String() // never shown as more than it is
	for i, s := range []string{b.Name, mean} {
		if i == 1 && len(d.c.Batches) == 1 || s == "" {
			continue
		}
		colour := ink
		if i == 1 {
			colour = level
		}
		if t := d.shape(font.Text, small, colour, s); t != nil && t.Width() < to-from {
			t.X, t.Y = (from+to-t.Width())/2, bottom+scene.Um(4+4*i)*scene.Mm
			d.items = append(d.items, t)
		}
	}
}

// words sets the words beside the lines, pushed apart where lines lie close.
func (d *drawing) words() {
	slices.SortStableFunc(d.beside, func(a, b word) int { return cmp.Compare(a.at, b.at) })
	at := make([]scene.Um, len(d.beside))
	for i, w := range d.beside {
		at[i] = w.at
		if i > 0 {
			at[i] = max(at[i], at[i-1]+lineApart)
		}
	}
	for i := len(at) - 1; i >= 0; i-- { // what was pushed past the foot goes back up
		most := bottom - scene.Um(len(at)-1-i)*lineApart
		at[i] = min(at[i], most)
	}
	for i, w := range d.beside {
		d.line(right+600, w.at, labelled-600, at[i], hair, w.ink)
		d.text(w.face, small, w.ink, labelled, at[i]+1000, toLeft, w.text)
	}
}

type side uint8

const (
	toLeft  side = iota // begins at x
	toRight             // ends at x
)

func (d *drawing) shape(f *font.Face, size scene.Um, i scene.Ink, s string) *scene.Text {
	if s == "" || d.err != nil {
		return nil
	}
	glyphs, err := f.Shape(s)
	if err != nil {
		d.err = err
		return nil
	}
	return &scene.Text{Face: f, Size: size, Glyphs: glyphs, Ink: i}
}

func (d *drawing) text(f *font.Face, size scene.Um, i scene.Ink, x, y scene.Um, s side, words string) {
	t := d.shape(f, size, i, words)
	if t == nil {
		return
	}
	t.X, t.Y = x, y
	if s == toRight {
		t.X -= t.Width()
	}
	d.items = append(d.items, t)
}
