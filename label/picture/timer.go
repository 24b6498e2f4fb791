package picture

import "panelwright/label/scene"

// TimerWide is the width of an egg timer in percent of its height.
const TimerWide = 62

// thinnest is the pen of a symbol, however small. Common practice, no source: thinner lines fill in or break.
const thinnest scene.Um = 135

// EggTimer returns the symbol of the date of minimum durability (Regulation (EC) No 1223/2009 Annex VII point 3) in a
// box: two bulbs that meet in a narrow neck, caps at both ends, sand in the lower. The drawing is our own.
func EggTimer(r scene.Rect, ink scene.Ink) []scene.Item {
	at := func(x, y scene.Um) scene.Point { // in percent of the box
		return scene.Point{X: r.Left + (r.Right-r.Left)*x/100, Y: r.Top + (r.Bottom-r.Top)*y/100}
	}
	curve := func(c1, c2, to scene.Point) scene.Segment {
		return scene.Segment{Op: scene.CurveTo, P: [3]scene.Point{c1, c2, to}}
	}
	pen := max((r.Bottom-r.Top)/26, thinnest)
	line := func(from scene.Point, to ...scene.Segment) *scene.Path {
		return &scene.Path{Segments: append([]scene.Segment{{Op: scene.MoveTo, P: [3]scene.Point{from}}}, to...), Stroke: &ink, Width: pen}
	}
	to := func(x, y scene.Um) scene.Segment {
		return scene.Segment{Op: scene.LineTo, P: [3]scene.Point{at(x, y)}}
	}
	return []scene.Item{
		line(at(4, 4), to(96, 4)),
		line(at(4, 96), to(96, 96)),
		// The glass, once round: left upper bulb, left lower bulb, right lower, right upper.
		line(at(16, 4), curve(at(16, 32), at(44, 38), at(44, 50)), curve(at(44, 62), at(16, 68), at(16, 96))),
		line(at(84, 4), curve(at(84, 32), at(56, 38), at(56, 50)), curve(at(56, 62), at(84, 68), at(84, 96))),
		&scene.Path{Fill: &ink, Segments: []scene.Segment{
			{Op: scene.MoveTo, P: [3]scene.Point{at(26, 92)}},
			curve(at(28, 80), at(42, 76), at(50, 74)),
			curve(at(58, 76), at(72, 80), at(74, 92)),
			{Op: scene.Close},
		}},
		&scene.Path{Fill: &ink, Segments: []scene.Segment{
			{Op: scene.MoveTo, P: [3]scene.Point{at(32, 28)}},
			curve(at(44, 24), at(56, 24), at(68, 28)),
			curve(at(62, 36), at(52, 38), at(50, 48)),
			curve(at(48, 38), at(38, 36), at(32, 28)),
			{Op: scene.Close},
		}},
	}
}
