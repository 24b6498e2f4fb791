package layout

import (
	"slices"
	"strings"
	"unicode"

	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/scene"
)

// measured is one thing that an inspector would measure on a label.
type measured struct {
	what   string
	on     string // what the figure was taken from
	is     scene.Um
	must   scene.Um // 0 where no rule says
	below  bool     // is is a place from the top of the panel, and must be reached
	edge   scene.Um // from the words to the nearest edge of the label
	rule   string
	source string
	letter scene.Rect // the letter that was measured; zero where a place was
	found  bool       // a letter of the kind that the rule names
	words  scene.Rect // the first line of the statement
}

func (m *measured) passes() bool { return m.is >= m.must }

// measureScene measures all statements of a scene in reading order: the height of the lowest letter of the kind that
// the rule names, the figures of fractions, the e-mark, and where a net quantity must stand.
func measureScene(c *label.PackCopy, s *scene.Scene) []measured {
	var out []measured
	index := map[*scene.Mark]int{}
	die := flatten(edgeOf(s))
	for _, item := range s.Items {
		switch item := item.(type) {
		case *scene.Text:
			if item.Mark == nil || strings.TrimSpace(item.String()) == "" {
				continue
			}
			i, seen := index[item.Mark]
			edge := toEdge(item.Bounds(), die)
			is, letter, found := lowest(item, item.Mark.On)
			if !seen {
				m := item.Mark
				what := m.Statement
				if m.Lang != "" {
					what += " (" + m.Lang + ")"
				}
				i = len(out)
				index[m] = i
				out = append(out, measured{what: what, on: m.On.String(), is: m.Height, must: m.MinHeight, edge: edge,
					rule: m.Rule, source: m.Source, letter: item.Bounds(), words: item.Bounds()})
				if found {
					out[i].is, out[i].letter, out[i].found = is, letter, true
				}
				continue
			}
			out[i].edge = min(out[i].edge, edge)
			if found && (!out[i].found || is < out[i].is) {
				out[i].is, out[i].letter, out[i].found = is, letter, true
			}
		case *scene.Path:
			if m := item.Mark; m != nil {
				b := item.Bounds()
				out = append(out, measured{what: m.Statement, on: "its outline", is: m.Height, must: m.MinHeight, edge: toEdge(b, die),
					rule: m.Rule, source: m.Source, letter: b, words: b})
			}
		}
	}
	return append(out, measureNet(c, s, index, out)...)
}

// lowest returns the height of the lowest letter of text that a measure is taken from, and its box.
func lowest(t *scene.Text, on font.Measure) (least scene.Um, box scene.Rect, found bool) {
	takes := func(r rune) bool {
		switch on {
		case font.Numerals:
			return unicode.IsDigit(r)
		case font.Capitals:
			return strings.ContainsRune("EHIN", r) // flat ones: round capitals are taller
		}
		return r == 'o'
	}
	x := int64(0)
	for i, g := range t.Glyphs {
		if takes(g.Rune) {
			one := *t
			one.Glyphs = t.Glyphs[i : i+1]
			one.X += scene.Um(x * int64(t.Size) / t.Face.UnitsPerEm())
			if t.Turned {
				one.X = t.X - (one.X - t.X)
			}
			b := one.Bounds()
			if h := scene.Um(t.Face.GlyphHeight(g) * int64(t.Size) / t.Face.UnitsPerEm()); !found || h < least {
				least, box, found = h, b, true
			}
		}
		x += int64(g.Advance) + int64(g.Kern)
	}
	return least, box, found
}

// measureNet measures what is asked of the place of a net quantity and of its fractions.
func measureNet(c *label.PackCopy, s *scene.Scene, index map[*scene.Mark]int, all []measured) (out []measured) {
	var st *label.Statement
	for i := range c.Front {
		if c.Front[i].Kind == label.NetText {
			st = &c.Front[i]
		}
	}
	if st == nil {
		return nil
	}
	var net scene.Rect
	var mark *scene.Mark
	for _, item := range s.Items {
		t, ok := item.(*scene.Text)
		if !ok || t.Mark == nil || t.Mark.Statement != kindWords[label.NetText] {
			continue
		}
		b := t.Bounds()
		if mark == nil {
			mark, net = t.Mark, b
		}
		net = scene.Rect{Left: min(net.Left, b.Left), Top: min(net.Top, b.Top), Right: max(net.Right, b.Right), Bottom: max(net.Bottom, b.Bottom)}
		for _, g := range t.Glyphs {
			if h := t.Face.FractionHeight(g.Rune); h > 0 && strings.ContainsRune(font.Fractions, g.Rune) {
				out = append(out, measured{what: "fraction " + string(g.Rune), on: "its lower figure", is: scene.Um(h * int64(t.Size) / t.Face.UnitsPerEm()),
					must: scene.Um(fractionHeight(st)), edge: all[index[mark]].edge, rule: "each figure of a fraction", source: st.Height.Source.String(), letter: b, words: b})
			}
		}
	}
	if mark == nil {
		return out
	}
	base := all[index[mark]]
	source := ""
	if n := len(st.Sources); n > 0 {
		source = st.Sources[n-1].String()
	}
	if st.Foot && len(s.Folds) == 0 {
		m := measured{what: base.what, on: "its upper edge from the top", is: net.Top, must: s.H * 70 / 100, below: true, edge: base.edge,
			rule: "in the bottom 30 % of the panel", source: source, words: net}
		out = append(out, m)
	}
	if st.Apart {
		up, beside := clearSpace(s, mark, net)
		n, err := font.TextBold.Shape("N")
		if err != nil {
			return out
		}
		wide := scene.Um(0)
		for _, item := range s.Items {
			if t, ok := item.(*scene.Text); ok && t.Mark == mark {
				wide = 2 * scene.Um(n[0].Advance) * t.Size / scene.Um(font.TextBold.UnitsPerEm())
				if g, err := t.Face.Shape("N"); err == nil {
					wide = 2 * scene.Um(g[0].Advance) * t.Size / scene.Um(t.Face.UnitsPerEm())
				}
			}
		}
		sides := "blank at the sides"
		if beside == s.W {
			sides = "blank at the sides (nothing else stands there)"
		}
		out = append(out,
			measured{what: base.what, on: "blank above and below", is: up, must: mark.Height, edge: base.edge, rule: "the height of its lettering", source: source, words: net},
			measured{what: base.what, on: sides, is: beside, must: wide, edge: base.edge, rule: "twice the width of its N", source: source, words: net})
	}
	return out
}

// clearSpace returns how far the nearest other words of its panel are from net, above or below it and at its sides;
// where there are none, the size of the label.
func clearSpace(s *scene.Scene, mark *scene.Mark, net scene.Rect) (up, beside scene.Um) {
	up, beside = s.H, s.W
	for _, item := range s.Items {
		t, ok := item.(*scene.Text)
		if !ok || t.Mark == mark {
			continue
		}
		b := t.Bounds()
		if slices.ContainsFunc(s.Folds, func(f scene.Fold) bool { return beyond(f, b) != beyond(f, net) }) {
			continue
		}
		if b.Left < net.Right && net.Left < b.Right {
			up = min(up, max(net.Top-b.Bottom, b.Top-net.Bottom))
		}
		if b.Top < net.Bottom && net.Top < b.Bottom {
			beside = min(beside, max(net.Left-b.Right, b.Left-net.Right))
		}
	}
	return up, beside
}

// beyond reports whether a box lies on the right of an upright crease, or below a level one.
func beyond(f scene.Fold, b scene.Rect) bool {
	if f.A.X == f.B.X {
		return b.Left >= f.A.X
	}
	return b.Top >= f.A.Y
}

// edgeOf returns the outer contour of a label.
func edgeOf(s *scene.Scene) []scene.Segment {
	for i, seg := range s.Die.Segments {
		if i > 0 && seg.Op == scene.MoveTo {
			return s.Die.Segments[:i]
		}
	}
	if s.Die.Segments == nil {
		return scene.Rounded(scene.Rect{Right: s.W, Bottom: s.H}, 0)
	}
	return s.Die.Segments
}

// toEdge returns the least distance from the corners of a box to the edge.
func toEdge(b scene.Rect, edge []scene.Point) scene.Um {
	least := scene.Um(1 << 40)
	for _, p := range []scene.Point{{X: b.Left, Y: b.Top}, {X: b.Right, Y: b.Top}, {X: b.Left, Y: b.Bottom}, {X: b.Right, Y: b.Bottom}} {
		for i := 1; i < len(edge); i++ {
			least = min(least, toLine(p, edge[i-1], edge[i]))
		}
	}
	return least
}

// toLine returns the distance from p to the line from a to b.
func toLine(p, a, b scene.Point) scene.Um {
	dx, dy := b.X-a.X, b.Y-a.Y
	long := dx*dx + dy*dy
	if long == 0 {
		return distance(p, a)
	}
	t := (p.X-a.X)*dx + (p.Y-a.Y)*dy
	t = min(max(t, 0), long)
	const parts = 1 << 20 // long may be large: first scale
	k := t / max(long/parts, 1)
	n := long / max(long/parts, 1)
	return distance(p, scene.Point{X: a.X + dx*k/n, Y: a.Y + dy*k/n})
}
