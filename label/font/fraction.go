package font

// Fractions are the common fractions that a face draws as one letter.
const Fractions = "½¼¾⅓⅔⅛⅜⅝⅞"

// FractionHeight returns the height, in font units, of the lower of the two figures in the letter r, one of
// [Fractions]; 0 where the face does not have it. The law of some markets measures each figure of a fraction
// by itself (21 CFR 701.13(h)(3)).
//
// The figures and the bar are contours of their own. The bar is the tallest; holes in a figure lie inside one.
func (f *Face) FractionHeight(r rune) int64 {
	m, ok := f.table().metric(r)
	if !ok {
		return 0
	}
	type box struct{ l, r, b, t int32 }
	var boxes []box
	for _, s := range f.table().outline(m.id) {
		n := map[Op]int{MoveTo: 1, LineTo: 1, QuadTo: 2, CubicTo: 3}[s.Op]
		p := s.P[n-1]
		if s.Op == MoveTo {
			boxes = append(boxes, box{p[0], p[0], p[1], p[1]})
			continue
		}
		c := &boxes[len(boxes)-1]
		c.l, c.r, c.b, c.t = min(c.l, p[0]), max(c.r, p[0]), min(c.b, p[1]), max(c.t, p[1])
	}
	tallest, least := int32(0), int32(0)
	for _, c := range boxes {
		tallest = max(tallest, c.t-c.b)
	}
	for i, c := range boxes {
		inside := c.t-c.b == tallest
		for j, o := range boxes {
			// A figure may lie within the box of the slanting bar; a hole lies within that of its figure.
			inside = inside || i != j && o.t-o.b != tallest && o.l <= c.l && c.r <= o.r && o.b <= c.b && c.t <= o.t
		}
		if h := c.t - c.b; !inside && (least == 0 || h < least) {
			least = h
		}
	}
	return int64(least) / OutlineScale
}
