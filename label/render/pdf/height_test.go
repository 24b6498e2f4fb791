package pdf

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"panelwright/formula/outside"
	"panelwright/label/font"
	"panelwright/label/font/cubic"
	"panelwright/label/scene"
)

const owned = "oH0123456789 AVSog&e"

// own returns two fonts of a maker's own, one of each kind of outline.
func own(t testing.TB) []*font.Face {
	t.Helper()
	data, err := cubic.OTF(font.Italic, owned)
	if err != nil {
		t.Fatal(err)
	}
	otf, err := font.Open("fonts/Hedge (old) #1 – größer.otf", data)
	if err != nil {
		t.Fatal(err)
	}
	ttf, err := font.Open("fonts/Lane.ttf", font.Slab.Data())
	if err != nil {
		t.Fatal(err)
	}
	return []*font.Face{otf, ttf}
}

// line returns a label with one line of text, its letters of the face to be high by the measure.
func line(t testing.TB, f *font.Face, text string, m font.Measure, high scene.Um) (scene.Scene, *scene.Text) {
	t.Helper()
	g, err := f.Shape(text)
	if err != nil {
		t.Fatal(err)
	}
	l := &scene.Text{Face: f, Size: scene.Um(f.SizeForHeight(int64(high), m)), X: 3 * scene.Mm, Y: 6 * scene.Mm, Glyphs: g, Ink: scene.Black}
	return scene.Scene{W: 6*scene.Mm + l.Width(), H: 9 * scene.Mm, Items: []scene.Item{l}}, l
}

// rows returns how many rows of dots have ink when the page is drawn at so many dots an inch; at is the least
// grey that counts, 0 being black.
func rows(t testing.TB, data []byte, dots int, at byte) int {
	t.Helper()
	name := filepath.Join(t.TempDir(), "page.pgm")
	outside.Run(t, "mutool", "draw", "-q", "-c", "gray", "-r", strconv.Itoa(dots), "-o", name, saved(t, data))
	img, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, most int
	if _, err := fmt.Fscanf(bytes.NewReader(withoutRemarks(img)), "P5 %d %d %d", &w, &h, &most); err != nil {
		t.Fatal(err)
	}
	img = img[len(img)-w*h:]
	first, last := h, -1
	for y := range h {
		for _, grey := range img[y*w : (y+1)*w] {
			if grey <= at {
				first, last = min(first, y), y
				break
			}
		}
	}
	return last - first + 1
}

// withoutRemarks drops the lines of remarks from the head of a picture.
func withoutRemarks(img []byte) []byte {
	head := strings.Split(string(img[:min(len(img), 100)]), "\n")
	var out []string
	for _, l := range head {
		if !strings.HasPrefix(l, "#") {
			out = append(out, l)
		}
	}
	return []byte(strings.Join(out, " "))
}

// Printed letters are as tall as the law's minimum, measured on a picture that an independent reader draws: in
// dots of 600 an inch, and to 0.02 mm at eight times as many.
func TestHeightsInPrint(t *testing.T) {
	outside.Tool(t, "mutool")
	const (
		coarse, fine = 600, 4800
		half         = 127
		near         = 20 // micrometres
	)
	for _, f := range append(font.All(), own(t)...) {
		// 1/16 in is the smallest height that 21 CFR 701.13(i)(1) allows, 1.2 mm a usual smallest size of print, and 3 mm
		// that of the figures of a net quantity (Directive 76/211/EEC Annex I 3.1).
		for _, tt := range []struct {
			letter string
			m      font.Measure
			high   scene.Um
		}{{"o", font.LowerO, 1588}, {"o", font.LowerO, 1200}, {"H", font.Capitals, 1588}, {"o", font.LowerO, 3000}} {
			s, l := line(t, f, tt.letter, tt.m, tt.high)
			data := write(t, Options{}, s)
			want := scene.Um(f.HeightAt(int64(l.Size), tt.m))
			if want < tt.high {
				t.Errorf("%s: %v is set to be %v high, less than %v", f.Name(), tt.m, want, tt.high)
			}
			got := scene.Um(rows(t, data, fine, half)) * scene.Inch / fine
			if got-want > near || want-got > near {
				t.Errorf("%s: %v is %v high in print, the scene has %v", f.Name(), tt.m, got, want)
			}
			if tt.high == 1588 {
				dots := rows(t, data, coarse, half)
				if exact := int(want * coarse / scene.Inch); dots < exact-1 || dots > exact+2 {
					t.Errorf("%s: %v is %d dots high at 600 an inch, the scene has %d", f.Name(), tt.m, dots, exact)
				}
			}
		}
	}
}

// A maker's own fonts, of either kind, are embedded, cut down to the letters used, and their text comes back.
func TestOwnFonts(t *testing.T) {
	var s scene.Scene
	for i, f := range own(t) {
		one, l := line(t, f, owned, font.LowerO, 2000)
		l.Y += scene.Um(i) * 9 * scene.Mm
		s.W, s.H = max(s.W, one.W), 20*scene.Mm
		s.Items = append(s.Items, l)
	}
	data := write(t, Options{}, s)
	if again := write(t, Options{}, s); !bytes.Equal(data, again) {
		t.Error("the second time differs")
	}
	if len(data) > 40_000 {
		t.Errorf("the file has %d bytes: the fonts are not cut down to the letters used", len(data))
	}
	name := saved(t, data)
	outside.SoundPDF(t, name)
	out := outside.Run(t, "pdffonts", name)
	rows := strings.Split(strings.TrimSpace(out), "\n")[2:]
	if len(rows) != 2 {
		t.Errorf("%d fonts:\n%s", len(rows), out)
	}
	for _, row := range rows {
		// Embedded, and named as a part of the font.
		if !regexp.MustCompile(`^[A-Z]{6}\+(Hedgeold1grer|Lane) +CID TrueType +Identity-H +yes yes `).MatchString(row) {
			t.Errorf("not embedded: %s", row)
		}
	}
	want := owned + "\n" + owned
	for _, args := range [][]string{{"mutool", "draw", "-q", "-F", "text", name}, {"pdftotext", "-raw", name, "-"}} {
		out := strings.TrimSpace(strings.ReplaceAll(outside.Run(t, args[0], args[1:]...), "\n\n", "\n"))
		if out != want {
			t.Errorf("%s reads %q, want %q", args[0], out, want)
		}
	}
}

// Fonts whose files differ by the size of a letter in their names, or by their endings, stay apart.
func TestFontsOfOneName(t *testing.T) {
	var s scene.Scene
	for i, name := range []string{"a/Lane.ttf", "b/lane.ttf", "c/Lane.otf"} {
		f, err := font.Open(name, []*font.Face{font.Slab, font.Italic, font.Condensed}[i].Data())
		if err != nil {
			t.Fatal(err)
		}
		one, l := line(t, f, "oo"+name[:1], font.LowerO, 2000)
		l.Y += scene.Um(i) * 9 * scene.Mm
		s.W, s.H = max(s.W, one.W), 30*scene.Mm
		s.Items = append(s.Items, l)
	}
	file := saved(t, write(t, Options{}, s))
	outside.SoundPDF(t, file)
	if rows := strings.Split(strings.TrimSpace(outside.Run(t, "pdffonts", file)), "\n")[2:]; len(rows) != 3 {
		t.Errorf("%d fonts, want 3: %q", len(rows), rows)
	}
	if got := strings.Fields(outside.Run(t, "pdftotext", "-raw", file, "-")); strings.Join(got, " ") != "ooa oob ooc" {
		t.Errorf("the text is %q", got)
	}
}
