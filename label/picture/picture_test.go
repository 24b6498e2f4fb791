package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
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

// What a group says holds for its shapes, corners are no rounder than half a side, and what is hidden is not drawn.
func TestInherited(t *testing.T) {
	_, err := Read("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:i="urn:note" viewBox="0 0 100 100" i:zoom="3">
<i:view><i:guide/></i:view><defs><path id="a" d="M0 0L5 5"/></defs>
<g style="fill-rule:evenodd; stroke-linecap:round" color="#000" fill="currentColor" font-size="12" transform="translate(10 20) scale(2)">
<rect width="30" height="10" rx="30" ry="4" stroke="red" stroke-width="1.5px"/>
<path display="none" d="M0 0H100V100z" wobble="1"/></g></svg>`))
	if err == nil || !strings.Contains(err.Error(), "a.svg:5: <path>: wobble") {
		t.Fatalf("error = %v, want one for the attribute", err)
	}
	p, err := Read("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:i="urn:note" viewBox="0 0 100 100" i:zoom="3">
<i:view><i:guide/></i:view><defs><path id="a" d="M0 0L5 5"/></defs>
<g style="fill-rule:evenodd; stroke-linecap:round" color="#000" fill="currentColor" font-size="12" transform="translate(10 20) scale(2)">
<rect width="30" height="10" rx="30" ry="4" stroke="red" stroke-width="1.5px" fill-opacity="1.0"/><rect width="0" height="3"/>
<path display="none" d="M0 0H100V100z"/><path visibility="hidden" d="M0 0H100V100z"/></g></svg>`))
	if err != nil {
		t.Fatal(err)
	}
	if len(p.paths) != 1 {
		t.Fatalf("%d shapes, want the one that is not hidden", len(p.paths))
	}
	q := p.paths[0]
	want := scene.Path{Fill: &scene.Black, Stroke: &scene.Ink{M: 100, Y: 100}, Width: 3 * u, Pen: scene.Pen{Cap: scene.RoundCap}, Holes: true}
	got := q
	got.Segments = nil
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	// The radius along is cut to half the width, 15, and the one upwards is as stated: the rim begins at (15, 0).
	if at := q.Segments[0].P[0]; at != (scene.Point{X: (10 + 2*15) * u, Y: 20 * u}) {
		t.Errorf("the rectangle begins at %v", at)
	}
}

// Half a circle by an arc lies on the circle, and ends where it says. The numbers stand without spaces.
func TestArc(t *testing.T) {
	o, err := pathData("M10 0a10 10 0 01-20 0")
	if err != nil {
		t.Fatal(err)
	}
	if len(o.steps) != 3 || o.pen != (spot{-10, 0}) {
		t.Fatalf("%d steps to %v", len(o.steps), o.pen)
	}
	pen := o.steps[0].p[0]
	for _, s := range o.steps[1:] {
		for i := range 11 {
			v := float64(i) / 10
			w := 1 - v
			at := func(a, b, c, d float64) float64 { return w*w*w*a + 3*w*w*v*b + 3*w*v*v*c + v*v*v*d }
			x, y := at(pen.x, s.p[0].x, s.p[1].x, s.p[2].x), at(pen.y, s.p[0].y, s.p[1].y, s.p[2].y)
			if r := math.Hypot(x, y); r < 9.997 || r > 10.003 || y < -1e-9 {
				t.Errorf("(%v, %v) is %v from the middle", x, y, r)
			}
		}
		pen = s.p[2]
	}
	// Radii that are too small grow; one of nothing makes a line.
	if o, err = pathData("M0 0A1 1 0 0 1 10 0"); err != nil || o.steps[1].p[2] != (spot{5, -5}) && math.Abs(o.steps[1].p[2].y+5) > 1e-9 {
		t.Errorf("%v, %v", o, err)
	}
	if o, err = pathData("M0 0A0 1 0 0 1 10 0"); err != nil || o.steps[1].op != scene.LineTo {
		t.Errorf("%v, %v", o, err)
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
		"arc":             {"a.svg", svg(`<path d="M0 0A1 1 0 2 0 5 5"/>`), "where 0 or 1 is due"},
		"transform":       {"a.svg", svg(`<g transform="scale(2) spin(3)"/>`), "spin(3) is no move"},
		"open transform":  {"a.svg", svg(`<g transform="scale(2"/>`), "no move"},
		"bent pen":        {"a.svg", svg(`<g transform="scale(2 1)"><path stroke="#000" d="M0 0L5 5"/></g>`), "stretched"},
		"off the edge":    {"a.svg", svg(`<path d="M0 0H5V-5Z"/>`), "over the top edge"},
		"dashes":          {"a.svg", svg(`<path stroke-dasharray="1 2" d="M0 0L5 5"/>`), "stroke-dasharray"},
		"sharp corners":   {"a.svg", svg(`<path style="stroke-miterlimit:10" d="M0 0L5 5"/>`), "stroke-miterlimit"},
		"style sheet":     {"a.svg", svg(`<defs><style>.a{fill:red}</style></defs>`), "<style>"},
		"used shape":      {"a.svg", svg(`<defs><path id="a" d="M0 0L5 5"/></defs><use href="#a"/>`), "a.svg:1: <use>"},
		"drawing in it":   {"a.svg", svg(`<svg viewBox="0 0 5 5"/>`), "within the drawing"},
		"stretched":       {"a.svg", []byte(`<svg viewBox="0 0 5 5" preserveAspectRatio="none"/>`), "preserveAspectRatio"},
		"unknown":         {"a.svg", svg(`<path d="M0 0L5 5" wobble="3"/>`), "wobble"},
		"style by halves": {"a.svg", svg(`<path d="M0 0L5 5" style="fill"/>`), "no pair"},
		"fill rule":       {"a.svg", svg(`<path d="M0 0L5 5" fill-rule="odd"/>`), "fill-rule"},
		"moved by style":  {"a.svg", svg(`<path d="M0 0L5 5" style="transform:translate(1px, 2px)"/>`), "transform"},
		"hidden mask":     {"a.svg", svg(`<path d="M0 0L5 5" mask="url(#m)"/>`), "mask"},
		"its line":        {"a.svg", []byte("<svg viewBox='0 0 9 9'>\n<g>\n<path\n d='M0 0'\n filter='url(#f)'/></g></svg>"), "a.svg:3: <path>: filter"},
		"negative size":   {"a.svg", svg(`<rect width="-1" height="2"/>`), "less than nothing"},
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
		"rgb(0,0,0)": {K: 100}, "rgb(136, 170, 102)": {C: 20, Y: 40, K: 33}, "RGB(100% 0% 0%)": {M: 100, Y: 100}, "teal": {C: 100, K: 50},
	} {
		got, err := Ink(s)
		if err != nil || *got != want {
			t.Errorf("%s: %v, %v; want %v", s, got, err, want)
		}
	}
	for _, s := range []string{"", "C120", "C10 C20", "green-ish", "#12345", "#gggggg", "C", "10", "rgb(1,2)", "rgb(0,0,256)", "rgb(a,b,c)", "rgb(0,0,0,0)"} {
		if got, err := Ink(s); err == nil {
			t.Errorf("%q: %v, want an error", s, got)
		}
	}
	if got, err := Ink("none"); got != nil || err != nil {
		t.Errorf("none: %v, %v", got, err)
	}
}
