// Package chart draws the weights of pieces, batch by batch, with the weights
// that rules draw lines at:
//
//	c := chart.Chart{Title: "hay fizz", Unit: "g", Stated: stated, Batches: batches, Limits: limits}
//	s, err := c.Scene()
//
// The drawing is a scene, which render/svg and render/pdf write.
package chart

import (
	"fmt"

	"panelwright/formula/exact"
	"panelwright/label/font"
	"panelwright/label/scene"
)

// Chart is what is drawn.
type Chart struct {
	Title   string
	Note    string // a line under the title
	Unit    string // g or ml
	Stated  exact.Rat
	Batches []Batch
	Limits  []Limit
}

// Batch is a run of pieces in the order weighed.
type Batch struct {
	Name   string
	Pieces []exact.Rat
	Mean   exact.Rat
}

// Limit is a weight below which pieces count against a batch.
type Limit struct {
	Name   string // "T1 eu gb"
	Amount exact.Rat
}

// The page and the field that the pieces stand in, in micrometres.
const (
	wide, high   = 190 * scene.Mm, 116 * scene.Mm
	left, right  = 20 * scene.Mm, 140 * scene.Mm
	top, bottom  = 24 * scene.Mm, 98 * scene.Mm
	labelled     = right + 3*scene.Mm // where the words beside the lines begin
	small        = 2750               // em of the words
	large        = 4600
	lineApart    = 3700 // least distance of two words beside the lines
	edgeSpace    = 4 * scene.Mm
	mostDot      = 850
	leastDot     = 130
	hair, strong = 90, 350
)

var (
	ink   = scene.Ink{K: 100}
	grey  = scene.Ink{K: 60}
	pale  = scene.Ink{K: 18}
	good  = scene.Ink{C: 75, M: 25, Y: 35, K: 35}
	bad   = scene.Ink{M: 90, Y: 85, K: 10}
	level = scene.Ink{C: 90, M: 60, K: 10}
)

// Scene draws the chart. It fails where a name has a letter that no face has, and
// where there is nothing to draw.
func (c Chart) Scene() (scene.Scene, error) {
	d := drawing{c: c}
	for _, b := range c.Batches {
		d.n += len(b.Pieces)
	}
	if d.n == 0 || c.Stated.Sign() <= 0 {
		return scene.Scene{}, fmt.Errorf("there is nothing to draw")
	}
	d.fit()
	d.text(font.TextBold, large, ink, left, 11*scene.Mm, toLeft, c.Title)
	d.text(font.Text, small, grey, left, 17*scene.Mm, toLeft, c.Note)
	d.axes()
	d.limits()
	d.pieces()
	d.words()
	if d.err != nil {
		return scene.Scene{}, fmt.Errorf("the chart cannot be drawn: %w", d.err)
	}
	return scene.Scene{W: wide, H: high, Title: c.Title, Lang: "en", Items: d.items}, nil
}

// drawing is a chart at work.
type drawing struct {
	c        Chart
	n        int       // pieces, all batches
	low, top exact.Rat // weights at the foot and the head of the field
	items    []scene.Item
	beside   []word
	err      error
}

// word stands beside the line of its weight.
type word struct {
	text string
	at   scene.Um // of the line
	ink  scene.Ink
	face *font.Face
}

// slip reports whether a weight is so far off that it would squash the rest; it
// is drawn at the edge.
func (d *drawing) slip(x exact.Rat) bool {
	two := exact.Int(2)
	return x.Mul(two).Less(d.c.Stated) || d.c.Stated.Mul(two).Less(x)
}

// fit sets the range of weights.
func (d *drawing) fit() {
	d.low, d.top = d.c.Stated, d.c.Stated
	take := func(x exact.Rat) { d.low, d.top = exact.Min(d.low, x), exact.Max(d.top, x) }
	for _, l := range d.c.Limits {
		take(l.Amount)
	}
	for _, b := range d.c.Batches {
		for _, x := range b.Pieces {
			if !d.slip(x) {
				take(x)
			}
		}
	}
	if d.low.Equal(d.top) {
		d.low, d.top = d.low.Mul(exact.Frac(99, 100)), d.top.Mul(exact.Frac(101, 100))
	}
}

// y returns the height of a weight on the page.
func (d *drawing) y(x exact.Rat) scene.Um {
	share := x.Sub(d.low).Quo(d.top.Sub(d.low))
	field := exact.Int(int64(bottom - top - 2*edgeSpace))
	up := scene.Um(share.Mul(field).Decimal(0, exact.Nearest).IntPart())
	return bottom - edgeSpace - min(max(up, -edgeSpace), bottom-top-edgeSpace)
}

// x returns the place of the i-th piece of all.
func (d *drawing) x(i int) scene.Um {
	return left + (right-left)*scene.Um(2*i+1)/scene.Um(2*d.n)
}

func (d *drawing) line(x1, y1, x2, y2, width scene.Um, i scene.Ink) {
	d.items = append(d.items, scene.Line(x1, y1, x2, y2, width, i))
}

// dashes draws a level line in dashes.
func (d *drawing) dashes(y scene.Um, i scene.Ink) {
	const dash, gap = 2200, 1300
	for x := left; x < right; x += dash + gap {
		d.line(x, y, min(x+dash, right), y, 200, i)
	}
}

// axes draws the field and the weights at its left.
func (d *drawing) axes() {
	step := d.step()
	first := exact.FromDecimal(d.low.Quo(step).Decimal(0, exact.Up)).Mul(step)
	for x := first; x.Cmp(d.top) <= 0; x = x.Add(step) {
		y := d.y(x)
		d.line(left, y, right, y, hair, pale)
		d.text(font.Text, small, grey, left-1500, y+1000, toRight, x.String())
	}
	d.text(font.Text, small, grey, left-1500, top-1500, toRight, d.c.Unit)
	d.line(left, top, left, bottom, hair, grey)
	d.line(left, bottom, right, bottom, hair, grey)
	caption := bottom + 5*scene.Mm
	if len(d.c.Batches) > 1 || d.c.Batches[0].Name != "" {
		caption = bottom + 12*scene.Mm
	}
	d.text(font.Text, small, grey, left, caption, toLeft, "pieces in the order weighed")
}

// step returns the distance of two weights at the left: 1, 2 or 5 times a power
// of ten, so that there are at most eight.
func (d *drawing) step() exact.Rat {
	ten, eighth := exact.Int(10), d.top.Sub(d.low).Quo(exact.Int(8))
	unit := exact.Int(1)
	for eighth.Less(unit) {
		unit = unit.Quo(ten)
	}
	for unit.Mul(ten).Less(eighth) {
		unit = unit.Mul(ten)
	}
	for _, m := range []int64{1, 2, 5} {
		if s := unit.Mul(exact.Int(m)); eighth.Cmp(s) <= 0 {
			return s
		}
	}
	return unit.Mul(ten)
}

func (d *drawing) limits() {
	d.line(left, d.y(d.c.Stated), right, d.y(d.c.Stated), strong, ink)
	d.beside = append(d.beside, word{"stated " + d.c.Stated.Decimal(4, exact.Nearest).String() + " " + d.c.Unit, d.y(d.c.Stated), ink, font.TextBold})
	for _, l := range d.c.Limits {
		d.dashes(d.y(l.Amount), bad)
		d.beside = append(d.beside, word{l.Name + " " + l.Amount.Decimal(4, exact.Nearest).String() + " " + d.c.Unit, d.y(l.Amount), bad, font.Text})
	}
}
