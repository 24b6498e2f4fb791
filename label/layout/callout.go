package layout

import (
	"strconv"

	"panelwright/label/font"
	"panelwright/label/scene"
)

// callouts puts the numbers of the checks on a proof, each beside the words it is of and clear of all others.
type callouts struct {
	x, y  scene.Um      // of the corner of the label
	taken []scene.Rect  // by words, lines and numbers
	edges []scene.Point // of what lies behind
}

// Sizes of the numbers, and how far they stay from the words. Common practice, no source.
const (
	calloutSize scene.Um = 3000
	calloutAir  scene.Um = 900
)

func newCallouts(s *scene.Scene, x, y scene.Um) *callouts {
	p := &callouts{x: x, y: y}
	for _, item := range s.Items {
		switch item := item.(type) {
		case *scene.Text:
			p.taken = append(p.taken, p.large(item.Bounds()))
		case *scene.Image:
			p.taken = append(p.taken, p.large(item.Box))
		case *scene.Path:
			if !item.Behind {
				p.taken = append(p.taken, p.large(item.Bounds()))
				continue
			}
			for _, c := range contours(item.Segments) {
				for _, at := range walk(c, 300, false) {
					p.edges = append(p.edges, scene.Point{X: x + at.at.X*proofScale, Y: y + at.at.Y*proofScale})
				}
			}
		}
	}
	return p
}

// contours parts a path at the steps that begin a contour.
func contours(path []scene.Segment) (all [][]scene.Segment) {
	from := 0
	for i := 1; i <= len(path); i++ {
		if i == len(path) || path[i].Op == scene.MoveTo {
			all = append(all, path[from:i])
			from = i
		}
	}
	return all
}

// large returns where a box of the label lies on the page.
func (p *callouts) large(r scene.Rect) scene.Rect {
	return scene.Rect{Left: p.x + r.Left*proofScale, Top: p.y + r.Top*proofScale, Right: p.x + r.Right*proofScale, Bottom: p.y + r.Bottom*proofScale}
}

// free reports whether nothing lies in a box.
func (p *callouts) free(r scene.Rect) bool {
	for _, t := range p.taken {
		if r.Overlaps(t) {
			return false
		}
	}
	for _, e := range p.edges {
		if r.Left < e.X && e.X < r.Right && r.Top < e.Y && e.Y < r.Bottom {
			return false
		}
	}
	return true
}

// draw returns the numbers of all checks, those of the same words side by side, with the lines above and below the
// letters that were measured. Where there is room the first height stands beside its number.
func (p *callouts) draw(checks []measured) (out []scene.Item) {
	done := make([]bool, len(checks))
	for i := range checks {
		m := &checks[i]
		if b := m.letter; b != (scene.Rect{}) {
			l := p.large(b)
			out = append(out, scene.Line(l.Left-400, l.Top, l.Right+400, l.Top, 60, red), scene.Line(l.Left-400, l.Bottom, l.Right+400, l.Bottom, 60, red))
		}
		if done[i] {
			continue
		}
		numbers := ""
		for k := i; k < len(checks); k++ {
			if o := &checks[k]; o.words.Left == m.words.Left && o.words.Top == m.words.Top {
				if done[k] = true; numbers != "" {
					numbers += ", "
				}
				numbers += strconv.Itoa(k + 1)
			}
		}
		out = append(out, p.place(m, numbers)...)
	}
	return out
}

// place puts a number at the first place that is free: to the right of the words with the height, to their left,
// above, below. If none is, it stands to their left.
func (p *callouts) place(m *measured, numbers string) []scene.Item {
	words := p.large(m.words)
	var first *scene.Text
	for _, text := range []string{numbers + ": " + m.is.String(), numbers} {
		g, err := font.SemiBold.Shape(text)
		if err != nil {
			return nil // a face without figures could not have been read
		}
		t := scene.Text{Face: font.SemiBold, Size: calloutSize, Glyphs: g, Ink: red}
		b := t.Bounds()
		mid := (words.Top+words.Bottom)/2 - (b.Top+b.Bottom)/2
		for _, at := range []scene.Point{
			{X: words.Right + calloutAir, Y: mid},
			{X: words.Left - calloutAir - b.Right, Y: mid},
			{X: words.Left, Y: words.Top - calloutAir - b.Bottom},
			{X: words.Left, Y: words.Bottom + calloutAir - b.Top},
			{X: words.Right - b.Right, Y: words.Top - calloutAir - b.Bottom},
		} {
			put := t
			put.X, put.Y = at.X, at.Y
			box := put.Bounds()
			box.Left, box.Right, box.Top, box.Bottom = box.Left-200, box.Right+200, box.Top-200, box.Bottom+200
			if box.Left > 2*scene.Mm && p.free(box) {
				p.taken = append(p.taken, box)
				return onPaper(&put)
			}
			if text == numbers && at.X < words.Left {
				first = &put
			}
		}
	}
	p.taken = append(p.taken, first.Bounds())
	return onPaper(first)
}

// onPaper puts a patch of paper under a number, so that it can be read on a solid area.
func onPaper(t *scene.Text) []scene.Item {
	b := t.Bounds()
	patch := scene.Rect{Left: b.Left - 200, Top: b.Top - 200, Right: b.Right + 200, Bottom: b.Bottom + 200}
	return []scene.Item{&scene.Path{Segments: scene.Rounded(patch, 200), Fill: &scene.Ink{}, Behind: true}, t}
}

// dashed returns a crease as short grey lines.
func dashed(a, b scene.Point) (out []scene.Item) {
	const dash, gap = 1200, 800
	long := max(distance(a, b), 1)
	for from := scene.Um(0); from < long; from += dash + gap {
		to := min(from+dash, long)
		out = append(out, scene.Line(a.X+(b.X-a.X)*from/long, a.Y+(b.Y-a.Y)*from/long, a.X+(b.X-a.X)*to/long, a.Y+(b.Y-a.Y)*to/long, 60, Grey))
	}
	return out
}
