package pdf

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/outside"
	"panelwright/label/font"
	"panelwright/label/scene"
)

// lines is invented copy with kerned pairs, accents and signs.
var lines = []struct {
	face *font.Face
	text string
}{
	{font.Display, "Été à Tavoy"},
	{font.TextBold, "Net Wt 5.6 oz (160 g) ℮ ½"},
	{font.Text, "Ingrédients: Sodium Bicarbonate, Citric Acid, Theobroma Cacao Seed Butter,"},
	{font.Semi, "Łódź, příliš žluťoučký kůň, Größe ≤ 5 °C · 2 × 3 – “AVATAR” l’eau"},
	{font.CondensedBold, "hello@fernhollow.example"},
}

// sample returns a scene with each of lines below the other, and a frame.
func sample(t testing.TB) scene.Scene {
	s := scene.Scene{W: 100 * scene.Mm, H: 60 * scene.Mm, Title: "Été (invented)", Lang: "fr"}
	s.Items = append(s.Items, &scene.Path{
		Segments: scene.Rounded(scene.Rect{Left: 1000, Top: 1000, Right: 99000, Bottom: 59000}, 3000),
		Stroke:   &scene.Ink{C: 60, M: 10, Y: 55, K: 45}, Width: 90,
	})
	for i, l := range lines {
		g, err := l.face.Shape(l.text)
		if err != nil {
			t.Fatal(err)
		}
		s.Items = append(s.Items, &scene.Text{
			Face: l.face, Size: 2750 + scene.Um(i)*13, X: 4321, Y: 9000 + scene.Um(i)*9001, Glyphs: g, Ink: scene.Black,
		})
	}
	return s
}

func write(t testing.TB, o Options, scenes ...scene.Scene) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, scenes, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// saved writes a PDF file for an outside program and returns its name.
func saved(t testing.TB, data []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "label.pdf")
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestSameBytes(t *testing.T) {
	for name, o := range map[string]Options{
		"undated":     {},
		"dated":       {Date: time.Date(2026, 9, 1, 12, 0, 0, 0, time.UTC)},
		"plain":       {Plain: true},
		"watermarked": {Watermark: "PROOF - NOT FOR SALE"},
	} {
		first := write(t, o, sample(t), sample(t))
		for range 3 {
			if again := write(t, o, sample(t), sample(t)); !bytes.Equal(first, again) {
				t.Errorf("%s: the second time differs", name)
			}
		}
	}
	if a, b := write(t, Options{}, sample(t)), write(t, Options{Date: time.Unix(0, 0)}, sample(t)); bytes.Equal(a, b) {
		t.Error("the date makes no difference")
	}
}

// operators returns the drawing operators of the first page of an uncompressed file.
func operators(t testing.TB, data []byte) string {
	t.Helper()
	_, out, _ := strings.Cut(string(data), "stream\n")
	out, _, ok := strings.Cut(out, "endstream")
	if !ok {
		t.Fatal("the file holds no stream")
	}
	return strings.TrimRight(out, "\n") + "\n"
}

func TestPlainStream(t *testing.T) {
	s := scene.Scene{W: 25400, H: 25400}
	av, err := font.Text.Shape("AVo")
	if err != nil {
		t.Fatal(err)
	}
	s.Items = []scene.Item{
		scene.Line(0, 12700, 25400, 12700, 127, scene.Ink{C: 60, K: 45}),
		&scene.Text{Face: font.Text, Size: 2540, X: 2540, Y: 5080, Glyphs: av, Ink: scene.Black},
		&scene.Text{Face: font.Text, Size: 2540, X: 2540, Y: 10160, Glyphs: av[:1], Ink: scene.Black},
	}
	out := regexp.MustCompile(`/F[0-9a-f]+`).ReplaceAllString(operators(t, write(t, Options{Plain: true}, s)), "/F")
	// The kerning of AV and Vo is -48 and -49 units of the face, see the font's GPOS table.
	want := `/Artifact BMC
0.6 0 0 0.45 K
 0.36 w
4 M
 0 36 m 72 36 l S
EMC
/P<</MCID 0>>BDC
0 0 0 1 k
BT /F 7.2 Tf 7.2 57.6 Td [<0041>48<0056>49<006f>] TJ ET
EMC
/P<</MCID 1>>BDC
BT 7.2 43.2 Td [<0041>] TJ ET
EMC
`
	if diff := cmp.Diff(want, out); diff != "" {
		t.Error(diff)
	}
}

// No colour but the inks of the scene gets into the drawing: no grey, red, green or blue operator.
func TestInksOnly(t *testing.T) {
	out := operators(t, write(t, Options{Plain: true, Watermark: "PROOF"}, sample(t)))
	if op := regexp.MustCompile(`(?m)(^| )(rg|RG|g|G|sc|scn|cs|CS)$`).FindString(out); op != "" {
		t.Errorf("operator %q in the page", op)
	}
	if !strings.Contains(out, "0 0 0 1 k\n") {
		t.Error("text is not in pure black")
	}
}

// An independent reader separates the page into inks: black letters put nothing on the other three plates, and an
// ink that is asked for stands on its own.
func TestPlates(t *testing.T) {
	for name, tt := range map[string]struct {
		ink  scene.Ink
		want [4]bool
	}{
		"black": {scene.Black, [4]bool{3: true}},
		"rich":  {scene.Ink{C: 60, M: 40, Y: 40, K: 100}, [4]bool{true, true, true, true}},
		"green": {scene.Ink{C: 70, Y: 80}, [4]bool{0: true, 2: true}},
	} {
		s := sample(t)
		for _, item := range s.Items {
			switch item := item.(type) {
			case *scene.Text:
				item.Ink = tt.ink
			case *scene.Path:
				item.Stroke = &tt.ink
			}
		}
		file := filepath.Join(t.TempDir(), "plates.pam")
		outside.Run(t, "mutool", "draw", "-q", "-F", "pam", "-c", "cmyk", "-r", "100", "-o", file, saved(t, write(t, Options{}, s)))
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		head, dots, ok := bytes.Cut(data, []byte("ENDHDR\n"))
		if !ok || !bytes.Contains(head, []byte("DEPTH 4")) {
			t.Fatalf("%s: no picture of four plates: %s", name, head)
		}
		var got [4]bool
		for i, v := range dots {
			got[i%4] = got[i%4] || v > 0
		}
		if got != tt.want {
			t.Errorf("%s: ink on plates %v, want %v", name, got, tt.want)
		}
	}
}

func TestNoPages(t *testing.T) {
	if err := Write(&bytes.Buffer{}, nil, Options{}); err == nil {
		t.Error("no error for a file without pages")
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriterFails(t *testing.T) {
	if err := Write(broken{}, []scene.Scene{sample(t)}, Options{}); err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("error = %v, want the writer's own", err)
	}
}

func TestFileIsSound(t *testing.T) {
	for name, o := range map[string]Options{"plain": {Plain: true}, "packed": {}, "proof": {Watermark: "PROOF - NOT FOR SALE"}} {
		t.Run(name, func(t *testing.T) { outside.SoundPDF(t, saved(t, write(t, o, sample(t), sample(t)))) })
	}
}

// The strict validator does find what breaks the rules: a check that never fails would be none.
func TestValidatorFindsFaults(t *testing.T) {
	program := outside.Tool(t, "pdfcpu")
	good := write(t, Options{Plain: true}, sample(t))
	bad := bytes.Replace(good, []byte("/S/Document"), []byte("/S 12345678"), 1)
	if bytes.Equal(good, bad) {
		t.Fatal("nothing was broken")
	}
	if err := exec.Command(program, "validate", "--mode", "strict", "--conf", "disable", "--offline", saved(t, bad)).Run(); err == nil {
		t.Error("an element whose type is a number passes")
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	out := outside.Run(t, "pdffonts", saved(t, write(t, Options{}, sample(t))))
	rows := strings.Split(strings.TrimSpace(out), "\n")[2:]
	if len(rows) != len(lines) {
		t.Errorf("%d fonts, want %d:\n%s", len(rows), len(lines), out)
	}
	for _, row := range rows {
		if f := strings.Fields(row); f[4] != "yes" {
			t.Errorf("not embedded: %s", row)
		}
	}
	// Subset: a page with a few letters is much smaller than the faces it uses.
	if size := len(write(t, Options{}, sample(t))); size > 60_000 {
		t.Errorf("the file has %d bytes: the faces are not cut down to the letters used", size)
	}
}

func TestTextComesBack(t *testing.T) {
	name := saved(t, write(t, Options{Watermark: "PROOF - NOT FOR SALE"}, sample(t), sample(t)))
	var want strings.Builder
	for range 2 {
		for _, l := range lines {
			want.WriteString(l.text + "\n")
		}
		want.WriteString("\f")
	}
	got := outside.Run(t, "pdftotext", "-raw", name, "-")
	got = regexp.MustCompile(`\n+`).ReplaceAllString(got, "\n")
	if diff := cmp.Diff(want.String(), got); diff != "" {
		t.Error(diff)
	}
}

func TestInformation(t *testing.T) {
	out := outside.Run(t, "pdfinfo", "-isodates", saved(t, write(t, Options{Date: time.Date(2026, 9, 1, 12, 0, 0, 0, time.UTC)}, sample(t))))
	for _, want := range []string{"Été (invented)", "2026-09-01T12:00:00", "283.46 x 170.08 pts", "panelwright"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if data := write(t, Options{}, sample(t)); !bytes.Contains(data, []byte("/Lang (fr)")) {
		t.Error("the language is not in the file")
	}
	if out := outside.Run(t, "pdfinfo", saved(t, write(t, Options{Watermark: "PROOF - NOT FOR SALE"}, sample(t)))); !strings.Contains(out, "PROOF - NOT FOR SALE: Été") {
		t.Errorf("the title does not say that this is a proof:\n%s", out)
	}
}

// Every word stands where the scene has it, to within 0.02 mm, kerning and all.
func TestPlaces(t *testing.T) {
	s := sample(t)
	type word struct {
		text string
		x, y scene.Um
	}
	var want []word
	for _, item := range s.Items {
		if w, ok := item.(*scene.Text); ok {
			x := int64(0)
			starts := true
			for i, g := range w.Glyphs {
				if starts {
					end := i
					for end < len(w.Glyphs) && w.Glyphs[end].Rune != ' ' {
						end++
					}
					want = append(want, word{font.String(w.Glyphs[i:end]), w.X + scene.Um(x*int64(w.Size)/w.Face.UnitsPerEm()), w.Y})
				}
				starts = g.Rune == ' '
				x += int64(g.Advance) + int64(g.Kern)
			}
		}
	}
	out := outside.Run(t, "pdftotext", "-bbox", saved(t, write(t, Options{}, s)), "-")
	found := regexp.MustCompile(`xMin="([0-9.]+)" yMin="[0-9.]+" xMax="[0-9.]+" yMax="[0-9.]+">([^<]*)</word>`).FindAllStringSubmatch(out, -1)
	if len(found) != len(want) {
		t.Fatalf("%d words, want %d", len(found), len(want))
	}
	for i, f := range found {
		points, err := strconv.ParseFloat(f[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		x := scene.Um(points * 25400 / 72)
		if f[2] != want[i].text || x-want[i].x > 20 || want[i].x-x > 20 {
			t.Errorf("%q at %v, want %q at %v", f[2], x, want[i].text, want[i].x)
		}
	}
}

func TestAppendRatio(t *testing.T) {
	for _, tt := range []struct {
		a, b int64
		want string
	}{
		{0, 1, "0"}, {72, 1, "72"}, {-72, 1, "-72"}, {1, 2, "0.5"}, {-1, 2, "-0.5"}, {1, 3, "0.3333"}, {2, 3, "0.6667"},
		{1, 100000, "0"}, {-1, 100000, "0"}, {19999, 20000, "1"}, {10001, 10000, "1.0001"}, {101, 100, "1.01"}, {-19999, 20000, "-1"},
	} {
		if got := string(appendRatio(nil, tt.a, tt.b)); got != tt.want {
			t.Errorf("%d/%d = %s, want %s", tt.a, tt.b, got, tt.want)
		}
	}
}

func BenchmarkThousandPages(b *testing.B) {
	scenes := make([]scene.Scene, 1000)
	for i := range scenes {
		scenes[i] = sample(b)
		// A label has about as many lines as four samples.
		for range 3 {
			scenes[i].Items = append(scenes[i].Items, sample(b).Items...)
		}
	}
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := Write(&out, scenes, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(out.Len()))
}

func BenchmarkOnePage(b *testing.B) {
	s := []scene.Scene{sample(b)}
	for b.Loop() {
		if err := Write(&bytes.Buffer{}, s, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
