package stock

import (
	"testing"

	"panelwright/label/scene"
)

// cutter is a sheet of four cells to cut, 85 x 55 mm, with 10 mm between them.
func cutter() *Stock {
	return &Stock{Name: "cutter", Paper: A4, Columns: 2, Rows: 4, Label: Size{85_000, 55_000}, Left: 15_000, Top: 25_000,
		Across: 95_000, Down: 65_000, Bleed: 2000, CropMarks: true, Edge: 5000, ScaleX: Whole, ScaleY: Whole}
}

// A label is turned where the stock asks for it, and where it fits only so.
func TestTurned(t *testing.T) {
	for _, tt := range []struct {
		name string
		turn bool
		w, h scene.Um
		want Size // as it lies; zero where it is refused
	}{
		{"as it is", false, 85_000, 55_000, Size{85_000, 55_000}},
		{"fits only turned", false, 50_000, 80_000, Size{80_000, 50_000}},
		{"asked for", true, 50_000, 50_000, Size{50_000, 50_000}},
		{"asked for, upright", true, 55_000, 85_000, Size{85_000, 55_000}},
		{"asked for, too high", true, 85_000, 55_000, Size{}},
		{"fits neither way", false, 60_000, 90_000, Size{}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := cutter()
			s.Turn = tt.turn
			got, err := s.placed(&scene.Scene{W: tt.w, H: tt.h, Items: []scene.Item{scene.Line(0, 0, 1000, 0, 100, scene.Black)}})
			if err != nil {
				if tt.want != (Size{}) {
					t.Error(err)
				}
				return
			}
			if (Size{got.W, got.H}) != tt.want {
				t.Errorf("%v x %v, want %v", got.W, got.H, tt.want)
			}
			if only := s.Turns(&scene.Scene{W: tt.w, H: tt.h}); !tt.turn && only != (got.W != tt.w) {
				t.Errorf("said to go in only turned: %v", only)
			}
			upright := got.Items[0].(*scene.Path).Bounds()
			if turned := upright.Bottom-upright.Top > upright.Right-upright.Left; turned != (tt.turn || tt.w < tt.h) {
				t.Errorf("turned: %v", turned)
			}
		})
	}
}

// Cutter output shows where to punch and where to fold, and its marks stand at the edges of the label, not of the
// cell that it lies in the middle of.
func TestCutHints(t *testing.T) {
	s := cutter()
	hole := scene.Oval(scene.Point{X: 30_000, Y: 7000}, 2500, 2500, 0)
	label := &scene.Scene{W: 60_000, H: 40_000,
		Die:   scene.Path{Segments: append(scene.Rounded(scene.Rect{Right: 60_000, Bottom: 40_000}, 0), hole...)},
		Folds: []scene.Fold{{A: scene.Point{Y: 20_000}, B: scene.Point{X: 60_000, Y: 20_000}}}}
	var sheets []*scene.Scene
	im, err := s.Impose(nil, 0, keep(&sheets))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := im.Add(label, 2); err != nil {
		t.Fatal(err)
	}
	if _, err := im.Close(); err != nil {
		t.Fatal(err)
	}
	x, y := 15_000+scene.Um(85_000-60_000)/2, 25_000+scene.Um(55_000-40_000)/2
	var rims, folds, corners int
	for _, item := range sheets[0].Items {
		b := item.(*scene.Path).Bounds()
		mid := scene.Point{X: (b.Left + b.Right) / 2, Y: (b.Top + b.Bottom) / 2}
		switch {
		case mid == (scene.Point{X: x + 30_000, Y: y + 7000}):
			rims++
		case mid.Y == y+20_000 && b.Right <= x-s.Bleed:
			folds++
		case mid.X == x && b.Bottom <= y-s.Bleed, mid.Y == y && b.Right <= x-s.Bleed:
			corners++
		}
	}
	if rims != 3 { // the rim and the two strokes of the cross
		t.Errorf("%d drawings at the hole, want 3", rims)
	}
	if folds == 0 {
		t.Error("nothing shows where to fold")
	}
	if corners != 2 {
		t.Errorf("%d marks at the corner of the label, want 2", corners)
	}
}
