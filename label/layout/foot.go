package layout

import "panelwright/label/scene"

// footLines is the most lines a statement at the foot is broken into.
const footLines = 4

// setFoot places the blocks at the foot of the column, from the last upwards, each as low as the outline
// allows, and returns where the ink of the first begins. It returns false where one does not fit, or would
// begin above the bottom 30 % of the panel though it must stand there (21 CFR 701.13(f)).
func (c *column) setFoot(z sizes, keep func(b *block, y scene.Um, lines []line)) (scene.Um, bool) {
	bottom := c.area.bottom
	for i := len(c.foot) - 1; i >= 0; i-- {
		b := c.foot[i]
		y, ok := c.lowest(b, z, bottom)
		if !ok || b.s.Foot && y < c.panel.h-c.panel.h*30/100 {
			return 0, false
		}
		if keep != nil {
			c.lines = c.lines[:0]
			c.setIn(b, z, y)
			keep(b, y, c.lines)
		}
		bottom = y
		if i > 0 {
			bottom -= max(z.text*60/100, c.apart(b, z), c.apart(c.foot[i-1], z))
		}
	}
	return bottom, true
}

// lowest returns the lowest y at which b can begin so that its ink ends by bottom. Of the ways to break it
// the one that leaves most room above is taken.
func (c *column) lowest(b *block, z sizes, bottom scene.Um) (best scene.Um, found bool) {
	f, size := b.flows[z.width], z.of(b)
	lead, tall := z.lead(b, size), f.ascent(size)+f.descent(size)
	for n := 1; n <= footLines; n++ {
		height := scene.Um(n-1)*lead + tall
		for y := bottom - height; y >= c.area.top && (!found || y > best); y -= 250 {
			c.lines = c.lines[:0]
			if end, ok := c.setIn(b, z, y); ok && end <= bottom {
				best, found = y, true
				break
			}
			if c.area.reach() == 0 {
				break // every other height is as wide
			}
		}
	}
	return best, found
}

// setIn sets a block at the foot, leaving at its sides the space it must keep clear.
func (c *column) setIn(b *block, z sizes, y scene.Um) (scene.Um, bool) {
	left, right := c.left, c.right
	defer func() { c.left, c.right = left, right }()
	if side := c.sides(b, z); side > 0 {
		// The edge of the label is clear on its own; only a neighbouring column can crowd.
		if left > c.area.left {
			c.left = max(left, left-columnGap+side)
		}
		if right < c.area.right {
			c.right = min(right, right+columnGap-side)
		}
	}
	return c.set(b, z, y, footLines)
}
