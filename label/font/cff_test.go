package font_test

import (
	"bytes"
	"math"
	"testing"

	gofont "github.com/go-text/typesetting/font"
	ot "github.com/go-text/typesetting/font/opentype"

	"panelwright/label/font"
	"panelwright/label/font/cubic"
)

const some = "oH0123456789 AVSg&e"

// opened returns an OTF font, and the face that it makes.
func opened(t *testing.T, of *font.Face) ([]byte, *font.Face) {
	t.Helper()
	data, err := cubic.OTF(of, some)
	if err != nil {
		t.Fatal(err)
	}
	f, err := font.Open("mine.otf", data)
	if err != nil {
		t.Fatal(err)
	}
	return data, f
}

// The outlines that are printed depart from those in the OTF file by less than a thousandth of an em, at every
// point and both ways, and so do the heights.
func TestConvertedOutlines(t *testing.T) {
	for _, of := range []*font.Face{font.Text, font.Display, font.Italic, font.Slab} {
		data, f := opened(t, of)
		source, err := gofont.ParseTTF(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		worst, curves := 0.0, 0
		glyphs, err := f.Shape(some)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range glyphs {
			outline, ok := source.GlyphDataOutline(ot.GID(g.ID))
			if !ok {
				t.Fatalf("%s: no outline of %q", f.Name(), g.Rune)
			}
			var drawn []font.Segment
			for _, s := range outline.Segments {
				seg := font.Segment{Op: font.Op(s.Op)}
				for i, p := range s.ArgsSlice() {
					seg.P[i] = [2]int32{int32(math.Round(float64(p.X) * font.OutlineScale)), int32(math.Round(float64(p.Y) * font.OutlineScale))}
				}
				if seg.Op == font.CubicTo {
					curves++
				}
				drawn = append(drawn, seg)
			}
			a, b := along(drawn), along(f.Outline(g))
			worst = max(worst, apart(a, b), apart(b, a))
		}
		if limit := float64(f.UnitsPerEm()) / 1000; worst > limit || worst == 0 {
			t.Errorf("%s: an outline departs by %.2f units, at most %.2f are said", of.Name(), worst, limit)
		}
		if curves == 0 {
			t.Errorf("%s: the font has no cubic curve", of.Name())
		}
	}
}

// along returns points close together along an outline, in font units.
func along(outline []font.Segment) [][2]float64 {
	const steps = 12
	var out [][2]float64
	var pen [2]float64
	for _, s := range outline {
		var p [3][2]float64
		for i, q := range s.P {
			p[i] = [2]float64{float64(q[0]) / font.OutlineScale, float64(q[1]) / font.OutlineScale}
		}
		to := p[0]
		for k := 1; k <= steps; k++ {
			t := float64(k) / steps
			u := 1 - t
			var q [2]float64
			for i := range 2 {
				switch s.Op {
				case font.MoveTo:
					q[i] = p[0][i]
				case font.LineTo:
					q[i] = u*pen[i] + t*p[0][i]
				case font.QuadTo:
					q[i], to[i] = u*u*pen[i]+2*u*t*p[0][i]+t*t*p[1][i], p[1][i]
				case font.CubicTo:
					q[i], to[i] = u*u*u*pen[i]+3*u*u*t*p[0][i]+3*u*t*t*p[1][i]+t*t*t*p[2][i], p[2][i]
				}
			}
			out = append(out, q)
		}
		pen = to
	}
	return out
}

// apart returns how far the farthest point of a lies from the line through the points of b.
func apart(a, b [][2]float64) float64 {
	worst := 0.0
	for _, p := range a {
		least := math.Inf(1)
		for i := range b[1:] {
			q, d := b[i], [2]float64{b[i+1][0] - b[i][0], b[i+1][1] - b[i][1]}
			t := 0.0
			if n := d[0]*d[0] + d[1]*d[1]; n > 0 {
				t = min(max(((p[0]-q[0])*d[0]+(p[1]-q[1])*d[1])/n, 0), 1)
			}
			least = min(least, math.Hypot(p[0]-q[0]-t*d[0], p[1]-q[1]-t*d[1]))
		}
		worst = max(worst, least)
	}
	return worst
}

// Spacing and kerning of the OTF font are kept.
func TestConvertedSpacing(t *testing.T) {
	_, f := opened(t, font.Text)
	got, err := f.Shape("AVA So")
	if err != nil {
		t.Fatal(err)
	}
	want, err := font.Text.Shape("AVA So")
	if err != nil {
		t.Fatal(err)
	}
	if a, b := font.Width(got), font.Width(want); a != b || got[0].Kern == 0 {
		t.Errorf("%d units wide, the face it was made from %d; kern %d", a, b, got[0].Kern)
	}
}
