package layout

import (
	"slices"
	"strings"

	"github.com/google/go-cmp/cmp"

	"panelwright/label"
	"panelwright/label/scene"
)

// failer is the part of testing.TB and rapid.T that check needs.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
}

// check proves of the scenes of a label what any label must keep.
func check(t failer, c *label.PackCopy, o Options, scenes []scene.Scene) {
	t.Helper()
	margin := o.Margin
	if margin == 0 {
		margin = safeMargin
	}
	keeps := func(s *scene.Scene, i int, margin scene.Um, r scene.Rect) bool {
		if shapes := []label.Shape{c.Pack.Label, c.Pack.Back}; i < len(shapes) && len(s.Folds) == 0 && shapes[i].Kind != label.NoShape && scene.Um(shapes[i].W) == s.W {
			return inside(shapes[i], margin, r) && clearOf(s, margin, r)
		}
		return inside(label.Shape{Kind: label.Rectangle, W: int64(s.W), H: int64(s.H)}, margin, r) && clearOf(s, margin, r)
	}
	said := map[*scene.Mark][]*scene.Text{}
	var order []*scene.Mark
	for i := range scenes {
		s := &scenes[i]
		var texts []*scene.Text
		for _, item := range s.Items {
			switch item := item.(type) {
			case *scene.Text:
				if item.Mark == nil {
					continue // figures of a barcode, see checkCodes
				}
				texts = append(texts, item)
				if !keeps(s, i, margin, item.Bounds()) {
					t.Errorf("%q at %v sticks out of the margin of %v x %v", item, item.Bounds(), s.W, s.H)
				}
				if ink := item.Ink; ink.C+ink.M+ink.Y > 0 && item.Mark.Statement != "name" {
					t.Errorf("%q is printed in %v, not in pure black", item, ink)
				}
				if m := item.Mark; m.Height < m.MinHeight {
					t.Errorf("%q is %d high, %d is asked", item, m.Height, m.MinHeight)
				}
				if got := scene.Um(item.Face.HeightAt(int64(item.Size), item.Mark.On)); got < item.Mark.Height {
					t.Errorf("%q is said to be %d high, the outline has %d", item, item.Mark.Height, got)
				}
				if said[item.Mark] == nil {
					order = append(order, item.Mark)
				}
				said[item.Mark] = append(said[item.Mark], item)
			case *scene.Path:
				if m := item.Mark; m != nil && m.Height < m.MinHeight {
					t.Errorf("the %s is %d high, %d is asked", m.Statement, m.Height, m.MinHeight)
				}
				if item.Behind {
					within := scene.Rect{Left: -s.Bleed, Top: -s.Bleed, Right: s.W + s.Bleed, Bottom: s.H + s.Bleed}
					if b := item.Bounds(); b.Left < within.Left || b.Top < within.Top || b.Right > within.Right || b.Bottom > within.Bottom {
						t.Errorf("background at %v sticks out of %v", b, within)
					}
					checkBehind(t, item, s)
					continue
				}
				if codeZone(item) != (scene.Rect{}) {
					continue
				}
				if !keeps(s, i, margin-item.Width, item.Bounds()) {
					t.Errorf("line at %v sticks out of the margin", item.Bounds())
				}
				for _, w := range texts {
					if item.Bounds().Overlaps(w.Bounds()) && w.Mark.Statement != "durability" {
						t.Errorf("line at %v runs through %q at %v", item.Bounds(), w, w.Bounds())
					}
				}
			}
		}
		for j, a := range texts {
			for _, b := range texts[:j] {
				if a.Bounds().Overlaps(b.Bounds()) {
					t.Errorf("%q at %v overlaps %q at %v", a, a.Bounds(), b, b.Bounds())
				}
			}
		}
		if len(s.Folds) == 0 {
			checkFoot(t, c, s, texts)
		}
	}
	checkWords(t, c, order, said)
	checkCodes(t, c, o, scenes, keeps)
}

// clearOf reports whether a box keeps margin to the creases and the holes of a scene.
func clearOf(s *scene.Scene, margin scene.Um, r scene.Rect) bool {
	for _, f := range s.Folds {
		near := scene.Rect{Left: f.A.X - margin + 2, Right: f.B.X + margin - 2, Top: f.A.Y - margin + 2, Bottom: f.B.Y + margin - 2}
		if r.Overlaps(near) {
			return false
		}
	}
	holes := 0
	for i, seg := range s.Die.Segments {
		if seg.Op == scene.MoveTo && i > 0 {
			hole := scene.Path{Segments: s.Die.Segments[i : i+6]} // an oval has six steps
			if hole.Bounds().Overlaps(r) {
				return false
			}
			holes++
		}
	}
	return holes < 3
}

// checkBehind proves that no letter touches the outline of what lies behind: it stands on a solid area, or
// clear of all lines and leaves. The outline is followed in short steps.
func checkBehind(t failer, p *scene.Path, s *scene.Scene) {
	t.Helper()
	half := p.Width / 2
	for _, contour := range contoursOf(p.Segments) {
		points := flatten(contour)
		for _, item := range s.Items {
			w, ok := item.(*scene.Text)
			if !ok {
				continue
			}
			box := w.Bounds()
			box.Left, box.Right, box.Top, box.Bottom = box.Left-half, box.Right+half, box.Top-half, box.Bottom+half
			for _, q := range points {
				if q.X > box.Left && q.X < box.Right && q.Y > box.Top && q.Y < box.Bottom {
					t.Errorf("%q at %v touches the background at %v", w, box, q)
					return
				}
			}
		}
	}
}

// contoursOf parts a path at the steps that begin a contour.
func contoursOf(path []scene.Segment) (all [][]scene.Segment) {
	for i, seg := range path {
		if seg.Op == scene.MoveTo {
			all = append(all, nil)
		}
		all[len(all)-1] = append(all[len(all)-1], path[i])
	}
	return all
}

// inside reports whether a box keeps margin to the edge of a label, to within 2 micrometres of rounding.
func inside(s label.Shape, margin scene.Um, r scene.Rect) bool {
	w, h := scene.Um(s.W), scene.Um(s.H)
	margin -= 2
	if r.Left < margin || r.Top < margin || r.Right > w-margin || r.Bottom > h-margin {
		return false
	}
	corner := scene.Um(0)
	switch s.Kind {
	case label.Round:
		corner = w / 2
	case label.Rounded, label.HangTag:
		corner = cornerRadius
		if s.Corner > 0 {
			corner = scene.Um(s.Corner)
		}
	case label.Oval:
		return insideOval(w/2, h/2, margin, r)
	}
	for _, x := range []scene.Um{r.Left, r.Right} {
		for _, y := range []scene.Um{r.Top, r.Bottom} {
			dx, dy := max(corner-x, x-(w-corner), 0), max(corner-y, y-(h-corner), 0)
			if reach := corner - margin; dx > 0 && dy > 0 && dx*dx+dy*dy > reach*reach {
				return false
			}
		}
	}
	return true
}

// insideOval reports whether the corners of a box lie at least margin inside an oval with half axes a and b: for
// each direction in steps of a degree or less the tangent of the oval, moved in by margin, must leave them inside.
func insideOval(a, b, margin scene.Um, r scene.Rect) bool {
	rim := flatten(scene.Oval(scene.Point{X: a, Y: b}, a, b, 0))
	for i := 1; i < len(rim); i++ {
		p, q := rim[i-1], rim[i]
		if p == q {
			continue
		}
		long := distance(p, q)
		for _, x := range []scene.Um{r.Left, r.Right} {
			for _, y := range []scene.Um{r.Top, r.Bottom} {
				// The rim runs clockwise on the drawing: inside is on its right.
				if ((q.X-p.X)*(y-p.Y)-(q.Y-p.Y)*(x-p.X))/long < margin-40 { // chords lie a little inside the rim
					return false
				}
			}
		}
	}
	return true
}

// checkFoot proves what 21 CFR 701.13(f) asks of the place of the net quantity.
func checkFoot(t failer, c *label.PackCopy, s *scene.Scene, texts []*scene.Text) {
	t.Helper()
	for _, st := range c.Front {
		if st.Kind != label.NetText {
			continue
		}
		for _, net := range texts {
			if net.Mark.Statement != "net quantity" {
				continue
			}
			box := net.Bounds()
			if st.Foot && box.Top < s.H*70/100 {
				t.Errorf("%q begins at %v, above the bottom 30 %% of %v", net, box.Top, s.H)
			}
			if !st.Apart {
				continue
			}
			n, _ := net.Face.Shape("N")
			side := 2 * scene.Um(n[0].Advance) * net.Size / 1000
			clear := scene.Rect{Left: box.Left - side, Right: box.Right + side, Top: box.Top - net.Mark.Height, Bottom: box.Bottom + net.Mark.Height}
			for _, other := range texts {
				if other.Mark != net.Mark && clear.Overlaps(other.Bounds()) {
					t.Errorf("%q at %v crowds %q at %v", other, other.Bounds(), net, box)
				}
			}
		}
	}
}

// checkWords proves that all that was to be said is said, once, in lines that end where they may.
func checkWords(t failer, c *label.PackCopy, order []*scene.Mark, said map[*scene.Mark][]*scene.Text) {
	t.Helper()
	var got, want []string
	for _, m := range order {
		if m.Statement == "notice" {
			continue // stands for what has moved to another sheet
		}
		text, y := "", scene.Um(0)
		for i, w := range said[m] {
			if i > 0 && w.Y != y && !strings.HasSuffix(text, " ") {
				text += " "
				if strings.ContainsRune(separators, []rune(w.String())[0]) {
					t.Errorf("a line of the %s starts with a separator: %q", m.Statement, w)
				}
			}
			y = w.Y
			text += w.String()
		}
		if m.Statement == "lot" || m.Statement == "durability" {
			text = strings.TrimSuffix(strings.TrimSpace(text), " /") // the words of the next language follow
		}
		got = append(got, fold(text))
	}
	for _, st := range append(append([]label.Statement(nil), c.Front...), c.Back...) {
		text := strings.TrimSpace(st.Lead + " " + st.Text)
		if st.Months > 0 {
			text = "12M"
		}
		want = append(want, fold(text))
	}
	slices.Sort(got)
	slices.Sort(want)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("not all is said:\n%s", diff)
	}
}

// fold returns a text as layouts with capitals have it too.
func fold(s string) string {
	return strings.ToUpper(strings.ReplaceAll(strings.TrimSpace(s), "ß", "ss"))
}
