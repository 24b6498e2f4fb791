package code

import (
	"strings"
	"testing"

	"panelwright/label/scene"
)

// A turned symbol is as high as it was wide, keeps its light margins, and is read.
func TestTurned(t *testing.T) {
	s, err := Bars("9520000000004", 0)
	if err != nil {
		t.Fatal(err)
	}
	u := s.Turned()
	if u.W != s.H || u.H != s.W || u.X != s.X || u.Text != s.Text {
		t.Errorf("%v x %v turned is %v x %v", s.W, s.H, u.W, u.H)
	}
	b, was := u.items[0].(*scene.Path).Bounds(), s.items[0].(*scene.Path).Bounds()
	if want := (scene.Rect{Left: was.Top, Right: was.Bottom, Top: s.W - was.Right, Bottom: s.W - was.Left}); b != want {
		t.Errorf("the bars are at %v, want %v", b, want)
	}
	for _, item := range append(u.At(0, 0), u.At(7*scene.Mm, 3*scene.Mm)...) {
		if w, ok := item.(*scene.Text); ok && (!w.Quarter || w.Turned) {
			t.Errorf("%q is not read upwards", w)
		}
	}
	if got := read(t, "400", u, s); strings.Count(got, ":9520000000004\n") == 0 {
		t.Errorf("read was %q", got)
	}
}

// EAN-13 at the normal size is 37.29 mm wide, which is 60 degrees of a circle of 71.22 mm across: 37.29 x 6 / pi.
func TestBends(t *testing.T) {
	s, err := Bars("9520000000004", 0)
	if err != nil {
		t.Fatal(err)
	}
	for diameter, want := range map[scene.Um]bool{40_000: true, 71_210: true, 71_230: false, 90_000: false} {
		if got := s.Bends(diameter); got != want {
			t.Errorf("round %v it bends too far: %v, want %v", diameter, got, want)
		}
	}
	if BendSource().Text == "" {
		t.Error("the angle has no source")
	}
}
