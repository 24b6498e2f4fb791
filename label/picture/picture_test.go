package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/label/scene"
)

const u = unit

func pngOf(t *testing.T, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestDots(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 300, 100))
	img.Set(1, 1, color.White)
	var jpg bytes.Buffer
	if err := jpeg.Encode(&jpg, img, nil); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"a.png": pngOf(t, img), "dir/b.JPG": jpg.Bytes()} {
		p, err := Read(name, data)
		if err != nil {
			t.Fatal(err)
		}
		items := p.In(scene.Rect{Left: 1000, Top: 1000, Right: 31_000, Bottom: 31_000})
		got := items[0].(*scene.Image)
		if want := (scene.Rect{Left: 1000, Top: 11_000, Right: 31_000, Bottom: 21_000}); got.Box != want || len(items) != 1 {
			t.Errorf("%s: %v, want %v", name, got.Box, want)
		}
		if d := p.Density(25_400); d != 300 {
			t.Errorf("%s: %d dots an inch, want 300", name, d)
		}
	}
}

func TestDrawing(t *testing.T) {
	p, err := Read("a.svg", []byte(`<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" viewBox="10 0 20 10"><title>A <b>logo</b></title>
<g fill="#336699" stroke="none"><path d="M10,0h4v2l-1 1.5Z m1,1.5.5-1"/></g>
<path style="fill:none;stroke:#000;stroke-width:2" d="M 10 5 C 12 5 12 7 14 7 s 2 2 4 2 Q 20 9 20 7 t 2-2"/>
<rect x="12" y="2" width="4" height="2"/><circle cx="20" cy="5" r="1"/>
</svg>`))
	if err != nil {
		t.Fatal(err)
	}
	if p.W != 20*u || p.H != 10*u || p.Density(1000) != 0 {
		t.Errorf("%d x %d", p.W, p.H)
	}
	items := p.In(scene.Rect{Right: 40_000, Bottom: 40_000}) // twice a unit a millimetre, 10 mm down
	if len(items) != 4 {
		t.Fatalf("%d shapes", len(items))
	}
	first := items[0].(*scene.Path)
	at := func(x, y scene.Um) [3]scene.Point { return [3]scene.Point{{X: x, Y: 10_000 + y}} }
	// The last steps are a move from where the shape began, and a line with numbers that stand without spaces.
	want := []scene.Segment{
		{Op: scene.MoveTo, P: at(0, 0)}, {Op: scene.LineTo, P: at(8000, 0)}, {Op: scene.LineTo, P: at(8000, 4000)},
		{Op: scene.LineTo, P: at(6000, 7000)}, {Op: scene.Close}, {Op: scene.MoveTo, P: at(2000, 3000)}, {Op: scene.LineTo, P: at(3000, 1000)},
	}
	for i := range want {
		if want[i].Op != scene.Close {
			want[i].P[1], want[i].P[2] = first.Segments[i].P[1], first.Segments[i].P[2] // not of this step
		} else {
			want[i].P = first.Segments[i].P
		}
	}
	if d := cmp.Diff(want, first.Segments); d != "" {
		t.Error(d)
	}
	if *first.Fill != (scene.Ink{C: 67, M: 33, K: 40}) || first.Stroke != nil {
		t.Errorf("fill %v, stroke %v", first.Fill, first.Stroke)
	}
	second := items[1].(*scene.Path)
	if second.Fill != nil || *second.Stroke != scene.Black || second.Width != 4000 {
		t.Errorf("fill %v, stroke %v, width %v", second.Fill, second.Stroke, second.Width)
	}
	if end := second.Segments[4].P[2]; end != (scene.Point{X: 24_000, Y: 20_000}) {
		t.Errorf("the curves end at %v", end)
	}
	if third := items[2].(*scene.Path); *third.Fill != scene.Black || third.Bounds() != (scene.Rect{Left: 4000, Top: 14_000, Right: 12_000, Bottom: 18_000}) {
		t.Errorf("the rectangle: %v %v", third.Fill, third.Bounds())
	}
}

func TestRefuses(t *testing.T) {
	deep := image.NewGray16(image.Rect(0, 0, 4, 4))
	good := pngOf(t, image.NewGray(image.Rect(0, 0, 4, 4)))
	laced := bytes.Clone(good)
	laced[28] = 1
	binary.BigEndian.PutUint32(laced[29:], crc32.ChecksumIEEE(laced[12:29])) // of the first chunk
	svg := func(s string) []byte { return []byte(`<svg viewBox="0 0 10 10">` + s + `</svg>`) }
	for name, tt := range map[string]struct {
		file string
		data []byte
		want string
	}{
		"other kind":      {"a.gif", good, "PNG, JPEG or SVG"},
		"16 bits":         {"a.png", pngOf(t, deep), "16 bits"},
		"interlaced":      {"a.png", laced, "interlaced"},
		"broken":          {"a.png", good[:40], "is broken"},
		"no picture":      {"a.jpg", []byte("hello"), "cannot be read"},
		"too large":       {"a.png", make([]byte, mostBytes+1), "more than"},
		"arc":             {"a.svg", svg(`<path d="M0 0A1 1 0 0 0 5 5"/>`), "arc"},
		"transform":       {"a.svg", svg(`<g transform="scale(2)"/>`), "transform"},
		"text":            {"a.svg", svg(`<text>Hay</text>`), "<text>"},
		"gradient":        {"a.svg", svg(`<path fill="url(#a)" d="M0 0"/>`), "no colour"},
		"number":          {"a.svg", svg(`<path d="M0 x"/>`), "where a number is due"},
		"no move":         {"a.svg", svg(`<path d="L0 0"/>`), "begins with M"},
		"no step":         {"a.svg", svg(`<path d="M0 0Z5"/>`), "where a step is due"},
		"nothing":         {"a.svg", svg(``), "draws nothing"},
		"no frame":        {"a.svg", []byte(`<svg><path d="M0 0"/></svg>`), "viewBox"},
		"empty frame":     {"a.svg", []byte(`<svg viewBox="0 0 0 5"/>`), "empty"},
		"no XML":          {"a.svg", []byte(`<svg`), "cannot be read"},
		"empty file":      {"a.svg", nil, "no SVG"},
		"bad length":      {"a.svg", svg(`<rect width="5mm"/>`), "no length"},
		"outside":         {"a.svg", []byte(`<path d="M0 0"/>`), "outside"},
		"see-through":     {"a.svg", svg(`<path opacity=".5" d="M0 0"/>`), "opacity"},
		"bad stroke size": {"a.svg", svg(`<path stroke-width="x" d="M0 0"/>`), "stroke-width"},
	} {
		_, err := Read(tt.file, tt.data)
		if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), tt.file) {
			t.Errorf("%s: error = %v, want one that says %q", name, err, tt.want)
		}
	}
}

func TestInk(t *testing.T) {
	for s, want := range map[string]scene.Ink{
		"C20 M0 Y60 K10": {C: 20, Y: 60, K: 10}, "k100": {K: 100}, "c5%, m7%": {C: 5, M: 7},
		"#88aa66": {C: 20, Y: 40, K: 33}, "#fff": {}, "#000": {K: 100}, "black": {K: 100}, "White": {},
	} {
		got, err := Ink(s)
		if err != nil || *got != want {
			t.Errorf("%s: %v, %v; want %v", s, got, err, want)
		}
	}
	for _, s := range []string{"", "C120", "C10 C20", "green-ish", "#12345", "#gggggg", "C", "10"} {
		if got, err := Ink(s); err == nil {
			t.Errorf("%q: %v, want an error", s, got)
		}
	}
	if got, err := Ink("none"); got != nil || err != nil {
		t.Errorf("none: %v, %v", got, err)
	}
}
