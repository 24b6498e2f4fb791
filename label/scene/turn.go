package scene

import "slices"

// QuarterTurned returns the drawing turned to the left by a quarter: its right edge is then on top. Nothing is
// shared with s that either could change.
func (s *Scene) QuarterTurned() *Scene {
	t := *s
	t.W, t.H = s.H, s.W
	at := func(p Point) Point { return Point{X: p.Y, Y: s.W - p.X} }
	turned := func(p *Path) *Path {
		q := *p
		q.Segments = slices.Clone(p.Segments)
		for i := range q.Segments {
			for k := range q.Segments[i].P {
				q.Segments[i].P[k] = at(q.Segments[i].P[k])
			}
		}
		return &q
	}
	t.Die = *turned(&s.Die)
	t.Folds = nil
	for _, f := range s.Folds {
		t.Folds = append(t.Folds, Fold{A: at(f.A), B: at(f.B)})
	}
	t.Items = make([]Item, len(s.Items))
	for i, item := range s.Items {
		switch item := item.(type) {
		case *Text:
			w := *item
			p := at(Point{X: w.X, Y: w.Y})
			w.X, w.Y = p.X, p.Y
			w.Turned, w.Quarter = more(w.Turned, w.Quarter)
			t.Items[i] = &w
		case *Path:
			t.Items[i] = turned(item)
		case *Image:
			m := *item
			a, b := at(Point{X: m.Box.Right, Y: m.Box.Top}), at(Point{X: m.Box.Left, Y: m.Box.Bottom})
			m.Box = Rect{Left: a.X, Top: a.Y, Right: b.X, Bottom: b.Y}
			m.Turned, m.Quarter = more(m.Turned, m.Quarter)
			t.Items[i] = &m
		}
	}
	return &t
}

// more returns the next quarter of a turn to the left.
func more(turned, quarter bool) (bool, bool) {
	if quarter {
		return !turned, false
	}
	return turned, true
}
