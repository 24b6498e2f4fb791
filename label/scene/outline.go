package scene

import "panelwright/label/font"

const font64 = Um(font.OutlineScale)

// contours turns the outline of a glyph into segments, with each point placed by at.
func contours(outline []font.Segment, at func([2]int32) Point) []Segment {
	out := make([]Segment, 0, len(outline)+2)
	var pen [2]int32
	for _, s := range outline {
		switch s.Op {
		case font.MoveTo:
			if len(out) > 0 {
				out = append(out, Segment{Op: Close})
			}
			out = append(out, Segment{Op: MoveTo, P: [3]Point{at(s.P[0])}})
			pen = s.P[0]
		case font.LineTo:
			out = append(out, Segment{Op: LineTo, P: [3]Point{at(s.P[0])}})
			pen = s.P[0]
		case font.QuadTo:
			// A quadratic curve is the cubic whose control points lie two thirds of the way to its own.
			c1, c2 := twoThirds(pen, s.P[0]), twoThirds(s.P[1], s.P[0])
			out = append(out, Segment{Op: CurveTo, P: [3]Point{at(c1), at(c2), at(s.P[1])}})
			pen = s.P[1]
		case font.CubicTo:
			out = append(out, Segment{Op: CurveTo, P: [3]Point{at(s.P[0]), at(s.P[1]), at(s.P[2])}})
			pen = s.P[2]
		}
	}
	if len(out) > 0 {
		out = append(out, Segment{Op: Close})
	}
	return out
}

func twoThirds(from, to [2]int32) [2]int32 {
	return [2]int32{from[0] + (to[0]-from[0])*2/3, from[1] + (to[1]-from[1])*2/3}
}
