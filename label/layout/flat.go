package layout

import (
	"slices"

	"panelwright/label"
	"panelwright/label/market"
	"panelwright/label/scene"
)

// flat is one printed piece as it is printed: a label, or a card with several panels.
type flat struct {
	name  string // after the name of the product in the title of the scene; "" for the front
	w, h  scene.Um
	die   scene.Path
	folds []scene.Fold
	faces []*face
}

// Holes of tags and bag toppers. Common practice, no source: a punch makes 5 or 6 mm, and the card must not tear.
const (
	tagHole    scene.Um = 2500 // radius
	tagHoleAt  scene.Um = 6500 // from the top to the centre
	toppHole   scene.Um = 3000
	toppHoleAt scene.Um = 8000 // from the fold to the centre
	holeAir    scene.Um = 2500
)

// flats returns the printed pieces of a pack with their empty faces.
func (d *dressed) flats(c *label.PackCopy) []*flat {
	out := []*flat{d.flat("", c.Pack.Label, c.Pack.Body)}
	if c.Pack.Back.Kind != label.NoShape {
		back := d.flat("back", c.Pack.Back, c.Pack.Body)
		for _, f := range back.faces {
			if f.panel.name == "front" {
				f.panel.name = "back"
			} else {
				f.panel.name = "spare"
			}
		}
		if len(out[0].faces) > 1 {
			for _, f := range out[0].faces {
				if f.panel.name == "back" {
					f.panel.name = "spare" // the copy is asked to stand on the other label
				}
			}
		}
		out = append(out, back)
	}
	return out
}

// flat returns the printed piece of one shape.
func (d *dressed) flat(name string, s label.Shape, body market.Body) *flat {
	w, h := scene.Um(s.W), scene.Um(s.H)
	out := &flat{name: name, w: w, h: h}
	add := func(panel string, as label.Shape, x, y scene.Um, turned bool) *face {
		short := scene.Um(min(as.W, as.H))
		f := &face{dressed: d, panel: newPanel(panel, as, d.margin, d.frame(short)), x: x, y: y, turned: turned}
		out.faces = append(out.faces, f)
		return f
	}
	part := func(w, h scene.Um) label.Shape {
		return label.Shape{Kind: label.Rectangle, W: int64(w), H: int64(h), Text: s.Text}
	}
	switch s.Kind {
	case label.Wrap:
		front, side := wrapSides(body)
		if front == 0 { // round: one panel all the way
			f := add("front", part(w-scene.Um(s.Overlap), h), 0, 0, false)
			f.panel.shape.Kind = label.Band
			break
		}
		add("front", part(front, h), side, 0, false)
		add("back", part(front, h), 2*side+front, 0, false)
		for _, x := range []scene.Um{side, side + front, 2*side + front, 2*side + 2*front} {
			out.folds = append(out.folds, scene.Fold{A: scene.Point{X: x}, B: scene.Point{X: x, Y: h}})
		}
	case label.Folded, label.Booklet:
		add("front", part(w/2, h), w/2, 0, false)
		add("back", part(w/2, h), 0, 0, false)
		out.folds = []scene.Fold{{A: scene.Point{X: w / 2}, B: scene.Point{X: w / 2, Y: h}}}
	case label.Topper:
		front, back := add("front", part(w, h/2), 0, h/2, false), add("back", part(w, h/2), 0, 0, true)
		for _, f := range []*face{front, back} {
			f.panel.punch(hole{x: w / 2, y: toppHoleAt, r: toppHole}, holeAir)
		}
		out.folds = []scene.Fold{{A: scene.Point{Y: h / 2}, B: scene.Point{X: w, Y: h / 2}}}
	case label.HangTag:
		f := add("front", s, 0, 0, false)
		f.panel.punch(hole{x: w / 2, y: tagHoleAt, r: tagHole}, holeAir)
	default:
		add("front", s, 0, 0, false)
	}
	out.die = out.outline(s)
	for _, f := range out.faces {
		f.edges(out, scene.Um(d.Bleed))
	}
	return out
}

// edges settles at which sides the panel may bleed: at those that are edges of the flat piece.
func (f *face) edges(s *flat, bleed scene.Um) {
	p := f.panel
	side := func(edge bool) scene.Um {
		if edge {
			return bleed
		}
		return 0
	}
	p.bleeds = bleed > 0
	p.bleed = scene.Rect{Left: side(f.x == 0), Top: side(f.y == 0), Right: side(f.x+p.w == s.w), Bottom: side(f.y+p.h == s.h)}
	if f.turned {
		b := p.bleed
		p.bleed = scene.Rect{Left: b.Right, Top: b.Bottom, Right: b.Left, Bottom: b.Top}
	}
}

// outline returns the edge of the flat piece with its holes.
func (s *flat) outline(as label.Shape) scene.Path {
	if len(s.faces) == 1 && as.Kind != label.Wrap {
		return s.faces[0].panel.die()
	}
	out := scene.Rounded(scene.Rect{Right: s.w, Bottom: s.h}, 0)
	for _, f := range s.faces {
		at := f.panel.hole
		if at.y = f.y + at.y; f.turned {
			at.y = f.y + f.panel.h - f.panel.hole.y
		}
		at.x += f.x
		out = append(out, at.outline()...)
	}
	return scene.Path{Segments: out}
}

// wrapSides returns the widths of the front and of a side that a wrap round the pack has, or 0 where the pack
// is round. The front is the largest face, and the wrap runs along its longer side.
func wrapSides(b market.Body) (front, side scene.Um) {
	dims := []int64{b.A, b.B, b.C}
	switch b.Kind {
	case market.Bar:
		slices.Sort(dims)
		return scene.Um(dims[2]), scene.Um(dims[0])
	case market.Box:
		return scene.Um(b.A), scene.Um(b.C)
	}
	return 0, 0
}

// draw returns the scene of the sheet, its faces being solved.
func (s *flat) draw(c *label.PackCopy, d *dressed) scene.Scene {
	out := scene.Scene{W: s.w, H: s.h, Title: c.Name, Die: s.die, Bleed: scene.Um(d.Bleed), Folds: s.folds}
	if s.name != "" {
		out.Title += " (" + s.name + ")"
	}
	if len(c.Languages) > 0 {
		out.Lang = c.Languages[0]
	}
	for _, f := range s.faces {
		if f.best == nil {
			continue
		}
		items := f.draw()
		if f.x != 0 || f.y != 0 || f.turned {
			f.move(items)
		}
		out.Items = append(out.Items, items...)
	}
	return out
}

// move puts items of the face where it lies on its sheet.
func (f *face) move(items []scene.Item) {
	at := func(p scene.Point) scene.Point {
		if f.turned {
			return scene.Point{X: f.x + f.panel.w - p.X, Y: f.y + f.panel.h - p.Y}
		}
		return scene.Point{X: f.x + p.X, Y: f.y + p.Y}
	}
	for _, item := range items {
		switch item := item.(type) {
		case *scene.Text:
			p := at(scene.Point{X: item.X, Y: item.Y})
			item.X, item.Y, item.Turned = p.X, p.Y, f.turned
		case *scene.Path:
			for i := range item.Segments {
				for j := range item.Segments[i].P {
					item.Segments[i].P[j] = at(item.Segments[i].P[j])
				}
			}
		case *scene.Image:
			a, b := at(scene.Point{X: item.Box.Left, Y: item.Box.Top}), at(scene.Point{X: item.Box.Right, Y: item.Box.Bottom})
			item.Box = scene.Rect{Left: min(a.X, b.X), Top: min(a.Y, b.Y), Right: max(a.X, b.X), Bottom: max(a.Y, b.Y)}
			item.Turned = f.turned
		}
	}
}
