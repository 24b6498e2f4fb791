package layout

import (
	"panelwright/label"
	"panelwright/label/look"
	"panelwright/label/scene"
)

// panel is one printable face: its size, and the outline that text keeps within.
type panel struct {
	name   string // "front" or "back", for messages
	shape  label.Shape
	w, h   scene.Um
	rx, ry scene.Um // of the corners; half the sides of a circle or an oval
	frame  frame
	hole   hole
	safe   outline
	bleeds bool       // solid areas reach the edge
	bleed  scene.Rect // by how much they reach beyond it at each side
}

// hole is a round opening that nothing may be printed near; its radius is 0 for none.
type hole struct{ x, y, r scene.Um }

// cornerRadius is that of labels sold as having rounded corners, as most are cut. Common practice, no source.
const cornerRadius = 3 * scene.Mm

// newPanel returns the panel of a shape, dressed in a frame, whose text stays margin away from the edge.
func newPanel(name string, s label.Shape, margin scene.Um, f frame) *panel {
	p := &panel{name: name, shape: s, w: scene.Um(s.W), h: scene.Um(s.H), frame: f}
	keep := max(margin, f.depth())
	switch s.Kind {
	case label.Round:
		p.rx, p.ry = p.w/2, p.w/2
		if f.kind == look.Leaves {
			keep = max(keep, frameInset+wreathWide+frameAir/2)
		}
		round := max(p.rx-keep, 0)
		p.safe = outline{left: keep, top: keep, right: p.w - keep, bottom: p.h - keep, rx: round, ry: round, ceiling: f.cap()}
		return p
	case label.Oval:
		p.rx, p.ry = p.w/2, p.h/2
		if f.kind == look.Leaves {
			keep = max(keep, frameInset+wreathWide+frameAir/2)
		}
		// The oval of the same proportions whose distance is the margin where it is least, see TestOvalMargin.
		short := min(p.rx, p.ry)
		rx, ry := p.rx*max(short-keep, 0)/short, p.ry*max(short-keep, 0)/short
		p.safe = outline{left: p.rx - rx, top: p.ry - ry, right: p.rx + rx, bottom: p.ry + ry, rx: rx, ry: ry, ceiling: f.cap()}
		return p
	case label.Rounded, label.HangTag:
		corner := scene.Um(s.Corner)
		if corner == 0 {
			corner = cornerRadius
		}
		corner = min(corner, p.w/2, p.h/2)
		p.rx, p.ry = corner, corner
		if corner > keep {
			// A box whose corners keep the margin: its sides stay straight, and the text on them flush.
			keep = corner - scene.Um(scene.Root(int64((corner-keep)*(corner-keep)/2)))
		}
	}
	p.safe = outline{left: keep, top: keep, right: p.w - keep, bottom: p.h - keep}
	if f.kind == look.Leaves && sprigSize(p) >= leastSprig {
		p.safe.notch = max(sprigSize(p)-keep+frameAir/2, 0)
	}
	if f.strip > 0 {
		p.safe.left = max(keep, f.strip+solidInset+stripAir)
	}
	return p
}

// punch puts a hole into the panel: text stays below it.
func (p *panel) punch(h hole, margin scene.Um) {
	p.hole = h
	p.safe.top = max(p.safe.top, h.y+h.r+margin)
}

// die returns the outline of the label itself, with its hole.
func (p *panel) die() scene.Path {
	out := scene.Elliptic(scene.Rect{Right: p.w, Bottom: p.h}, p.rx, p.ry)
	return scene.Path{Segments: append(out, p.hole.outline()...)}
}

func (h hole) outline() []scene.Segment {
	if h.r == 0 {
		return nil
	}
	return scene.Oval(scene.Point{X: h.x, Y: h.y}, h.r, h.r, 0)
}

// round reports whether the panel is a circle or an oval.
func (p *panel) round() bool { return p.shape.Kind == label.Round || p.shape.Kind == label.Oval }

// outline is a box whose corners are quarters of an ellipse, or have a square notch. A circle and an oval are
// boxes whose corners meet.
type outline struct {
	left, top, right, bottom scene.Um
	rx, ry                   scene.Um
	notch                    scene.Um
	ceiling                  scene.Um // nothing stands above it; 0 for the top
}

// chord returns how far a box from y = top to y = bottom can reach to the left and to the right within the
// outline. The right is left of the left where the box sticks out above or below.
func (o *outline) chord(top, bottom scene.Um) (left, right scene.Um) {
	if top < max(o.top, o.ceiling) || bottom > o.bottom {
		return o.right, o.left
	}
	if o.notch > 0 {
		if top < o.top+o.notch || bottom > o.bottom-o.notch {
			return o.left + o.notch, o.right - o.notch
		}
		return o.left, o.right
	}
	in := o.inset(max(o.top+o.ry-top, bottom-(o.bottom-o.ry))) // the edge comes in the more, the farther beyond
	return o.left + in, o.right - in
}

// inset returns how far the edge has come in at a place d beyond where the corner begins, rounded up.
func (o *outline) inset(d scene.Um) scene.Um {
	if d <= 0 {
		return 0
	}
	root := scene.Um(scene.Root(int64(o.ry*o.ry - d*d)))
	if o.rx == o.ry {
		return o.rx - root
	}
	return o.rx - root*o.rx/o.ry
}

// reach returns over how much height, from the top, the room changes: 0 where every height is as wide.
func (o *outline) reach() scene.Um { return max(o.ry, o.notch) }
