package scene

import (
	"math/big"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panelwright/label/font"
)

func TestUmString(t *testing.T) {
	for u, want := range map[Um]string{0: "0 mm", 2500: "2.5 mm", 64 * Mm: "64 mm", -1250: "-1.25 mm", 1: "0.001 mm", Inch: "25.4 mm"} {
		if got := u.String(); got != want {
			t.Errorf("%d: %q, want %q", int64(u), got, want)
		}
	}
}

func TestRoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(0, 1<<60).Draw(t, "n")
		if got, want := Root(n), new(big.Int).Sqrt(big.NewInt(n)).Int64(); got != want {
			t.Fatalf("Root(%d) = %d, want %d", n, got, want)
		}
	})
}

// text sets s in the text face.
func text(t testing.TB, s string, size, x, y Um) *Text {
	g, err := font.Text.Shape(s)
	if err != nil {
		t.Fatal(err)
	}
	return &Text{Face: font.Text, Size: size, X: x, Y: y, Glyphs: g, Ink: Black}
}

// The box around the outlines is the box that Bounds computes from the font's own figures.
func TestBoundsAreThoseOfOutlines(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := rapid.StringOf(rapid.RuneFrom([]rune("AVoToyjgÄÇ,.5½ "))).Draw(r, "text")
		w := text(t, s, Um(rapid.IntRange(1500, 20000).Draw(r, "size")), 3000, 50000)
		if strings.TrimSpace(s) == "" {
			return
		}
		got, want := w.Bounds(), (&Path{Segments: w.Outlines()}).Bounds()
		// Control points of curves may lie outside the ink, and each figure is rounded.
		near := func(a, b Um) bool { return a-b <= 2 && b-a <= 2 }
		inside := want.Left >= got.Left-2 && want.Right <= got.Right+2 && want.Top >= got.Top-2 && want.Bottom <= got.Bottom+2
		if !inside && !(near(got.Left, want.Left) && near(got.Right, want.Right) && near(got.Top, want.Top) && near(got.Bottom, want.Bottom)) {
			r.Fatalf("%q: bounds %v, outlines %v", s, got, want)
		}
	})
}

func TestWidthCountsKerning(t *testing.T) {
	pair, a, v := text(t, "AV", 10*Mm, 0, 0), text(t, "A", 10*Mm, 0, 0), text(t, "V", 10*Mm, 0, 0)
	if pair.Width() >= a.Width()+v.Width() {
		t.Errorf("AV is %v wide, A and V apart %v", pair.Width(), a.Width()+v.Width())
	}
	if got, want := pair.String(), "AV"; got != want {
		t.Errorf("String = %q, want %q", got, want)
	}
}

func TestRounded(t *testing.T) {
	box := Rect{1000, 2000, 65000, 66000}
	for name, radius := range map[string]Um{"square": 0, "rounded": 3000, "circle": 32000} {
		p := Path{Segments: Rounded(box, radius)}
		if diff := cmp.Diff(box, p.Bounds()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	// Half-way round a corner the curve must be on the circle, to within the 0.03 % it is known to depart.
	s := Rounded(box, 32000)[2]
	mid := func(a, b, c, d Um) Um { return (a + 3*b + 3*c + d) / 8 }
	x := mid(33000, s.P[0].X, s.P[1].X, s.P[2].X) - 33000
	y := mid(2000, s.P[0].Y, s.P[1].Y, s.P[2].Y) - 34000
	if d := Um(Root(int64(x*x+y*y))) - 32000; d < -10 || d > 10 {
		t.Errorf("half-way round the corner the curve is %d micrometres off the circle", d)
	}
}

func TestWatermark(t *testing.T) {
	for _, size := range [][2]Um{{64 * Mm, 64 * Mm}, {210 * Mm, 50 * Mm}, {50 * Mm, 90 * Mm}, {210 * Mm, 297 * Mm}} {
		p, err := Watermark(size[0], size[1], "PROOF - NOT FOR SALE")
		if err != nil {
			t.Fatal(err)
		}
		b := p.Bounds()
		if b.Left < 0 || b.Top < 0 || b.Right > size[0] || b.Bottom > size[1] {
			t.Errorf("%v: watermark at %v sticks out", size, b)
		}
		if b.Right-b.Left < size[0]/2 {
			t.Errorf("%v: watermark is only %v wide", size, b.Right-b.Left)
		}
	}
	if _, err := Watermark(Mm, Mm, "石"); err == nil {
		t.Error("a letter that no face has gives no error")
	}
}

func TestString(t *testing.T) {
	s := Scene{W: 64 * Mm, H: 64 * Mm, Title: "Hay", Lang: "en"}
	w := text(t, "Öl", 3040, 2500, 9000)
	w.Mark = &Mark{Statement: "ingredients", On: font.LowerO, MinHeight: 1588, Height: 1586}
	s.Items = []Item{w, Line(0, 0, Mm, Mm, 90, Ink{C: 60, K: 45})}
	want := `scene 64000 x 64000 "Hay" en
text   2500   9000   3040 Barlow-Regular K100 "Öl"  ingredients: lower-case o 1586 of 1588
path {-45 -45 1045 1045} stroke 90 C60 K45 ml
`
	// The box of a path prints as lengths.
	want = strings.Replace(want, "{-45 -45 1045 1045}", "{-0.045 mm -0.045 mm 1.045 mm 1.045 mm}", 1)
	if diff := cmp.Diff(want, s.String()); diff != "" {
		t.Error(diff)
	}
}

// The part of an outline above a height is what lies above it, whatever the corners.
func TestAbove(t *testing.T) {
	box := Rect{1000, 2000, 61000, 42000}
	for name, corner := range map[string]Point{"square": {}, "rounded": {X: 3000, Y: 3000}, "oval": {X: 30000, Y: 20000}} {
		for _, y := range []Um{1000, 2500, 4000, 15000, 22000, 30000, 40500, 42000, 50000} {
			got := Above(box, corner.X, corner.Y, y)
			if y <= box.Top {
				if got != nil {
					t.Errorf("%s above %v: %v", name, y, got)
				}
				continue
			}
			p := Path{Segments: got}
			if b := p.Bounds(); b.Bottom != min(y, box.Bottom) && b.Bottom-y > 1500 || b.Top != box.Top || b.Left < box.Left-1 || b.Right > box.Right+1 {
				t.Errorf("%s above %v: %v", name, y, b)
			}
			if got[len(got)-1].Op != Close {
				t.Errorf("%s above %v is open", name, y)
			}
			// No end of a step lies below y or out of the oval.
			for _, s := range got {
				end := s.P[0]
				if s.Op == CurveTo {
					end = s.P[2]
				}
				if s.Op != Close && end.Y > y {
					t.Errorf("%s above %v reaches %v", name, y, end)
				}
				if s.Op != Close && name == "oval" {
					dx, dy := (end.X-31000)*1000/30000, (end.Y-22000)*1000/20000
					if d := Um(Root(int64(dx*dx + dy*dy))); d < 995 || d > 1003 {
						t.Errorf("oval above %v: %v lies at %d thousandths of the way to the rim", y, end, d)
					}
				}
			}
		}
	}
}

// A text upside down is the same text turned about the start of its baseline.
func TestTurned(t *testing.T) {
	a := text(t, "Hay", 4000, 10000, 20000)
	b := *a
	b.Turned = true
	up, down := a.Bounds(), b.Bounds()
	want := Rect{Left: 20000 - up.Right, Right: 20000 - up.Left, Top: 40000 - up.Bottom, Bottom: 40000 - up.Top}
	if diff := cmp.Diff(want, down); diff != "" {
		t.Error(diff)
	}
	box := (&Path{Segments: b.Outlines()}).Bounds()
	if box.Left < down.Left-2 || box.Right > down.Right+2 || box.Top < down.Top-2 || box.Bottom > down.Bottom+2 {
		t.Errorf("outlines at %v, bounds %v", box, down)
	}
}
