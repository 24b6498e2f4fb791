package scene

// Line returns a stroked line.
func Line(x1, y1, x2, y2, width Um, ink Ink) *Path {
	return &Path{
		Segments: []Segment{{Op: MoveTo, P: [3]Point{{x1, y1}}}, {Op: LineTo, P: [3]Point{{x2, y2}}}},
		Stroke:   &ink,
		Width:    width,
	}
}

// kappa is the control length of a quarter circle drawn as one cubic curve, 4/3 (sqrt 2 - 1), in millionths
// of the radius. It departs from the circle by less than 0.03 % of the radius.
const kappa = 552285

// Rounded returns the segments of a box whose corners are quarter circles of the given radius; 0 gives
// square corners, half the side of a square a circle.
func Rounded(r Rect, radius Um) []Segment { return Elliptic(r, radius, radius) }

// Elliptic returns the segments of a box whose corners are quarters of an ellipse, rx wide and ry high: half
// the sides of the box give a whole ellipse.
func Elliptic(r Rect, rx, ry Um) []Segment {
	if rx == 0 || ry == 0 {
		return []Segment{
			{Op: MoveTo, P: [3]Point{{r.Left, r.Top}}},
			{Op: LineTo, P: [3]Point{{r.Right, r.Top}}},
			{Op: LineTo, P: [3]Point{{r.Right, r.Bottom}}},
			{Op: LineTo, P: [3]Point{{r.Left, r.Bottom}}},
			{Op: Close},
		}
	}
	// From the corner to the control points.
	c, d := rx-(rx*kappa+500000)/1000000, ry-(ry*kappa+500000)/1000000
	l, t, rt, b := r.Left, r.Top, r.Right, r.Bottom
	return []Segment{
		{Op: MoveTo, P: [3]Point{{l + rx, t}}},
		{Op: LineTo, P: [3]Point{{rt - rx, t}}},
		{Op: CurveTo, P: [3]Point{{rt - c, t}, {rt, t + d}, {rt, t + ry}}},
		{Op: LineTo, P: [3]Point{{rt, b - ry}}},
		{Op: CurveTo, P: [3]Point{{rt, b - d}, {rt - c, b}, {rt - rx, b}}},
		{Op: LineTo, P: [3]Point{{l + rx, b}}},
		{Op: CurveTo, P: [3]Point{{l + c, b}, {l, b - d}, {l, b - ry}}},
		{Op: LineTo, P: [3]Point{{l, t + ry}}},
		{Op: CurveTo, P: [3]Point{{l, t + d}, {l + c, t}, {l + rx, t}}},
		{Op: Close},
	}
}

// Above returns the part of [Elliptic] that lies above y: the whole box where y is below it, nothing where y
// is above it.
func Above(r Rect, rx, ry, y Um) []Segment {
	switch {
	case y <= r.Top:
		return nil
	case y >= r.Bottom:
		return Elliptic(r, rx, ry)
	case rx == 0 || ry == 0:
		r.Bottom = y
		return Elliptic(r, 0, 0)
	case y > r.Bottom-ry: // into the lower corners: the box less its lower part, upside down
		all := Elliptic(r, rx, ry)
		right, left := all[4].P, all[6].P
		a := upTo(Point{r.Right, r.Bottom - ry}, right, y)
		b := upTo(left[2], [3]Point{left[1], left[0], {r.Left + rx, r.Bottom}}, y) // backwards, from its end
		return []Segment{all[0], all[1], all[2], all[3], {Op: CurveTo, P: a},
			{Op: LineTo, P: [3]Point{b[2]}}, {Op: CurveTo, P: [3]Point{b[1], b[0], left[2]}}, all[7], all[8], all[9]}
	case y < r.Top+ry: // a cap
		all := Elliptic(r, rx, ry)
		right, left := all[2].P, all[8].P
		a := upTo(Point{r.Right - rx, r.Top}, right, y)
		b := upTo(Point{r.Left + rx, r.Top}, [3]Point{left[1], left[0], {r.Left, r.Top + ry}}, y)
		return []Segment{{Op: MoveTo, P: [3]Point{{r.Left + rx, r.Top}}}, all[1], {Op: CurveTo, P: a},
			{Op: LineTo, P: [3]Point{b[2]}}, {Op: CurveTo, P: [3]Point{b[1], b[0], {r.Left + rx, r.Top}}}, {Op: Close}}
	}
	all := Elliptic(r, rx, ry)
	return []Segment{all[0], all[1], all[2], {Op: LineTo, P: [3]Point{{r.Right, y}}}, {Op: LineTo, P: [3]Point{{r.Left, y}}}, all[7], all[8], all[9]}
}

// upTo returns the first part of the curve from start through p that ends at height y, down which the
// curve runs.
func upTo(start Point, p [3]Point, y Um) [3]Point {
	const n = 1 << 16
	cut := func(a, b Point, t Um) Point {
		return Point{a.X + nearest((b.X-a.X)*t, n), a.Y + nearest((b.Y-a.Y)*t, n)}
	}
	part := func(t Um) [3]Point { // de Casteljau
		a, b, c := cut(start, p[0], t), cut(p[0], p[1], t), cut(p[1], p[2], t)
		d, e := cut(a, b, t), cut(b, c, t)
		return [3]Point{a, d, cut(d, e, t)}
	}
	lo, hi := Um(0), Um(n)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; part(mid)[2].Y <= y {
			lo = mid
		} else {
			hi = mid
		}
	}
	out := part(lo)
	out[2].Y = y
	return out
}

// Oval returns the segments of an ellipse around a centre, half as wide as wide and half as high as high,
// sheared so that its right end is raised by rise and its left end lowered by as much.
func Oval(centre Point, wide, high, rise Um) []Segment {
	at := func(x, y Um) Point { // x and y in millionths of the half axes
		return Point{
			X: centre.X + nearest(wide*x, 1000000),
			Y: centre.Y + nearest(high*y-rise*x, 1000000),
		}
	}
	const one = 1000000
	return []Segment{
		{Op: MoveTo, P: [3]Point{at(one, 0)}},
		{Op: CurveTo, P: [3]Point{at(one, kappa), at(kappa, one), at(0, one)}},
		{Op: CurveTo, P: [3]Point{at(-kappa, one), at(-one, kappa), at(-one, 0)}},
		{Op: CurveTo, P: [3]Point{at(-one, -kappa), at(-kappa, -one), at(0, -one)}},
		{Op: CurveTo, P: [3]Point{at(kappa, -one), at(one, -kappa), at(one, 0)}},
		{Op: Close},
	}
}

// Bounds returns the box around the points of the path and half its stroke; control points count, so that
// it may be a little larger than the ink.
func (p *Path) Bounds() Rect {
	var r Rect
	first := true
	for _, s := range p.Segments {
		n := 1
		switch s.Op {
		case CurveTo:
			n = 3
		case Close:
			n = 0
		}
		for _, q := range s.P[:n] {
			if first {
				r, first = Rect{q.X, q.Y, q.X, q.Y}, false
			}
			r.Left, r.Right = min(r.Left, q.X), max(r.Right, q.X)
			r.Top, r.Bottom = min(r.Top, q.Y), max(r.Bottom, q.Y)
		}
	}
	if p.Stroke != nil {
		half := (p.Width + 1) / 2
		r.Left, r.Top, r.Right, r.Bottom = r.Left-half, r.Top-half, r.Right+half, r.Bottom+half
	}
	return r
}

// Outlines returns the glyphs of t as a filled path.
func (t *Text) Outlines() []Segment {
	var out []Segment
	var x Um // font units
	den := Um(t.Face.UnitsPerEm()) * font64
	for _, g := range t.Glyphs {
		at := func(p [2]int32) Point {
			right, up := nearest((x*font64+Um(p[0]))*t.Size, den), nearest(Um(p[1])*t.Size, den)
			switch {
			case t.Quarter && t.Turned:
				return Point{t.X + up, t.Y + right}
			case t.Quarter:
				return Point{t.X - up, t.Y - right}
			case t.Turned:
				return Point{t.X - right, t.Y + up}
			}
			return Point{t.X + right, t.Y - up}
		}
		out = append(out, contours(t.Face.Outline(g), at)...)
		x += Um(g.Advance) + Um(g.Kern)
	}
	return out
}

// nearest returns a/b rounded to the nearest whole, for b > 0.
func nearest(a, b Um) Um { return floor(a+b/2, b) }
