package code

import (
	"fmt"

	"panelwright/label/scene"
)

// thirteen is how finely edges are placed: in parts of a module.
const thirteen = 13

// bar is a dark bar from one edge to the other, in thirteenths of a module; a tall one reaches down between the
// digits.
type bar struct {
	from, to int
	tall     bool
}

// Bars draws an item number as a barcode with its digits below. x is the width of a module; 0 is the normal size,
// from which the height and the digits grow with x. It fails with a [*SizeError] where x is not allowed.
func Bars(n Number, x scene.Um) (*Symbol, error) {
	sp, ok := specOf(len(n))
	if !ok || n == "" {
		return nil, fmt.Errorf("“%s” is no item number", n)
	}
	x, err := sp.module(x)
	if err != nil {
		return nil, err
	}
	scaled := func(u scene.Um) scene.Um { return (u*x + sp.x/2) / sp.x }
	s := &Symbol{X: x, W: scene.Um(sp.left+sp.modules+sp.right) * x, Text: string(n)}
	tall := scaled(sp.height)
	short := tall
	tall += scene.Um(sp.guard) * x
	edge := func(thirteenths int) scene.Um {
		return (scene.Um(sp.left*thirteen+thirteenths)*x + thirteen/2) / thirteen
	}
	var path []scene.Segment
	for _, b := range barsOf(n) {
		bottom := short
		if b.tall {
			bottom = tall
		}
		path = box(path, edge(b.from), 0, edge(b.to), bottom)
	}
	s.items = append(s.items, &scene.Path{Segments: path, Fill: &scene.Black, Alt: "barcode " + s.Text})
	height := scaled(sp.digit)
	s.H = short + x + height // the figures start a module below the bars: half of one is the least
	for _, g := range groups(n, sp) {
		t, err := digits(g.text, height)
		if err != nil {
			return nil, err
		}
		spread(t, edge(g.from*thirteen), edge(g.to*thirteen))
		t.Y = s.H
		s.items = append(s.items, t)
	}
	s.H = max(s.H, tall)
	return s, nil
}

// group is some digits and the modules above them.
type group struct {
	text     string
	from, to int
}

func groups(n Number, sp spec) []group {
	t := string(n)
	switch sp.digits {
	case 8:
		return []group{{t[:4], 3, 31}, {t[4:], 36, 64}}
	case 12:
		return []group{{t[:1], -sp.left, -sp.left + 7}, {t[1:6], 10, 45}, {t[6:11], 50, 85}, {t[11:], 95 + sp.right - 7, 95 + sp.right}}
	}
	return []group{{t[:1], -sp.left, -sp.left + 7}, {t[1:7], 3, 45}, {t[7:], 50, 92}}
}

// spread centres each figure of t in an equal part of the room from left to right.
func spread(t *scene.Text, left, right scene.Um) {
	upem := scene.Um(t.Face.UnitsPerEm())
	step := (right - left) * upem / t.Size / scene.Um(len(t.Glyphs)) // font units from middle to middle
	t.X = left + (step-scene.Um(t.Glyphs[0].Advance))*t.Size/upem/2
	for i := range t.Glyphs[1:] {
		t.Glyphs[i].Kern = int16(step - (scene.Um(t.Glyphs[i].Advance)+scene.Um(t.Glyphs[i+1].Advance))/2)
	}
}

// barsOf returns the dark bars of a number.
func barsOf(n Number) []bar {
	var w writer
	half := len(n) / 2
	sets, left := "AAAAAA", string(n)
	switch len(n) {
	case 13:
		sets, left = data().digits[n[0]-'0'].first, string(n[1:])
	case 8:
		half = 4
	}
	right := left[half:]
	left = left[:half]
	upc := len(n) == 12
	w.guard(false, 1, 1, 1)
	for i := range left {
		w.digit(left[i], sets[i], upc && i == 0)
	}
	w.guard(true, 1, 1, 1, 1, 1)
	for i := range right {
		w.digit(right[i], 'C', upc && i == len(right)-1)
	}
	w.guard(false, 1, 1, 1)
	return w.bars
}

// writer puts bars one after the other.
type writer struct {
	at   int
	bars []bar
}

// guard writes bars and spaces of a guard, beginning with a space if light is set.
func (w *writer) guard(light bool, modules ...int) {
	for _, m := range modules {
		if !light {
			w.bars = append(w.bars, bar{w.at, w.at + m*thirteen, true})
		}
		w.at += m * thirteen
		light = !light
	}
}

// digit writes a digit in a set of characters: A as in the table, C with light and dark exchanged, B as C turned
// round. The first and the last digit of UPC-A reach down like guards.
func (w *writer) digit(d byte, set byte, tall bool) {
	c := data().digits[d-'0']
	widths := c.widths
	light, thirteenth := true, -c.thirteenth
	switch set {
	case 'B':
		widths[0], widths[1], widths[2], widths[3] = widths[3], widths[2], widths[1], widths[0]
		thirteenth = -thirteenth
	case 'C':
		light, thirteenth = false, -thirteenth
	}
	for _, m := range widths {
		wide := m*thirteen - thirteenth
		if !light {
			wide = m*thirteen + thirteenth
			w.bars = append(w.bars, bar{w.at, w.at + wide, tall})
		}
		w.at += wide
		light = !light
	}
}
