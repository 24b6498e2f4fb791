package font

import (
	"encoding/binary"
	"fmt"
	"math"

	gofont "github.com/go-text/typesetting/font"
	ot "github.com/go-text/typesetting/font/opentype"
)

// convert writes the outlines of letters, which are cubic curves in a font of the PostScript kind, as quadratic
// curves into the tables of a TrueType font: the writer of PDF files embeds no others.
//
// A converted outline departs from the drawn one by less than a thousandth of an em: a quarter of a thousandth by
// the curves, and half a unit of the font, each way, by points that stand on whole units. At an em of 3 mm that is
// 3 micrometres, a fifth of a dot of a printer of 1200 dots an inch. Heights are measured on the converted
// outline, which is the one that is printed. Instructions for coarse screens (hints) are lost; print needs none.
func convert(f *gofont.Face, tables map[string][]byte, letters map[uint16]uint16) error {
	const headSize, hheaSize, countAt = 54, 36, 4
	if len(tables["head"]) < headSize || len(tables["hhea"]) < hheaSize || len(tables["maxp"]) < countAt+2 {
		return fmt.Errorf("the font file is cut short")
	}
	count := int(binary.BigEndian.Uint16(tables["maxp"][countAt:]))
	used := make([]bool, count)
	for _, id := range letters {
		if int(id) < count {
			used[id] = true
		}
	}
	put, putLong := binary.BigEndian.AppendUint16, binary.BigEndian.AppendUint32
	var glyf, loca, hmtx []byte
	var points, contours int
	near := float64(f.Upem()) / 4000
	for id := range count {
		loca = putLong(loca, uint32(len(glyf)))
		var g quadratic
		if used[id] || id == 0 {
			outline, _ := f.GlyphDataOutline(ot.GID(id))
			g.read(outline.Segments, near)
		}
		points, contours = max(points, len(g.points)), max(contours, len(g.ends))
		hmtx = put(hmtx, uint16(f.HorizontalAdvance(ot.GID(id))))
		hmtx = put(hmtx, uint16(g.box().left))
		glyf = g.append(glyf)
	}
	loca = putLong(loca, uint32(len(glyf)))

	// The head says that places of glyphs are long, the rest of the tables how much there is.
	head, hhea := append([]byte(nil), tables["head"]...), append([]byte(nil), tables["hhea"]...)
	binary.BigEndian.PutUint16(head[50:], 1)
	binary.BigEndian.PutUint16(hhea[34:], uint16(count))
	maxp := []byte{0, 1, 0, 0}
	for _, v := range []int{count, points, contours, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 0} {
		maxp = put(maxp, uint16(v))
	}
	tables["head"], tables["hhea"], tables["maxp"] = head, hhea, maxp
	tables["glyf"], tables["loca"], tables["hmtx"] = glyf, loca, hmtx
	return nil
}

// quadratic is an outline as TrueType has it: points in whole units, those on the curve marked.
type quadratic struct {
	points []corner
	ends   []int // the last point of each contour
}

type corner struct {
	x, y int16
	on   bool
}

type bounds struct{ left, right, bottom, top int16 }

// read takes an outline whose cubic curves it replaces by as many quadratic ones as it takes to stay near.
func (q *quadratic) read(segments []ot.Segment, near float64) {
	var pen [2]float64
	first := 0
	add := func(x, y float64, on bool) {
		q.points = append(q.points, corner{int16(math.Round(x)), int16(math.Round(y)), on})
	}
	end := func() {
		if last := len(q.points) - 1; last > first && q.points[last] == q.points[first] {
			q.points = q.points[:last] // contours close by themselves
		}
		if len(q.points)-first < 3 {
			q.points = q.points[:first] // no area
		} else {
			q.ends = append(q.ends, len(q.points)-1)
		}
		first = len(q.points)
	}
	for _, s := range segments {
		var p [3][2]float64
		for i, a := range s.ArgsSlice() {
			p[i] = [2]float64{float64(a.X), float64(a.Y)}
		}
		to := p[0]
		switch s.Op {
		case ot.SegmentOpMoveTo:
			end()
			add(to[0], to[1], true)
		case ot.SegmentOpLineTo:
			add(to[0], to[1], true)
		case ot.SegmentOpQuadTo:
			to = p[1]
			add(p[0][0], p[0][1], false)
			add(to[0], to[1], true)
		case ot.SegmentOpCubeTo:
			to = p[2]
			q.cubic(pen, p, near)
		}
		pen = to
	}
	end()
}

// cubic adds a cubic curve from pen by p[0] and p[1] to p[2]. The quadratic curve with the best single control
// point departs from a cubic by at most sqrt(3)/36 of its third difference, and that of one of n parts is n³ times
// less.
func (q *quadratic) cubic(pen [2]float64, p [3][2]float64, near float64) {
	var third float64
	for i := range 2 {
		d := p[2][i] - 3*p[1][i] + 3*p[0][i] - pen[i]
		third += d * d
	}
	const most = 64
	n := min(max(1, int(math.Ceil(math.Cbrt(math.Sqrt(3)/36*math.Sqrt(third)/near)))), most)
	at := func(i int, t float64) float64 {
		u := 1 - t
		return u*u*u*pen[i] + 3*u*u*t*p[0][i] + 3*u*t*t*p[1][i] + t*t*t*p[2][i]
	}
	slope := func(i int, t float64) float64 {
		u := 1 - t
		return 3 * (u*u*(p[0][i]-pen[i]) + 2*u*t*(p[1][i]-p[0][i]) + t*t*(p[2][i]-p[1][i]))
	}
	for k := range n {
		a, b := float64(k)/float64(n), float64(k+1)/float64(n)
		var c, e [2]float64
		for i := range 2 {
			// (3 P1 + 3 P2 - P0 - P3) / 4 with the control points of the part, P1 = P0 + slope/3.
			h := (b - a) / 4
			e[i] = at(i, b)
			c[i] = (at(i, a)+e[i])/2 + h*(slope(i, a)-slope(i, b))
		}
		q.points = append(q.points, corner{int16(math.Round(c[0])), int16(math.Round(c[1])), false},
			corner{int16(math.Round(e[0])), int16(math.Round(e[1])), true})
	}
}

// box returns the bounds of the points.
func (q *quadratic) box() bounds {
	if len(q.points) == 0 {
		return bounds{}
	}
	b := bounds{math.MaxInt16, math.MinInt16, math.MaxInt16, math.MinInt16}
	for _, p := range q.points {
		b = bounds{min(b.left, p.x), max(b.right, p.x), min(b.bottom, p.y), max(b.top, p.y)}
	}
	return b
}

// append writes the outline as a simple glyph of the table glyf, on a whole number of four bytes; nothing for a
// space.
func (q *quadratic) append(glyf []byte) []byte {
	if len(q.ends) == 0 {
		return glyf
	}
	put := binary.BigEndian.AppendUint16
	b := q.box()
	for _, v := range []int16{int16(len(q.ends)), b.left, b.bottom, b.right, b.top} {
		glyf = put(glyf, uint16(v))
	}
	for _, e := range q.ends {
		glyf = put(glyf, uint16(e))
	}
	glyf = put(glyf, 0) // no instructions
	const on, shortX, shortY, sameOrPlusX, sameOrPlusY = 1, 2, 4, 16, 32
	var xs, ys []byte
	step := func(out []byte, d int, short, plus byte) ([]byte, byte) {
		switch {
		case d == 0:
			return out, plus
		case d > 0 && d < 256:
			return append(out, byte(d)), short | plus
		case d < 0 && d > -256:
			return append(out, byte(-d)), short
		}
		return put(out, uint16(int16(d))), 0
	}
	var last corner
	for _, p := range q.points {
		var fx, fy, flag byte
		xs, fx = step(xs, int(p.x)-int(last.x), shortX, sameOrPlusX)
		ys, fy = step(ys, int(p.y)-int(last.y), shortY, sameOrPlusY)
		if p.on {
			flag = on
		}
		glyf = append(glyf, flag|fx|fy)
		last = p
	}
	glyf = append(append(glyf, xs...), ys...)
	return append(glyf, make([]byte, -len(glyf)&3)...)
}
