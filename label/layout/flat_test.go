package layout

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/font"
	"panelwright/label/market"
	"panelwright/label/picture"
	"panelwright/label/scene"
)

// boxes returns the boxes around all texts of each kind.
func boxes(s scene.Scene) map[string]scene.Rect {
	out := map[string]scene.Rect{}
	for _, t := range texts(s) {
		b, seen := out[t.Mark.Statement]
		if !seen {
			b = t.Bounds()
		}
		c := t.Bounds()
		out[t.Mark.Statement] = scene.Rect{Left: min(b.Left, c.Left), Top: min(b.Top, c.Top), Right: max(b.Right, c.Right), Bottom: max(b.Bottom, c.Bottom)}
	}
	return out
}

// Each panel of a flat piece holds what belongs on it.
func TestPanels(t *testing.T) {
	bar := market.Body{Kind: market.Bar, A: 80_000, B: 55_000, C: 25_000}
	const mm = scene.Mm
	for _, tt := range []struct {
		name        string
		shape       label.Shape
		body        market.Body
		front, back scene.Rect
		folds       int
	}{
		// 2 x (80 + 25) mm round the bar, 10 mm overlap at the right.
		{"wrap round a bar", label.Shape{Kind: label.Wrap, W: 220_000, H: 50_000, Overlap: 10_000}, bar,
			scene.Rect{Left: 25 * mm, Right: 105 * mm, Bottom: 50 * mm}, scene.Rect{Left: 130 * mm, Right: 210 * mm, Bottom: 50 * mm}, 4},
		{"folded card", label.Shape{Kind: label.Folded, W: 140_000, H: 80_000}, market.Body{},
			scene.Rect{Left: 70 * mm, Right: 140 * mm, Bottom: 80 * mm}, scene.Rect{Right: 70 * mm, Bottom: 80 * mm}, 1},
		{"bag topper", label.Shape{Kind: label.Topper, W: 100_000, H: 130_000}, market.Body{},
			scene.Rect{Top: 65 * mm, Right: 100 * mm, Bottom: 130 * mm}, scene.Rect{Right: 100 * mm, Bottom: 65 * mm}, 1},
		{"wrap round a jar", label.Shape{Kind: label.Wrap, W: 245_620, H: 60_000, Overlap: 10_000}, market.Body{Kind: market.Jar, A: 75_000, B: 60_000},
			scene.Rect{Right: 235_620, Bottom: 60 * mm}, scene.Rect{Right: 235_620, Bottom: 60 * mm}, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := on(american("Hay", shortList), tt.shape, none)
			c.Pack.Body = tt.body
			scenes, err := Label(c, Options{})
			if err != nil {
				t.Fatal(err)
			}
			check(t, c, Options{}, scenes)
			s := scenes[0]
			if len(scenes) != 1 || s.W != scene.Um(tt.shape.W) || s.H != scene.Um(tt.shape.H) || len(s.Folds) != tt.folds {
				t.Errorf("%d scenes, %v x %v, %d folds", len(scenes), s.W, s.H, len(s.Folds))
			}
			within := func(a, b scene.Rect) bool {
				return a.Left >= b.Left && a.Right <= b.Right && a.Top >= b.Top && a.Bottom <= b.Bottom
			}
			for kind, box := range boxes(s) {
				panel := tt.back
				if kind == "name" || kind == "identity" || kind == "net quantity" {
					panel = tt.front
				}
				if !within(box, panel) {
					t.Errorf("the %s at %v is not on its panel %v", kind, box, panel)
				}
			}
			for _, w := range texts(s) {
				if back := w.Mark.Statement == "ingredients"; w.Turned != (back && tt.shape.Kind == label.Topper) {
					if back || w.Turned && tt.shape.Kind != label.Topper {
						t.Errorf("%q is upside down: %v", w, w.Turned)
					}
				}
			}
		})
	}
}

// Nothing is printed on a hole or near it.
func TestHoles(t *testing.T) {
	c := on(american("Hay", shortList), label.Shape{Kind: label.HangTag, W: 60_000, H: 120_000}, none)
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	check(t, c, Options{}, scenes)
	lowestEdge := tagHoleAt + tagHole + holeAir
	for _, w := range texts(scenes[0]) {
		if w.Bounds().Top < lowestEdge {
			t.Errorf("%q at %v stands by the hole", w, w.Bounds())
		}
	}
	if p := (scene.Path{Segments: scenes[0].Die.Segments[len(scenes[0].Die.Segments)-6:]}); p.Bounds() != (scene.Rect{Left: 27_500, Right: 32_500, Top: 4_000, Bottom: 9_000}) {
		t.Errorf("the hole is at %v", p.Bounds())
	}
}

// Each figure of a common fraction has half the height of the statement: 21 CFR 701.13(h)(3).
func TestFractions(t *testing.T) {
	c := serving(on(american("Hay", shortList), shape(label.Rectangle, 110, 70), none), inci.US)
	plain, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range c.Front {
		if c.Front[i].Kind == label.NetText {
			c.Front[i].Text = "Net Wt 5½ oz (156 g)"
			c.Front[i].Height.Min = 3175
		}
	}
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range texts(scenes[0]) {
		if strings.Contains(w.String(), "½") {
			got := scene.Um(w.Face.FractionHeight('½') * int64(w.Size) / w.Face.UnitsPerEm())
			if got < 1588 { // half of 1/8 in, rounded up
				t.Errorf("the figures of ½ are %v high, want 1/16 in", got)
			}
		}
	}
	if len(plain) == 0 {
		t.Error("no label")
	}
	// In a market that says nothing of fractions each figure has the whole height.
	st := label.Statement{Height: market.Height{Min: 3000}, Markets: []inci.Market{inci.EU}}
	if got := fractionHeight(&st); got != 3000 {
		t.Errorf("EU: %d, want 3000", got)
	}
}

// The maker's own fonts are used, and a letter that they lack is an error that says which statement needs it.
func TestOwnFonts(t *testing.T) {
	title, err := font.Open("mine.ttf", font.Slab.Data())
	if err != nil {
		t.Fatal(err)
	}
	body, err := font.Open("body.ttf", font.Condensed.Data())
	if err != nil {
		t.Fatal(err)
	}
	c := on(european("Alpine Hay", shortList), shape(label.Rectangle, 110, 70), none)
	c.Dress.Title, c.Dress.Text = title, body
	scenes, err := Label(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	check(t, c, Options{}, scenes)
	for _, w := range texts(scenes[0]) {
		want := body
		if w.Mark.Statement == "name" {
			want = title
		}
		if w.Face != want {
			t.Errorf("%q is set in %s", w, w.Face.Name())
		}
	}
	c.Front[0].Text = "Ωmega"
	_, err = Label(c, Options{})
	var missing *font.Missing
	if !errors.As(err, &missing) || missing.Rune != 'Ω' || missing.Face != "mine" || !strings.Contains(err.Error(), "name: ") {
		t.Errorf("error = %v, want one that names the letter, the font and the statement", err)
	}
}

// A logo stands above the name, in its proportions; a coarse one is warned of.
func TestLogo(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 40, 20))
	img.SetGray(3, 3, color.Gray{Y: 200})
	var dots bytes.Buffer
	if err := png.Encode(&dots, img); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{
		"logo.png": dots.Bytes(),
		"logo.svg": []byte(`<svg viewBox="0 0 40 20"><path d="M0 0H40V20H0Z"/></svg>`),
	} {
		pic, err := picture.Read(name, data)
		if err != nil {
			t.Fatal(err)
		}
		c := on(european("Alpine Hay", shortList), shape(label.Rectangle, 110, 70), none)
		c.Dress.Logo = pic
		laid, err := Lay(c, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var box scene.Rect
		switch item := laid.Scenes[0].Items[0].(type) {
		case *scene.Image:
			box = item.Box
		case *scene.Path:
			box = item.Bounds()
		}
		if w, h := box.Right-box.Left, box.Bottom-box.Top; h == 0 || w/2-h > 2 || h-w/2 > 2 {
			t.Errorf("%s: the picture is %v x %v, want twice as wide as high", name, w, h)
		}
		if top := boxes(laid.Scenes[0])["name"].Top; box.Bottom > top || box.Top < safeMargin {
			t.Errorf("%s: the picture at %v is not above the name at %v", name, box, top)
		}
		if warned := len(laid.Findings) == 1 && strings.Contains(laid.Findings[0].Message, "dots an inch"); warned != (name == "logo.png") {
			t.Errorf("%s: findings %v", name, laid.Findings)
		}
	}
}
