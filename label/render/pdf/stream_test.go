package pdf

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/outside"
	"panelwright/label/font"
	"panelwright/label/scene"
)

func stream(t testing.TB, fix Correction, scenes ...scene.Scene) []byte {
	t.Helper()
	w := NewWriter(Options{})
	w.Correct(fix)
	for i := range scenes {
		if err := w.Page(&scenes[i]); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := w.Finish(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A file written page by page says the same as one written at once.
func TestStreamed(t *testing.T) {
	at := func(data []byte) string { return outside.Run(t, "pdftotext", "-bbox", saved(t, data), "-") }
	a, b := stream(t, Correction{}, sample(t), sample(t)), write(t, Options{}, sample(t), sample(t))
	if diff := cmp.Diff(at(b), at(a)); diff != "" {
		t.Error(diff)
	}
	if !bytes.Equal(a, stream(t, Correction{}, sample(t), sample(t))) {
		t.Error("the second time differs")
	}
	outside.SoundPDF(t, saved(t, a))
	for _, row := range strings.Split(strings.TrimSpace(outside.Run(t, "pdffonts", saved(t, a))), "\n")[2:] {
		if f := strings.Fields(row); f[4] != "yes" {
			t.Errorf("not embedded: %s", row)
		}
	}
}

func TestStreamWithoutPages(t *testing.T) {
	if err := NewWriter(Options{}).Finish(&bytes.Buffer{}); err == nil {
		t.Error("no error for a file without pages")
	}
}

// The correction enlarges from the top left corner and then moves right and down.
func TestCorrection(t *testing.T) {
	g, err := font.Text.Shape("here")
	if err != nil {
		t.Fatal(err)
	}
	s := scene.Scene{W: 100 * scene.Mm, H: 80 * scene.Mm,
		Items: []scene.Item{&scene.Text{Face: font.Text, Size: 10 * scene.Mm, X: 20 * scene.Mm, Y: 60 * scene.Mm, Glyphs: g, Ink: scene.Black}}}
	at := func(fix Correction) (x, y scene.Um) {
		out := outside.Run(t, "pdftotext", "-bbox", saved(t, stream(t, fix, s)), "-")
		m := regexp.MustCompile(`xMin="([0-9.]+)" yMin="([0-9.]+)"`).FindStringSubmatch(out)
		if m == nil {
			t.Fatal(out)
		}
		for i, to := range []*scene.Um{&x, &y} {
			points, err := strconv.ParseFloat(m[i+1], 64)
			if err != nil {
				t.Fatal(err)
			}
			*to = scene.Um(points * 25400 / 72)
		}
		return x, y
	}
	x0, y0 := at(Correction{})
	for name, fix := range map[string]Correction{
		"moved":    {X: 500, Y: -300},
		"enlarged": {ScaleX: 1_010_000, ScaleY: 990_000},
		"both":     {X: -250, Y: 400, ScaleX: 998_000, ScaleY: 1_002_500},
	} {
		x, y := at(fix)
		want := func(u, move scene.Um, scale int64) scene.Um {
			if scale == 0 {
				scale = millionths
			}
			return u*scene.Um(scale)/millionths + move
		}
		wx, wy := want(x0, fix.X, fix.ScaleX), want(y0, fix.Y, fix.ScaleY)
		if max(x-wx, wx-x, y-wy, wy-y) > 20 {
			t.Errorf("%s: at %v, %v; want %v, %v", name, x, y, wx, wy)
		}
	}
}
