package layout

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
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

// outsideCases are labels that independent programs measure: straight, round, folded and upside down, in several
// layouts, with the maker's own font.
func outsideCases(t *testing.T) map[string][]scene.Scene {
	t.Helper()
	out := map[string][]scene.Scene{}
	add := func(name, layout string, c *label.PackCopy) {
		scenes, err := Label(serving(c, inci.EU), Options{Look: named(t, layout), Accent: &scene.Ink{C: 70, M: 20, Y: 60, K: 30}})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = scenes
	}
	add("quiet round", "quiet", on(european("Alpine Hay", shortList), shape(label.Round, 80, 80), none))
	add("block, bleeding", "block", on(american("Alpine Hay", shortList), shape(label.Rectangle, 110, 70), none))
	add("topper", "seal", on(american("Oat and Lavender", shortList), label.Shape{Kind: label.Topper, W: 110_000, H: 150_000}, none))
	own, err := font.Open("own.ttf", font.Slab.Data())
	if err != nil {
		t.Fatal(err)
	}
	c := on(european("Alpine Hay", longList), shape(label.Rectangle, 130, 90), none)
	c.Dress.Title, c.Dress.Bleed = own, 2000
	add("own font", "botanical", c)
	return out
}

func savedPDF(t *testing.T, scenes []scene.Scene) string {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, scenes, pdf.Options{}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "label.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// Every letter stands where the scene has it, at the size it has, to within 0.02 mm, as mutool reads the file.
func TestEveryLetter(t *testing.T) {
	outside.Tool(t, "mutool")
	span := regexp.MustCompile(`trm="(-?[0-9.]+) `)
	glyph := regexp.MustCompile(`<g unicode="(&[a-z]+;|&#[0-9]+;|.)" glyph="[^"]*" x="(-?[0-9.]+)" y="(-?[0-9.]+)"`)
	for name, scenes := range outsideCases(t) {
		file := savedPDF(t, scenes)
		for page := range scenes {
			s := &scenes[page]
			type letter struct{ x, y, size scene.Um }
			var got []letter
			um := func(points string) scene.Um {
				v, err := strconv.ParseFloat(points, 64)
				if err != nil {
					t.Fatal(err)
				}
				return scene.Um(v * 25400 / 72)
			}
			size := scene.Um(0)
			for _, line := range strings.Split(outside.Run(t, "mutool", "trace", file, fmt.Sprint(page+1)), "\n") {
				if m := span.FindStringSubmatch(line); m != nil {
					size = um(m[1])
				}
				if m := glyph.FindStringSubmatch(line); m != nil {
					// mutool counts from the bottom of the page, which is the bleed below the label.
					got = append(got, letter{um(m[2]) - s.Bleed, s.H + s.Bleed - um(m[3]), size})
				}
			}
			i := 0
			for _, w := range texts(*s) {
				x := int64(0)
				for _, g := range w.Glyphs {
					if i == len(got) {
						t.Fatalf("%s: the file has %d letters, the scene more", name, len(got))
					}
					right := scene.Um(x * int64(w.Size) / w.Face.UnitsPerEm())
					want := letter{w.X + right, w.Y, w.Size}
					if w.Turned {
						want = letter{w.X - right, w.Y, -w.Size}
					}
					near := func(a, b scene.Um) bool { return a-b <= 20 && b-a <= 20 }
					if !near(got[i].x, want.x) || !near(got[i].y, want.y) || !near(got[i].size, want.size) {
						t.Fatalf("%s: %q of %q is at %+v, want %+v", name, g.Rune, w, got[i], want)
					}
					x += int64(g.Advance) + int64(g.Kern)
					i++
				}
				if w.Space {
					i++
				}
			}
			if i != len(got) || i < 50 {
				t.Errorf("%s: the file has %d letters, the scene %d", name, len(got), i)
			}
		}
	}
}

// The o of a net quantity and of the list, counted in pixels at 600 dpi, has the height that its mark states.
func TestHeightInPixels(t *testing.T) {
	outside.Tool(t, "pdftoppm")
	const dpi = 600
	px := func(u scene.Um) int { return int(u * dpi / scene.Inch) }
	for name, scenes := range outsideCases(t) {
		file := savedPDF(t, scenes)
		seen := map[string]bool{}
		for _, w := range texts(scenes[0]) {
			if w.Mark.On != font.LowerO || seen[w.Mark.Statement] || w.Mark.Statement == "name" {
				continue
			}
			_, box, ok := lowest(w, font.LowerO)
			if !ok {
				continue
			}
			seen[w.Mark.Statement] = true
			b := scenes[0].Bleed
			x, y := px(box.Left+b)-1, px(box.Top+b)-8
			wide, high := px(box.Right-box.Left)+2, px(box.Bottom-box.Top)+16
			out := filepath.Join(t.TempDir(), "o")
			outside.Run(t, "pdftoppm", "-r", fmt.Sprint(dpi), "-f", "1", "-l", "1", "-x", fmt.Sprint(x), "-y", fmt.Sprint(y),
				"-W", fmt.Sprint(wide), "-H", fmt.Sprint(high), "-gray", "-singlefile", file, out)
			data, err := os.ReadFile(out + ".pgm")
			if err != nil {
				t.Fatal(err)
			}
			first, last := inkRows(t, data)
			got := scene.Um(last-first+1) * scene.Inch / dpi
			// A row of pixels is 0.042 mm, and the ink may cover a part of one at either end.
			if d := got - w.Mark.Height; d < -45 || d > 90 {
				t.Errorf("%s: the o of the %s is %v high in print, %v is stated", name, w.Mark.Statement, got, w.Mark.Height)
			}
		}
		if len(seen) < 2 {
			t.Errorf("%s: only %v measured", name, seen)
		}
	}
}

// inkRows returns the first and the last row of a picture that is dark somewhere in its middle third, where only
// the o can be.
func inkRows(t *testing.T, pgm []byte) (first, last int) {
	t.Helper()
	var w, h, most int
	if _, err := fmt.Sscanf(string(pgm[:40]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
		t.Fatal(err)
	}
	dots := pgm[len(pgm)-w*h:]
	first, last = -1, -1
	for y := range h {
		for x := w / 3; x < w*2/3; x++ {
			if dots[y*w+x] < 128 {
				if first < 0 {
					first = y
				}
				last = y
				break
			}
		}
	}
	return first, last
}

// The files are sound, and carry every font in them.
func TestFilesAreSound(t *testing.T) {
	for name, scenes := range outsideCases(t) {
		file := savedPDF(t, scenes)
		outside.SoundPDF(t, file)
		rows := strings.Split(strings.TrimSpace(outside.Run(t, "pdffonts", file)), "\n")[2:]
		for _, row := range rows {
			if f := strings.Fields(row); f[4] != "yes" {
				t.Errorf("%s: not embedded: %s", name, row)
			}
		}
		if len(rows) < 2 {
			t.Errorf("%s: %d fonts", name, len(rows))
		}
	}
}
