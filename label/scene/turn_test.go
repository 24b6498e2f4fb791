package scene

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/font"
)

// Four quarters are a whole turn, and at each of them the ink of everything lies where the turned paper has it.
func TestQuarterTurned(t *testing.T) {
	g, err := font.Text.Shape("Hay 160 g")
	if err != nil {
		t.Fatal(err)
	}
	s := &Scene{W: 80_000, H: 50_000, Title: "x", Die: Path{Segments: Rounded(Rect{Right: 80_000, Bottom: 50_000}, 3000)},
		Folds: []Fold{{Point{40_000, 0}, Point{40_000, 50_000}}},
		Items: []Item{
			&Text{Face: font.Text, Size: 4000, X: 10_000, Y: 20_000, Glyphs: g, Ink: Black},
			Line(5000, 30_000, 60_000, 31_000, 200, Black),
			&Image{Box: Rect{20_000, 35_000, 45_000, 44_000}, Name: "x"},
		}}
	turned := s
	for range 4 {
		next := turned.QuarterTurned()
		for i, item := range next.Items {
			var got, was Rect
			switch item := item.(type) {
			case *Text:
				got, was = item.Bounds(), turned.Items[i].(*Text).Bounds()
				outline := (&Path{Segments: item.Outlines()}).Bounds()
				if outline.Left < got.Left-1 || outline.Top < got.Top-1 || outline.Right > got.Right+1 || outline.Bottom > got.Bottom+1 {
					t.Errorf("outlines at %v, the text at %v", outline, got)
				}
			case *Path:
				got, was = item.Bounds(), turned.Items[i].(*Path).Bounds()
			case *Image:
				got, was = item.Box, turned.Items[i].(*Image).Box
			}
			want := Rect{Left: was.Top, Top: turned.W - was.Right, Right: was.Bottom, Bottom: turned.W - was.Left}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%T: %s", item, diff)
			}
		}
		if f := next.Folds[0]; f.A.X < 0 || f.A.X > next.W || f.B.Y < 0 || f.B.Y > next.H {
			t.Errorf("the fold %v has left the paper", f)
		}
		turned = next
	}
	if diff := cmp.Diff(s.String(), turned.String()); diff != "" {
		t.Error(diff)
	}
}
