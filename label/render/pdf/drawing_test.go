package pdf

import (
	"bytes"
	"fmt"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"panelwright/formula/outside"
	pictures "panelwright/label/picture"
	"panelwright/label/render/svg"
	"panelwright/label/scene"
)

// drawings are drawings (invented), one a thing that SVG can say. Colours are black, for inks look otherwise on a
// screen than in print.
var drawings = map[string]string{
	"arcs": `<path d="M10 50A30 20 30 1 0 60 40z"/><path d="m70 20a10 10 0 0120 0 10 10 0 01-20 0"/>
		<path d="M20 90A5 5 0 0 1 60 90" fill="none" stroke="#000" stroke-width="3"/><path d="M70 80a12 6-20 10 15 9z"/>`,
	"moves": `<g transform="translate(50,50) rotate(30)"><rect x="-20" y="-10" width="40" height="20"/>
		<g transform="translate(0 -25) scale(.5)"><circle r="20" fill="none" stroke="#000" stroke-width="6"/></g></g>
		<path transform="matrix(1 .3 -.3 1 20 5)" d="M0 0H12V12H0z"/><rect transform="skewX(20)translate(5 80)" width="15" height="12"/>
		<rect transform="rotate(45 80 20) skewY(10)" x="75" y="0" width="10" height="10"/>`,
	"shapes": `<rect x="5" y="5" width="40" height="20" rx="6"/><rect x="55" y="5" width="40" height="20" rx="30" ry="4"/>
		<ellipse cx="25" cy="45" rx="20" ry="10"/><circle cx="75" cy="45" r="12"/><line x1="5" y1="65" x2="95" y2="70" stroke="black" stroke-width="4"/>
		<polyline points="5,80 20,95 35,80 50,95" fill="none" stroke="black" stroke-width="2"/><polygon points="60 80,95 80,78 97"/>`,
	"rules": `<path fill-rule="evenodd" d="M10 10H50V50H10zM20 20H40V40H20z"/><path d="M60 10H95V50H60zM70 20H85V40H70z"/>
		<g style="fill-rule:evenodd"><path d="M50 55L62 92L30 69H70L38 92z"/></g>`,
	"strokes": `<g fill="none" stroke="#000" stroke-width="8"><path d="M15 15H85" stroke-linecap="round"/><path d="M15 30H85" stroke-linecap="square"/>
		<path d="M15 45H85"/><path d="M15 80L30 60L45 80" stroke-linejoin="round"/><path d="M55 80L70 60L85 80" stroke-linejoin="bevel"/>
		<path d="M20 92L60 88L20 84" stroke-width="2"/></g>`,
	"styles": `<g style="fill:none;stroke:#000;stroke-width:2px"><rect x="10" y="10" width="30" height="30"/><rect style="fill:black" x="60" y="10" width="30" height="30"/></g>
		<g color="#000" fill="currentColor"><path d="M10 60h30v30h-30zm50 0l30 30"/><path display="none" d="M0 0H100V100z"/><path visibility="hidden" d="M0 0H100V100z"/></g>
		<path d="M60 60C60 80 90 60 90 80S70 95 60 90Q50 70 60 60" class="a" id="b"/>`,
}

// screen returns the grey of each dot of a drawing as an independent program shows it.
func screen(t *testing.T, file string, across, high int) []byte {
	t.Helper()
	data := outside.Run(t, "rsvg-convert", "-w", strconv.Itoa(across), "-h", strconv.Itoa(high), "-b", "white", file)
	img, err := png.Decode(strings.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var out []byte
	for y := range high {
		for x := range across {
			out = append(out, color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
		}
	}
	return out
}

// printed returns the grey of each dot of a page as another program draws it.
func printed(t *testing.T, file string, across, high int) []byte {
	t.Helper()
	out := filepath.Join(t.TempDir(), "page.pgm")
	outside.Run(t, "mutool", "draw", "-q", "-c", "gray", "-w", strconv.Itoa(across), "-h", strconv.Itoa(high), "-f", "-o", out, file)
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, top int
	if _, err := fmt.Fscanf(bytes.NewReader(withoutRemarks(data)), "P5 %d %d %d", &w, &h, &top); err != nil {
		t.Fatal(err)
	}
	if w != across || h != high {
		t.Fatalf("%d x %d dots", w, h)
	}
	return data[len(data)-w*h:]
}

// A drawing looks in print as an independent program draws it.
func TestDrawings(t *testing.T) {
	const across = 400
	for name, body := range drawings {
		t.Run(name, func(t *testing.T) {
			text := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100" viewBox="0 0 100 100">` + body + `</svg>`)
			p, err := pictures.Read("a.svg", text)
			if err != nil {
				t.Fatal(err)
			}
			s := scene.Scene{W: 50 * scene.Mm, H: 50 * scene.Mm, Title: name}
			s.Items = p.In(scene.Rect{Right: s.W, Bottom: s.H})
			file := filepath.Join(t.TempDir(), "a.svg")
			if err := os.WriteFile(file, text, 0o600); err != nil {
				t.Fatal(err)
			}
			want, got := screen(t, file, across, across), printed(t, saved(t, write(t, Options{}, s)), across, across)
			same(t, want, got)
		})
	}
}

// same fails the test where two pictures differ: edges may fall a fraction of a dot apart, but no more than a few dots
// of those that are dark may be black here and white there.
func same(t *testing.T, want, got []byte) {
	t.Helper()
	black, apart := 0, 0
	for i := range want {
		if want[i] < 128 {
			black++
		}
		if d := int(want[i]) - int(got[i]); d > 128 || d < -128 {
			apart++
		}
	}
	if black < 400 || apart*1000 > black*4 {
		t.Errorf("%d dots differ, %d are black", apart, black)
	}
}

// A scene looks the same as a PDF file and as an SVG file, each drawn by a program of its own.
func TestTwoFormats(t *testing.T) {
	const across, high = 600, 360
	s := sample(t)
	for _, item := range s.Items {
		if p, ok := item.(*scene.Path); ok {
			p.Stroke, p.Width, p.Pen = &scene.Black, 600, scene.Pen{Cap: scene.RoundCap, Join: scene.BevelJoin}
		}
	}
	ring := func(r scene.Um) []scene.Segment {
		return scene.Oval(scene.Point{X: 90 * scene.Mm, Y: 30 * scene.Mm}, r, r, 0)
	}
	s.Items = append(s.Items, &scene.Path{Segments: append(ring(5*scene.Mm), ring(3*scene.Mm)...), Fill: &scene.Black, Holes: true})
	file := filepath.Join(t.TempDir(), "a.svg")
	var b bytes.Buffer
	if err := svg.Write(&b, &s, svg.Options{}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	same(t, screen(t, file, across, high), printed(t, saved(t, write(t, Options{}, s)), across, high))
}
