package layout

import "panelwright/label/scene"

// stop is a place on a curve, with the direction in which the curve runs there, as a vector of length 1000.
type stop struct {
	at     scene.Point
	dx, dy scene.Um
}

// walk returns places on a path about pitch apart, evenly spread from its start to its end. On a closed path
// the last is one step before the first.
func walk(path []scene.Segment, pitch scene.Um, closed bool) []stop {
	points := flatten(path)
	if len(points) < 2 {
		return nil
	}
	long := make([]scene.Um, len(points)) // from the start
	for i := 1; i < len(points); i++ {
		long[i] = long[i-1] + distance(points[i-1], points[i])
	}
	total := long[len(long)-1]
	n := max(total/pitch, 1)
	last := n
	if closed {
		last = n - 1
	}
	var out []stop
	i := 1
	for k := scene.Um(0); k <= last; k++ {
		want := total * k / n
		for i < len(points)-1 && long[i] < want {
			i++
		}
		a, b := points[i-1], points[i]
		d := max(long[i]-long[i-1], 1)
		t := want - long[i-1]
		out = append(out, stop{
			at: scene.Point{X: a.X + (b.X-a.X)*t/d, Y: a.Y + (b.Y-a.Y)*t/d},
			dx: (b.X - a.X) * 1000 / d, dy: (b.Y - a.Y) * 1000 / d,
		})
	}
	return out
}

func distance(a, b scene.Point) scene.Um {
	return scene.Um(scene.Root(int64((a.X-b.X)*(a.X-b.X) + (a.Y-b.Y)*(a.Y-b.Y))))
}

// flatten returns the points of a path of one contour, its curves in 32 steps each.
func flatten(path []scene.Segment) []scene.Point {
	var out []scene.Point
	for _, s := range path {
		switch s.Op {
		case scene.MoveTo, scene.LineTo:
			out = append(out, s.P[0])
		case scene.CurveTo:
			const n = 32
			a := out[len(out)-1]
			for i := scene.Um(1); i <= n; i++ {
				j := n - i
				on := func(a, b, c, d scene.Um) scene.Um {
					return (j*j*j*a + 3*i*j*j*b + 3*i*i*j*c + i*i*i*d) / (n * n * n)
				}
				out = append(out, scene.Point{X: on(a.X, s.P[0].X, s.P[1].X, s.P[2].X), Y: on(a.Y, s.P[0].Y, s.P[1].Y, s.P[2].Y)})
			}
		case scene.Close:
			out = append(out, out[0])
		}
	}
	return out
}

// turn returns the direction of s turned by an angle, given as its cosine and sine in thousandths.
func (s stop) turn(cos, sin scene.Um) stop {
	return stop{s.at, (s.dx*cos - s.dy*sin) / 1000, (s.dx*sin + s.dy*cos) / 1000}
}

// leaf returns a pointed leaf that grows from s in its direction.
func (s stop) leaf(long, wide scene.Um) []scene.Segment {
	at := func(along, across scene.Um) scene.Point {
		return scene.Point{
			X: s.at.X + (s.dx*along-s.dy*across)/1000,
			Y: s.at.Y + (s.dy*along+s.dx*across)/1000,
		}
	}
	tip := at(long, 0)
	return []scene.Segment{
		{Op: scene.MoveTo, P: [3]scene.Point{s.at}},
		{Op: scene.CurveTo, P: [3]scene.Point{at(long*28/100, wide), at(long*66/100, wide*80/100), tip}},
		{Op: scene.CurveTo, P: [3]scene.Point{at(long*70/100, -wide*30/100), at(long*34/100, -wide*62/100), s.at}},
		{Op: scene.Close},
	}
}

// Angles as cosine and sine in thousandths.
const (
	cos38, sin38 = 788, 616
	cos52, sin52 = 616, 788
)

// sprigs returns a sprig for each corner: a stem that bends round the corner, leaves on both sides of it, and a
// bud where it ends.
func (p *panel) sprigs(ink scene.Ink) []scene.Item {
	size := sprigSize(p)
	var out []scene.Item
	for corner := range 4 {
		place := func(q scene.Point) scene.Point {
			if corner&1 != 0 {
				q.X = p.w - q.X
			}
			if corner&2 != 0 {
				q.Y = p.h - q.Y
			}
			return q
		}
		leaves, stem := sprig(size)
		for _, path := range [][]scene.Segment{leaves, stem} {
			for i := range path {
				for j := range path[i].P {
					path[i].P[j] = place(path[i].P[j])
				}
			}
		}
		out = append(out,
			&scene.Path{Segments: leaves, Fill: &ink, Behind: true},
			&scene.Path{Segments: stem, Stroke: &ink, Width: max(size/60, Hairline), Behind: true})
	}
	return out
}

// sprig returns the leaves and the stem for the top left corner, in a square of a size that begins at the inset
// of a frame.
func sprig(size scene.Um) (leaves, stem []scene.Segment) {
	at := func(x, y scene.Um) scene.Point { // in percent of the square
		return scene.Point{X: frameInset + (size-frameInset)*x/100, Y: frameInset + (size-frameInset)*y/100}
	}
	stem = []scene.Segment{
		{Op: scene.MoveTo, P: [3]scene.Point{at(14, 82)}},
		{Op: scene.CurveTo, P: [3]scene.Point{at(12, 40), at(40, 12), at(82, 14)}},
	}
	stops := walk(stem, max((size-frameInset)*13/100, 1), false)
	for i, s := range stops {
		grow := (size - frameInset) * scene.Um(20-absolute(2*i-len(stops)+1)) / 100
		leaves = append(leaves, s.turn(cos38, -sin38).leaf(grow*95/100, grow*30/100)...)
		if i > 0 {
			leaves = append(leaves, s.turn(cos52, sin52).leaf(grow*80/100, -grow*28/100)...)
		}
	}
	return leaves, stem
}

func absolute(n int) int { return max(n, -n) }

// wreath returns leaves along the edge of a circle or an oval, from the foot up both sides to the top.
func (p *panel) wreath(ink scene.Ink) []scene.Item {
	r, rx, ry := p.inner(frameInset + wreathWide/2 - 300)
	var leaves []scene.Segment
	mid := p.w / 2
	for _, s := range walk(scene.Elliptic(r, rx, ry), 3100, true) {
		if s.at.X < mid { // the path runs clockwise: on the right the stem grows against it
			leaves = append(leaves, s.turn(cos38, -sin38/2).leaf(2900, 820)...)
			leaves = append(leaves, s.turn(cos38, sin38/2).leaf(2500, -760)...)
			continue
		}
		back := stop{s.at, -s.dx, -s.dy}
		leaves = append(leaves, back.turn(cos38, sin38/2).leaf(2900, -820)...)
		leaves = append(leaves, back.turn(cos38, -sin38/2).leaf(2500, 760)...)
	}
	return []scene.Item{
		&scene.Path{Segments: scene.Elliptic(r, rx, ry), Stroke: &ink, Width: innerPen, Behind: true},
		&scene.Path{Segments: leaves, Fill: &ink, Behind: true},
	}
}
