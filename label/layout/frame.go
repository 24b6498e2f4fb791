package layout

import (
	"panelwright/label/look"
	"panelwright/label/scene"
)

// frame is what is drawn along the edge of a panel.
type frame struct {
	kind  look.Frame
	strip scene.Um // width of a solid strip along the left edge
	pad   scene.Um // blank beyond the margin
}

// Measures of frames. Common practice, no source: a cutter is off by a millimetre, so a line along the edge
// stays clear of it, and the text clear of the line.
const (
	frameInset scene.Um = 1500 // from the edge to the outer line
	frameGap   scene.Um = 700  // between the lines of a double frame
	frameAir   scene.Um = 1700 // from the innermost line to the text
	beadGap    scene.Um = 1900 // between the lines of a beaded frame
	beadPitch  scene.Um = 1750
	bead       scene.Um = 430 // radius
	wreathWide scene.Um = 3400
	stripAir   scene.Um = 2600
	leastSprig scene.Um = 5500 // a smaller one looks like a speck
	outerPen   scene.Um = 260
	innerPen   scene.Um = 110
)

// depth returns how far from the edge text begins.
func (f frame) depth() scene.Um {
	d := scene.Um(0)
	switch f.kind {
	case look.Single:
		d = frameInset + frameAir
	case look.Double:
		d = frameInset + frameGap + frameAir
	case look.Beads:
		d = frameInset + beadGap + frameAir
	case look.Leaves:
		d = frameInset + frameAir // of the sprigs there is more to say, see newPanel
	}
	if d > 0 || f.pad > 0 {
		d = max(d, safeMargin) + f.pad
	}
	return d
}

// cap returns where text may begin below the cap that stands for a strip where the edge is curved.
func (f frame) cap() scene.Um {
	if f.strip == 0 {
		return 0
	}
	return solidInset + f.strip*capTimes + stripAir*6/10
}

// capTimes is how many times the width of a strip a cap is high: at its middle it has to look as heavy.
const capTimes = 2

// sprigSize is the side of the corner that a sprig fills.
func sprigSize(p *panel) scene.Um { return min(min(p.w, p.h)*16/100, 11*scene.Mm) }

// drawFrame returns what is drawn along the edge of the panel.
func (p *panel) drawFrame(ink scene.Ink) []scene.Item {
	var out []scene.Item
	line := func(inset, pen scene.Um) {
		r, rx, ry := p.inner(inset)
		out = append(out, &scene.Path{Segments: scene.Elliptic(r, rx, ry), Stroke: &ink, Width: pen, Behind: true})
	}
	switch p.frame.kind {
	case look.Single:
		line(frameInset, innerPen*3/2)
	case look.Double:
		line(frameInset, outerPen)
		line(frameInset+frameGap, innerPen)
	case look.Beads:
		line(frameInset, innerPen*3/2)
		line(frameInset+beadGap, innerPen)
		r, rx, ry := p.inner(frameInset + beadGap/2)
		var dots []scene.Segment
		for _, s := range walk(scene.Elliptic(r, rx, ry), beadPitch, true) {
			dots = append(dots, scene.Oval(s.at, bead, bead, 0)...)
		}
		out = append(out, &scene.Path{Segments: dots, Fill: &ink, Behind: true})
	case look.Leaves:
		if p.round() {
			out = append(out, p.wreath(ink)...)
		} else if sprigSize(p) >= leastSprig {
			out = append(out, p.sprigs(ink)...)
		}
	}
	switch w := p.frame.strip; {
	case w == 0:
	case p.round(): // a strip has no place along a curved edge: a cap at the top stands for it
		r, rx, ry := p.solid()
		out = append(out, &scene.Path{Segments: scene.Above(r, rx, ry, solidInset+w*capTimes), Fill: &ink, Behind: true})
	default:
		r := scene.Rect{Left: -p.bleed.Left, Top: -p.bleed.Top, Right: solidInset + w, Bottom: p.h + p.bleed.Bottom}
		if !p.bleeds {
			r = scene.Rect{Left: solidInset, Top: solidInset, Right: solidInset + w, Bottom: p.h - solidInset}
		}
		out = append(out, &scene.Path{Segments: scene.Rounded(r, 0), Fill: &ink, Behind: true})
	}
	return out
}

// inner returns the outline of the panel moved in by inset.
func (p *panel) inner(inset scene.Um) (r scene.Rect, rx, ry scene.Um) {
	r = scene.Rect{Left: inset, Top: inset, Right: p.w - inset, Bottom: p.h - inset}
	if p.rx > 0 {
		rx, ry = max(p.rx-inset, 500), max(p.ry-inset, 500)
	}
	return r, rx, ry
}
