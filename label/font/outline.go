package font

import ot "github.com/go-text/typesetting/font/opentype"

// Op is a step of an outline.
type Op uint8

const (
	MoveTo  Op = iota // P[0] begins a contour; the one before is closed
	LineTo            // to P[0]
	QuadTo            // by control point P[0] to P[1]
	CubicTo           // by control points P[0] and P[1] to P[2]
)

// OutlineScale is how many parts of a font unit the points of an outline count in. TrueType puts points
// half-way between whole units.
const OutlineScale = 64

// Segment is a step of an outline with its points, in 1/[OutlineScale] of a font unit, upwards positive.
type Segment struct {
	Op Op
	P  [3][2]int32
}

// Outline returns the outline of g. Its contours are closed; a space has none.
func (f *Face) Outline(g Glyph) []Segment {
	return f.table().outline(g.ID)
}

func (t *table) outline(id uint16) []Segment {
	t.mu.Lock()
	outline, _ := t.face.GlyphDataOutline(ot.GID(id))
	t.mu.Unlock()
	out := make([]Segment, 0, len(outline.Segments))
	for _, s := range outline.Segments {
		var seg Segment
		switch s.Op {
		case ot.SegmentOpMoveTo:
			seg.Op = MoveTo
		case ot.SegmentOpLineTo:
			seg.Op = LineTo
		case ot.SegmentOpQuadTo:
			seg.Op = QuadTo
		case ot.SegmentOpCubeTo:
			seg.Op = CubicTo
		}
		for i, p := range s.ArgsSlice() {
			seg.P[i] = [2]int32{int32(p.X * OutlineScale), int32(p.Y * OutlineScale)}
		}
		out = append(out, seg)
	}
	return out
}

// inkHeight returns the height of an outline in font units, rounded down. The box a font file states for a
// glyph may be that of its control points, which is taller than the ink; so curves are followed, in 16 steps,
// and what is found is never more than the ink has.
func inkHeight(outline []Segment) int64 {
	var low, high, pen int64
	first := true
	see := func(y int64) {
		if first {
			low, high, first = y, y, false
		}
		low, high = min(low, y), max(high, y)
	}
	for _, s := range outline {
		a, b, c := int64(s.P[0][1]), int64(s.P[1][1]), int64(s.P[2][1])
		const n = 16
		switch s.Op {
		case QuadTo:
			for i := int64(1); i < n; i++ {
				see(((n-i)*(n-i)*pen + 2*i*(n-i)*a + i*i*b) / (n * n))
			}
			a = b
		case CubicTo:
			for i := int64(1); i < n; i++ {
				see(((n-i)*(n-i)*(n-i)*pen + 3*i*(n-i)*(n-i)*a + 3*i*i*(n-i)*b + i*i*i*c) / (n * n * n))
			}
			a = c
		}
		see(a)
		pen = a
	}
	return (high - low) / OutlineScale
}

// GlyphHeight returns the height of the outline of g in font units, rounded down.
func (f *Face) GlyphHeight(g Glyph) int64 { return inkHeight(f.Outline(g)) }
