package layout

import (
	"panelwright/label"
	"panelwright/label/picture"
	"panelwright/label/scene"
)

// symbol is a drawing that belongs to a statement. The drawings are our own: the law names the first three but
// sets no measures in words (Regulation (EC) No 1223/2009 Annex VII).
type symbol uint8

const (
	noSymbol    symbol = iota
	jarSymbol          // period after opening: an open pot with the period on it (Annex VII point 2)
	timerSymbol        // date of minimum durability: an egg timer before the date (Annex VII point 3)
	bookSymbol         // more is said elsewhere: a hand on an open book (Annex VII point 1)
	codeSymbol         // a material's code in a plain frame, without arrows
	eSymbol            // the e-mark
)

// Smallest heights of symbols, so that their lines stay apart in print. Common practice, no source.
const (
	leastBook  scene.Um = 5000
	leastTimer scene.Um = 3600
)

// Widths of symbols in percent of their heights.
const (
	bookWide  = 122
	timerWide = picture.TimerWide
)

// drawSymbol returns the symbol of a part of a row in its box; tall is the height of the words beside it.
func (b *block) drawSymbol(box scene.Rect, m part, tall scene.Um, ink scene.Ink) []scene.Item {
	switch b.symbol {
	case jarSymbol:
		return aloud("open jar: period after opening", jarAround(m.words, tall).draw(box.Left, box.Top, ink))
	case timerSymbol:
		high := m.tall
		if b.fill {
			high = max(leastTimer, (m.tall-m.drop)*9/10)
		}
		mid := box.Bottom - m.tall/2
		return aloud("egg timer: best before", picture.EggTimer(scene.Rect{Left: box.Left, Top: mid - high/2, Right: box.Left + high*timerWide/100, Bottom: mid + high/2}, ink))
	case bookSymbol:
		return aloud("hand in an open book: see what comes with the product", drawBook(box, ink))
	case codeSymbol:
		pen := max((box.Bottom-box.Top)/24, 2*Hairline)
		r := scene.Rect{Left: box.Left + pen/2, Top: box.Top + pen/2, Right: box.Right - pen/2, Bottom: box.Bottom - pen/2}
		return []scene.Item{&scene.Path{Segments: scene.Rounded(r, 0), Stroke: &ink, Width: pen, Behind: true}}
	case eSymbol:
		return []scene.Item{b.drawMark(box.Left, box.Bottom, box.Bottom-box.Top, ink)}
	}
	return nil
}

// aloud gives the lines of a symbol the words that readers speak in its place.
func aloud(words string, items []scene.Item) []scene.Item {
	for _, item := range items {
		if p, ok := item.(*scene.Path); ok {
			p.Alt = words
		}
	}
	return items
}

// addMark has the e-mark follow the words of a net quantity, at least min high; 0 for none. Where the law wants
// the quantity to stand clear it gets a place of its own, see markBlock.
func (b *block) addMark(min int64) {
	if min == 0 || b.apart {
		return
	}
	b.tail = scene.Um(min)
	for w, f := range b.flows {
		if f != nil {
			f.follow(b.tail, b.floor[w])
		}
	}
}

// markBlock is an e-mark by itself, on the same panel as the net quantity.
func (d *dressed) markBlock(c *label.PackCopy) *block {
	s := &label.Statement{Kind: label.NetText, Height: c.EMark, Markets: c.Markets}
	b := &block{d: d, s: s, role: roleText, group: 1, scale: 100, symbol: eSymbol, tail: scene.Um(c.EMark.Min)}
	for w := range widths {
		b.flows[w] = &flow{upem: 1}
		b.floor[w] = size(houseHeight)
	}
	return b
}

// drawMark returns the e-mark, height high, standing on base. Its height is that of its own outline, from the
// lowest ink to the highest; the letter is drawn as a stroke, so that is the circle of the stroke and one pen.
// Directive 2009/34/EC Annex II point 3 draws it by the circle round the letter; its relative figures were not
// seen, so the proportions are ours.
func (b *block) drawMark(x, base, height scene.Um, ink scene.Ink) *scene.Path {
	pen := height * 17 / 100
	r := (height - pen) / 2
	mid := scene.Point{X: x + height/2, Y: base - height/2}
	ring := scene.Oval(mid, r, r, 0) // from the right end downwards, to the left, over the top
	// The stroke begins at the bar's right end, runs over the top and the left side, and ends low at the right.
	at := func(p scene.Point) [3]scene.Point { return [3]scene.Point{p} }
	reverse := func(s scene.Segment, to scene.Point) scene.Segment {
		return scene.Segment{Op: scene.CurveTo, P: [3]scene.Point{s.P[1], s.P[0], to}}
	}
	left, top, bottom, right := scene.Point{X: mid.X - r, Y: mid.Y}, scene.Point{X: mid.X, Y: mid.Y - r},
		scene.Point{X: mid.X, Y: mid.Y + r}, scene.Point{X: mid.X + r, Y: mid.Y}
	open := scene.Point{X: mid.X + r*82/100, Y: mid.Y + r*57/100} // cos and sin of 35 degrees
	m := &scene.Mark{Statement: "e-mark", MinHeight: b.tail, Height: 2*r + pen, On: b.on, Rule: "outline of the e-mark"}
	return &scene.Path{Stroke: &ink, Width: pen, Mark: m, Segments: []scene.Segment{
		{Op: scene.MoveTo, P: at(scene.Point{X: mid.X - r, Y: mid.Y})},
		{Op: scene.LineTo, P: at(right)},
		reverse(ring[4], top),
		reverse(ring[3], left),
		reverse(ring[2], bottom),
		{Op: scene.CurveTo, P: [3]scene.Point{{X: mid.X + r*33/100, Y: mid.Y + r}, {X: mid.X + r*63/100, Y: mid.Y + r*85/100}, open}},
	}}
}

// jar is the symbol of the period after opening: an open pot with its lid raised at one side, the period on
// the pot.
type jar struct {
	width, height scene.Um
	pot           scene.Rect // from the top left corner of the symbol
	words, base   scene.Um   // where the period starts, and its baseline
}

// jarAround returns the jar whose pot holds a period of a width and a height of capitals.
func jarAround(words, tall scene.Um) jar {
	wide := words + tall*12/10
	rim := tall * 55 / 100 // half the height of the mouth
	lid := tall * 13 / 10
	pot := scene.Rect{Top: lid, Right: wide, Bottom: lid + rim + tall*22/10}
	return jar{
		width:  wide + tall*5/10,
		height: pot.Bottom,
		pot:    pot,
		words:  (wide - words) / 2,
		base:   pot.Bottom - tall*6/10,
	}
}

// draw returns the lines of the jar with its top left corner at (x, y).
func (j jar) draw(x, y scene.Um, ink scene.Ink) []scene.Item {
	pen := max(j.height/40, Hairline)
	half := pen / 2
	left, right := x+half, x+j.pot.Right-half
	bottom := y + j.pot.Bottom - half
	mid, wide := (left+right)/2, (right-left)/2
	tall := (j.pot.Bottom - j.pot.Top) / 5 // half the height of the mouth
	mouth := y + j.pot.Top + tall/2
	// Body: down the left side, round the bottom, up the right side.
	sag := tall * 7 / 10
	body := []scene.Segment{
		{Op: scene.MoveTo, P: [3]scene.Point{{X: left, Y: mouth}}},
		{Op: scene.LineTo, P: [3]scene.Point{{X: left, Y: bottom - sag}}},
		curve(scene.Point{X: left, Y: bottom}, scene.Point{X: left, Y: bottom}, scene.Point{X: left + wide/2, Y: bottom}),
		{Op: scene.LineTo, P: [3]scene.Point{{X: right - wide/2, Y: bottom}}},
		curve(scene.Point{X: right, Y: bottom}, scene.Point{X: right, Y: bottom}, scene.Point{X: right, Y: bottom - sag}),
		{Op: scene.LineTo, P: [3]scene.Point{{X: right, Y: mouth}}},
	}
	// Lid: the mouth once more, raised at the right and tilted.
	shiftX, shiftY := j.width-j.pot.Right, mouth-tall/2-half-y-tall/2
	lid := scene.Oval(scene.Point{X: mid + shiftX, Y: mouth - shiftY}, wide-half, tall/2, wide/4)
	return []scene.Item{
		&scene.Path{Segments: body, Stroke: &ink, Width: pen},
		&scene.Path{Segments: scene.Oval(scene.Point{X: mid, Y: mouth}, wide, tall/2, 0), Stroke: &ink, Width: pen},
		&scene.Path{Segments: lid, Stroke: &ink, Width: pen},
	}
}

func curve(c1, c2, to scene.Point) scene.Segment {
	return scene.Segment{Op: scene.CurveTo, P: [3]scene.Point{c1, c2, to}}
}

// drawBook returns an open book seen from the front, with a hand whose finger points at the right page.
func drawBook(r scene.Rect, ink scene.Ink) []scene.Item {
	at := grid(r)
	pen := max((r.Bottom-r.Top)/30, Hairline*3/2)
	to := func(x, y scene.Um) scene.Segment {
		return scene.Segment{Op: scene.LineTo, P: [3]scene.Point{at(x, y)}}
	}
	from := func(x, y scene.Um) scene.Segment {
		return scene.Segment{Op: scene.MoveTo, P: [3]scene.Point{at(x, y)}}
	}
	pages := []scene.Segment{
		from(50, 16),
		curve(at(40, 4), at(20, 2), at(3, 8)), to(3, 72), curve(at(20, 66), at(40, 68), at(50, 80)),
		curve(at(60, 68), at(80, 66), at(97, 72)), to(97, 8), curve(at(80, 2), at(60, 4), at(50, 16)), to(50, 80),
	}
	lines := []scene.Segment{}
	for _, y := range []scene.Um{22, 34, 46} {
		lines = append(lines, from(13, y), curve(at(22, y-3), at(32, y-2), at(41, y+3)))
	}
	lines = append(lines, from(59, 25), curve(at(68, 20), at(78, 19), at(87, 22)))
	// The hand comes from below: index finger up, three fingers folded, the thumb at the left, the cuff cut off.
	hand := []scene.Segment{
		from(60, 97), to(60, 86),
		curve(at(52, 78), at(48, 68), at(52, 65)), curve(at(57, 62), at(60, 70), at(63, 73)), // thumb
		to(63, 42), curve(at(63, 35), at(71, 35), at(71, 42)), to(71, 60), // index finger
		curve(at(72, 55), at(79, 56), at(79, 62)), curve(at(80, 58), at(87, 59), at(86, 65)), // folded fingers
		curve(at(88, 62), at(93, 64), at(92, 70)), to(90, 84), curve(at(89, 88), at(87, 90), at(87, 97)), {Op: scene.Close},
	}
	paper := scene.Ink{}
	return []scene.Item{
		&scene.Path{Segments: pages, Stroke: &ink, Width: pen},
		&scene.Path{Segments: lines, Stroke: &ink, Width: pen * 2 / 3},
		&scene.Path{Segments: hand, Fill: &paper, Stroke: &ink, Width: pen},
	}
}

// grid returns the place at a percentage of the width and the height of a box.
func grid(r scene.Rect) func(x, y scene.Um) scene.Point {
	return func(x, y scene.Um) scene.Point {
		return scene.Point{X: r.Left + (r.Right-r.Left)*x/100, Y: r.Top + (r.Bottom-r.Top)*y/100}
	}
}
