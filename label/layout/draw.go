package layout

import (
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/scene"
)

// solidInset is how far a solid area stays from the edge where nothing bleeds over it.
const solidInset scene.Um = 1200

// draw returns the items of the face as it was solved: what lies behind, then the words in reading order.
func (f *face) draw() []scene.Item {
	items := f.panel.drawFrame(f.ink)
	a := f.best
	for _, col := range a.columns {
		items = append(items, col.drawSolid(a.sizes)...)
	}
	for _, col := range a.columns {
		items = col.draw(items, a.sizes)
	}
	if f.rules() != look.NoRules {
		bottom := f.panel.safe.bottom
		if a.under != nil {
			top, _ := a.under.limit(a.sizes)
			bottom = top - a.under.apart(a.under.foot[0], a.sizes)
		}
		for _, x := range a.hairs {
			items = append(items, scene.Line(x, f.panel.safe.top, x, bottom, Hairline, f.ink))
		}
	}
	return items
}

// drawSolid returns the solid area behind the name, if the layout has one.
func (c *column) drawSolid(z sizes) []scene.Item {
	if len(c.blocks) == 0 || !c.solid(0) {
		return nil
	}
	var end scene.Um
	index := 0
	c.stack(z, c.y, c.area.bottom, func(b *block, y scene.Um, lines []line) {
		if c.solid(index) {
			end = c.bottom(b, z, y, lines) + solidAir(z)
		}
		index++
	})
	ink := c.d.ink
	outline := c.solidOutline(end)
	return []scene.Item{&scene.Path{Segments: outline, Fill: &ink, Behind: true}}
}

// solid returns the outline that solid areas fill: the edge of the label and beyond where it bleeds, else a line
// a little inside it.
func (p *panel) solid() (r scene.Rect, rx, ry scene.Um) {
	if !p.bleeds {
		return p.inner(solidInset)
	}
	b := p.bleed
	r = scene.Rect{Left: -b.Left, Top: -b.Top, Right: p.w + b.Right, Bottom: p.h + b.Bottom}
	if p.rx > 0 {
		rx, ry = p.rx+b.Left, p.ry+b.Top
	}
	return r, rx, ry
}

// solidOutline returns the outline of the solid area of the column down to end: to the edge of the label and
// beyond where it bleeds, else a little inside it.
func (c *column) solidOutline(end scene.Um) []scene.Segment {
	p := c.panel
	r, rx, ry := p.solid()
	first, last := c.left == c.area.left, c.right == c.area.right
	if first && last {
		return scene.Above(r, rx, ry, end)
	}
	corner := scene.Um(0)
	if !p.bleeds {
		corner = min(rx, (end-r.Top)/2)
	}
	if !first {
		r.Left = c.left - columnGap
	}
	if !last {
		r.Right = c.right + columnGap
	}
	r.Bottom = end
	if !first && !last {
		corner = 0
	}
	return scene.Rounded(r, corner)
}

// draw appends the blocks of the column.
func (c *column) draw(items []scene.Item, z sizes) []scene.Item {
	var before scene.Um // end of the ink above
	index := 0
	put := func(b *block, y scene.Um, lines []line, solid bool) {
		ink := scene.Black
		switch {
		case solid:
			ink = c.d.on()
		case b.role <= roleSecond && b.s.Kind == label.TitleText: // an identity stays black as the name too
			ink = c.d.name
		}
		switch {
		case len(b.parts) > 0:
			items = c.drawRow(items, b, z, lines, ink)
			return
		case b.logo != nil:
			items = append(items, drawLogo(b, lines[0])...)
			return
		case b.codes != nil:
			items = append(items, drawCodes(b, lines)...)
			return
		}
		f, size := b.flows[z.width], z.of(b)
		lead, asc := z.lead(b, size), f.ascent(size)
		lines = f.balance(lines, size, c.ending(b), z.loose)
		mark := b.mark(z.width, size)
		for i, l := range lines {
			x := l.left
			if c.centred {
				x += (l.right - l.left - f.width(l.a, l.b, size)) / 2
			} else {
				x += f.hang(l.a, size)
			}
			items = f.texts(items, l.a, l.b, x, y+scene.Um(i)*lead+asc, size, ink, mark)
			if f.mark > 0 && l.b == len(f.glyphs) {
				high := scene.Um((f.mark*int64(size) + f.upem - 1) / f.upem)
				end := x + f.width(l.a, l.b, size)
				items = append(items, b.drawMark(end-high, y+scene.Um(i)*lead+asc, high, ink))
			}
		}
	}
	c.stack(z, c.y, c.area.bottom, func(b *block, y scene.Um, lines []line) {
		if c.ruled(index) {
			items = append(items, c.hair(before, y)...)
		}
		put(b, y, lines, c.solid(index))
		index++
		before = c.bottom(b, z, y, lines)
	})
	c.setFoot(z, func(b *block, y scene.Um, lines []line) { put(b, y, lines, false) })
	return items
}

// bottom returns where the ink of a block that was set ends.
func (c *column) bottom(b *block, z sizes, y scene.Um, lines []line) scene.Um {
	if len(b.parts) > 0 || b.wordless() {
		end := 0
		for _, l := range lines {
			end = max(end, l.b) // codes side by side need not be as high
		}
		return scene.Um(end)
	}
	f, size := b.flows[z.width], z.of(b)
	return y + scene.Um(len(lines)-1)*z.lead(b, size) + f.ascent(size) + f.descent(size)
}

// hair returns the hairline between two blocks: short in the middle of a centred column, else as wide as
// the column. A short one may have a motif in its middle.
func (c *column) hair(above, below scene.Um) []scene.Item {
	y := (above + below) / 2
	left, right := c.chord(y, y)
	if c.d.rules() == look.Every || !c.centred {
		return []scene.Item{scene.Line(left, y, right, y, c.pen(), c.d.ink)}
	}
	mid, half := (left+right)/2, min((right-left)/2, 7*scene.Mm)
	room := (below - above) / 2
	motif := motif(c.d.Look.Motif, scene.Point{X: mid, Y: y}, min(room*8/10, 1100))
	if motif == nil || room < 350 {
		return []scene.Item{scene.Line(mid-half, y, mid+half, y, c.pen(), c.d.ink)}
	}
	ink := c.d.ink
	gap := min(half/3, 2000)
	return []scene.Item{
		scene.Line(mid-half, y, mid-gap, y, Hairline, ink),
		&scene.Path{Segments: motif, Fill: &ink},
		scene.Line(mid+gap, y, mid+half, y, Hairline, ink),
	}
}

// pen returns the width of the rules of the layout.
func (c *column) pen() scene.Um {
	if c.d.rules() == look.Every {
		return Hairline
	}
	return 2 * Hairline
}

// motif returns the drawing in the middle of a rule, high from its middle to its top.
func motif(m look.Motif, at scene.Point, high scene.Um) []scene.Segment {
	switch m {
	case look.Diamond:
		point := func(x, y scene.Um) [3]scene.Point { return [3]scene.Point{{X: at.X + x, Y: at.Y + y}} }
		h := high * 9 / 10
		return []scene.Segment{
			{Op: scene.MoveTo, P: point(-h, 0)}, {Op: scene.LineTo, P: point(0, -h)},
			{Op: scene.LineTo, P: point(h, 0)}, {Op: scene.LineTo, P: point(0, h)}, {Op: scene.Close},
		}
	case look.Dots:
		r := high * 36 / 100
		var out []scene.Segment
		for _, x := range []scene.Um{-r * 3, 0, r * 3} {
			out = append(out, scene.Oval(scene.Point{X: at.X + x, Y: at.Y}, r, r, 0)...)
		}
		return out
	case look.Leaf:
		right := stop{at: scene.Point{X: at.X + 150, Y: at.Y + high/3}, dx: 1000}
		left := stop{at: scene.Point{X: at.X - 150, Y: at.Y + high/3}, dx: -1000}
		out := right.turn(cos38, -sin38).leaf(high*14/10, high*45/100)
		return append(out, left.turn(cos38, sin38).leaf(high*14/10, -high*45/100)...)
	}
	return nil
}
