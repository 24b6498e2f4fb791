package stock

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
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

// Every label stands in the file where its cell is, corrected as the printer needs it, to within 0.02 mm: read by
// an independent reader.
func TestPlacesInTheFile(t *testing.T) {
	for name, change := range map[string]func(*Stock){
		"as it is":  func(*Stock) {},
		"corrected": func(s *Stock) { s.OffsetX, s.OffsetY, s.ScaleX, s.ScaleY = 400, -700, 1_003_000, 997_500 },
	} {
		t.Run(name, func(t *testing.T) {
			s := three()
			change(s)
			w := pdf.NewWriter(pdf.Options{})
			w.Correct(pdf.Correction{X: s.OffsetX, Y: s.OffsetY, ScaleX: s.ScaleX, ScaleY: s.ScaleY})
			im, err := s.Impose(Cells{1, 2}, 0, w.Page)
			if err != nil {
				t.Fatal(err)
			}
			const count = 25
			for i := range count {
				g, err := font.Text.Shape(fmt.Sprintf("n%d", i))
				if err != nil {
					t.Fatal(err)
				}
				label := &scene.Scene{W: s.Label.W, H: s.Label.H, Items: []scene.Item{&scene.Text{Face: font.Text, Size: 4000, X: 10000, Y: 20000, Glyphs: g, Ink: scene.Black}}}
				if _, err := im.Add(label, 1); err != nil {
					t.Fatal(err)
				}
			}
			if _, err := im.Close(); err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := w.Finish(&b); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), "sheets.pdf")
			if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			if out := outside.Run(t, "pdfinfo", file); !strings.Contains(out, "Pages:           2\n") || !strings.Contains(out, "595.28 x 841.89 pts (A4)") {
				t.Errorf("%s", out)
			}
			found := regexp.MustCompile(`xMin="([0-9.]+)" yMin="([0-9.]+)" xMax="[0-9.]+" yMax="([0-9.]+)">(n[0-9]+)<`).FindAllStringSubmatch(outside.Run(t, "pdftotext", "-bbox", file, "-"), -1)
			if len(found) != count {
				t.Fatalf("%d labels in the file", len(found))
			}
			above := scene.Um(-1) // how far the box of the reader reaches above the baseline depends on the face only
			for i, f := range found {
				cell := s.Cell((i+2)%21 + 1)
				x := (cell.Left+10000)*scene.Um(s.ScaleX)/Whole + s.OffsetX
				y := (cell.Top+20000)*scene.Um(s.ScaleY)/Whole + s.OffsetY
				if f[4] != fmt.Sprintf("n%d", i) {
					t.Fatalf("label %d is %s", i, f[4])
				}
				gotX, gotTop := um(t, f[1]), um(t, f[2])
				if d := gotX - x; d > 20 || d < -20 {
					t.Errorf("%s starts at %v, want %v", f[4], gotX, x)
				}
				if above < 0 {
					above = y - gotTop
				}
				if d := y - gotTop - above; d > 20 || d < -20 {
					t.Errorf("%s stands %v off its height", f[4], d)
				}
			}
		})
	}
}

func um(t *testing.T, points string) scene.Um {
	t.Helper()
	f, err := strconv.ParseFloat(points, 64)
	if err != nil {
		t.Fatal(err)
	}
	return scene.Um(f * 25400 / 72)
}
