package picture

import "math"

// quarter is how far along its tangent the control point of a quarter of a circle lies, in radii: the curve is
// nowhere off the circle by more than 0.03 % of the radius.
const quarter = 0.5522847498

// arc draws a part of an ellipse from the pen to a place: radii rx and ry, the first turned by so many degrees; of
// the four parts that fit, the larger or smaller, clockwise (sweep) or not. Radii that are too small grow until they
// reach, as SVG 1.1, appendix F.6 lays down.
func (o *outline) arc(rx, ry, degrees float64, large, sweep bool, to spot) {
	rx, ry = math.Abs(rx), math.Abs(ry)
	from := o.pen
	if from == to {
		return
	}
	if rx == 0 || ry == 0 {
		o.line(to)
		return
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	// The middle between the ends as seen from the ellipse: F.6.5.1.
	dx, dy := (from.x-to.x)/2, (from.y-to.y)/2
	x, y := cos*dx+sin*dy, -sin*dx+cos*dy
	if short := x*x/(rx*rx) + y*y/(ry*ry); short > 1 {
		rx, ry = rx*math.Sqrt(short), ry*math.Sqrt(short)
	}
	// The centre: F.6.5.2 and F.6.5.3.
	over := rx*rx*y*y + ry*ry*x*x
	k := math.Sqrt(max(0, (rx*rx*ry*ry-over)/over))
	if large == sweep {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	mid := spot{cos*cx - sin*cy + (from.x+to.x)/2, sin*cx + cos*cy + (from.y+to.y)/2}
	// The angles: F.6.5.5 and F.6.5.6.
	first := math.Atan2((y-cy)/ry, (x-cx)/rx)
	turn := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - first
	switch {
	case sweep && turn < 0:
		turn += 2 * math.Pi
	case !sweep && turn > 0:
		turn -= 2 * math.Pi
	}
	// No part turns by more than a quarter.
	parts := max(1, int(math.Ceil(math.Abs(turn)/(math.Pi/2)-1e-9)))
	part := turn / float64(parts)
	reach := 4.0 / 3 * math.Tan(part/4)
	at := func(x, y float64) spot { return spot{mid.x + cos*rx*x - sin*ry*y, mid.y + sin*rx*x + cos*ry*y} }
	for i := range parts {
		sin1, cos1 := math.Sincos(first + part*float64(i))
		sin2, cos2 := math.Sincos(first + part*float64(i+1))
		end := at(cos2, sin2)
		if i == parts-1 {
			end = to
		}
		o.cubic(at(cos1-reach*sin1, sin1+reach*cos1), at(cos2+reach*sin2, sin2-reach*cos2), end)
	}
}

// box draws a rectangle with corners rounded by rx and ry, or square.
func (o *outline) box(x, y, w, h, rx, ry float64) {
	rx, ry = min(rx, w/2), min(ry, h/2)
	if rx == 0 || ry == 0 {
		o.move(spot{x, y})
		o.line(spot{x + w, y})
		o.line(spot{x + w, y + h})
		o.line(spot{x, y + h})
		o.close()
		return
	}
	kx, ky := rx*(1-quarter), ry*(1-quarter) // from the corner to the control points
	r, b := x+w, y+h
	o.move(spot{x + rx, y})
	o.line(spot{r - rx, y})
	o.cubic(spot{r - kx, y}, spot{r, y + ky}, spot{r, y + ry})
	o.line(spot{r, b - ry})
	o.cubic(spot{r, b - ky}, spot{r - kx, b}, spot{r - rx, b})
	o.line(spot{x + rx, b})
	o.cubic(spot{x + kx, b}, spot{x, b - ky}, spot{x, b - ry})
	o.line(spot{x, y + ry})
	o.cubic(spot{x, y + ky}, spot{x + kx, y}, spot{x + rx, y})
	o.close()
}

// ellipse draws an ellipse, clockwise from its right end.
func (o *outline) ellipse(cx, cy, rx, ry float64) {
	kx, ky := rx*quarter, ry*quarter
	o.move(spot{cx + rx, cy})
	o.cubic(spot{cx + rx, cy + ky}, spot{cx + kx, cy + ry}, spot{cx, cy + ry})
	o.cubic(spot{cx - kx, cy + ry}, spot{cx - rx, cy + ky}, spot{cx - rx, cy})
	o.cubic(spot{cx - rx, cy - ky}, spot{cx - kx, cy - ry}, spot{cx, cy - ry})
	o.cubic(spot{cx + kx, cy - ry}, spot{cx + rx, cy - ky}, spot{cx + rx, cy})
	o.close()
}
