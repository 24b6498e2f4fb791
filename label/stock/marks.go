package stock

import "panelwright/label/scene"

// Marks to cut along: hairlines that begin this far outside the bleed and are this long. Common practice, no source.
const (
	markGap   scene.Um = 1000
	markLong  scene.Um = 3000
	markWidth scene.Um = 90
)

// marks returns the crop marks of the cells that were filled, but for those that would run into a label.
func (s *Stock) marks(cells Cells) []scene.Item {
	var out []scene.Item
	seen := map[scene.Rect]bool{}
	for _, n := range cells {
		c := s.Cell(n)
		near, far := s.Bleed+markGap, s.Bleed+markGap+markLong
		for _, x := range []scene.Um{c.Left, c.Right} {
			out = s.mark(out, seen, scene.Rect{Left: x, Right: x, Top: c.Top - far, Bottom: c.Top - near})
			out = s.mark(out, seen, scene.Rect{Left: x, Right: x, Top: c.Bottom + near, Bottom: c.Bottom + far})
		}
		for _, y := range []scene.Um{c.Top, c.Bottom} {
			out = s.mark(out, seen, scene.Rect{Left: c.Left - far, Right: c.Left - near, Top: y, Bottom: y})
			out = s.mark(out, seen, scene.Rect{Left: c.Right + near, Right: c.Right + far, Top: y, Bottom: y})
		}
	}
	return out
}

// mark adds one mark, cut off at the strip that the printer cannot reach, unless it touches the bleed of a cell.
func (s *Stock) mark(out []scene.Item, seen map[scene.Rect]bool, r scene.Rect) []scene.Item {
	r.Left, r.Right = max(r.Left, s.Edge), min(r.Right, s.Paper.W-s.Edge)
	r.Top, r.Bottom = max(r.Top, s.Edge), min(r.Bottom, s.Paper.H-s.Edge)
	if r.Left > r.Right || r.Top > r.Bottom || r.Left == r.Right && r.Top == r.Bottom || seen[r] {
		return out
	}
	seen[r] = true
	box := scene.Rect{Left: r.Left - markWidth, Right: r.Right + markWidth, Top: r.Top - markWidth, Bottom: r.Bottom + markWidth}
	for n := 1; n <= s.Cells(); n++ {
		c := s.Cell(n)
		if box.Overlaps(scene.Rect{Left: c.Left - s.Bleed, Right: c.Right + s.Bleed, Top: c.Top - s.Bleed, Bottom: c.Bottom + s.Bleed}) {
			return out
		}
	}
	return append(out, scene.Line(r.Left, r.Top, r.Right, r.Bottom, markWidth, scene.Black))
}
