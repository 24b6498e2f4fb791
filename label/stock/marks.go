package stock

import "panelwright/label/scene"

// Marks to cut along: hairlines that begin this far outside the bleed and are this long. Common practice, no source.
const (
	markGap   scene.Um = 1000
	markLong  scene.Um = 3000
	markWidth scene.Um = 90
)

// marks returns the crop marks of the labels that were laid, but for those that would run into a label.
func (s *Stock) marks(laid []scene.Rect) []scene.Item {
	var out []scene.Item
	seen := map[scene.Rect]bool{}
	for _, c := range laid {
		near, far := s.Bleed+markGap, s.Bleed+markGap+markLong
		for _, x := range []scene.Um{c.Left, c.Right} {
			out = s.mark(out, laid, seen, scene.Rect{Left: x, Right: x, Top: c.Top - far, Bottom: c.Top - near})
			out = s.mark(out, laid, seen, scene.Rect{Left: x, Right: x, Top: c.Bottom + near, Bottom: c.Bottom + far})
		}
		for _, y := range []scene.Um{c.Top, c.Bottom} {
			out = s.mark(out, laid, seen, scene.Rect{Left: c.Left - far, Right: c.Left - near, Top: y, Bottom: y})
			out = s.mark(out, laid, seen, scene.Rect{Left: c.Right + near, Right: c.Right + far, Top: y, Bottom: y})
		}
	}
	return out
}

// punches returns where a label at (x, y) is to be punched: the rims of its holes, each with a cross to set the
// punch on.
func punches(label *scene.Scene, x, y scene.Um) []scene.Item {
	var out []scene.Item
	from := 0
	for i, seg := range label.Die.Segments {
		if seg.Op == scene.MoveTo {
			from = i
		}
		if seg.Op != scene.Close || from == 0 { // the first contour is the edge
			continue
		}
		rim := &scene.Path{Segments: label.Die.Segments[from : i+1], Stroke: &outlineInk, Width: outlineWidth}
		b := rim.Bounds()
		mid := scene.Point{X: (b.Left + b.Right) / 2, Y: (b.Top + b.Bottom) / 2}
		out = append(out, rim,
			scene.Line(mid.X-hintCross, mid.Y, mid.X+hintCross, mid.Y, outlineWidth, outlineInk),
			scene.Line(mid.X, mid.Y-hintCross, mid.X, mid.Y+hintCross, outlineWidth, outlineInk))
	}
	return appendMoved(nil, out, x, y)
}

// creases returns short broken marks beside the ends of the folds of a label at (x, y), outside the bleed.
func (s *Stock) creases(label *scene.Scene, x, y scene.Um) []scene.Item {
	var out []scene.Item
	near, far := s.Bleed+markGap, s.Bleed+markGap+markLong
	for _, f := range label.Folds {
		for _, end := range []scene.Point{f.A, f.B} {
			across := f.A.X != f.B.X // it ends at the left and right edges
			for _, edge := range []struct {
				at     bool
				dx, dy scene.Um
			}{{across && end.X == 0, -1, 0}, {across && end.X == label.W, 1, 0}, {!across && end.Y == 0, 0, -1}, {!across && end.Y == label.H, 0, 1}} {
				if edge.at {
					out = append(out, dashes(end, edge.dx, edge.dy, near, far)...)
				}
			}
		}
	}
	return appendMoved(nil, out, x, y)
}

// hintCross is half the width of the cross in a hole.
const hintCross scene.Um = 1200

// dashes returns a broken line away from p, so that a crease is not taken for a cut.
func dashes(p scene.Point, dx, dy, near, far scene.Um) (out []scene.Item) {
	const dash, gap = 600, 400
	for d := near; d < far; d += dash + gap {
		e := min(d+dash, far)
		out = append(out, scene.Line(p.X+dx*d, p.Y+dy*d, p.X+dx*e, p.Y+dy*e, markWidth, scene.Black))
	}
	return out
}

// mark adds one mark, cut off at the strip that the printer cannot reach, unless it touches the bleed of a label.
func (s *Stock) mark(out []scene.Item, laid []scene.Rect, seen map[scene.Rect]bool, r scene.Rect) []scene.Item {
	r.Left, r.Right = max(r.Left, s.Edge), min(r.Right, s.Paper.W-s.Edge)
	r.Top, r.Bottom = max(r.Top, s.Edge), min(r.Bottom, s.Paper.H-s.Edge)
	if r.Left > r.Right || r.Top > r.Bottom || r.Left == r.Right && r.Top == r.Bottom || seen[r] {
		return out
	}
	seen[r] = true
	box := scene.Rect{Left: r.Left - markWidth, Right: r.Right + markWidth, Top: r.Top - markWidth, Bottom: r.Bottom + markWidth}
	for _, c := range laid {
		if box.Overlaps(scene.Rect{Left: c.Left - s.Bleed, Right: c.Right + s.Bleed, Top: c.Top - s.Bleed, Bottom: c.Bottom + s.Bleed}) {
			return out
		}
	}
	return append(out, scene.Line(r.Left, r.Top, r.Right, r.Bottom, markWidth, scene.Black))
}
